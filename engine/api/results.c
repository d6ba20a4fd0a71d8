/* The results as plain arrays of the public structs, made on demand in the case's arena of answers.
 * Numbers and texts are turned to the player's hand here. */
#include <string.h>

#include "api/handles.h"
#include "model/formula.h"
#include "render/answer.h"
#include "render/wording.h"

/* Room for n elements, at least one, so that an empty result is not NULL. NULL before the run or
 * without memory. */
#define RESULT_ROOM(player, type, n)                                                               \
  ((player)->run->judged ? arena_new_array((player)->answers, type, (n) + 1) : NULL)

static const char *words(wm_case *player, const struct wording *wording) {
  struct text text;
  text_init(&text, player->answers);
  wording_add(&text, player->run, wording);
  return text_done(&text);
}

/* The finished array, unless memory ran out while it was filled. */
static void *finished(wm_case *player, void *list, size_t count, size_t *n) {
  if (arena_failed(player->answers)) list = NULL;
  *n = list ? count : 0;
  return list;
}

/* ---- readings ---- */

static enum wm_evidence_kind public_kind(enum evidence_kind kind) {
  switch (kind) {
  case EVIDENCE_NUMBER: return WM_NUMBER;
  case EVIDENCE_CHOICE: return WM_CHOICE;
  case EVIDENCE_YES_NO: return WM_YES_NO;
  case EVIDENCE_TEXT: return WM_WORDS;
  case EVIDENCE_CLUB: break;
  }
  return WM_CLUB_NAME;
}

static enum wm_reading_state public_state(enum reading_state state) {
  return state == READING_GIVEN ? WM_GIVEN : state == READING_DERIVED ? WM_DERIVED : WM_UNKNOWN;
}

static const char *shown(wm_case *player, size_t evidence) {
  struct text text;
  text_init(&text, player->answers);
  wording_reading(&text, player->run, evidence);
  return text_done(&text);
}

static void fill_known(struct wm_reading *out, const struct run *run, size_t evidence) {
  const struct evidence *about = &run->network->model->evidence[evidence];
  const struct reading *reading = &run->readings[evidence];
  if (about->kind == EVIDENCE_NUMBER) {
    out->number = reading_number(run, evidence);
    out->error = reading->error;
  } else if (about->kind == EVIDENCE_TEXT) {
    out->word = reading->text;
  } else {
    size_t choice = reading_choice(run, evidence);
    out->word = choice < about->n_choices ? about->choices[choice].name : NULL;
    out->sure = reading->sure;
  }
  out->formula = reading->formula ? reading->formula->text : NULL;
}

static void fill_reading(wm_case *player, struct wm_reading *out, size_t evidence) {
  const struct run *run = player->run;
  const struct evidence *about = &run->network->model->evidence[evidence];
  *out = (struct wm_reading){.name = about->name,
                             .title = about->title,
                             .kind = public_kind(about->kind),
                             .state = public_state(run->readings[evidence].state),
                             .unit = about->unit ? about->unit->name : NULL,
                             .shown = shown(player, evidence)};
  if (out->state != WM_UNKNOWN) fill_known(out, run, evidence);
}

const struct wm_reading *wm_case_readings(wm_case *player, size_t *n) {
  size_t count = player->kb->model->n_evidence;
  struct wm_reading *list = player->results.readings;
  if (!list && (list = RESULT_ROOM(player, struct wm_reading, count)) != NULL)
    for (size_t i = 0; i < count; i++) fill_reading(player, &list[i], i);
  return player->results.readings = finished(player, list, count, n);
}

/* ---- findings and causes ---- */

static enum wm_claim_state public_claim_state(enum claim_state state) {
  return state == CLAIM_KNOWN ? WM_KNOWN : state == CLAIM_UNKNOWN ? WM_NOT_KNOWN : WM_SILENT;
}

const struct wm_finding *wm_case_findings(wm_case *player, size_t *n) {
  const struct run *run = player->run;
  const struct model *model = player->kb->model;
  size_t count = model->first_cause;
  struct wm_finding *list = player->results.findings;
  if (!list && (list = RESULT_ROOM(player, struct wm_finding, count)) != NULL)
    for (size_t i = 0; i < count; i++)
      list[i] = (struct wm_finding){.name = model->claims[i].name,
                                    .title = words(player, &model->claims[i].title),
                                    .certainty = run->certainty[i],
                                    .state = public_claim_state(run->claims[i]),
                                    .good = model->claims[i].good,
                                    .red_flag = run->red_flag == i};
  return player->results.findings = finished(player, list, count, n);
}

static enum wm_standing public_standing(enum standing standing) {
  switch (standing) {
  case STANDING_LEADING: return WM_LEADING;
  case STANDING_LIKELY: return WM_LIKELY;
  case STANDING_POSSIBLE: return WM_POSSIBLE;
  case STANDING_OPEN: return WM_OPEN;
  case STANDING_UNLIKELY: break;
  }
  return WM_UNLIKELY;
}

const struct wm_cause *wm_case_causes(wm_case *player, size_t *n) {
  const struct run *run = player->run;
  size_t count = run->judged ? run->n_causes : 0;
  struct wm_cause *list = player->results.causes;
  if (!list && (list = RESULT_ROOM(player, struct wm_cause, count)) != NULL)
    for (size_t i = 0; i < count; i++) {
      const struct claim *claim = &player->kb->model->claims[run->causes[i].claim];
      list[i] = (struct wm_cause){.name = claim->name,
                                  .title = words(player, &claim->title),
                                  .area = claim->area,
                                  .certainty = run->causes[i].certainty,
                                  .standing = public_standing(run->causes[i].standing)};
    }
  return player->results.causes = finished(player, list, count, n);
}

/* ---- drills ---- */

static void fill_drill(wm_case *player, struct wm_drill *out, const struct ranked_drill *ranked,
                       size_t chosen) {
  const struct model *model = player->kb->model;
  const struct claim *claim = &model->claims[ranked->claim];
  bool by_rule = ranked->removal == REMOVAL_RULE;
  *out = (struct wm_drill){.name = claim->name,
                           .title = words(player, &claim->title),
                           .value = ranked->value,
                           .from_causes = ranked->from_causes,
                           .advice = ranked->advice,
                           .external = claim->drill->external,
                           .chosen = ranked->claim == chosen,
                           .removal = by_rule                            ? WM_REMOVED_BY_RULE
                                      : ranked->removal == REMOVAL_NEEDS ? WM_REMOVED_BY_NEEDS
                                                                         : WM_KEPT,
                           .removed_by = by_rule ? model->rules[ranked->removed_by].name : NULL};
}

const struct wm_drill *wm_case_drills(wm_case *player, size_t *n) {
  const struct run *run = player->run;
  size_t count = run->judged ? run->n_drills : 0;
  struct wm_drill *list = player->results.drills;
  if (!list && (list = RESULT_ROOM(player, struct wm_drill, count)) != NULL)
    for (size_t i = 0; i < count; i++)
      fill_drill(player, &list[i], &run->drills[i], run_drill(run));
  return player->results.drills = finished(player, list, count, n);
}

/* ---- the trace ---- */

static const char *missing_name(const struct model *model, const struct judgement *judged) {
  if (judged->missing_evidence != NO_INDEX) return model->evidence[judged->missing_evidence].name;
  return judged->missing_claim != NO_INDEX ? model->claims[judged->missing_claim].name : NULL;
}

static void fill_firing(wm_case *player, struct wm_firing *out, size_t rule) {
  const struct run *run = player->run;
  const struct network *network = run->network;
  const struct rule *about = &network->model->rules[rule];
  const struct judgement *judged = &run->nodes[network->rules[rule].first_node];
  enum rule_state state = run->rules[rule];
  *out = (struct wm_firing){.rule = about->name,
                            .file = about->at.source ? about->at.source->name : NULL,
                            .line = about->at.line,
                            .layer = (unsigned)network->rules[rule].layer,
                            .state = state == RULE_FIRED     ? WM_FIRED
                                     : state == RULE_UNKNOWN ? WM_LACKING
                                                             : WM_FAILED,
                            .premise = judged->known ? judged->belief : 0,
                            .missing =
                                state == RULE_UNKNOWN ? missing_name(network->model, judged) : NULL,
                            .because = words(player, &about->because)};
}

const struct wm_firing *wm_case_firings(wm_case *player, size_t *n) {
  size_t count = player->kb->model->n_rules;
  struct wm_firing *list = player->results.firings;
  if (!list && (list = RESULT_ROOM(player, struct wm_firing, count)) != NULL)
    for (size_t i = 0; i < count; i++) fill_firing(player, &list[i], player->kb->network->order[i]);
  return player->results.firings = finished(player, list, count, n);
}

static void add_contributions(wm_case *player, struct wm_contribution *list) {
  const struct network *network = player->kb->network;
  size_t n = 0;
  for (size_t i = 0; i < network->n_contributions; i++) {
    const struct contribution_record *record = &player->run->contributions[i];
    const struct contribution *said = &network->contributions[i];
    if (record->state == CONTRIBUTION_NONE) continue;
    list[n++] = (struct wm_contribution){.rule = network->model->rules[said->rule].name,
                                         .claim = network->model->claims[said->claim].name,
                                         .strength = said->strength,
                                         .value = record->value,
                                         .counted = record->state == CONTRIBUTION_COUNTED};
  }
  player->results.n_contributions = n;
}

const struct wm_contribution *wm_case_contributions(wm_case *player, size_t *n) {
  struct wm_contribution *list = player->results.contributions;
  if (!list && (list = RESULT_ROOM(player, struct wm_contribution,
                                   player->kb->network->n_contributions)) != NULL)
    add_contributions(player, list);
  return player->results.contributions = finished(player, list, player->results.n_contributions, n);
}

/* ---- what to get next ---- */

const struct wm_check *wm_case_checks(wm_case *player, size_t *n) {
  const struct run *run = player->run;
  size_t count = run->judged ? run->n_checks : 0;
  struct wm_check *list = player->results.checks;
  if (!list && (list = RESULT_ROOM(player, struct wm_check, count)) != NULL)
    for (size_t i = 0; i < count; i++) {
      const struct evidence *evidence = &player->kb->model->evidence[run->checks[i].evidence];
      list[i] = (struct wm_check){.evidence = evidence->name,
                                  .ask = words(player, &evidence->ask),
                                  .effort = effort_word(evidence->effort),
                                  .gain = run->checks[i].gain,
                                  .n_rules = run->checks[i].n_rules};
    }
  return player->results.checks = finished(player, list, count, n);
}
