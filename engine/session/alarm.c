/* Shots with the same answers are judged once: a table has few kinds of them. */
#include "session/alarm.h"

#include <math.h>
#include <string.h>

#include "model/formula.h"

/* ---- what a red flag can rest on ---- */

struct search {
  const struct model *model;
  bool *evidence, *claims; /* found so far */
  bool grown;              /* a claim was found in this round */
};

static void find_formula(struct search *search, const struct formula *formula) {
  for (size_t i = 0; i < formula->n_inputs; i++) search->evidence[formula->inputs[i]] = true;
}

static void find_condition(struct search *search, const struct condition *condition) {
  if (condition->evidence != NO_INDEX) search->evidence[condition->evidence] = true;
  if (condition->formula) find_formula(search, condition->formula);
  if (condition->claim != NO_INDEX && !search->claims[condition->claim])
    search->claims[condition->claim] = search->grown = true;
  for (size_t i = 0; i < condition->n_clauses; i++) find_condition(search, &condition->clauses[i]);
}

static bool speaks_for(const struct search *search, const struct rule *rule) {
  for (size_t i = 0; i < rule->n_then; i++)
    if (rule->then[i].strength > 0 && search->claims[rule->then[i].claim]) return true;
  return false;
}

const bool *safety_evidence(struct arena *arena, const struct network *network) {
  const struct model *model = network->model;
  struct search search = {.model = model,
                          .evidence = arena_new_array(arena, bool, model->n_evidence + 1),
                          .claims = arena_new_array(arena, bool, model->n_claims + 1)};
  if (!search.evidence || !search.claims) return NULL;
  for (size_t i = 0; i < model->first_cause; i++)
    search.claims[i] = model->claims[i].red_flag.n > 0;
  do {
    search.grown = false;
    for (size_t i = 0; i < model->n_rules; i++)
      if (speaks_for(&search, &model->rules[i])) find_condition(&search, model->rules[i].when);
  } while (search.grown);
  return search.evidence;
}

/* ---- judging shots ---- */

void player_give(struct run *run, const struct run *player) {
  size_t n = player->network->model->n_evidence;
  for (size_t i = 0; i < n; i++) {
    if (!player->is_given[i]) continue;
    struct value value = player->values[i];
    if (value.shots == 0) value.shots = 1; /* of the player, not a mean of these shots */
    run_give(run, &value);
  }
}

struct ends {
  double low, high;
};
struct watch {
  const struct shots *shots;
  const bool *is_safety;
  const struct run *player;
  struct run *run;
  struct ends *ends;    /* by column */
  ARRAY(size_t) judged; /* shots, each with other answers */
};

static const struct evidence *evidence_of(const struct watch *watch, size_t column) {
  return &watch->shots->model->evidence[watch->shots->columns[column].evidence];
}

static bool counts(const struct watch *watch, size_t column) {
  return watch->is_safety[watch->shots->columns[column].evidence];
}

static bool find_ends(struct watch *watch) {
  const struct shots *shots = watch->shots;
  watch->ends = arena_new_array(shots->arena, struct ends, shots->n_columns + 1);
  for (size_t i = 0; watch->ends && i < shots->n_columns; i++) {
    struct ends *ends = &watch->ends[i];
    *ends = (struct ends){INFINITY, -INFINITY};
    for (size_t k = 0; counts(watch, i) && k < shots_count(shots); k++) {
      ends->low = fmin(ends->low, shots_reading(shots, i, k));
      ends->high = fmax(ends->high, shots_reading(shots, i, k));
    }
  }
  return watch->ends != NULL;
}

static bool is_end(const struct watch *watch, size_t column, double reading) {
  return reading == watch->ends[column].low || reading == watch->ends[column].high;
}

/* NaN is like NaN. Numbers are alike unless one lies at an end of its column. */
static bool alike(const struct watch *watch, size_t a, size_t b) {
  for (size_t i = 0; i < watch->shots->n_columns; i++) {
    double x = shots_reading(watch->shots, i, a), y = shots_reading(watch->shots, i, b);
    if (!counts(watch, i) || x == y || (isnan(x) && isnan(y))) continue;
    if (evidence_of(watch, i)->kind != EVIDENCE_NUMBER || is_end(watch, i, x)) return false;
  }
  return true;
}

static bool is_worth_judging(const struct watch *watch, size_t shot) {
  bool any = false;
  for (size_t i = 0; i < watch->shots->n_columns && !any; i++)
    any = counts(watch, i) && !isnan(shots_reading(watch->shots, i, shot));
  for (size_t i = 0; i < watch->judged.n && any; i++)
    any = !alike(watch, shot, watch->judged.at[i]);
  return any;
}

static void give_shot(struct watch *watch, size_t shot) {
  for (size_t i = 0; i < watch->shots->n_columns; i++) {
    const struct evidence *evidence = evidence_of(watch, i);
    double reading = shots_reading(watch->shots, i, shot);
    if (!counts(watch, i) || isnan(reading)) continue;
    bool number = evidence->kind == EVIDENCE_NUMBER;
    struct value value = {.evidence = watch->shots->columns[i].evidence,
                          .number = number ? reading : 0,
                          .error = number ? evidence->error : 0,
                          .shots = 1,
                          .choice = number ? NO_INDEX : (size_t)reading,
                          .sure = 1};
    run_give(watch->run, &value);
  }
}

/* "pain yes, numbness or tingling no" */
static const char *words_of(struct watch *watch, size_t shot) {
  struct text text;
  text_init(&text, watch->shots->arena);
  for (size_t i = 0; i < watch->shots->n_columns; i++) {
    const struct evidence *evidence = evidence_of(watch, i);
    double reading = shots_reading(watch->shots, i, shot);
    if (!counts(watch, i) || isnan(reading)) continue;
    text_format(&text, "%s%s ", text.n > 0 ? ", " : "", evidence->title);
    if (evidence->kind == EVIDENCE_NUMBER) text_fixed(&text, reading, evidence->decimals);
    else text_add(&text, evidence->choices[(size_t)reading].name);
  }
  return text_done(&text);
}

static bool judge(struct watch *watch, struct alarm *alarm, size_t shot) {
  size_t *place = array_push(watch->shots->arena, &watch->judged);
  if (!place) return false;
  *place = shot;
  run_reset(watch->run);
  watch->run->hand = watch->player->hand;
  watch->run->shots = 1;
  player_give(watch->run, watch->player);
  give_shot(watch, shot);
  if (!run_chain(watch->run, NULL)) return false;
  if (watch->run->red_flag == NO_INDEX) return true;
  *alarm =
      (struct alarm){watch->run->red_flag, watch->shots->lines.at[shot], words_of(watch, shot)};
  return alarm->words != NULL;
}

static bool watches_any(const struct watch *watch) {
  bool any = false;
  for (size_t i = 0; i < watch->shots->n_columns; i++) any = any || counts(watch, i);
  return any;
}

bool alarm_of_shots(struct alarm *alarm, const struct wm_allocator *allocator,
                    const struct intake *intake, const struct run *player, size_t from) {
  struct watch watch = {.shots = intake->shots, .is_safety = intake->is_safety, .player = player};
  if (!watch.is_safety || !watches_any(&watch)) return true;
  watch.run = run_new(allocator, player->network);
  bool good = watch.run != NULL && find_ends(&watch);
  for (size_t i = from; good && alarm->claim == NO_INDEX && i < shots_count(watch.shots); i++)
    if (is_worth_judging(&watch, i)) good = judge(&watch, alarm, i);
  run_free(watch.run);
  return good;
}
