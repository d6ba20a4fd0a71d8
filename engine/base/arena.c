/* Invariant: the arena's own record lives in its first block, in front of the pieces; `current` is
 * the block that small pieces are cut from, and pieces too big for a share of it get a block of
 * their own behind it. */
#include "base/arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "base/allocator.h"

#define ALIGNMENT alignof(max_align_t)
#define BLOCK_DEFAULT ((size_t)64 << 10)

struct block {
  struct block *next;
  size_t size; /* of the whole block, this record included */
  size_t used;
};

struct arena {
  struct wm_allocator allocator;
  struct block *first;
  struct block *current;
  size_t start; /* what is used of the first block when the arena is empty */
  bool failed;
};

static void *take_malloc(void *context, size_t size) {
  (void)context;
  return malloc(size);
}

static void give_back_free(void *context, void *block, size_t size) {
  (void)context;
  (void)size;
  free(block);
}

/* An address sanitizer sees an overrun only at the end of a block, so under it each piece is one.
 */
static struct wm_allocator default_allocator(void) {
#ifdef __SANITIZE_ADDRESS__
  return (struct wm_allocator){take_malloc, give_back_free, NULL, 1};
#else
  return (struct wm_allocator){take_malloc, give_back_free, NULL, 0};
#endif
}

static size_t round_up(size_t size) {
  return (size + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
}

static struct block *block_new(const struct wm_allocator *allocator, size_t size) {
  struct block *block = allocator->take(allocator->context, size);
  if (block != NULL) *block = (struct block){NULL, size, round_up(sizeof *block)};
  return block;
}

static void block_free(const struct wm_allocator *allocator, struct block *block) {
  allocator->give_back(allocator->context, block, block->size);
}

static size_t block_size(const struct wm_allocator *allocator) {
  return allocator->block != 0 ? allocator->block : BLOCK_DEFAULT;
}

struct arena *arena_new(const struct wm_allocator *allocator) {
  struct wm_allocator chosen = allocator != NULL ? *allocator : default_allocator();
  size_t needed = round_up(sizeof(struct block)) + round_up(sizeof(struct arena));
  size_t size = block_size(&chosen);
  struct block *block = block_new(&chosen, size > needed ? size : needed);
  if (block == NULL) return NULL;
  struct arena *arena = (struct arena *)((char *)block + block->used);
  block->used = needed;
  *arena = (struct arena){chosen, block, block, needed, false};
  return arena;
}

/* A block for a piece of size bytes: its own when it would waste much of a common one. */
static struct block *block_for(struct arena *arena, size_t size) {
  size_t head = round_up(sizeof(struct block));
  size_t common = block_size(&arena->allocator);
  bool own = common < head || size > (common - head) / 4;
  struct block *block = block_new(&arena->allocator, own ? head + size : common);
  if (block == NULL) return NULL;
  block->next = arena->current->next;
  arena->current->next = block;
  if (!own) arena->current = block;
  return block;
}

static void *fail(struct arena *arena) {
  arena->failed = true;
  return NULL;
}

void *arena_take(struct arena *arena, size_t size) {
  if (size > SIZE_MAX / 2) return fail(arena);
  /* Sizes are rounded where pieces follow each other; a block of one piece keeps the exact end. */
  size_t room = round_up(size != 0 ? size : 1);
  struct block *block = arena->current;
  if (block->size < block->used || block->size - block->used < room) {
    bool exact = arena->allocator.block == 1;
    block = block_for(arena, exact && size != 0 ? size : room);
    if (block == NULL) return fail(arena);
  }
  char *piece = (char *)block + block->used;
  block->used += room;
  return memset(piece, 0, size);
}

void *arena_take_many(struct arena *arena, size_t count, size_t size) {
  if (size != 0 && count > SIZE_MAX / size) return fail(arena);
  return arena_take(arena, count * size);
}

char *arena_copy(struct arena *arena, const char *bytes, size_t n) {
  if (n == SIZE_MAX) return fail(arena);
  char *copy = arena_take(arena, n + 1);
  if (copy != NULL && n != 0) memcpy(copy, bytes, n);
  return copy;
}

char *arena_copy_string(struct arena *arena, const char *string) {
  return arena_copy(arena, string, strlen(string));
}

bool arena_failed(const struct arena *arena) {
  return arena->failed;
}

void arena_reset(struct arena *arena) {
  struct block *block = arena->first->next;
  while (block != NULL) {
    struct block *next = block->next;
    block_free(&arena->allocator, block);
    block = next;
  }
  arena->first->next = NULL;
  arena->first->used = arena->start;
  arena->current = arena->first;
  arena->failed = false;
}

void arena_free(struct arena *arena) {
  if (arena == NULL) return;
  arena_reset(arena);
  struct wm_allocator allocator = arena->allocator; /* the record dies with its block */
  block_free(&allocator, arena->first);
}
