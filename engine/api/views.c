/* Results in words: renders into an arena of its own, so that a case may be written many times
 * without growing. */
#include <string.h>

#include "api/handles.h"
#include "render/answer.h"
#include "render/contrast.h"
#include "render/steps.h"
#include "render/whatif.h"
#include "render/why.h"

enum wm_status text_send(const struct text *text, wm_write write, void *context) {
  if (!text_done(text)) return WM_INTERNAL;
  return text->n == 0 || write(context, text->at, text->n) == 0 ? WM_OK : WM_INTERNAL;
}

/* ---- the case as a whole ---- */

static void write_text(struct text *out, const struct run *run, enum wm_view view, bool emphasis) {
  switch (view) {
  case WM_ANSWER: answer_text(out, run, emphasis); break;
  case WM_BRIEF: answer_brief(out, run, emphasis); break;
  case WM_STEPS: steps_text(out, run, false); break;
  case WM_ALL_STEPS: steps_text(out, run, true); break;
  }
}

static void write_json(struct text *out, const struct run *run, enum wm_view view) {
  struct json json;
  bool steps = view == WM_STEPS || view == WM_ALL_STEPS;
  json_start(&json, out, true);
  json_head(&json, steps ? "whymiss-steps" : "whymiss-diagnosis", run->network->digest);
  if (steps) steps_json(&json, run, view == WM_ALL_STEPS);
  else answer_json(&json, run);
}

enum wm_status wm_case_write(wm_case *player, enum wm_view view, enum wm_format format,
                             wm_write write, void *context) {
  if (!player || !write || !player->run->judged) return WM_USAGE;
  struct arena *arena = arena_new(case_allocator(player));
  if (!arena) return WM_INTERNAL;
  struct text out;
  text_init(&out, arena);
  if (format == WM_JSON) write_json(&out, player->run, view);
  else write_text(&out, player->run, view, format == WM_EMPHASIS);
  enum wm_status status = arena_failed(arena) ? WM_INTERNAL : text_send(&out, write, context);
  arena_free(arena);
  return status;
}

/* ---- questions about names ---- */

/* One question on its way: what was asked, where faults go, and what comes out. */
struct question {
  wm_case *player;
  struct report report;
  struct arena *arena; /* of the report */
  struct text out;
  struct json json;
};

static enum wm_status question_open(struct question *question, wm_case *player, const char *schema,
                                    wm_diags *diags) {
  if (!player || !player->run->judged) return WM_USAGE;
  question->player = player;
  if (!report_open(&question->report, diags, case_allocator(player))) return WM_INTERNAL;
  question->arena = question->report.used->arena;
  text_init(&question->out, question->arena);
  json_start(&question->json, &question->out, true);
  json_head(&question->json, schema, player->kb->network->digest);
  return WM_OK;
}

static bool question_subject(struct question *question, const char *name, const char *where,
                             struct subject *subject) {
  const struct source *source =
      source_copy(question->arena, where ? where : "name", name, strlen(name));
  if (!source) {
    question->report.list.no_memory = true;
    return false;
  }
  return subject_find(question->player->kb->model, &question->report.list, source_whole(source),
                      source->bytes, true, subject);
}

static enum wm_status question_close(struct question *question, wm_write write, void *context) {
  enum wm_status status = WM_OK;
  if (question->report.list.errors == 0 && !question->report.list.no_memory)
    status =
        arena_failed(question->arena) ? WM_INTERNAL : text_send(&question->out, write, context);
  return report_close(&question->report, status, WM_INPUT_FAULTY);
}

enum wm_status wm_case_explain(wm_case *player, enum wm_question asked, const char *name,
                               const char *where, enum wm_format format, wm_write write,
                               void *context, wm_diags *diags) {
  struct question question;
  struct subject subject;
  if (!name || !write) return WM_USAGE;
  enum wm_status status =
      question_open(&question, player, asked == WM_WHY ? "whymiss-why" : "whymiss-whynot", diags);
  if (status != WM_OK) return status;
  if (question_subject(&question, name, where, &subject)) {
    if (format == WM_JSON)
      (asked == WM_WHY ? why_json : whynot_json)(&question.json, player->run, subject);
    else (asked == WM_WHY ? why_text : whynot_text)(&question.out, player->run, subject);
  }
  return question_close(&question, write, context);
}

/* Only what rules give a certainty to can be set side by side, and a drill only beside a drill. */
static bool can_contrast(struct question *question, const struct subject *a,
                         const struct subject *b, const char *name_b, const char *where_b) {
  const struct model *model = question->player->kb->model;
  bool claims = a->kind == SUBJECT_CLAIM && b->kind == SUBJECT_CLAIM;
  if (claims && (a->index >= model->first_drill) == (b->index >= model->first_drill)) return true;
  const struct source *source =
      source_copy(question->arena, where_b ? where_b : "name", name_b, strlen(name_b));
  if (source)
    DIAG(&question->report.list, WRONG_KIND, source_whole(source), name_b,
         subject_kind_word(model, *b), "two findings or causes can be contrasted, or two drills");
  else question->report.list.no_memory = true;
  return false;
}

enum wm_status wm_case_contrast(wm_case *player, const char *a, const char *where_a, const char *b,
                                const char *where_b, enum wm_format format, wm_write write,
                                void *context, wm_diags *diags) {
  struct question question;
  struct subject first, second;
  if (!a || !b || !write) return WM_USAGE;
  enum wm_status status = question_open(&question, player, "whymiss-contrast", diags);
  if (status != WM_OK) return status;
  bool found = question_subject(&question, a, where_a, &first);
  found = question_subject(&question, b, where_b, &second) && found;
  if (found && can_contrast(&question, &first, &second, b, where_b)) {
    if (format == WM_JSON) contrast_json(&question.json, player->run, first.index, second.index);
    else contrast_text(&question.out, player->run, first.index, second.index);
  }
  return question_close(&question, write, context);
}

/* ---- what if ---- */

struct changes {
  struct value *values;
  size_t *takes_back;
  size_t n_values, n_takes_back;
};

static void read_change(struct question *question, struct changes *changes, const char *text,
                        const char *where) {
  struct diags *diags = &question->report.list;
  const struct source *source =
      source_copy(question->arena, where ? where : "change", text, strlen(text));
  struct value value;
  bool takes_back = false;
  if (!source) {
    diags->no_memory = true;
    return;
  }
  if (!evidence_read(question->arena, diags, question->player->kb->model, source, &value,
                     &takes_back))
    return;
  if (takes_back) changes->takes_back[changes->n_takes_back++] = value.evidence;
  else changes->values[changes->n_values++] = value;
}

static void write_change(struct question *question, const struct changes *changes,
                         enum wm_format format) {
  const struct run *before = question->player->run;
  struct run *after = run_new(case_allocator(question->player), before->network);
  bool done =
      after && change_run(after, before, changes->values, changes->n_values, changes->takes_back,
                          changes->n_takes_back, &question->report.list);
  if (!done) question->report.list.no_memory = true;
  else if (format == WM_JSON) whatif_json(&question->json, before, after);
  else whatif_text(&question->out, before, after);
  run_free(after);
}

enum wm_status wm_case_what_if(wm_case *player, const char *const *texts, const char *const *where,
                               size_t n, enum wm_format format, wm_write write, void *context,
                               wm_diags *diags) {
  struct question question;
  if ((!texts && n > 0) || !write) return WM_USAGE;
  enum wm_status status = question_open(&question, player, "whymiss-whatif", diags);
  if (status != WM_OK) return status;
  struct changes changes = {.values = arena_new_array(question.arena, struct value, n + 1),
                            .takes_back = arena_new_array(question.arena, size_t, n + 1)};
  if (!changes.values || !changes.takes_back) question.report.list.no_memory = true;
  for (size_t i = 0; i < n && !question.report.list.no_memory; i++)
    read_change(&question, &changes, texts[i], where ? where[i] : NULL);
  if (question.report.list.errors == 0 && !question.report.list.no_memory)
    write_change(&question, &changes, format);
  return question_close(&question, write, context);
}
