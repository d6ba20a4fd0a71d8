/* Where memory comes from: the definition behind the allocator a caller of the library may give.
 * Does not own memory; arena.c is its only user. The functions are called by the thread that uses
 * the arena, so one allocator shared by threads must guard itself. */
#ifndef WM_BASE_ALLOCATOR_H
#define WM_BASE_ALLOCATOR_H

#include <stddef.h>

#ifndef WM_ALLOCATOR_DEFINED
#define WM_ALLOCATOR_DEFINED
struct wm_allocator {
  void *(*take)(void *context, size_t size); /* aligned for any object; NULL: no memory */
  void (*give_back)(void *context, void *block, size_t size); /* size as it was taken */
  void *context;
  size_t block; /* bytes an arena takes at a time; 0: 64 KiB; 1: every taking is its own block */
};
#endif

#endif
