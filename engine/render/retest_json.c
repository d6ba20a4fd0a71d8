/* The retest as JSON: docs/schemas/retest.schema.json says what each member means. Members are
 * always there, null where they do not apply. */
#include <math.h>

#include "render/retest_parts.h"

static const struct evidence *evidence_of(const struct retest *retest, size_t evidence) {
  return &retest->before->network->model->evidence[evidence];
}

static const char *verdict_key(enum retest_verdict verdict) {
  static const char *const words[] = {[VERDICT_KEEP] = "keep",
                                      [VERDICT_PROGRESS] = "progress",
                                      [VERDICT_CHANGE_DRILL] = "change_drill",
                                      [VERDICT_TOO_EARLY] = "too_early"};
  return words[verdict];
}

static const char *reason_key(enum verdict_reason reason) {
  static const char *const words[] = {
      [REASON_REACHED] = "reached",           [REASON_ON_THE_WAY] = "on_the_way",
      [REASON_AT_A_COST] = "at_a_cost",       [REASON_BACKWARDS] = "backwards",
      [REASON_NOT_MOVED] = "not_moved",       [REASON_GIVEN_UP] = "given_up",
      [REASON_WEAK_TEST] = "weak_test",       [REASON_FEW_SHOTS] = "few_shots",
      [REASON_NO_TARGET] = "no_target",       [REASON_THERE_BEFORE] = "there_before",
      [REASON_NOT_MEASURED] = "not_measured", [REASON_OTHER_SPEED] = "other_speed",
      [REASON_SAME_SHOTS] = "same_shots"};
  return words[reason];
}

static const char *kind_key(enum test_kind kind) {
  static const char *const words[] = {
      [TEST_NONE] = "none", [TEST_MEAN] = "mean", [TEST_HITS] = "hits", [TEST_MISSES] = "misses"};
  return words[kind];
}

static const char *answer_key(enum look_answer answer) {
  static const char *const words[] = {[LOOK_GO_ON] = "go_on",
                                      [LOOK_WORKED] = "worked",
                                      [LOOK_GIVE_UP] = "give_up",
                                      [LOOK_END] = "end"};
  return words[answer];
}

static void add_look(struct json *json, const struct look *look) {
  json_object(json);
  json_key_count(json, "shots", look->shots);
  json_key_number(json, "mean", look->mean);
  json_key_count(json, "counted", look->counted);
  json_key_number(json, "reach", look->reach);
  json_key_number(json, "chance", look->chance);
  json_key_number(json, "hope", look->hope);
  json_key_string(json, "answer", answer_key(look->answer));
  json_end(json);
}

static void add_change(struct json *json, const char *key, const struct change *change) {
  json_key_object(json, key);
  json_key_count(json, "n_before", change->n_before);
  json_key_count(json, "n_after", change->n_after);
  json_key_number(json, "before", change->before);
  json_key_number(json, "after", change->after);
  json_key_number(json, "difference", change->difference);
  json_key_number(json, "error", change->error);
  json_key_number(json, "t", change->t);
  json_key_number(json, "df", change->df);
  json_key_number(json, "p", change->p);
  json_key_number(json, "low", change->low);
  json_key_number(json, "high", change->high);
  json_key_number(json, "effect", change->effect);
  json_key_number(json, "detectable", change->detectable);
  json_key_number(json, "permutation", change->permutation);
  json_key_number(json, "chance", change->chance);
  json_end(json);
}

static void add_figure(struct json *json, const struct retest *retest, const struct compared *of) {
  const struct evidence *evidence = evidence_of(retest, of->before->evidence);
  json_object(json);
  json_key_string(json, "evidence", evidence->name);
  json_key_string(json, "unit", evidence->unit->name);
  json_key_bool(json, "derived", of->before->derived);
  add_change(json, "change", &of->change);
  json_key_bool(json, "adjusted", of->adjusted);
  add_change(json, "at_same_speed", &of->at_speed);
  json_key_bool(json, "moved", of->moved);
  json_key_bool(json, "worse", of->worse);
  json_key_number(json, "spread_ratio", of->ratio);
  json_key_number(json, "spread_ratio_error", of->ratio_error);
  json_key_number(json, "spread_chance", of->spread.chance);
  json_key_bool(json, "spread_moved", of->spread_moved);
  json_key_bool(json, "wilder", of->wilder);
  json_end(json);
}

static void add_target(struct json *json, const struct retest *retest,
                       const struct club_retest *club) {
  const struct target *target = &club->target;
  const struct test_block *plan = &target->plan;
  bool mean = plan->kind == TEST_MEAN,
       counts = plan->kind == TEST_HITS || plan->kind == TEST_MISSES;
  json_key_object(json, "target");
  json_key_string(json, "kind", kind_key(plan->kind));
  json_key_bool(json, "asked", target->asked);
  json_key_string(json, "evidence",
                  target->evidence == NO_INDEX ? NULL
                                               : evidence_of(retest, target->evidence)->name);
  json_key_count(json, "shots_planned", plan->shots);
  json_key_count(json, "shots_before", plan->shots_before);
  json_key_number(json, "before", mean ? plan->before : NAN);
  json_key_number(json, "goal", mean ? (plan->direction > 0 ? plan->low : plan->high) : NAN);
  json_key_number(json, "power", plan->kind == TEST_NONE ? NAN : plan->power);
  json_key(json, "counted_before");
  if (counts) json_count(json, plan->counted_before);
  else json_null(json);
  json_key(json, "needed");
  if (counts) json_count(json, plan->needed);
  else json_null(json);
  json_key(json, "look");
  if (plan->kind == TEST_NONE) json_null(json);
  else add_look(json, &club->look);
  json_key_bool(json, "moved", club->moved);
  json_key_bool(json, "reached", club->reached);
  json_key_bool(json, "backwards", club->backwards);
  json_end(json);
}

static void add_club(struct json *json, const struct retest *retest,
                     const struct club_retest *club) {
  const struct model *model = retest->before->network->model;
  struct text why;
  text_init(&why, json->out->arena);
  verdict_reason_words(&why, retest, club);
  json_object(json);
  json_key_string(json, "club",
                  club->before->club == NO_INDEX ? NULL : model->clubs[club->before->club].name);
  json_key_count(json, "shots_before", club->before->n);
  json_key_count(json, "shots_after", club->after->n);
  json_key_string(json, "verdict", verdict_key(club->verdict));
  json_key_string(json, "reason", reason_key(club->reason));
  json_key_string(json, "because", text_done(&why));
  add_target(json, retest, club);
  json_key_object(json, "misses");
  json_key_count(json, "before", club->before->n_missed);
  json_key_count(json, "of_before", club->before->n_sorted);
  json_key_count(json, "after", club->after->n_missed);
  json_key_count(json, "of_after", club->after->n_sorted);
  json_key_bool(json, "more", club->more_misses);
  json_end(json);
  json_key_bool(json, "speed_known", club->speed != NO_INDEX);
  json_key_bool(json, "speed_apart", club->speed_apart);
  json_key_list(json, "figures");
  for (size_t i = 0; i < club->n_figures; i++) add_figure(json, retest, &club->figures[i]);
  json_end(json);
  json_end(json);
}

void retest_json(struct json *json, const struct retest *retest, const struct look *looks,
                 size_t n_looks) {
  json_object(json);
  json_key_string(json, "schema", "whymiss-retest");
  json_key_count(json, "schema_version", 1);
  json_key(json, "kb_digest");
  json_digest(json, retest->before->network->digest);
  json_key_string(json, "hand", retest->before->player->hand == HAND_LEFT ? "left" : "right");
  json_key_string(json, "before", retest->before->intake.name);
  json_key_string(json, "after", retest->after->intake.name);
  bool first = retest->alarm == &retest->before->alarm;
  json_stop(json, first ? retest->before : retest->after, retest->alarm);
  json_key_bool(json, "identical", retest->identical);
  json_key_list(json, "looks");
  for (size_t i = 0; i < n_looks; i++) add_look(json, &looks[i]);
  json_end(json);
  json_key_list(json, "clubs");
  for (size_t i = 0; i < retest->n_clubs; i++) add_club(json, retest, &retest->clubs[i]);
  json_end(json);
  json_end(json);
}
