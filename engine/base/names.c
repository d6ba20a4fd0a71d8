/* Open addressing with linear probing; never more than three quarters full, so a search always
 * ends. */
#include "base/names.h"

#include <stdbool.h>
#include <string.h>

#define FIRST_SLOTS 16
#define FNV_PRIME UINT64_C(1099511628211)

struct slot {
  const char *name; /* NULL: free */
  size_t n;
  uint64_t hash;
  uint32_t index;
};

struct names {
  struct arena *arena;
  struct slot *slots;
  size_t room; /* a power of two */
  size_t used;
};

uint64_t digest_bytes(uint64_t digest, const char *bytes, size_t n) {
  for (size_t i = 0; i < n; i++) digest = (digest ^ (unsigned char)bytes[i]) * FNV_PRIME;
  return digest;
}

/* The slot that holds the name, or the free one where it belongs. */
static struct slot *slot_of(struct slot *slots, size_t room, const char *name, size_t n,
                            uint64_t hash) {
  /* FNV's low bits are the weakest; fold the high ones in. */
  size_t i = (size_t)(hash ^ (hash >> 32)) & (room - 1);
  for (;; i = (i + 1) & (room - 1)) {
    struct slot *slot = &slots[i];
    if (slot->name == NULL) return slot;
    if (slot->hash == hash && slot->n == n && memcmp(slot->name, name, n) == 0) return slot;
  }
}

struct names *names_new(struct arena *arena) {
  struct names *names = arena_new_object(arena, struct names);
  if (names == NULL) return NULL;
  names->arena = arena;
  names->room = FIRST_SLOTS;
  names->slots = arena_new_array(arena, struct slot, FIRST_SLOTS);
  return names->slots != NULL ? names : NULL;
}

static bool grow(struct names *names) {
  size_t room = names->room * 2;
  struct slot *slots = arena_new_array(names->arena, struct slot, room);
  if (slots == NULL) return false;
  for (size_t i = 0; i < names->room; i++) {
    const struct slot *old = &names->slots[i];
    if (old->name != NULL) *slot_of(slots, room, old->name, old->n, old->hash) = *old;
  }
  names->slots = slots;
  names->room = room;
  return true;
}

uint32_t names_add(struct names *names, const char *name, size_t n, uint32_t index) {
  uint64_t hash = digest_bytes(DIGEST_START, name, n);
  struct slot *slot = slot_of(names->slots, names->room, name, n, hash);
  if (slot->name != NULL) return slot->index;
  if ((names->used + 1) * 4 > names->room * 3) {
    if (!grow(names)) return NAMES_NONE;
    slot = slot_of(names->slots, names->room, name, n, hash);
  }
  *slot = (struct slot){name, n, hash, index};
  names->used++;
  return index;
}

uint32_t names_find(const struct names *names, const char *name, size_t n) {
  uint64_t hash = digest_bytes(DIGEST_START, name, n);
  const struct slot *slot = slot_of(names->slots, names->room, name, n, hash);
  return slot->name != NULL ? slot->index : NAMES_NONE;
}

const char *names_next(const struct names *names, size_t *place, uint32_t *index) {
  while (*place < names->room) {
    const struct slot *slot = &names->slots[(*place)++];
    if (slot->name == NULL) continue;
    *index = slot->index;
    return slot->name;
  }
  return NULL;
}
