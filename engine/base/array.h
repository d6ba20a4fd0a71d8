/* Growable arrays that live in an arena.
 * Growing copies into a new piece; the old piece stays valid until the arena is reset, so borrowed
 * pointers to elements go stale but never dangle. */
#ifndef WM_BASE_ARRAY_H
#define WM_BASE_ARRAY_H

#include "base/arena.h"

#define ARRAY(type)                                                                                \
  struct {                                                                                         \
    type *at;                                                                                      \
    size_t n;                                                                                      \
    size_t room;                                                                                   \
    void *grown;                                                                                   \
  }

/* Copies n elements of size bytes into a piece twice as large and updates *room; NULL: no memory,
 * nothing changed. */
void *array_grow(struct arena *arena, const void *at, size_t n, size_t *room, size_t size);

/* Pointer to a new zeroed last element, or NULL when there is no memory. */
#define array_push(arena, a)                                                                       \
  ((a)->n < (a)->room                                                                              \
       ? &(a)->at[(a)->n++]                                                                        \
       : (((a)->grown = array_grow((arena), (a)->at, (a)->n, &(a)->room, sizeof *(a)->at)) != NULL \
              ? ((a)->at = (a)->grown, &(a)->at[(a)->n++])                                         \
              : NULL))

#endif
