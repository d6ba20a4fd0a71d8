/* Two knowledge bases compared: the handle keeps the result, the bases are borrowed. */
#include "workshop/compare.h"

#include "api/handles.h"
#include "render/comparison.h"

struct wm_comparison {
  struct arena *arena; /* the handle and everything of it */
  struct comparison *made;
};

enum wm_status wm_compare(wm_comparison **out, const wm_kb *old_kb, const wm_kb *new_kb,
                          size_t impacts, uint64_t seed, const struct wm_allocator *allocator) {
  if (!out || !old_kb || !new_kb || impacts > WM_IMPACTS_MAX) return WM_USAGE;
  *out = NULL;
  struct arena *arena = arena_new(allocator);
  wm_comparison *comparison = arena ? arena_new_object(arena, wm_comparison) : NULL;
  if (comparison) {
    comparison->arena = arena;
    comparison->made = compare(arena, allocator, old_kb->network, new_kb->network, impacts, seed);
    if (comparison->made) *out = comparison;
  }
  if (!*out && arena) arena_free(arena);
  return *out ? WM_OK : WM_INTERNAL;
}

void wm_comparison_free(wm_comparison *comparison) {
  if (comparison) arena_free(comparison->arena);
}

void wm_comparison_count(const wm_comparison *comparison, struct wm_comparison_counts *counts) {
  const struct comparison *made = comparison->made;
  *counts = (struct wm_comparison_counts){
      .cases = made->n_cases,
      .worse = made->n_of_change[CASE_WORSE],
      .better = made->n_of_change[CASE_BETTER],
      .other_answer = made->n_of_change[CASE_OTHER_ANSWER],
      .impacts = made->n_samples,
      .leading = made->n_leading,
      .drill = made->n_drill,
      .standing = made->n_standing,
      .certainty_only = made->n_certainty,
  };
}

enum wm_status wm_comparison_write(const wm_comparison *comparison, enum wm_format format,
                                   wm_write write, void *context) {
  if (!comparison || !write) return WM_USAGE;
  struct arena *arena = arena_new(NULL);
  if (!arena) return WM_INTERNAL;
  struct text out;
  struct json json;
  text_init(&out, arena);
  json_start(&json, &out, true);
  if (format == WM_JSON) comparison_json(&json, comparison->made);
  else comparison_text(&out, comparison->made);
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}
