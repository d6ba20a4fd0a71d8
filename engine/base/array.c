#include "base/array.h"

#include <stdint.h>
#include <string.h>

#define FIRST_ROOM 8

void *array_grow(struct arena *arena, const void *at, size_t n, size_t *room, size_t size) {
  if (*room > SIZE_MAX / 2) return NULL;
  size_t wanted = *room != 0 ? *room * 2 : FIRST_ROOM;
  void *grown = arena_take_many(arena, wanted, size);
  if (grown == NULL) return NULL;
  if (n != 0) memcpy(grown, at, n * size);
  *room = wanted;
  return grown;
}
