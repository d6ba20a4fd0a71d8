/* The edits that would set one case right: the handle keeps them, the kb is borrowed. */
#include "workshop/mend.h"

#include "api/cases_handle.h"
#include "render/edits.h"
#include "render/mending.h"

struct wm_mending {
  struct arena *arena; /* the handle and everything of it */
  const struct network *network;
  struct mending *made;
};

enum wm_status wm_mend(wm_mending **out, const wm_cases *cases,
                       const struct wm_allocator *allocator) {
  if (!out || !cases || cases->list.n != 1) return WM_USAGE;
  *out = NULL;
  struct arena *arena = arena_new(allocator);
  wm_mending *mending = arena ? arena_new_object(arena, wm_mending) : NULL;
  if (mending) {
    mending->arena = arena;
    mending->network = cases->kb->network;
    mending->made = mend_case(arena, allocator, cases->kb->network, cases->list.at[0]);
    if (mending->made) *out = mending;
  }
  if (!*out) {
    if (arena) arena_free(arena);
    return WM_INTERNAL;
  }
  return mending->made->before.n_failed > 0 && mending->made->n == 0 ? WM_FINDINGS : WM_OK;
}

void wm_mending_free(wm_mending *mending) {
  if (mending) arena_free(mending->arena);
}

/* The text in the mending's own arena; NULL: no memory. */
static const char *words(const wm_mending *mending, const struct edit *edit,
                         void (*add)(struct text *, const struct network *, const struct edit *)) {
  struct text text;
  text_init(&text, mending->arena);
  add(&text, mending->network, edit);
  return text_done(&text);
}

bool wm_mending_edit(wm_mending *mending, size_t i, struct wm_edit *out) {
  if (!mending || !out || i >= mending->made->n) return false;
  const struct mend_edit *edit = &mending->made->edits[i];
  struct span at = edit_place(mending->network, &edit->edit);
  *out = (struct wm_edit){.file = at.source->name,
                          .line = at.line,
                          .column = at.column,
                          .in = words(mending, &edit->edit, edit_subject),
                          .old_text = words(mending, &edit->edit, edit_old_text),
                          .new_text = words(mending, &edit->edit, edit_new_text),
                          .cases_broken = edit->n_broken,
                          .cases_set_right = edit->n_mended,
                          .cases_touched = edit->n_touched};
  return out->in && out->old_text && out->new_text;
}

enum wm_status wm_mending_write(const wm_mending *mending, enum wm_format format, wm_write write,
                                void *context) {
  if (!mending || !write) return WM_USAGE;
  struct arena *arena = arena_new(NULL);
  if (!arena) return WM_INTERNAL;
  struct text out;
  struct json json;
  text_init(&out, arena);
  json_start(&json, &out, true);
  if (format == WM_JSON) mending_json(&json, mending->network, mending->made);
  else mending_text(&out, mending->network, mending->made);
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}
