/* Ranking what a finished trace holds: causes by certainty, drills by value. */
#include <math.h>
#include <stdlib.h>

#include "run/phases.h"

/* The surest cause leads when it is at least so sure, and surer than the next by at least the
 * margin. */
#define LEADING_CERTAINTY 0.4
#define LEADING_MARGIN 0.05
#define LIKELY_CERTAINTY 0.6
/* A thought about the body is weighed down against an external task (practice; the evidence is
 * mixed: mckay-2024). */
#define BODY_WEIGHT 0.7

static bool has_open_rule(const struct run *run, size_t claim) {
  const struct network *network = run->network;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (run->rules[network->contributions[i].rule] == RULE_UNKNOWN) return true;
  return false;
}

/* ---- causes ---- */

/* What was seen on a video is a hint: it is told what to do next, but alone it makes no cause the
 * leading one. Which club it was is no second kind of evidence. */
static bool is_more_than_video(const struct run *run, size_t evidence) {
  const struct model *model = run->network->model;
  const struct evidence *of = &model->evidence[evidence];
  return of->effort != EFFORT_VIDEO && of->from_club == CLUB_NONE &&
         evidence != model->club_evidence;
}

static bool rests_on_more(const struct run *run, size_t claim);

static bool leaf_is_more(const struct run *run, const struct condition *condition) {
  if (condition->claim != NO_INDEX) return rests_on_more(run, condition->claim);
  if (condition->evidence != NO_INDEX) return is_more_than_video(run, condition->evidence);
  for (size_t i = 0; condition->formula && i < condition->formula->n_inputs; i++)
    if (is_more_than_video(run, condition->formula->inputs[i])) return true;
  return false;
}

/* Whether a clause that holds rests on more. */
static bool premise_is_more(const struct run *run, size_t first) {
  const struct network *network = run->network;
  for (size_t node = first; node < first + network->nodes[first].n_nodes; node++)
    if (network->nodes[node].test != NO_INDEX && run->nodes[node].known &&
        run->nodes[node].belief > BELIEF_THRESHOLD &&
        leaf_is_more(run, network->tests[network->nodes[node].test].condition))
      return true;
  return false;
}

/* Whether anything but video counts for the claim. Layers are finite, so this ends. */
static bool rests_on_more(const struct run *run, size_t claim) {
  const struct network *network = run->network;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++)
    if (run->contributions[i].state == CONTRIBUTION_COUNTED && run->contributions[i].value > 0 &&
        premise_is_more(run, network->rules[network->contributions[i].rule].first_node))
      return true;
  return false;
}

static enum standing standing_of(const struct run *run, size_t claim) {
  double certainty = run->certainty[claim];
  if (certainty >= LIKELY_CERTAINTY) return STANDING_LIKELY;
  if (certainty > BELIEF_THRESHOLD) return STANDING_POSSIBLE;
  if (certainty >= -BELIEF_THRESHOLD && has_open_rule(run, claim)) return STANDING_OPEN;
  return STANDING_UNLIKELY;
}

/* By certainty; of equals, the open before the unlikely; then by claim, that is by name. */
static int compare_causes(const void *left, const void *right) {
  const struct ranked_cause *a = left, *b = right;
  if (a->certainty != b->certainty) return a->certainty > b->certainty ? -1 : 1;
  if (a->standing != b->standing) return a->standing < b->standing ? -1 : 1;
  return a->claim < b->claim ? -1 : a->claim > b->claim;
}

static bool rank_causes(struct run *run) {
  const struct model *model = run->network->model;
  size_t n = model->first_drill - model->first_cause;
  struct ranked_cause *causes = arena_new_array(run->arena, struct ranked_cause, n + 1);
  if (causes == NULL) return false;
  for (size_t i = 0; i < n; i++) {
    size_t claim = model->first_cause + i;
    causes[i] = (struct ranked_cause){claim, run->certainty[claim], standing_of(run, claim)};
  }
  qsort(causes, n, sizeof *causes, compare_causes);
  bool leads = n > 0 && causes[0].certainty > LEADING_CERTAINTY &&
               (n == 1 || causes[0].certainty - causes[1].certainty >= LEADING_MARGIN);
  if (leads && rests_on_more(run, causes[0].claim)) causes[0].standing = STANDING_LEADING;
  run->causes = causes;
  run->n_causes = n;
  return true;
}

/* ---- drills ---- */

static bool add_shares(struct run *run, const struct drill *drill, struct ranked_drill *ranked) {
  double rest = 1;
  struct drill_share *shares = arena_new_array(run->arena, struct drill_share, drill->n_changes);
  if (shares == NULL) return false;
  for (size_t i = 0; i < drill->n_changes; i++) {
    double certainty = fmax(0, run->certainty[drill->changes[i].cause]);
    double part = certainty * drill->changes[i].effect;
    if (part == 0) continue;
    shares[ranked->n_shares++] =
        (struct drill_share){drill->changes[i].cause, certainty, drill->changes[i].effect, part};
    rest *= 1 - part;
  }
  ranked->shares = shares;
  ranked->from_causes = 1 - rest;
  return true;
}

static bool changes_believed(const struct ranked_drill *ranked) {
  for (size_t i = 0; i < ranked->n_shares; i++)
    if (ranked->shares[i].certainty > BELIEF_THRESHOLD) return true;
  return false;
}

/* A fired rule that removes the drill; else what it needs and is known to lack. */
static void find_removal(struct run *run, struct ranked_drill *ranked) {
  const struct model *model = run->network->model;
  for (size_t rule = 0; rule < model->n_rules; rule++) {
    for (size_t i = 0; run->rules[rule] == RULE_FIRED && i < model->rules[rule].n_removes; i++) {
      if (model->rules[rule].removes[i] != ranked->claim) continue;
      ranked->removal = REMOVAL_RULE;
      ranked->removed_by = rule;
      return;
    }
  }
  size_t needs = run->network->needs[ranked->claim];
  if (needs == NO_INDEX) return;
  run_judge(run, needs);
  if (run->nodes[needs].known && run->nodes[needs].belief < 0) ranked->removal = REMOVAL_NEEDS;
}

static bool rank_drill(struct run *run, size_t claim, struct ranked_drill *ranked) {
  const struct drill *drill = run->network->model->claims[claim].drill;
  *ranked = (struct ranked_drill){.claim = claim, .removed_by = NO_INDEX};
  if (!add_shares(run, drill, ranked)) return false;
  ranked->advice = run->certainty[claim];
  ranked->value = belief_combine(ranked->from_causes, ranked->advice);
  if (!drill->external) ranked->value *= BODY_WEIGHT;
  return true;
}

static int compare_drills(const void *left, const void *right) {
  const struct ranked_drill *a = left, *b = right;
  if ((a->removal != REMOVAL_NONE) != (b->removal != REMOVAL_NONE))
    return a->removal == REMOVAL_NONE ? -1 : 1;
  if (a->value != b->value) return a->value > b->value ? -1 : 1;
  return a->claim < b->claim ? -1 : a->claim > b->claim;
}

static bool rank_drills(struct run *run) {
  const struct model *model = run->network->model;
  size_t n = 0;
  struct ranked_drill *drills =
      arena_new_array(run->arena, struct ranked_drill, model->n_claims - model->first_drill + 1);
  if (drills == NULL) return false;
  for (size_t claim = model->first_drill; claim < model->n_claims; claim++) {
    if (!rank_drill(run, claim, &drills[n])) return false;
    if (changes_believed(&drills[n]) && drills[n].value > 0) find_removal(run, &drills[n++]);
  }
  qsort(drills, n, sizeof *drills, compare_drills);
  run->drills = drills;
  run->n_drills = n;
  return true;
}

static void find_red_flag(struct run *run) {
  const struct model *model = run->network->model;
  run->red_flag = NO_INDEX;
  for (size_t claim = 0; claim < model->first_cause && run->red_flag == NO_INDEX; claim++)
    if (model->claims[claim].red_flag.n > 0 && run->certainty[claim] > BELIEF_THRESHOLD)
      run->red_flag = claim;
}

/* Under a red flag nothing is to be done and nothing to be found out but what the flag says. */
bool run_rank(struct run *run) {
  find_red_flag(run);
  if (!rank_causes(run)) return false;
  return run->red_flag != NO_INDEX || (rank_drills(run) && run_rank_checks(run));
}

size_t run_leading(const struct run *run) {
  bool leads = run->n_causes > 0 && run->causes[0].standing == STANDING_LEADING;
  return leads ? run->causes[0].claim : NO_INDEX;
}

size_t run_drill(const struct run *run) {
  bool offered =
      run->red_flag == NO_INDEX && run->n_drills > 0 && run->drills[0].removal == REMOVAL_NONE;
  return offered ? run->drills[0].claim : NO_INDEX;
}
