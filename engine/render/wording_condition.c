/* Conditions in words. A condition is stored for a right-handed player; for a left-handed one its
 * interval is mirrored here, as its readings are, so that both are shown in the player's own frame.
 */
#include "render/wording.h"

#include <math.h>

#include "model/formula.h"
#include "render/wording_parts.h"

/* A limit of a condition: as many decimals as it was written with, within reason. */
static void add_limit(struct text *out, const struct evidence *evidence, double limit) {
  wording_trimmed(out, evidence->minus != NULL ? fabs(limit) : limit, evidence->decimals + 2);
  wording_unit_name(out, evidence->unit);
  if (evidence->minus != NULL && limit != 0)
    text_format(out, " %s", limit < 0 ? evidence->minus : evidence->plus);
}

/* "more than 2.5 deg left", "less than 3 deg right", "above 12 deg". up: the values above the limit
 * are meant. */
static void add_beyond(struct text *out, const struct evidence *evidence, double limit, bool up) {
  if (evidence->minus == NULL) {
    text_add(out, up ? "above " : "below ");
    add_limit(out, evidence, limit);
  } else if (limit == 0) {
    text_format(out, "on the %s side of zero", up ? evidence->plus : evidence->minus);
  } else if ((limit > 0) == up) {
    text_add(out, "more than ");
    add_limit(out, evidence, limit);
  } else {
    text_add(out, "less than ");
    add_limit(out, evidence, limit);
    text_format(out, ", or %s", up ? evidence->plus : evidence->minus);
  }
}

static void add_interval(struct text *out, const struct evidence *evidence,
                         const struct condition *condition, enum hand hand) {
  bool flip = evidence->mirrored && hand == HAND_LEFT;
  double low = flip ? -condition->high : condition->low;
  double high = flip ? -condition->low : condition->high;
  text_format(out, "%s ", evidence->title);
  if (isinf(high)) {
    add_beyond(out, evidence, low, true);
  } else if (isinf(low)) {
    add_beyond(out, evidence, high, false);
  } else {
    text_add(out, condition->kind == CONDITION_OUTSIDE ? "outside " : "between ");
    add_limit(out, evidence, low);
    text_add(out, " and ");
    add_limit(out, evidence, high);
  }
}

static void add_choices(struct text *out, const struct model *model,
                        const struct condition *condition, enum hand hand) {
  const struct evidence *evidence = &model->evidence[condition->evidence];
  text_format(out, "%s: ", evidence->title);
  for (size_t i = 0; i < condition->n_choices; i++) {
    if (i != 0) text_add(out, i + 1 == condition->n_choices ? " or " : ", ");
    wording_choice(out, model, evidence, condition->choices[i], hand);
  }
}

static void add_believed(struct text *out, const struct model *model,
                         const struct condition *condition, enum hand hand) {
  text_add_char(out, '"');
  wording_add_plain(out, model, &model->claims[condition->claim].title, hand);
  text_add(out, "\" is believed");
  if (condition->low > BELIEF_THRESHOLD) {
    text_add(out, " (certainty above ");
    text_number(out, condition->low);
    text_add_char(out, ')');
  }
}

static void add_joined(struct text *out, const struct model *model,
                       const struct condition *condition, enum hand hand) {
  text_add(out, condition->kind == CONDITION_ALL   ? "all of ("
                : condition->kind == CONDITION_ANY ? "any of ("
                                                   : "none of (");
  for (size_t i = 0; i < condition->n_clauses; i++) {
    if (i != 0) text_add(out, "; ");
    wording_condition(out, model, &condition->clauses[i], hand);
  }
  text_add_char(out, ')');
}

void wording_condition(struct text *out, const struct model *model,
                       const struct condition *condition, enum hand hand) {
  const struct evidence *evidence =
      condition->evidence != NO_INDEX ? &model->evidence[condition->evidence] : NULL;
  switch (condition->kind) {
  case CONDITION_ABOVE:
  case CONDITION_BELOW:
  case CONDITION_BETWEEN:
  case CONDITION_OUTSIDE:
  case CONDITION_NEAR: add_interval(out, evidence, condition, hand); break;
  case CONDITION_IS:
  case CONDITION_ONE_OF: add_choices(out, model, condition, hand); break;
  case CONDITION_KNOWN:
    text_format(out, "%s is %s", evidence->title, condition->wanted ? "known" : "not known");
    break;
  case CONDITION_BELIEVED: add_believed(out, model, condition, hand); break;
  case CONDITION_MATCHES: text_add(out, condition->printed); break;
  case CONDITION_FORMULA:
    text_add(out, condition->formula->text);
    if (hand == HAND_LEFT) text_add(out, " (as for a right-handed player)");
    break;
  case CONDITION_ALL:
  case CONDITION_ANY:
  case CONDITION_NONE: add_joined(out, model, condition, hand); break;
  }
}
