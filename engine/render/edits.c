#include "render/edits.h"

#include <math.h>
#include <string.h>

#include "model/formula.h"
#include "render/wording.h"
#include "render/wording_parts.h"

/* ---- conditions in the language of the rules ---- */

static void add_limit(struct text *out, const char *word, double limit) {
  text_format(out, "{%s: ", word);
  wording_significant(out, limit);
  text_add_char(out, '}');
}

static void add_interval(struct text *out, const char *word, double low, double high) {
  text_format(out, "{%s: [", word);
  wording_significant(out, low);
  text_add(out, ", ");
  wording_significant(out, high);
  text_add(out, "]}");
}

static void add_near(struct text *out, const struct condition *condition) {
  text_add(out, "{near: ");
  wording_significant(out, (condition->low + condition->high) / 2);
  text_add(out, ", within: ");
  wording_significant(out, (condition->high - condition->low) / 2);
  text_add_char(out, '}');
}

static void add_choices(struct text *out, const struct model *model,
                        const struct condition *condition) {
  const struct evidence *evidence = &model->evidence[condition->evidence];
  bool one = condition->kind == CONDITION_IS;
  text_add(out, one ? "{is: " : "{one_of: [");
  for (size_t i = 0; i < condition->n_choices; i++)
    text_format(out, "%s%s", i > 0 ? ", " : "", evidence->choices[condition->choices[i]].name);
  text_add(out, one ? "}" : "]}");
}

/* The printed form is "name matches /pattern/". */
static void add_pattern(struct text *out, const struct condition *condition) {
  const char *from = strchr(condition->printed, '/');
  struct json json;
  size_t n = from ? strlen(from) : 0;
  text_add(out, "{matches: ");
  json_start(&json, out, false);
  json_bytes(&json, n > 1 ? from + 1 : "", n > 1 ? n - 2 : 0);
  text_add_char(out, '}');
}

/* L > R means L - R > low, and L < R means R - L > low; R stands last in either. */
static void add_formula(struct text *out, const struct condition *condition) {
  bool less = strchr(condition->formula->text, '<') != NULL;
  double added = less ? -condition->low : condition->low;
  text_format(out, "formula: \"%s", condition->formula->text);
  if (added != 0) {
    text_add(out, added > 0 ? " + " : " - ");
    wording_significant(out, fabs(added));
  }
  text_add_char(out, '"');
}

static void add_believed(struct text *out, const struct condition *condition) {
  if (condition->low == BELIEF_THRESHOLD) text_add(out, "believed");
  else add_limit(out, "believed", condition->low);
}

static void add_comparison(struct text *out, const struct model *model,
                           const struct condition *condition) {
  switch (condition->kind) {
  case CONDITION_ABOVE: add_limit(out, "above", condition->low); break;
  case CONDITION_BELOW: add_limit(out, "below", condition->high); break;
  case CONDITION_BETWEEN: add_interval(out, "between", condition->low, condition->high); break;
  case CONDITION_OUTSIDE: add_interval(out, "outside", condition->low, condition->high); break;
  case CONDITION_NEAR: add_near(out, condition); break;
  case CONDITION_IS:
  case CONDITION_ONE_OF: add_choices(out, model, condition); break;
  case CONDITION_MATCHES: add_pattern(out, condition); break;
  case CONDITION_KNOWN: text_format(out, "{known: %s}", condition->wanted ? "yes" : "no"); break;
  default: add_believed(out, condition);
  }
}

static void add_join(struct text *out, const struct model *model,
                     const struct condition *condition) {
  static const char *const words[] = {"all", "any", "none"};
  text_format(out, "%s: [", words[condition->kind - CONDITION_ALL]);
  for (size_t i = 0; i < condition->n_clauses; i++) {
    text_add(out, i > 0 ? ", {" : "{");
    edit_condition(out, model, &condition->clauses[i]);
    text_add_char(out, '}');
  }
  text_add_char(out, ']');
}

void edit_condition(struct text *out, const struct model *model,
                    const struct condition *condition) {
  if (condition->kind >= CONDITION_ALL) {
    add_join(out, model, condition);
  } else if (condition->kind == CONDITION_FORMULA) {
    add_formula(out, condition);
  } else {
    bool claim = condition->kind == CONDITION_BELIEVED;
    text_format(out, "%s: ",
                claim ? model->claims[condition->claim].name
                      : model->evidence[condition->evidence].name);
    add_comparison(out, model, condition);
  }
}

/* ---- what an edit edits ---- */

/* The condition at an offset of the premise, counted in prefix order; *offset counts down. */
static const struct condition *condition_at(const struct condition *condition, size_t *offset) {
  if ((*offset)-- == 0) return condition;
  for (size_t i = 0; i < condition->n_clauses; i++) {
    const struct condition *found = condition_at(&condition->clauses[i], offset);
    if (found) return found;
  }
  return NULL;
}

static const struct condition *premise_of(const struct model *model, const struct edit *edit) {
  return edit->rule == NO_INDEX ? model->claims[edit->claim].drill->needs
                                : model->rules[edit->rule].when;
}

static const struct condition *edited_condition(const struct network *network,
                                                const struct edit *edit) {
  const struct condition *premise = premise_of(network->model, edit);
  if (edit->kind == EDIT_ADD) return premise;
  size_t offset = edit->node - edit_root(network, edit);
  return condition_at(premise, &offset);
}

/* The join that holds the condition, or NULL. */
static const struct condition *join_of(const struct condition *join,
                                       const struct condition *condition) {
  for (size_t i = 0; i < join->n_clauses; i++) {
    if (&join->clauses[i] == condition) return join;
    const struct condition *found = join_of(&join->clauses[i], condition);
    if (found) return found;
  }
  return NULL;
}

static const struct conclusion *edited_conclusion(const struct network *network,
                                                  const struct edit *edit) {
  const struct contribution *contribution = &network->contributions[edit->contribution];
  const struct rule *rule = &network->model->rules[contribution->rule];
  for (size_t i = 0; i < rule->n_then; i++)
    if (rule->then[i].claim == contribution->claim) return &rule->then[i];
  return NULL;
}

/* A rule that concludes the claim, the first by name: a new one would stand beside it. */
static const struct rule *neighbour(const struct network *network, size_t claim) {
  size_t first = network->first_contribution[claim];
  if (first == network->first_contribution[claim + 1]) return NULL;
  return &network->model->rules[network->contributions[first].rule];
}

struct span edit_place(const struct network *network, const struct edit *edit) {
  if (edit->kind == EDIT_STRENGTH) return edited_conclusion(network, edit)->at;
  if (edit->kind != EDIT_RULE) return edited_condition(network, edit)->at;
  const struct rule *beside = neighbour(network, edit->claim);
  return beside ? beside->at : network->model->claims[edit->claim].at;
}

void edit_subject(struct text *out, const struct network *network, const struct edit *edit) {
  const struct model *model = network->model;
  if (edit->kind == EDIT_RULE) {
    const struct rule *beside = neighbour(network, edit->claim);
    text_add(out, "a new rule");
    if (beside) text_format(out, " beside '%s'", beside->name);
  } else if (edit->rule == NO_INDEX) {
    text_format(out, "drill '%s'", model->claims[edit->claim].name);
  } else {
    text_format(out, "rule '%s'", model->rules[edit->rule].name);
  }
}

/* ---- old and new text ---- */

static void add_strength(struct text *out, const struct model *model, size_t claim,
                         double strength) {
  static const char *const words[] = {"hint", "suggests", "points", "strong", "near_certain"};
  static const double values[] = {0.2, 0.4, 0.6, 0.8, 0.95};
  text_format(out, "%s: ", model->claims[claim].name);
  for (size_t i = 0; i < 5; i++) {
    if (fabs(strength) != values[i]) continue;
    text_format(out, "%s%s", strength < 0 ? "-" : "", words[i]);
    return;
  }
  wording_significant(out, strength);
}

void edit_old_text(struct text *out, const struct network *network, const struct edit *edit) {
  const struct model *model = network->model;
  if (edit->kind == EDIT_RULE) return;
  if (edit->kind == EDIT_STRENGTH) {
    const struct conclusion *conclusion = edited_conclusion(network, edit);
    add_strength(out, model, conclusion->claim, conclusion->strength);
    return;
  }
  const struct condition *condition = edited_condition(network, edit);
  if (edit->kind == EDIT_DROP) condition = join_of(premise_of(model, edit), condition);
  edit_condition(out, model, condition);
}

/* The opposite in the plainest words: another comparison where there is one, else `none`. */
static void add_opposite(struct text *out, const struct model *model,
                         const struct condition *condition) {
  struct condition opposite = *condition;
  bool plain = true;
  switch (condition->kind) {
  case CONDITION_ABOVE:
    opposite.kind = CONDITION_BELOW;
    opposite.high = condition->low;
    break;
  case CONDITION_BELOW:
    opposite.kind = CONDITION_ABOVE;
    opposite.low = condition->high;
    break;
  case CONDITION_BETWEEN:
  case CONDITION_NEAR: opposite.kind = CONDITION_OUTSIDE; break;
  case CONDITION_OUTSIDE: opposite.kind = CONDITION_BETWEEN; break;
  case CONDITION_KNOWN: opposite.wanted = !condition->wanted; break;
  default: plain = false;
  }
  if (!plain) text_add(out, "none: [{");
  edit_condition(out, model, &opposite);
  if (!plain) text_add(out, "}]");
}

static void add_clause(struct text *out, const struct network *network,
                       const struct edit_clause *clause) {
  const struct condition *condition = network->tests[clause->test].condition;
  text_add_char(out, '{');
  if (clause->negated) add_opposite(out, network->model, condition);
  else edit_condition(out, network->model, condition);
  text_add_char(out, '}');
}

/* all: [the old one, or its clauses, then the new ones] */
static void add_added(struct text *out, const struct network *network, const struct edit *edit) {
  const struct condition *old = edited_condition(network, edit);
  bool flat = old->kind == CONDITION_ALL;
  text_add(out, "all: [");
  for (size_t i = 0; i < (flat ? old->n_clauses : 1); i++) {
    text_add_char(out, '{');
    edit_condition(out, network->model, flat ? &old->clauses[i] : old);
    text_add(out, "}, ");
  }
  for (size_t i = 0; i < edit->n_clauses; i++) {
    text_add(out, i > 0 ? ", " : "");
    add_clause(out, network, &edit->clauses[i]);
  }
  text_add_char(out, ']');
}

static void add_rule(struct text *out, const struct network *network, const struct edit *edit) {
  text_add(out, "- rule: NAME\n  when:\n    all:\n");
  for (size_t i = 0; i < edit->n_clauses; i++) {
    text_add(out, "      - ");
    add_clause(out, network, &edit->clauses[i]);
    text_add_char(out, '\n');
  }
  text_add(out, "  then: {");
  add_strength(out, network->model, edit->claim, edit->strength);
  text_add(out, "}\n  because: WHY\n  kind: experience\n  source: practice\n");
}

static void add_threshold(struct text *out, const struct network *network,
                          const struct edit *edit) {
  struct condition condition = *edited_condition(network, edit);
  if (edit->upper) condition.high = edit->limit;
  else condition.low = edit->limit;
  edit_condition(out, network->model, &condition);
}

static void add_dropped(struct text *out, const struct network *network, const struct edit *edit) {
  const struct condition *dropped = edited_condition(network, edit);
  struct condition join = *join_of(premise_of(network->model, edit), dropped);
  struct condition *rest = arena_new_array(out->arena, struct condition, join.n_clauses);
  size_t n = 0;
  for (size_t i = 0; rest && i < join.n_clauses; i++)
    if (&join.clauses[i] != dropped) rest[n++] = join.clauses[i];
  join.clauses = rest;
  join.n_clauses = n;
  if (rest) edit_condition(out, network->model, &join);
  else out->failed = true;
}

void edit_new_text(struct text *out, const struct network *network, const struct edit *edit) {
  switch (edit->kind) {
  case EDIT_THRESHOLD: add_threshold(out, network, edit); break;
  case EDIT_FLIP: add_opposite(out, network->model, edited_condition(network, edit)); break;
  case EDIT_DROP: add_dropped(out, network, edit); break;
  case EDIT_ADD: add_added(out, network, edit); break;
  case EDIT_RULE: add_rule(out, network, edit); break;
  case EDIT_STRENGTH:
    add_strength(out, network->model, edited_conclusion(network, edit)->claim, edit->strength);
    break;
  }
}
