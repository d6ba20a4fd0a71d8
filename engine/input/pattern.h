/* Patterns over text: the only user of PCRE2.
 * A compiled pattern is immutable and may be shared by threads; each match makes its own run data.
 * Matching is UTF-8, caseless, and limited in steps and depth: a limit hit is "not known", never
 * "no match". */
#ifndef WM_INPUT_PATTERN_H
#define WM_INPUT_PATTERN_H

#include "diag/diag.h"

struct pattern;

enum pattern_answer { PATTERN_NO, PATTERN_YES, PATTERN_LIMIT, PATTERN_NO_MEMORY };

struct pattern_part {
  size_t start, end; /* bytes of the subject; start SIZE_MAX: the group took no part */
};

/* Compiles; on failure adds a diagnostic placed inside `at` at the faulty character, and returns
 * NULL. */
struct pattern *pattern_compile(struct arena *arena, const char *bytes, size_t n, struct span at,
                                struct diags *diags);
/* Frees what PCRE2 holds outside the arena, if anything; NULL is fine. */
void pattern_free(struct pattern *pattern);
/* parts may be NULL; else it gets the whole match and up to room-1 groups. Searches from byte
 * `from`. */
enum pattern_answer pattern_match(const struct pattern *pattern, const char *subject, size_t n,
                                  size_t from, struct pattern_part *parts, size_t room);
/* The numbers of the groups of this name, in order, up to room of them; returns how many it gave.
 */
size_t pattern_groups(const struct pattern *pattern, const char *name, size_t *numbers,
                      size_t room);
/* PCRE2's version, such as "10.42 2022-12-11". */
void pattern_version(char *out, size_t room);

#endif
