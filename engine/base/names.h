/* A table from names to small indices: a hash map whose keys are borrowed strings.
 * The table lives in an arena; keys must outlive it. Also the 64-bit digest of bytes used for
 * fingerprints (FNV-1a; it guards against mix-ups, not against attackers). */
#ifndef WM_BASE_NAMES_H
#define WM_BASE_NAMES_H

#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"

#define NAMES_NONE UINT32_MAX

struct names;

struct names *names_new(struct arena *arena);
/* Adds name -> index. Returns the index already held when the name is known, else index itself;
 * NAMES_NONE when there is no memory. */
uint32_t names_add(struct names *names, const char *name, size_t n, uint32_t index);
/* The index of the name, or NAMES_NONE. */
uint32_t names_find(const struct names *names, const char *name, size_t n);
/* The next name held and its index, from *place 0 on, in no order but always the same for the same
 * names added in the same order. NULL: there are no more. */
const char *names_next(const struct names *names, size_t *place, uint32_t *index);

#define DIGEST_START UINT64_C(14695981039346656037)
uint64_t digest_bytes(uint64_t digest, const char *bytes, size_t n);

#endif
