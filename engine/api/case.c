#include <math.h>
#include <string.h>

#include "api/handles.h"

#define SHOTS_MAX 10000

/* ---- life ---- */

static bool case_fill(wm_case *player, const wm_kb *kb, const struct wm_allocator *allocator) {
  player->kb = kb;
  player->has_allocator = allocator != NULL;
  if (allocator) player->allocator = *allocator;
  player->texts = arena_new(allocator);
  player->answers = arena_new(allocator);
  player->run = run_new(allocator, kb->network);
  player->from_words = arena_new_array(player->home, bool, kb->model->n_evidence + 1);
  return player->texts && player->answers && player->run && player->from_words;
}

enum wm_status wm_case_new(wm_case **out, const wm_kb *kb, const struct wm_allocator *allocator) {
  if (!out || !kb) return WM_USAGE;
  *out = NULL;
  struct arena *home = arena_new(allocator);
  wm_case *player = home ? arena_new_object(home, wm_case) : NULL;
  if (!player) {
    arena_free(home);
    return WM_INTERNAL;
  }
  player->home = home;
  if (!case_fill(player, kb, allocator)) {
    wm_case_free(player);
    return WM_INTERNAL;
  }
  *out = player;
  return WM_OK;
}

void wm_case_free(wm_case *player) {
  if (!player) return;
  run_free(player->run);
  arena_free(player->answers);
  arena_free(player->texts);
  arena_free(player->home);
}

void wm_case_reset(wm_case *player) {
  case_changed(player);
  run_reset(player->run);
  arena_reset(player->texts);
  player->said = NULL;
  player->hand_given = false;
}

const struct wm_allocator *case_allocator(const wm_case *player) {
  return player->has_allocator ? &player->allocator : NULL;
}

void case_changed(wm_case *player) {
  case_forget_words(player);
  arena_reset(player->answers);
  memset(&player->results, 0, sizeof player->results);
  player->run->judged = false;
}

/* ---- hand and shots ---- */

enum wm_status wm_case_set_hand(wm_case *player, enum wm_hand hand) {
  if (!player || (hand != WM_RIGHT && hand != WM_LEFT)) return WM_USAGE;
  case_changed(player);
  player->run->hand = hand == WM_LEFT ? HAND_LEFT : HAND_RIGHT;
  player->hand_given = true;
  return WM_OK;
}

enum wm_status wm_case_set_shots(wm_case *player, unsigned shots) {
  if (!player || shots < 1 || shots > SHOTS_MAX) return WM_USAGE;
  case_changed(player);
  player->run->shots = shots;
  return WM_OK;
}

/* A report, and the text as a source in it. NULL: no memory, and the report is closed. */
static const struct source *open_with_text(struct report *report, wm_case *player, const char *text,
                                           const char *where, wm_diags *diags) {
  if (!report_open(report, diags, case_allocator(player))) return NULL;
  const struct source *source =
      source_copy(player->texts, where ? where : "evidence", text, strlen(text));
  if (source) return source;
  report->list.no_memory = true;
  report_close(report, WM_INTERNAL, WM_INTERNAL);
  return NULL;
}

enum wm_status wm_case_read_hand(wm_case *player, const char *text, const char *where,
                                 wm_diags *diags) {
  static const char *const hands[] = {"right", "left"};
  struct report report;
  if (!player || !text) return WM_USAGE;
  const struct source *source = open_with_text(&report, player, text, where, diags);
  if (!source) return WM_INTERNAL;
  for (size_t i = 0; i < 2; i++)
    if (strcmp(text, hands[i]) == 0)
      return report_close(&report, wm_case_set_hand(player, i == 1 ? WM_LEFT : WM_RIGHT),
                          WM_INPUT_FAULTY);
  struct diag *diag = DIAG(&report.list, BAD_HAND, source_whole(source), text);
  diag_nearest(&report.list, diag, text, hands, 2);
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

enum wm_status wm_case_read_shots(wm_case *player, const char *text, const char *where,
                                  wm_diags *diags) {
  struct report report;
  if (!player || !text) return WM_USAGE;
  const struct source *source = open_with_text(&report, player, text, where, diags);
  if (!source) return WM_INTERNAL;
  double shots = 0;
  bool read = source->n > 0 && number_read(text, source->n, &shots) == source->n;
  if (read && shots >= 1 && shots <= SHOTS_MAX && shots == floor(shots))
    return report_close(&report, wm_case_set_shots(player, (unsigned)shots), WM_INPUT_FAULTY);
  DIAG(&report.list, BAD_SHOTS, source_whole(source), text);
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

/* ---- evidence as text ---- */

static bool is_blank(char c) {
  return c == ' ' || c == '\t';
}

/* Shrinks [from, to) to what is not blank at its ends. */
static void trim(const char *bytes, size_t *from, size_t *to) {
  while (*from < *to && is_blank(bytes[*from])) ++*from;
  while (*from < *to && is_blank(bytes[*to - 1])) --*to;
}

static size_t find_evidence(const struct model *model, struct diags *diags, const char *name,
                            struct span at) {
  size_t evidence = model_find_evidence(model, name);
  if (evidence == NO_INDEX) {
    struct diag *diag = DIAG(diags, UNKNOWN_NAME, at, "evidence", name);
    model_nearest_evidence(model, diags, diag, name);
  }
  return evidence;
}

/* value_read fails in silence when memory runs out. */
static bool read_value(struct arena *arena, struct diags *diags, const struct model *model,
                       size_t evidence, const char *text, struct span at, struct value *value) {
  bool read = value_read(arena, diags, model, evidence, text, at, value);
  if (!read && arena_failed(arena)) diags->no_memory = true;
  return read;
}

bool evidence_read(struct arena *arena, struct diags *diags, const struct model *model,
                   const struct source *source, struct value *value, bool *takes_back) {
  const char *sign = memchr(source->bytes, '=', source->n);
  size_t name_from = 0, name_to = sign ? (size_t)(sign - source->bytes) : 0;
  size_t from = sign ? name_to + 1 : 0, to = source->n;
  trim(source->bytes, &name_from, &name_to);
  trim(source->bytes, &from, &to);
  bool empty = from == to;
  if (name_from == name_to || (empty && !takes_back)) {
    DIAG(diags, BAD_EVIDENCE, source_whole(source), source->bytes);
    return false;
  }
  const char *name = arena_copy(arena, source->bytes + name_from, name_to - name_from);
  const char *words = arena_copy(arena, source->bytes + from, to - from);
  if (!name || !words) {
    diags->no_memory = true;
    return false;
  }
  size_t evidence = find_evidence(model, diags, name, source_part(source, name_from, name_to));
  if (evidence == NO_INDEX) return false;
  if (takes_back) *takes_back = empty;
  *value = (struct value){.evidence = evidence};
  return empty ||
         read_value(arena, diags, model, evidence, words, source_part(source, from, to), value);
}

/* Gives a value that was read, or says that it was given before. */
static void give(wm_case *player, struct report *report, struct value *value, struct span at) {
  case_changed(player);
  if (!run_give(player->run, value))
    DIAG(&report->list, TWICE_GIVEN, at, player->kb->model->evidence[value->evidence].name);
}

enum wm_status wm_case_give(wm_case *player, const char *text, const char *where, wm_diags *diags) {
  struct report report;
  if (!player || !text) return WM_USAGE;
  const struct source *source = open_with_text(&report, player, text, where, diags);
  if (!source) return WM_INTERNAL;
  struct value value;
  if (evidence_read(player->texts, &report.list, player->kb->model, source, &value, NULL))
    give(player, &report, &value, source_whole(source));
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

enum wm_status wm_case_read_club(wm_case *player, const char *text, const char *where,
                                 wm_diags *diags) {
  struct report report;
  if (!player || !text) return WM_USAGE;
  const struct source *source = open_with_text(&report, player, text, where, diags);
  if (!source) return WM_INTERNAL;
  const struct model *model = player->kb->model;
  struct value value;
  if (model->club_evidence == NO_INDEX)
    DIAG(&report.list, UNKNOWN_NAME, source_whole(source), "club", text);
  else if (read_value(player->texts, &report.list, model, model->club_evidence, source->bytes,
                      source_whole(source), &value))
    give(player, &report, &value, source_whole(source));
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

/* ---- evidence from a program ---- */

/* Opens the report and finds the evidence. The place of every fault is the name itself. */
static size_t open_named(struct report *report, wm_case *player, const char *evidence,
                         wm_diags *diags, struct span *at) {
  const struct source *source = open_with_text(report, player, evidence, "evidence", diags);
  if (!source) return NO_INDEX;
  *at = source_whole(source);
  size_t found = find_evidence(player->kb->model, &report->list, evidence, *at);
  if (found == NO_INDEX) report_close(report, WM_OK, WM_INPUT_FAULTY);
  return found;
}

static bool has_kind(struct report *report, const struct evidence *evidence,
                     enum evidence_kind kind, struct span at, const char *allowed) {
  if (evidence->kind == kind) return true;
  DIAG(&report->list, WRONG_KIND, at, evidence->name, evidence_kind_word(evidence->kind), allowed);
  return false;
}

static bool in_range(struct report *report, const struct evidence *evidence, double number,
                     struct span at) {
  if (number >= evidence->low && number <= evidence->high) return true;
  char words[3][NUMBER_ROOM];
  number_print(words[0], number);
  number_print(words[1], evidence->low);
  number_print(words[2], evidence->high);
  DIAG(&report->list, OUT_OF_RANGE, at, words[0], evidence->name, words[1], words[2]);
  return false;
}

static enum wm_status status_of_search(const struct report *report) {
  return report->list.no_memory ? WM_INTERNAL : WM_INPUT_FAULTY;
}

enum wm_status wm_case_give_number(wm_case *player, const char *evidence, double number,
                                   double error, unsigned shots, wm_diags *diags) {
  struct report report;
  struct span at = {0};
  if (!player || !evidence || isnan(error) || isinf(error) || shots > SHOTS_MAX) return WM_USAGE;
  report.list.no_memory = true;
  size_t found = open_named(&report, player, evidence, diags, &at);
  if (found == NO_INDEX) return status_of_search(&report);
  const struct evidence *about = &player->kb->model->evidence[found];
  struct value value = {.evidence = found,
                        .number = number,
                        .error = error < 0 ? about->error : error,
                        .shots = shots > 0 ? shots : 1,
                        .sure = 1,
                        .choice = NO_INDEX,
                        .at = at};
  if (has_kind(&report, about, EVIDENCE_NUMBER, at, "give a word") &&
      in_range(&report, about, number, at))
    give(player, &report, &value, at);
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

enum wm_status wm_case_give_choice(wm_case *player, const char *evidence, const char *choice,
                                   double sure, wm_diags *diags) {
  struct report report;
  struct span at = {0};
  if (!player || !evidence || !choice || !(sure >= 0 && sure <= 1)) return WM_USAGE;
  report.list.no_memory = true;
  size_t found = open_named(&report, player, evidence, diags, &at);
  if (found == NO_INDEX) return status_of_search(&report);
  const struct evidence *about = &player->kb->model->evidence[found];
  struct value value;
  if (about->kind == EVIDENCE_NUMBER || about->kind == EVIDENCE_TEXT) {
    DIAG(&report.list, WRONG_KIND, at, evidence, evidence_kind_word(about->kind), "give no choice");
  } else if (read_value(player->texts, &report.list, player->kb->model, found, choice, at,
                        &value)) {
    value.sure = sure;
    give(player, &report, &value, at);
  }
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

enum wm_status wm_case_give_text(wm_case *player, const char *evidence, const char *text,
                                 wm_diags *diags) {
  struct report report;
  struct span at = {0};
  if (!player || !evidence || !text) return WM_USAGE;
  report.list.no_memory = true;
  size_t found = open_named(&report, player, evidence, diags, &at);
  if (found == NO_INDEX) return status_of_search(&report);
  struct value value;
  if (has_kind(&report, &player->kb->model->evidence[found], EVIDENCE_TEXT, at, "give no text") &&
      read_value(player->texts, &report.list, player->kb->model, found, text, at, &value))
    give(player, &report, &value, at);
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

enum wm_status wm_case_take_back(wm_case *player, const char *evidence, wm_diags *diags) {
  struct report report;
  struct span at = {0};
  if (!player || !evidence) return WM_USAGE;
  report.list.no_memory = true;
  size_t found = open_named(&report, player, evidence, diags, &at);
  if (found == NO_INDEX) return status_of_search(&report);
  case_changed(player);
  run_take_back(player->run, found);
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

/* ---- running ---- */

enum wm_status wm_case_run(wm_case *player, wm_diags *diags) {
  struct report report;
  if (!player) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(player))) return WM_INTERNAL;
  case_changed(player);
  bool done = case_understand(player, &report.list) && run_chain(player->run, &report.list);
  return report_close(&report, done ? WM_OK : WM_INTERNAL, WM_INPUT_FAULTY);
}
