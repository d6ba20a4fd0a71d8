/* The session as JSON: docs/schemas/session.schema.json says what each member means. Numbers are
 * the player's own and in the units of the evidence; members are always there, null where they do
 * not apply. */
#include <math.h>

#include "render/answer.h"
#include "render/session_parts.h"
#include "render/wording.h"

/* ---- small parts ---- */

static void key_text(struct json *json, const char *key, const struct text *text) {
  const char *string = text_done(text);
  if (!string) json->out->failed = true;
  json_key_string(json, key, string);
}

static struct text beside(const struct json *json) {
  struct text text;
  text_init(&text, json->out->arena);
  return text;
}

static void key_claim(struct json *json, const char *key, const struct session *session,
                      size_t claim) {
  json_key_string(json, key,
                  claim == NO_INDEX ? NULL : session->network->model->claims[claim].name);
}

static void key_range(struct json *json, const char *key, struct share_range range) {
  json_key_list(json, key);
  json_number(json, range.low);
  json_number(json, range.high);
  json_end(json);
}

static const struct evidence *evidence_of(const struct session *session, size_t evidence) {
  return &session->network->model->evidence[evidence];
}

/* ---- the table ---- */

static const char *use_word(enum column_use use) {
  static const char *const words[] = {
      [USE_READINGS] = "readings", [USE_CLUB] = "club",         [USE_SHOT] = "shot",
      [USE_HAND] = "hand",         [USE_PLAYER] = "player",     [USE_SIDE] = "side",
      [USE_IGNORED] = "ignored",   [USE_UNKNOWN] = "unknown",   [USE_AMBIGUOUS] = "ambiguous",
      [USE_TWICE] = "twice",       [USE_MISFIT] = "unit_misfit"};
  return words[use];
}

static const char *unit_word(enum unit_from from) {
  static const char *const words[] = {[UNIT_NOWHERE] = "cells",
                                      [UNIT_HEADER] = "header",
                                      [UNIT_ROW] = "row",
                                      [UNIT_ASKED] = "asked",
                                      [UNIT_USUAL] = "usual"};
  return words[from];
}

static void add_column(struct json *json, const struct session *session,
                       const struct intake_column *column) {
  bool evidence = column->use == USE_READINGS || column->use == USE_CLUB;
  json_object(json);
  json_key_string(json, "header", column->header);
  json_key_string(json, "use", use_word(column->use));
  json_key_string(json, "evidence", evidence ? evidence_of(session, column->evidence)->name : NULL);
  json_key_string(json, "unit", column->unit ? column->unit->name : NULL);
  json_key_string(json, "unit_from", column->unit ? unit_word(column->unit_from) : NULL);
  json_key_count(json, "known", column->n_read);
  json_key_count(json, "left_out", column->n_bad);
  json_end(json);
}

static void add_table(struct json *json, const struct session *session) {
  const struct intake *intake = &session->intake;
  const char delimiter[] = {session->delimiter, '\0'}, decimal[] = {intake->decimal, '\0'};
  json_key_object(json, "table");
  json_key_string(json, "name", intake->name);
  json_key_string(json, "delimiter", delimiter);
  json_key_string(json, "decimal", intake->decimal ? decimal : NULL);
  json_key_count(json, "header_line", intake->header_line);
  json_key_count(json, "shots", shots_count(&session->shots));
  json_key_count(json, "rows_before_header", intake->n_before);
  json_key_count(json, "rows_no_shot", intake->n_summary);
  json_key_count(json, "rows_ragged", intake->n_ragged);
  json_key_count(json, "cells_left_out", intake->n_bad);
  json_key_count(json, "shots_without_reading", intake->n_empty);
  json_key_count(json, "remarks_searched", intake->remarks.n);
  json_key_count(json, "remarks_not_searched", intake->n_unread);
  json_key_list(json, "columns");
  for (size_t i = 0; i < intake->n_columns; i++) add_column(json, session, &intake->columns[i]);
  json_end(json);
  json_end(json);
}

/* ---- figures ---- */

static void add_figure(struct json *json, const struct session *session,
                       const struct figure *figure) {
  const struct summary *summary = &figure->summary;
  json_object(json);
  json_key_string(json, "evidence", evidence_of(session, figure->evidence)->name);
  json_key_string(json, "unit", evidence_of(session, figure->evidence)->unit->name);
  json_key_bool(json, "derived", figure->derived);
  json_key_count(json, "n", summary->n);
  json_key_number(json, "mean", summary->mean);
  json_key_number(json, "error", figure->error);
  json_key_number(json, "error_of_shots", summary->error);
  json_key_number(json, "sd", summary->sd);
  json_key_number(json, "median", summary->median);
  json_key_number(json, "robust_spread", summary->robust);
  json_key_number(json, "low", summary->low);
  json_key_number(json, "high", summary->high);
  json_key_number(json, "lag1", summary->lag1);
  json_key_number(json, "detectable_change", figure->moves);
  json_key_count(json, "outliers", summary->n_outliers);
  json_end(json);
}

static void add_region(struct json *json, const struct session *session, const struct block *block,
                       const struct region *region) {
  json_object(json);
  json_key_string(json, "x", evidence_of(session, block->figures[region->x].evidence)->name);
  json_key_string(json, "y", evidence_of(session, block->figures[region->y].evidence)->name);
  json_key_number(json, "share", SHARE_LEVEL);
  json_key_count(json, "n", region->ellipse.n);
  json_key_number(json, "centre_x", region->ellipse.x);
  json_key_number(json, "centre_y", region->ellipse.y);
  json_key_number(json, "major", region->ellipse.major);
  json_key_number(json, "minor", region->ellipse.minor);
  json_key_number(json, "angle", region->ellipse.angle);
  json_key_number(json, "correlation", region->ellipse.correlation);
  json_end(json);
}

static double reading_of(const struct block *block, const struct outlier *outlier) {
  size_t place = 0;
  while (block->shots[place] != outlier->shot) place++;
  return block->figures[outlier->figure].readings[place];
}

#define OUTLIERS_MAX 200

static void add_figures(struct json *json, const struct session *session,
                        const struct block *block) {
  json_key_list(json, "figures");
  for (size_t i = 0; i < block->n_figures; i++) add_figure(json, session, &block->figures[i]);
  json_end(json);
  json_key_list(json, "ellipses");
  for (size_t i = 0; i < block->n_regions; i++)
    add_region(json, session, block, &block->regions[i]);
  json_end(json);
  json_key_list(json, "outliers");
  for (size_t i = 0; i < block->n_outliers && i < OUTLIERS_MAX; i++) {
    const struct outlier *outlier = &block->outliers[i];
    json_object(json);
    json_key_count(json, "line", session->shots.lines.at[outlier->shot]);
    json_key_string(json, "evidence",
                    evidence_of(session, block->figures[outlier->figure].evidence)->name);
    json_key_number(json, "reading", reading_of(block, outlier));
    json_end(json);
  }
  json_end(json);
}

/* ---- misses ---- */

static void key_side(struct json *json, const char *key, const struct session *session,
                     enum side_class side) {
  bool mirror = session->player->hand == HAND_LEFT;
  const char *words[] = {"left", "straight", "right", NULL};
  if (mirror && side == SIDE_LEFT) side = SIDE_RIGHT;
  else if (mirror && side == SIDE_RIGHT) side = SIDE_LEFT;
  json_key_string(json, key, words[side]);
}

static void key_angle(struct json *json, const char *key, const struct session *session,
                      double angle) {
  json_key_number(json, key, session->player->hand == HAND_LEFT ? 0 - angle : angle);
}

static void add_leading(struct json *json, const struct session *session, const struct run *run) {
  key_claim(json, "leading", session, run ? run_leading(run) : NO_INDEX);
  json_key_list(json, "findings");
  for (size_t i = 0; run && i < session->network->model->first_cause; i++)
    if (is_believed(run, i)) json_string(json, session->network->model->claims[i].name);
  json_end(json);
}

static void add_group(struct json *json, const struct session *session, const struct block *block,
                      const struct miss_group *group) {
  struct text words = beside(json);
  group_words(&words, session, block, group);
  json_object(json);
  key_text(json, "words", &words);
  key_side(json, "start", session, group->start);
  key_side(json, "curve", session, group->curve);
  key_side(json, "finish", session, group->finish);
  json_key_count(json, "n", group->n);
  key_range(json, "share_of_shots", group->share);
  key_angle(json, "mean_start", session, group->mean.start);
  key_angle(json, "mean_curve", session, group->mean.curve);
  key_angle(json, "mean_finish", session, group->mean.finish);
  json_key_bool(json, "diagnosed", group->run != NULL);
  json_key_bool(json, "few", group->n < GROUP_SHOTS_FEW);
  add_leading(json, session, group->run);
  json_end(json);
}

static void add_cause(struct json *json, const struct session *session, const struct block *block,
                      const struct cause_share *cause) {
  struct text title = beside(json);
  const struct claim *claim = &session->network->model->claims[cause->claim];
  wording_add_plain(&title, session->network->model, &claim->title, session->player->hand);
  json_object(json);
  json_key_string(json, "name", claim->name);
  key_text(json, "title", &title);
  json_key_number(json, "score", cause->score);
  json_key_count(json, "explained", cause->explained);
  json_key_list(json, "certainty");
  for (size_t i = 0; i < block->n_groups; i++) json_number(json, cause->certainty[i]);
  json_end(json);
  json_key_number(json, "in_window", cause->in_window);
  json_key_number(json, "on_all", cause->on_whole);
  json_end(json);
}

static void add_misses(struct json *json, const struct session *session,
                       const struct block *block) {
  json_key_count(json, "sorted", block->n_sorted);
  json_key_count(json, "missed", block->n_missed);
  key_range(json, "missed_share", block->missed);
  json_key_bool(json, "on_all_shots", block->on_whole);
  json_key_bool(json, "apart", block->apart);
  json_key_list(json, "groups");
  for (size_t i = 0; i < block->n_groups; i++) add_group(json, session, block, &block->groups[i]);
  json_end(json);
  json_key_list(json, "causes");
  for (size_t i = 0; i < block->n_causes; i++) add_cause(json, session, block, &block->causes[i]);
  json_end(json);
  key_claim(json, "leading", session, block->leading);
  key_claim(json, "one_cause", session, block->one_cause);
  json_key_list(json, "doubts");
  for (size_t i = 0; i < block->n_doubts; i++) {
    json_object(json);
    json_key_string(json, "told", block->doubts[i].told);
    json_key_string(json, "formula", block->doubts[i].formula);
    json_end(json);
  }
  json_end(json);
}

/* ---- the plan ---- */

static const char *test_word(enum test_kind kind) {
  static const char *const words[] = {"none", "mean", "hits", "misses"};
  return words[kind];
}

static void add_test(struct json *json, const struct session *session, const struct block *block) {
  const struct test_block *test = &block->test;
  bool mean = test->kind == TEST_MEAN,
       counted = test->kind == TEST_HITS || test->kind == TEST_MISSES;
  struct text words = beside(json);
  test_words(&words, session, block);
  json_key_object(json, "test");
  json_key_string(json, "kind", test_word(test->kind));
  json_key_string(json, "evidence",
                  block->test_figure == NO_INDEX
                      ? NULL
                      : evidence_of(session, block->figures[block->test_figure].evidence)->name);
  json_key_count(json, "shots", test->shots);
  json_key_count(json, "shots_before", test->shots_before);
  json_key_number(json, "before", mean ? test->before : NAN);
  json_key_number(json, "reach", mean ? test->reach : NAN);
  json_key_number(json, "change", mean ? test->change : NAN);
  json_key_number(json, "power", mean || counted ? test->power : NAN);
  json_key_number(json, "counted_before", counted ? (double)test->counted_before : NAN);
  json_key_number(json, "needed", counted ? (double)test->needed : NAN);
  key_text(json, "words", &words);
  json_end(json);
}

static void add_plan(struct json *json, const struct session *session, const struct block *block) {
  size_t drill = block_drill(block);
  key_claim(json, "red_flag", session, block->red_flag);
  key_claim(json, "drill", session, drill);
  if (drill == NO_INDEX) {
    json_key(json, "test");
    json_null(json);
  } else {
    add_test(json, session, block);
  }
  json_key_list(json, "drills");
  for (size_t i = 0; i < block->n_drills; i++) {
    json_object(json);
    key_claim(json, "name", session, block->drills[i].claim);
    json_key_number(json, "value", block->drills[i].value);
    json_key_bool(json, "removed", block->drills[i].removed);
    json_end(json);
  }
  json_end(json);
}

static void add_hinges(struct json *json, const struct session *session,
                       const struct block *block) {
  json_key_list(json, "hinges");
  for (size_t i = 0; i < block->n_hinges; i++) {
    json_object(json);
    json_key_string(json, "evidence", evidence_of(session, block->hinges[i].evidence)->name);
    key_claim(json, "instead", session, block->hinges[i].instead);
    json_key_number(json, "margin", block->hinges[i].margin);
    json_end(json);
  }
  json_end(json);
}

static void add_block(struct json *json, const struct session *session, const struct block *block) {
  json_object(json);
  json_key_string(json, "club",
                  block->club == NO_INDEX ? NULL
                                          : session->network->model->clubs[block->club].name);
  json_key_count(json, "shots", block->n);
  add_figures(json, session, block);
  add_misses(json, session, block);
  add_plan(json, session, block);
  json_checks(json, block_run(session, block), block->checks, block->n_checks);
  add_hinges(json, session, block);
  json_end(json);
}

void json_stop(struct json *json, const struct session *session, const struct alarm *alarm) {
  json_key(json, "stop");
  if (!alarm || alarm->claim == NO_INDEX) {
    json_null(json);
    return;
  }
  json_object(json);
  key_claim(json, "red_flag", session, alarm->claim);
  json_key_string(json, "table", session->intake.name);
  json_key(json, "line");
  if (alarm->line > 0) json_count(json, alarm->line);
  else json_null(json);
  json_key_string(json, "words", alarm->line > 0 ? alarm->words : NULL);
  json_end(json);
}

void session_json(struct json *json, const struct session *session) {
  json_object(json);
  json_key_string(json, "schema", "whymiss-session");
  json_key_count(json, "schema_version", 1);
  json_key(json, "kb_digest");
  json_digest(json, session->network->digest);
  json_key_string(json, "hand", session->player->hand == HAND_LEFT ? "left" : "right");
  json_key_string(json, "window", session->window ? session->window->name : NULL);
  json_key_number(json, "window_within", session->window ? session->flights.within : NAN);
  add_table(json, session);
  json_stop(json, session, &session->alarm);
  json_key_list(json, "blocks");
  for (size_t i = 0; i < session->n_blocks; i++) add_block(json, session, &session->blocks[i]);
  json_end(json);
  json_end(json);
}
