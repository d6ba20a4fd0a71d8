/* Conditions: one comparison, or all / any / none of some. Each kind of evidence has its own
 * comparisons; one table says which. Every condition gets a canonical printed form, by which equal
 * conditions are shared and clauses are ordered. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/reader.h"

#define CONDITION_DEPTH_MAX 8

/* Comparisons by kind of evidence. */
static const enum key_set comparisons[] = {[EVIDENCE_NUMBER] = KEYS_NUMBER_COMPARISON,
                                           [EVIDENCE_CHOICE] = KEYS_CHOICE_COMPARISON,
                                           [EVIDENCE_YES_NO] = KEYS_CHOICE_COMPARISON,
                                           [EVIDENCE_TEXT] = KEYS_TEXT_COMPARISON,
                                           [EVIDENCE_CLUB] = KEYS_CHOICE_COMPARISON};

static void print_number(struct text *out, double number, const struct evidence *evidence) {
  text_number(out, number);
  if (evidence->unit->dimension == GOLF_DIMENSION_NONE) return;
  text_add(out, " ");
  text_add(out, evidence->unit->name);
}

static void print_between(struct text *out, const char *word, const struct condition *condition,
                          const struct evidence *evidence) {
  text_format(out, " %s ", word);
  text_number(out, condition->low);
  text_add(out, " and ");
  print_number(out, condition->high, evidence);
}

static void print_choices(struct text *out, const struct condition *condition,
                          const struct evidence *evidence) {
  text_add(out, condition->kind == CONDITION_IS ? " is " : " one of ");
  for (size_t i = 0; i < condition->n_choices; i++) {
    text_add(out, i ? ", " : "");
    text_add(out, evidence->choices[condition->choices[i]].name);
  }
}

static void print_clauses(struct text *out, const struct condition *condition) {
  static const char *const words[] = {
      [CONDITION_ALL] = "all", [CONDITION_ANY] = "any", [CONDITION_NONE] = "none"};
  text_format(out, "%s(", words[condition->kind]);
  for (size_t i = 0; i < condition->n_clauses; i++) {
    text_add(out, i ? "; " : "");
    text_add(out, condition->clauses[i].printed ? condition->clauses[i].printed : "");
  }
  text_add(out, ")");
}

static void print_comparison(struct text *out, const struct model *model,
                             const struct condition *condition, const char *pattern) {
  const struct evidence *evidence = &model->evidence[condition->evidence];
  text_add(out, evidence->name);
  switch (condition->kind) {
  case CONDITION_ABOVE:
    text_add(out, " above ");
    print_number(out, condition->low, evidence);
    break;
  case CONDITION_BELOW:
    text_add(out, " below ");
    print_number(out, condition->high, evidence);
    break;
  case CONDITION_BETWEEN:
  case CONDITION_NEAR: print_between(out, "between", condition, evidence); break;
  case CONDITION_OUTSIDE: print_between(out, "outside", condition, evidence); break;
  case CONDITION_IS:
  case CONDITION_ONE_OF: print_choices(out, condition, evidence); break;
  case CONDITION_MATCHES: text_format(out, " matches /%s/", pattern ? pattern : ""); break;
  default: text_add(out, condition->wanted ? " known" : " not known");
  }
}

static void print_condition(struct reader *reader, struct condition *condition,
                            const char *pattern) {
  struct text out;
  text_init(&out, reader->arena);
  if (condition->kind >= CONDITION_ALL) {
    print_clauses(&out, condition);
  } else if (condition->kind == CONDITION_FORMULA) {
    text_add(&out, condition->formula->printed);
  } else if (condition->kind == CONDITION_BELIEVED) {
    text_format(&out, "%s believed above ", reader->model->claims[condition->claim].name);
    text_number(&out, condition->low);
  } else {
    print_comparison(&out, reader->model, condition, pattern);
  }
  condition->printed = text_done(&out);
}

/* ---- comparisons ---- */

static bool threshold(struct reader *reader, const struct evidence *evidence,
                      const struct node *node, double *number) {
  return reader_string(reader, node) &&
         value_read_number(reader->diags, evidence, node->text, node->n, node->at, true, number);
}

static bool read_interval(struct reader *reader, const struct evidence *evidence,
                          const struct node *node, struct condition *condition) {
  if (!reader_is_list(reader, node, "two numbers: [low, high]")) return false;
  if (node->n != 2) {
    reader_wrong_shape(reader, node, "two numbers: [low, high]");
    return false;
  }
  if (!threshold(reader, evidence, node->first, &condition->low) ||
      !threshold(reader, evidence, node->first->next, &condition->high))
    return false;
  if (condition->low < condition->high) return true;
  DIAG(reader->diags, BAD_RANGE, node->at, node->first->text, node->first->next->text);
  return false;
}

static bool read_near(struct reader *reader, const struct evidence *evidence,
                      const struct node *map, struct condition *condition) {
  const struct node *near = node_get(map, "near"), *within = node_get(map, "within");
  double middle, reach;
  if (near == NULL || within == NULL) {
    DIAG(reader->diags, MISSING_KEY, map->at, "condition on", evidence->name,
         near ? "within" : "near");
    return false;
  }
  if (!threshold(reader, evidence, near, &middle) || reader_string(reader, within) == NULL ||
      !value_read_number(reader->diags, evidence, within->text, within->n, within->at, false,
                         &reach))
    return false;
  if (reach <= 0) {
    DIAG(reader->diags, BAD_NUMBER, within->at, within->text, " above zero");
    return false;
  }
  condition->low = middle - reach;
  condition->high = middle + reach;
  return true;
}

static bool read_number_condition(struct reader *reader, const struct evidence *evidence,
                                  const struct node *map, struct condition *condition) {
  const struct node *value = map->first;
  condition->low = -INFINITY;
  condition->high = INFINITY;
  if (node_get(map, "near") || node_get(map, "within")) {
    condition->kind = CONDITION_NEAR;
    return read_near(reader, evidence, map, condition);
  }
  if (strcmp(value->key, "above") == 0) {
    condition->kind = CONDITION_ABOVE;
    return threshold(reader, evidence, value, &condition->low);
  }
  if (strcmp(value->key, "below") == 0) {
    condition->kind = CONDITION_BELOW;
    return threshold(reader, evidence, value, &condition->high);
  }
  condition->kind = strcmp(value->key, "between") == 0 ? CONDITION_BETWEEN : CONDITION_OUTSIDE;
  return read_interval(reader, evidence, value, condition);
}

static size_t read_choice(struct reader *reader, const struct evidence *evidence,
                          const struct node *node) {
  if (reader_string(reader, node) == NULL) return NO_INDEX;
  struct value value;
  size_t index = (size_t)(evidence - reader->model->evidence);
  return value_read(reader->arena, reader->diags, reader->model, index, node->text, node->at,
                    &value)
             ? value.choice
             : NO_INDEX;
}

static int compare_indices(const void *left, const void *right) {
  const size_t *a = left, *b = right;
  return *a < *b ? -1 : *a > *b;
}

static bool read_choice_condition(struct reader *reader, const struct evidence *evidence,
                                  const struct node *value, struct condition *condition) {
  bool list = strcmp(value->key, "one_of") == 0;
  condition->kind = list ? CONDITION_ONE_OF : CONDITION_IS;
  if (list && !reader_is_list(reader, value, "a list of words")) return false;
  if (list && value->n == 0) {
    reader_wrong_shape(reader, value, "at least one word");
    return false;
  }
  size_t *choices = arena_new_array(reader->arena, size_t, list ? value->n : 1), n = 0;
  const struct node *one = list ? value->first : value;
  for (; choices && one; one = list ? one->next : NULL) {
    size_t choice = read_choice(reader, evidence, one);
    if (choice == NO_INDEX) return false;
    choices[n++] = choice;
  }
  if (choices == NULL) return false;
  qsort(choices, n, sizeof *choices, compare_indices);
  condition->choices = choices;
  condition->n_choices = n;
  return true;
}

static bool read_known(struct reader *reader, const struct node *value,
                       struct condition *condition) {
  condition->kind = CONDITION_KNOWN;
  condition->wanted = reader_yes_no(reader, value, true);
  return true;
}

static bool read_matches(struct reader *reader, const struct node *value,
                         struct condition *condition) {
  condition->kind = CONDITION_MATCHES;
  if (reader_string(reader, value) == NULL) return false;
  condition->pattern =
      pattern_compile(reader->arena, value->text, value->n, value->at, reader->diags);
  return condition->pattern != NULL;
}

/* Reports a comparison that does not fit the kind of evidence. */
static bool check_words(struct reader *reader, const struct evidence *evidence,
                        const struct node *map) {
  enum key_set set = comparisons[evidence->kind];
  for (const struct node *value = map->first; value; value = value->next) {
    if (keys_have(set, value->key)) continue;
    const char *const *words = reader_key_names(reader, set);
    size_t n = words ? keys_of(set)->n : 0;
    struct diag *diag =
        DIAG(reader->diags, BAD_CONDITION, value->key_at, value->key, evidence->name,
             evidence_kind_word(evidence->kind), reader_join(reader, words, n));
    diag_nearest(reader->diags, diag, value->key, words, n);
    return false;
  }
  bool pair = node_get(map, "near") && node_get(map, "within");
  if (map->n == 1 || (pair && map->n == 2)) return true;
  reader_wrong_shape(reader, map, "one comparison");
  return false;
}

static const char *const examples[] = {
    [EVIDENCE_NUMBER] = "a comparison such as {above: 2}",
    [EVIDENCE_CHOICE] = "a word, or a comparison such as {one_of: [...]}",
    [EVIDENCE_YES_NO] = "yes or no",
    [EVIDENCE_TEXT] = "a comparison such as {matches: \"slice\"}",
    [EVIDENCE_CLUB] = "a club, or a comparison such as {one_of: [...]}"};

/* "< 4", ">= 4 deg": the comparison that is meant is in the hint. */
static void wrong_comparison(struct reader *reader, const struct evidence *evidence,
                             const struct node *node) {
  struct diag *diag = reader_wrong_shape(reader, node, examples[evidence->kind]);
  bool sign = node->kind == NODE_SCALAR && (*node->text == '<' || *node->text == '>');
  if (evidence->kind != EVIDENCE_NUMBER || !sign) return;
  struct text hint;
  text_init(&hint, reader->arena);
  text_format(&hint, "write {%s: %s}", *node->text == '>' ? "above" : "below",
              node->text + strspn(node->text, "<>= "));
  if (text_done(&hint)) diag_hint(reader->diags, diag, text_done(&hint));
}

static bool read_evidence_condition(struct reader *reader, size_t index, const struct node *node,
                                    struct condition *condition) {
  const struct evidence *evidence = &reader->model->evidence[index];
  condition->evidence = index;
  if (evidence->unclear) return false; /* of its kind the fault has been told */
  struct node short_form = *node;
  if (node->kind == NODE_SCALAR && evidence->kind != EVIDENCE_NUMBER &&
      evidence->kind != EVIDENCE_TEXT) {
    short_form.key = "is";
    return read_choice_condition(reader, evidence, &short_form, condition);
  }
  if (node->kind != NODE_MAP || node->n == 0) {
    wrong_comparison(reader, evidence, node);
    return false;
  }
  if (!check_words(reader, evidence, node)) return false;
  const struct node *value = node->first;
  if (strcmp(value->key, "known") == 0) return read_known(reader, value, condition);
  if (evidence->kind == EVIDENCE_NUMBER)
    return read_number_condition(reader, evidence, node, condition);
  if (evidence->kind == EVIDENCE_TEXT) return read_matches(reader, value, condition);
  return read_choice_condition(reader, evidence, value, condition);
}

/* `finding: believed`, `{believed: yes}`, `{believed: 0.4}`. */
static bool read_believed(struct reader *reader, size_t claim, const struct node *node,
                          struct condition *condition) {
  const struct node *value = node;
  condition->kind = CONDITION_BELIEVED;
  condition->claim = claim;
  condition->low = 0.2;
  if (node->kind == NODE_MAP) {
    size_t before = reader->diags->errors;
    reader_check_keys(reader, node, "a condition on a finding or cause", KEYS_BELIEVED);
    value = node_get(node, "believed");
    if (reader->diags->errors != before) return false;
    if (value == NULL) {
      reader_wrong_shape(reader, node, "'believed', or {believed: certainty from 0.2 to 0.95}");
      return false;
    }
  } else if (node_is(node, "believed")) {
    return true;
  }
  if (value->kind == NODE_SCALAR && node->kind == NODE_MAP && node_is(value, "yes")) return true;
  if (node->kind == NODE_MAP && value->kind == NODE_SCALAR) {
    size_t used = number_read(value->text, value->n, &condition->low);
    if (used > 0 && used == value->n && condition->low >= 0.2 && condition->low <= 0.95)
      return true;
  }
  reader_wrong_shape(reader, value,
                     node->kind == NODE_MAP
                         ? "yes, or a certainty from 0.2 to 0.95"
                         : "'believed', or {believed: certainty from 0.2 to 0.95}");
  return false;
}

static bool read_formula_condition(struct reader *reader, const struct node *node,
                                   struct condition *condition) {
  condition->kind = CONDITION_FORMULA;
  const char *text = reader_string(reader, node);
  if (text)
    condition->formula =
        formula_read(reader->arena, reader->diags, reader->model, text, node->at, true);
  return condition->formula != NULL;
}

static void unknown_condition(struct reader *reader, const struct node *value) {
  const struct model *model = reader->model;
  size_t claim = model_find_claim(model, value->key), n = 0;
  if (claim != NO_INDEX) {
    reader_wrong_claim(reader, claim, value->key_at,
                       "a condition reads evidence, findings and causes");
    return;
  }
  struct diag *diag =
      DIAG(reader->diags, UNKNOWN_NAME, value->key_at, "evidence, finding or cause", value->key);
  const char **names = diag ? arena_new_array(reader->arena, const char *,
                                              model->n_evidence + model->first_drill + 4)
                            : NULL;
  if (names == NULL) return;
  for (size_t i = 0; i < model->n_evidence; i++) names[n++] = model->evidence[i].name;
  for (size_t i = 0; i < model->first_drill; i++) names[n++] = model->claims[i].name;
  names[n++] = "all";
  names[n++] = "any";
  names[n++] = "none";
  names[n++] = "formula";
  if (!reader_comma_hint(reader, diag, value))
    diag_nearest(reader->diags, diag, value->key, names, n);
}

static bool read_one(struct reader *reader, const struct node *node, unsigned depth,
                     struct condition *condition);

static int compare_conditions(const void *left, const void *right) {
  const struct condition *a = left, *b = right;
  if (a->printed == NULL || b->printed == NULL) return 0;
  int by_print = strcmp(a->printed, b->printed);
  return by_print ? by_print : span_compare(&a->at, &b->at);
}

static bool read_clauses(struct reader *reader, const struct node *list, unsigned depth,
                         struct condition *condition) {
  if (depth >= CONDITION_DEPTH_MAX) {
    DIAG(reader->diags, CONDITION_DEPTH, list->key_at, "8");
    return false;
  }
  if (!reader_is_list(reader, list, "a list of conditions")) return false;
  if (list->n == 0) {
    DIAG(reader->diags, EMPTY_CONDITION, list->at, list->key);
    return false;
  }
  struct condition *clauses = arena_new_array(reader->arena, struct condition, list->n);
  size_t n = 0;
  bool good = clauses != NULL;
  for (const struct node *one = list->first; clauses && one; one = one->next, n++)
    good = read_one(reader, one, depth + 1, &clauses[n]) && good;
  if (!good) return false;
  qsort(clauses, n, sizeof *clauses, compare_conditions);
  condition->clauses = clauses;
  condition->n_clauses = n;
  return true;
}

static bool read_named(struct reader *reader, const struct node *value, unsigned depth,
                       struct condition *condition) {
  static const char *const joins[] = {"all", "any", "none"};
  for (size_t i = 0; i < 3; i++) {
    if (strcmp(value->key, joins[i]) == 0) {
      condition->kind = (enum condition_kind)(CONDITION_ALL + i);
      return read_clauses(reader, value, depth, condition);
    }
  }
  if (strcmp(value->key, "formula") == 0) return read_formula_condition(reader, value, condition);
  size_t evidence = model_find_evidence(reader->model, value->key);
  if (evidence != NO_INDEX) return read_evidence_condition(reader, evidence, value, condition);
  size_t claim = model_find_claim(reader->model, value->key);
  if (claim != NO_INDEX && claim < reader->model->first_drill)
    return read_believed(reader, claim, value, condition);
  unknown_condition(reader, value);
  return false;
}

static const char *pattern_text(const struct condition *condition, const struct node *value) {
  /* value is the mapping of the comparison: {matches: pattern} */
  if (condition->kind != CONDITION_MATCHES || value->kind != NODE_MAP) return NULL;
  return value->first->text;
}

static bool read_one(struct reader *reader, const struct node *node, unsigned depth,
                     struct condition *condition) {
  *condition = (struct condition){.evidence = NO_INDEX, .claim = NO_INDEX, .at = node->at};
  if (node->kind != NODE_MAP || node->n != 1) {
    reader_wrong_shape(reader, node, "one condition, such as {path: {above: 2}}");
    return false;
  }
  if (!read_named(reader, node->first, depth, condition)) return false;
  print_condition(reader, condition, pattern_text(condition, node->first));
  return condition->printed != NULL;
}

const struct condition *reader_condition(struct reader *reader, const struct node *node) {
  struct condition *condition = arena_new_object(reader->arena, struct condition);
  if (condition == NULL || node == NULL || !read_one(reader, node, 0, condition)) return NULL;
  return condition;
}

const struct condition *reader_comparison(struct reader *reader, size_t evidence,
                                          const struct node *node) {
  struct condition *condition = arena_new_object(reader->arena, struct condition);
  if (condition == NULL) return NULL;
  *condition = (struct condition){.evidence = evidence, .claim = NO_INDEX, .at = node->at};
  if (!read_evidence_condition(reader, evidence, node, condition)) return NULL;
  print_condition(reader, condition, pattern_text(condition, node));
  return condition->printed ? condition : NULL;
}
