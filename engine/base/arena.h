/* Memory that is given back all at once.
 * An arena takes blocks from an allocator and hands out pieces; nothing is released one by one.
 * The only caller of malloc in the project is arena.c. An arena belongs to one owner and must not
 * be used by two threads at once. */
#ifndef WM_BASE_ARENA_H
#define WM_BASE_ARENA_H

#include <stdbool.h>
#include <stddef.h>

struct wm_allocator;
struct arena;

/* A new arena, or NULL when the allocator has no memory. NULL allocator: malloc and free. */
struct arena *arena_new(const struct wm_allocator *allocator);
/* size bytes, zeroed, aligned for any object; NULL when there is no memory. */
void *arena_take(struct arena *arena, size_t size);
/* count * size bytes, zeroed; NULL on overflow too. */
void *arena_take_many(struct arena *arena, size_t count, size_t size);
/* A NUL-terminated copy of n bytes. */
char *arena_copy(struct arena *arena, const char *bytes, size_t n);
char *arena_copy_string(struct arena *arena, const char *string);
/* True once any taking has failed; stays so until reset. */
bool arena_failed(const struct arena *arena);
/* Forgets all pieces, keeps the first block for reuse. */
void arena_reset(struct arena *arena);
void arena_free(struct arena *arena);

#define arena_new_object(arena, type) ((type *)arena_take((arena), sizeof(type)))
#define arena_new_array(arena, type, count)                                                        \
  ((type *)arena_take_many((arena), (count), sizeof(type)))

#endif
