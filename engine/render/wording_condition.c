/* Conditions in words. A condition is stored for a right-handed player; for a left-handed one its
 * interval is mirrored here, as its readings are, so that both are shown in the player's own frame.
 */
#include "render/wording.h"

#include <math.h>

#include "model/formula.h"
#include "render/wording_parts.h"

struct teller {
  struct text *out;
  const struct model *model;
  const struct run *run; /* NULL: numbers in the unit of their evidence */
  enum hand hand;
};

/* ---- numbers ---- */

static const struct golf_unit *unit_of(const struct teller *teller,
                                       const struct evidence *evidence) {
  size_t index = (size_t)(evidence - teller->model->evidence);
  return teller->run != NULL ? wording_unit(teller->run, index) : evidence->unit;
}

/* A limit of a condition; in its own unit with as many decimals as it was written with, within
 * reason. */
static void add_limit(const struct teller *teller, const struct evidence *evidence, double limit) {
  const struct golf_unit *unit = unit_of(teller, evidence);
  double shown = golf_unit_convert(limit, evidence->unit, unit);
  wording_trimmed(teller->out, evidence->minus != NULL ? fabs(shown) : shown,
                  unit == evidence->unit ? evidence->decimals + 2 : evidence->decimals);
  wording_unit_name(teller->out, unit);
  if (evidence->minus != NULL && limit != 0)
    text_format(teller->out, " %s", limit < 0 ? evidence->minus : evidence->plus);
}

/* "more than 2.5 deg left", "less than 3 deg right, or left", "at most 2 deg too little", "above 12
 * deg". up: the values above the limit are meant. "To the" goes with left and right alone; and only
 * of them it has to be said that the other side is meant as well. */
static void add_beyond(const struct teller *teller, const struct evidence *evidence, double limit,
                       bool up) {
  const char *side = up ? evidence->plus : evidence->minus;
  if (evidence->minus == NULL) {
    text_add(teller->out, up ? "above " : "below ");
    add_limit(teller, evidence, limit);
  } else if (limit == 0) {
    text_format(teller->out, "%s%s, be it ever so little", evidence->mirrored ? "to the " : "",
                side);
  } else if ((limit > 0) == up) {
    text_add(teller->out, "more than ");
    add_limit(teller, evidence, limit);
  } else {
    text_add(teller->out, evidence->mirrored ? "less than " : "at most ");
    add_limit(teller, evidence, limit);
    if (evidence->mirrored) text_format(teller->out, ", or %s", side);
  }
}

static void add_interval(const struct teller *teller, const struct condition *condition) {
  const struct evidence *evidence = &teller->model->evidence[condition->evidence];
  bool flip = evidence->mirrored && teller->hand == HAND_LEFT;
  double low = flip ? -condition->high : condition->low;
  double high = flip ? -condition->low : condition->high;
  text_format(teller->out, "%s ", evidence->title);
  if (isinf(high)) {
    add_beyond(teller, evidence, low, true);
  } else if (isinf(low)) {
    add_beyond(teller, evidence, high, false);
  } else {
    text_add(teller->out, condition->kind == CONDITION_OUTSIDE ? "outside " : "between ");
    add_limit(teller, evidence, low);
    text_add(teller->out, " and ");
    add_limit(teller, evidence, high);
  }
}

/* ---- words, findings, joins ---- */

static void add_choices(const struct teller *teller, const struct condition *condition) {
  const struct evidence *evidence = &teller->model->evidence[condition->evidence];
  text_format(teller->out, "%s: ", evidence->title);
  for (size_t i = 0; i < condition->n_choices; i++) {
    if (i != 0) text_add(teller->out, i + 1 == condition->n_choices ? " or " : ", ");
    wording_choice(teller->out, teller->model, evidence, condition->choices[i], teller->hand);
  }
}

static void add_believed(const struct teller *teller, const struct condition *condition) {
  text_add_char(teller->out, '"');
  wording_add_plain(teller->out, teller->model, &teller->model->claims[condition->claim].title,
                    teller->hand);
  text_add(teller->out, "\" is believed");
  if (condition->low <= BELIEF_THRESHOLD) return;
  text_add(teller->out, " (certainty above ");
  text_number(teller->out, condition->low);
  text_add_char(teller->out, ')');
}

static void tell(const struct teller *teller, const struct condition *condition);

static void add_joined(const struct teller *teller, const struct condition *condition) {
  text_add(teller->out, condition->kind == CONDITION_ALL   ? "all of ("
                        : condition->kind == CONDITION_ANY ? "any of ("
                                                           : "none of (");
  for (size_t i = 0; i < condition->n_clauses; i++) {
    if (i != 0) text_add(teller->out, "; ");
    tell(teller, &condition->clauses[i]);
  }
  text_add_char(teller->out, ')');
}

static void tell(const struct teller *teller, const struct condition *condition) {
  switch (condition->kind) {
  case CONDITION_ABOVE:
  case CONDITION_BELOW:
  case CONDITION_BETWEEN:
  case CONDITION_OUTSIDE:
  case CONDITION_NEAR: add_interval(teller, condition); break;
  case CONDITION_IS:
  case CONDITION_ONE_OF: add_choices(teller, condition); break;
  case CONDITION_KNOWN:
    text_format(teller->out, "%s is %s", teller->model->evidence[condition->evidence].title,
                condition->wanted ? "known" : "not known");
    break;
  case CONDITION_BELIEVED: add_believed(teller, condition); break;
  case CONDITION_MATCHES: text_add(teller->out, condition->printed); break;
  case CONDITION_FORMULA:
    text_add(teller->out, condition->formula->text);
    if (teller->hand == HAND_LEFT) text_add(teller->out, " (as for a right-handed player)");
    break;
  case CONDITION_ALL:
  case CONDITION_ANY:
  case CONDITION_NONE: add_joined(teller, condition); break;
  }
}

void wording_condition(struct text *out, const struct model *model,
                       const struct condition *condition, enum hand hand) {
  tell(&(struct teller){out, model, NULL, hand}, condition);
}

void wording_condition_in(struct text *out, const struct run *run,
                          const struct condition *condition) {
  tell(&(struct teller){out, run->network->model, run, run->hand}, condition);
}
