/* The schema of the knowledge, written in an arena of its own. */
#include "render/schema.h"

#include "api/handles.h"

enum wm_status wm_kb_schema(const wm_kb *kb, wm_write write, void *context) {
  if (!write) return WM_USAGE;
  struct arena *arena = arena_new(NULL);
  if (!arena) return WM_INTERNAL;
  struct text out;
  text_init(&out, arena);
  schema_write(&out, kb ? kb->model : NULL);
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}
