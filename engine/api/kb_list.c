/* Lists of the names of a kind, with a title beside each, as text and as JSON. */
#include <string.h>

#include "api/handles.h"
#include "render/json.h"
#include "render/wording.h"

#define NAME_COLUMNS 24

static const char *const kind_words[] = {"evidence", "finding", "cause",  "drill",
                                         "rule",     "club",    "source", "case"};

static size_t first_claim(const struct model *model, enum wm_kind kind) {
  return kind == WM_CAUSE ? model->first_cause : kind == WM_DRILL ? model->first_drill : 0;
}

static const char *plain(struct text *out, const struct model *model,
                         const struct wording *wording) {
  struct text text;
  text_init(&text, out->arena);
  wording_add_plain(&text, model, wording, HAND_RIGHT);
  const char *string = text_done(&text);
  return string ? string : "";
}

/* "club path, deg, -20 to 20"; "lie: fairway, rough" */
static const char *about_evidence(struct text *out, const struct evidence *evidence) {
  struct text text;
  text_init(&text, out->arena);
  text_add(&text, evidence->title);
  if (evidence->kind == EVIDENCE_NUMBER) {
    text_add(&text, ": ");
    text_number(&text, evidence->low);
    text_add(&text, " to ");
    text_number(&text, evidence->high);
    if (evidence->unit->dimension != GOLF_DIMENSION_NONE)
      text_format(&text, " %s", evidence->unit->name);
  } else if (evidence->kind == EVIDENCE_CHOICE || evidence->kind == EVIDENCE_YES_NO) {
    for (size_t i = 0; i < evidence->n_choices; i++)
      text_format(&text, "%s%s", i == 0 ? ": " : ", ", evidence->choices[i].name);
  }
  const char *string = text_done(&text);
  return string ? string : "";
}

static const char *about(struct text *out, const struct model *model, enum wm_kind kind, size_t i) {
  switch (kind) {
  case WM_EVIDENCE: return about_evidence(out, &model->evidence[i]);
  case WM_FINDING:
  case WM_CAUSE:
  case WM_DRILL: return plain(out, model, &model->claims[first_claim(model, kind) + i].title);
  case WM_RULE: return plain(out, model, &model->rules[i].because);
  case WM_CLUB: return model->clubs[i].title;
  case WM_SOURCE: return model->references[i].title;
  case WM_CASE: return model->cases[i].because ? model->cases[i].because : "";
  }
  return "";
}

static void add_line(struct text *out, const char *name, const char *words) {
  size_t n = strlen(name);
  text_add(out, name);
  for (; n < NAME_COLUMNS - 1; n++) text_add_char(out, ' ');
  text_add_char(out, ' ');
  wording_wrap(out, words, n + 1, NAME_COLUMNS, 79);
  text_add_char(out, '\n');
}

static void list_text(struct text *out, const wm_kb *kb, enum wm_kind kind) {
  const char *name;
  for (size_t i = 0; (name = wm_kb_name(kb, kind, i)) != NULL; i++)
    add_line(out, name, about(out, kb->model, kind, i));
}

static void list_json(struct text *out, const wm_kb *kb, enum wm_kind kind) {
  const char *name;
  struct json json;
  json_start(&json, out, true);
  json_head(&json, "whymiss-list", kb->network->digest);
  json_object(&json);
  json_key_string(&json, "kind", kind_words[kind]);
  json_key_list(&json, "entries");
  for (size_t i = 0; (name = wm_kb_name(kb, kind, i)) != NULL; i++) {
    json_object(&json);
    json_key_string(&json, "name", name);
    json_key_string(&json, "about", about(out, kb->model, kind, i));
    json_end(&json);
  }
  json_end(&json);
  json_end(&json);
}

enum wm_status wm_kb_list(const wm_kb *kb, enum wm_kind kind, enum wm_format format, wm_write write,
                          void *context) {
  if (!kb || !write || kind > WM_CASE) return WM_USAGE;
  struct arena *arena = arena_new(NULL);
  if (!arena) return WM_INTERNAL;
  struct text out;
  text_init(&out, arena);
  if (format == WM_JSON) list_json(&out, kb, kind);
  else list_text(&out, kb, kind);
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}
