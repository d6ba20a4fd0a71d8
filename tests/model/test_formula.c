/* Formulas: values against arithmetic done by hand, the canonical print, and faults with their
 * places. */
#include "model/formula.h"

#include <math.h>
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

static struct trial trial;

static int open_all(void **state) {
  (void)state;
  TRIAL(&trial, NUMBER("a"), NUMBER("b"), NUMBER("c") "  also: [other_c]\n", YES_NO("pain"),
        WORDS("words"));
  return 0;
}

static int close_all(void **state) {
  (void)state;
  trial_close(&trial);
  return 0;
}

static struct formula *read_formula(const char *text, bool comparison) {
  struct arena *arena = trial.knowledge.arena;
  struct source *source = arena_new_object(arena, struct source);
  source->name = "formula";
  source->bytes = text;
  source->n = strlen(text);
  diags_init(&trial.knowledge.diags, arena);
  struct span at = {source, 1, 1, 1, 1 + (uint32_t)strlen(text)};
  return formula_read(arena, &trial.knowledge.diags, trial.model, text, at, comparison);
}

static struct formula *must_read(const char *text, bool comparison) {
  struct formula *formula = read_formula(text, comparison);
  if (!formula) fail_msg("'%s' is refused: %s", text, trial.knowledge.diags.list.at[0].message);
  return formula;
}

/* With a = 2, b = -3, c = 0.5. */
static double value_of(const struct formula *formula) {
  static const double values[] = {2, -3, 0.5};
  double inputs[FORMULA_INPUTS_MAX];
  for (size_t i = 0; i < formula->n_inputs; i++) {
    const char *name = trial.model->evidence[formula->inputs[i]].name;
    inputs[i] = values[name[0] - 'a'];
  }
  return formula_value(formula, inputs);
}

static void formula_value__arithmetic(void **state) {
  static const struct {
    const char *text;
    double value;
  } rows[] = {
      {"1", 1},
      {"a", 2},
      {"other_c", 0.5},
      {"a + b * c", 0.5},
      {"(a + b) * c", -0.5},
      {"a - b - c", 4.5},
      {"a / c / c", 8},
      {"a / (c / c)", 2},
      {"-a - -b", -5},
      {"--a", 2},
      {"-a * b", 6},
      {"2*a*b", -12},
      {"a*-b", 6},
      {"1.5e1 * c", 7.5},
      {" a\n + b ", -1},
      {"a-1", 1}, /* no blanks: still a difference */
      {"min(a, b)", -3},
      {"max(a, b) + min(a, c)", 2.5},
      {"max(0, b)", 0},
      {"abs(b)", 3},
      {"sqrt(a * 8)", 4},
      {"sin(30)", 0.5},
      {"cos(60)", 0.5},
      {"tan(45)", 1},
      {"asin(c)", 30},
      {"acos(c)", 60},
      {"atan(1)", 45},
      {"atan2(1, -1)", 135},
      {"abs(min(a, max(b, c)))", 0.5},
      {"face_to_path(a, b)", 5}, /* one of the trade's functions */
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    double got = value_of(must_read(rows[i].text, false));
    if (fabs(got - rows[i].value) > 1e-14 * (1 + fabs(rows[i].value)))
      fail_msg("%s gives %.17g", rows[i].text, got);
  }
}

static void formula_value__is_not_a_number_outside_a_domain(void **state) {
  static const char *const texts[] = {"sqrt(b)", "asin(a)", "acos(b)", "0 / 0", "a / 0 - a / 0"};
  (void)state;
  for (size_t i = 0; i < COUNT_OF(texts); i++)
    assert_true(isnan(value_of(must_read(texts[i], false))));
  assert_true(isinf(value_of(must_read("a / 0", false))));
}

static void formula_read__both_signs_of_a_comparison_are_one_difference(void **state) {
  (void)state;
  const struct formula *above = must_read("a > b + 1", true), *below = must_read("b + 1 < a", true);
  assert_true(above->comparison);
  assert_near(value_of(above), 4, 0);
  assert_near(value_of(below), 4, 0);
  assert_string_equal(above->printed, below->printed);
  assert_string_equal(above->printed, "(a - (b + 1)) > 0");
}

static void formula_read__prints_its_grouping_and_reads_the_print_again(void **state) {
  static const struct {
    const char *text, *printed;
  } rows[] = {
      {"a+b-c", "((a + b) - c)"},       {"a - (b - c)", "(a - (b - c))"},
      {"a * b + -c", "((a * b) + -c)"}, {"-(a + 1.50)", "-(a + 1.5)"},
      {"other_c / 2", "(c / 2)"},       {"max( a,min(b ,c))", "max(a, min(b, c))"},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    const struct formula *once = must_read(rows[i].text, false);
    assert_string_equal(once->printed, rows[i].printed);
    const struct formula *twice = must_read(once->printed, false);
    assert_string_equal(twice->printed, once->printed);
    assert_true(value_of(twice) == value_of(once));
  }
}

static void formula_read__lists_each_input_once_in_order(void **state) {
  (void)state;
  const struct formula *formula = must_read("c + a * c - other_c + a", false);
  assert_int_equal(formula->n_inputs, 2);
  assert_int_equal(formula->inputs[0], trial_evidence(&trial, "a"));
  assert_int_equal(formula->inputs[1], trial_evidence(&trial, "c"));
  assert_int_equal(must_read("1 + 2", false)->n_inputs, 0);
}

/* Column 0: the place is not looked at. */
static void formula_read__faults(void **state) {
  static const struct {
    const char *text;
    enum diag_code code;
    uint32_t column, end_column;
  } rows[] = {
      {"", DIAG_FORMULA_SYNTAX, 0, 0},
      {"a +", DIAG_FORMULA_SYNTAX, 4, 5},
      {"a + * b", DIAG_FORMULA_SYNTAX, 5, 6},
      {"+a", DIAG_FORMULA_SYNTAX, 1, 2},
      {"a b", DIAG_FORMULA_SYNTAX, 3, 4},
      {"2a", DIAG_FORMULA_SYNTAX, 2, 3},
      {"(a + b", DIAG_FORMULA_SYNTAX, 7, 8},
      {"a + b)", DIAG_FORMULA_SYNTAX, 6, 7},
      {"min(a, b", DIAG_FORMULA_SYNTAX, 9, 10},
      {"min(a; b)", DIAG_FORMULA_SYNTAX, 6, 7},
      {"min()", DIAG_FORMULA_SYNTAX, 5, 6},
      {"min", DIAG_FORMULA_SYNTAX, 1, 4},
      {"a(b)", DIAG_FORMULA_SYNTAX, 1, 2},
      {"a ^ 2", DIAG_FORMULA_SYNTAX, 3, 4},
      {"a = b", DIAG_FORMULA_SYNTAX, 3, 4},
      {"1e999", DIAG_FORMULA_SYNTAX, 1, 2},
      {"a + d", DIAG_FORMULA_NAME, 5, 6},
      {"A + b", DIAG_FORMULA_NAME, 1, 2},
      {"sine(a)", DIAG_FORMULA_NAME, 1, 5},
      {"a + pain", DIAG_FORMULA_KIND, 5, 9},
      {"words", DIAG_FORMULA_KIND, 1, 6},
      {"min(a)", DIAG_FORMULA_ARITY, 1, 4},
      {"min(a, b, c)", DIAG_FORMULA_ARITY, 1, 4},
      {"abs(1,2,3,4,5,6,7,8,9,10)", DIAG_FORMULA_ARITY, 1, 4},
      {"a > b", DIAG_FORMULA_COMPARISON, 3, 4},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    const struct diags *diags = &trial.knowledge.diags;
    if (read_formula(rows[i].text, false)) fail_msg("'%s' is read", rows[i].text);
    const struct diag *first = &diags->list.at[0];
    if (diags->errors != 1 || first->code != rows[i].code)
      fail_msg("'%s': %zu errors, the first %s", rows[i].text, diags->errors,
               diag_word(first->code));
    if (rows[i].column != 0 &&
        (first->at.column != rows[i].column || first->at.end_column != rows[i].end_column))
      fail_msg("'%s' is placed at %u to %u", rows[i].text, first->at.column, first->at.end_column);
  }
}

static void formula_read__faults_of_comparisons(void **state) {
  static const struct {
    const char *text;
    enum diag_code code;
    uint32_t column;
  } rows[] = {
      {"a - b", DIAG_FORMULA_COMPARISON, 6}, {"a == b", DIAG_FORMULA_COMPARISON, 3},
      {"a >= b", DIAG_FORMULA_SYNTAX, 4},    {"a > b > c", DIAG_FORMULA_SYNTAX, 7},
      {"a >", DIAG_FORMULA_SYNTAX, 4},       {"> a", DIAG_FORMULA_SYNTAX, 1},
      {"a ^ b > c", DIAG_FORMULA_SYNTAX, 3}, {"(a > b)", DIAG_FORMULA_SYNTAX, 4},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    const struct diags *diags = &trial.knowledge.diags;
    if (read_formula(rows[i].text, true)) fail_msg("'%s' is read", rows[i].text);
    const struct diag *first = &diags->list.at[0];
    if (diags->errors != 1 || first->code != rows[i].code || first->at.column != rows[i].column)
      fail_msg("'%s': %zu errors, the first %s at %u", rows[i].text, diags->errors,
               diag_word(first->code), first->at.column);
  }
}

/* count times the piece. */
static const char *repeat(const char *front, const char *piece, size_t count, const char *back) {
  struct text text;
  text_init(&text, trial.knowledge.arena);
  text_add(&text, front);
  for (size_t i = 0; i < count; i++) text_add(&text, piece);
  text_add(&text, back);
  return text_done(&text);
}

static void formula_read__limits_of_depth_and_length(void **state) {
  (void)state;
  assert_non_null(read_formula(repeat("", "(", 60, repeat("a", ")", 60, "")), false));
  assert_null(read_formula(repeat("", "(", 70, repeat("a", ")", 70, "")), false));
  assert_null(read_formula(repeat("", "-", 70, "a"), false));
  assert_null(read_formula(repeat("", "(", 1000000, ""), false));
  assert_non_null(read_formula(repeat("a", "+1", 499, ""), false));
  assert_null(read_formula(repeat("a", "+1", 500, ""), false));
  assert_null(read_formula(repeat("a", "*1", 1000000, ""), false));
  assert_near(value_of(must_read(repeat("a", "+1", 499, ""), false)), 501, 0);
}

static void formula_read__limit_of_inputs(void **state) {
  static const char *const names[] = {"v0", "v1",  "v2",  "v3",  "v4",  "v5",  "v6",  "v7", "v8",
                                      "v9", "v10", "v11", "v12", "v13", "v14", "v15", "v16"};
  struct arena *arena = arena_new(NULL);
  struct text yaml, sum;
  struct knowledge knowledge;
  (void)state;
  text_init(&yaml, arena);
  text_init(&sum, arena);
  for (size_t i = 0; i < COUNT_OF(names); i++) {
    text_format(&yaml,
                "- evidence: %s\n  title: x\n  about: x\n  kind: number\n  unit: deg\n"
                "  range: [0, 9]\n  error: 1\n  spread: 1\n  ask: x\n  effort: look\n",
                names[i]);
    text_format(&sum, "%s%s", i ? " + " : "", names[i]);
  }
  assert_true(knowledge_load_text(&knowledge, text_done(&yaml)));
  struct span nowhere = {0};
  assert_null(
      formula_read(arena, &knowledge.diags, knowledge.model, text_done(&sum), nowhere, false));
  assert_non_null(strstr(knowledge.diags.list.at[0].message, "more than 16"));
  sum.at[sum.n - 6] = '\0'; /* " + v16" */
  assert_non_null(formula_read(arena, &knowledge.diags, knowledge.model, sum.at, nowhere, false));
  knowledge_free(&knowledge);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(formula_value__arithmetic),
      cmocka_unit_test(formula_value__is_not_a_number_outside_a_domain),
      cmocka_unit_test(formula_read__both_signs_of_a_comparison_are_one_difference),
      cmocka_unit_test(formula_read__prints_its_grouping_and_reads_the_print_again),
      cmocka_unit_test(formula_read__lists_each_input_once_in_order),
      cmocka_unit_test(formula_read__faults),
      cmocka_unit_test(formula_read__faults_of_comparisons),
      cmocka_unit_test(formula_read__limits_of_depth_and_length),
      cmocka_unit_test(formula_read__limit_of_inputs),
  };
  return cmocka_run_group_tests(tests, open_all, close_all);
}
