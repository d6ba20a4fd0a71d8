/* Values from text, as an argument or a case file has them. Conversions are definitions (the
 * international mile, yard and inch). */
#include "model/value.h"

#include <math.h>
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

static struct trial trial;

#define NUMBER_IN(name, unit, range)                                                               \
  "- evidence: " name "\n  title: the " name "\n  about: x\n  kind: number\n  unit: " unit         \
  "\n  range: " range "\n  error: 0.5\n  spread: 1\n  ask: x\n  effort: look\n"

static int open_all(void **state) {
  (void)state;
  TRIAL(
      &trial,
      MIRRORED("path") "  words: {left: -4 +/- 2, far_right: 8 +/- 3, slice: 6 +/- 3, square: 0}\n"
                       "  also: [club_path]\n",
      NUMBER_IN("ball_speed", "m/s", "[5, 100]"), NUMBER_IN("strike", "mm", "[-40, 40]"),
      NUMBER_IN("air", "C", "[-20, 50]"), NUMBER_IN("knuckles", "none", "[0, 4]"),
      NUMBER_IN("share", "ratio", "[0, 1]"), YES_NO("pain"), WORDS("words"), CLUB_EVIDENCE("club"),
      SEVEN_IRON, CHOICE("lie", "flat: flat, slope_left: a, slope_right: b"));
  return 0;
}

static int close_all(void **state) {
  (void)state;
  trial_close(&trial);
  return 0;
}

/* Reads the text for the evidence, as if it were an argument "name=text". */
static bool read_text(const char *name, const char *text, struct value *value) {
  struct arena *arena = trial.knowledge.arena;
  struct source *source = arena_new_object(arena, struct source);
  struct text whole;
  uint32_t column = (uint32_t)strlen(name) + 2, length = 0;
  text_init(&whole, arena);
  text_format(&whole, "%s=%s", name, text);
  *source = (struct source){.name = "argument 1", .bytes = text_done(&whole), .n = whole.n};
  for (const char *c = text; *c; c++) length += ((unsigned char)*c & 0xC0) != 0x80;
  diags_init(&trial.knowledge.diags, arena);
  return value_read(arena, &trial.knowledge.diags, trial.model, trial_evidence(&trial, name), text,
                    (struct span){source, 1, column, 1, column + length}, value);
}

static void value_read__numbers_units_and_errors(void **state) {
  static const struct {
    const char *name, *text;
    double number, error;
  } rows[] = {
      {"path", "-5", -5, 1},
      {"path", "+5", 5, 1},
      {"path", "-.5", -0.5, 1},
      {"path", "-5 deg", -5, 1},
      {"path", "-5degrees", -5, 1},
      {"path", "0.1 rad", 18 / 3.14159265358979323846, 1},
      {"path", "-5 +/- 2", -5, 2},
      {"path", "-5+/-2", -5, 2},
      {"path", "-5+-2", -5, 2},
      {"path", "-5 \xc2\xb1 2", -5, 2},
      {"path", "-5\xc2\xb0 \xc2\xb1 2\xc2\xb0", -5, 2},
      {"path", "-5 +/- 0", -5, 0},
      {"path", "1e1", 10, 1},
      {"ball_speed", "88mph", 39.33952, 0.5},
      {"ball_speed", "88 mph", 39.33952, 0.5},
      {"ball_speed", "72 km/h +/- 3.6 km/h", 20, 1},
      {"ball_speed", "72 km/h +/- 1 m/s", 20, 1},
      {"ball_speed", "72 +/- 3.6 km/h", 20, 1}, /* a unit written once is meant for both */
      {"ball_speed", "72 km/h +/- 3.6", 20, 1},
      {"strike", "0.5 in", 12.7, 0.5},
      {"strike", "-1 cm +/- 2 mm", -10, 2},
      {"air", "50 F", 10, 0.5},
      {"air", "50 F +/- 9 F", 10, 5}, /* the zero of a scale plays no part in an error */
      {"air", "283.15 K +/- 2 C", 10, 2},
      {"knuckles", "2.5", 2.5, 0.5},
      {"share", "69 % +/- 3 %", 0.69, 0.03},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct value value;
    if (!read_text(rows[i].name, rows[i].text, &value)) fail_msg("%s is refused", rows[i].text);
    assert_near(value.number, rows[i].number, 1e-12);
    assert_near(value.error, rows[i].error, 1e-12);
    assert_string_equal(value.typed, rows[i].text);
    assert_int_equal(value.shots, 0);
    assert_near(value.sure, 1, 0);
  }
}

/* The column is counted in "name=text". */
static void value_read__faults_point_at_the_word(void **state) {
  static const struct {
    const char *name, *text;
    enum diag_code code;
    uint32_t column, end_column;
  } rows[] = {
      {"path", "five", DIAG_UNKNOWN_WORD, 6, 10},
      {"path", "5 mph", DIAG_BAD_UNIT, 8, 11},
      {"path", "5 +/- 1 mph", DIAG_BAD_UNIT, 14, 17},
      {"path", "5 dge", DIAG_UNKNOWN_UNIT, 8, 11},
      {"path", "5,5", DIAG_BAD_NUMBER, 6, 9},
      {"path", "--5", DIAG_BAD_NUMBER, 6, 9},
      {"path", "0x10", DIAG_UNKNOWN_UNIT, 7, 10},
      {"path", "1e999", DIAG_BAD_NUMBER, 6, 11},
      {"path", "nan", DIAG_OUT_OF_RANGE, 6, 9},
      {"path", "5 +/-", DIAG_BAD_ERROR, 11, 12},
      {"path", "5 +/- -1", DIAG_BAD_ERROR, 12, 14},
      {"path", "5 +/- x", DIAG_BAD_ERROR, 12, 13},
      {"path", "5 +/- 1 +/- 2", DIAG_BAD_NUMBER, 6, 19},
      {"path", "91", DIAG_OUT_OF_RANGE, 6, 8},
      {"path", "-2 rad", DIAG_OUT_OF_RANGE, 6, 12},
      {"ball_speed", "88 mhp", DIAG_UNKNOWN_UNIT, 15, 18},
      {"ball_speed", "fast", DIAG_BAD_NUMBER, 12, 16},
      {"ball_speed", "1e308 mph +/- 1e308 mph", DIAG_OUT_OF_RANGE, 12, 35},
      {"ball_speed", "", DIAG_BAD_NUMBER, 12, 12},
      {"knuckles", "2 deg", DIAG_BAD_UNIT, 12, 15},
      {"pain", "perhaps", DIAG_UNKNOWN_WORD, 6, 13},
      {"pain", "Yes", DIAG_UNKNOWN_WORD, 6, 9},
      {"lie", "slope", DIAG_UNKNOWN_WORD, 5, 10},
      {"club", "9i", DIAG_UNKNOWN_WORD, 6, 8},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct value value;
    const struct diags *diags = &trial.knowledge.diags;
    if (read_text(rows[i].name, rows[i].text, &value)) fail_msg("'%s' is read", rows[i].text);
    if (diags->errors != 1 || diags->list.at[0].code != rows[i].code)
      fail_msg("'%s': %zu errors, the first %s", rows[i].text, diags->errors,
               diag_word(diags->list.at[0].code));
    if (diags->list.at[0].at.column != rows[i].column ||
        diags->list.at[0].at.end_column != rows[i].end_column)
      fail_msg("'%s' is placed at %u to %u", rows[i].text, diags->list.at[0].at.column,
               diags->list.at[0].at.end_column);
  }
}

static void value_read__words_of_a_number(void **state) {
  struct value value;
  (void)state;
  assert_true(read_text("path", "left", &value));
  assert_near(value.number, -4, 0);
  assert_near(value.error, 2, 0);
  assert_false(value.handless);
  assert_true(read_text("path", "far_right", &value));
  assert_false(value.handless);
  assert_true(read_text("path", "square", &value));
  assert_near(value.error, 1, 0); /* of one reading, when the word has none of its own */
  assert_true(read_text("path", "slice", &value));
  assert_true(value.handless);
}

static void value_read__choices_clubs_and_texts(void **state) {
  struct value value;
  (void)state;
  assert_true(read_text("pain", "yes", &value));
  assert_int_equal(value.choice, 1);
  assert_true(read_text("pain", "no", &value));
  assert_int_equal(value.choice, 0);
  assert_true(read_text("lie", "slope_left", &value));
  assert_int_equal(value.choice, 1);
  assert_true(read_text("club", "iron7", &value));
  assert_string_equal(trial.model->clubs[value.choice].name, "7i");
  assert_true(read_text("words", "it goes right, then more right", &value));
  assert_string_equal(value.text, "it goes right, then more right");
}

static void value_mirror__turns_sides_and_nothing_else(void **state) {
  struct value value;
  (void)state;
  assert_true(read_text("path", "-5 +/- 2", &value));
  struct value mirrored = value_mirror(trial.model, value);
  assert_near(mirrored.number, 5, 0);
  assert_near(mirrored.error, 2, 0);
  assert_true(read_text("path", "0", &value));
  assert_false(signbit(value_mirror(trial.model, value).number));
  assert_true(read_text("strike", "12", &value)); /* toward the toe for either hand */
  assert_near(value_mirror(trial.model, value).number, 12, 0);
  assert_true(read_text("lie", "slope_left", &value));
  assert_int_equal(value_mirror(trial.model, value).choice, 2);
  assert_true(read_text("lie", "flat", &value));
  assert_int_equal(value_mirror(trial.model, value).choice, 0);
}

/* A slice is a slice: it bends to the right for a right-handed player and to the left for a
 * left-handed one, while "left" is left for both. */
static void value_mirror__a_word_without_a_side_means_the_same_to_both_hands(void **state) {
  struct value value;
  (void)state;
  assert_true(read_text("path", "slice", &value));
  assert_near(value_mirror(trial.model, value).number, 6, 0);
  assert_true(read_text("path", "left", &value));
  assert_near(value_mirror(trial.model, value).number, 4, 0);
}

static void value_mirror__twice_is_the_value_itself(void **state) {
  (void)state;
  for (size_t i = 0; i < trial.model->n_evidence; i++)
    for (size_t choice = 0; choice < 3; choice++) {
      struct value value = {.evidence = i, .number = 3, .error = 1, .choice = choice};
      struct value twice = value_mirror(trial.model, value_mirror(trial.model, value));
      assert_near(twice.number, 3, 0);
      assert_int_equal(twice.choice, choice);
    }
}

/* ---- values of case files ---- */

static bool read_yaml(const char *name, const char *yaml, struct value *value) {
  struct arena *arena = trial.knowledge.arena;
  struct source *source = arena_new_object(arena, struct source);
  struct text whole;
  text_init(&whole, arena);
  text_format(&whole, "%s: %s\n", name, yaml);
  *source = (struct source){.name = "case.yaml", .bytes = text_done(&whole), .n = whole.n};
  diags_init(&trial.knowledge.diags, arena);
  struct node *map = node_read(arena, source, &trial.knowledge.diags);
  assert_non_null(map);
  return value_read_node(arena, &trial.knowledge.diags, trial.model, trial_evidence(&trial, name),
                         map->first, value);
}

static void value_read_node__mappings(void **state) {
  struct value value;
  (void)state;
  assert_true(read_yaml("ball_speed", "{value: 72 km/h, error: 3.6 km/h, shots: 5}", &value));
  assert_near(value.number, 20, 1e-12);
  assert_near(value.error, 1, 1e-12);
  assert_int_equal(value.shots, 5);
  assert_true(read_yaml("air", "{value: 50 F, error: 9 F}", &value));
  assert_near(value.number, 10, 1e-12);
  assert_near(value.error, 5, 1e-12);
  assert_true(read_yaml("path", "{value: left}", &value));
  assert_near(value.number, -4, 0);
  assert_near(value.error, 2, 0);
  assert_int_equal(value.shots, 0);
  assert_true(read_yaml("path", "{value: left, error: 3, shots: 1}", &value));
  assert_near(value.error, 3, 0);
  assert_int_equal(value.shots, 1);
  assert_true(read_yaml("lie", "{value: flat, sure: 0.8}", &value));
  assert_near(value.sure, 0.8, 0);
  assert_true(read_yaml("path", "-5 +/- 2", &value));
  assert_near(value.number, -5, 0);
}

static void value_read_node__faults(void **state) {
  static const struct {
    const char *name, *yaml;
    enum diag_code code;
  } rows[] = {
      {"path", "[1, 2]", DIAG_WRONG_SHAPE},
      {"path", "", DIAG_WRONG_SHAPE},
      {"path", "{}", DIAG_MISSING_KEY},
      {"path", "{error: 1}", DIAG_MISSING_KEY},
      {"path", "{value: [1]}", DIAG_WRONG_SHAPE},
      {"path", "{value: 1, eror: 1}", DIAG_UNKNOWN_KEY},
      {"path", "{value: 1, error: -1}", DIAG_BAD_ERROR},
      {"path", "{value: 1, error: [1]}", DIAG_BAD_ERROR},
      {"path", "{value: 1, error: 1 mph}", DIAG_BAD_UNIT},
      {"path", "{value: 1, error: much}", DIAG_BAD_ERROR},
      {"path", "{value: 1, shots: 0}", DIAG_BAD_SHOTS},
      {"path", "{value: 1, shots: 1.5}", DIAG_BAD_SHOTS},
      {"path", "{value: 1, shots: 10001}", DIAG_BAD_SHOTS},
      {"path", "{value: 1, shots: 1e300x}", DIAG_BAD_SHOTS},
      {"path", "{value: 1, shots: [5]}", DIAG_BAD_SHOTS},
      {"path", "{value: 1, sure: 0.5}", DIAG_WRONG_KIND},
      {"lie", "{value: flat, sure: 0}", DIAG_WRONG_SHAPE},
      {"lie", "{value: flat, sure: 1.1}", DIAG_WRONG_SHAPE},
      {"lie", "{value: flat, sure: high}", DIAG_WRONG_SHAPE},
      {"lie", "{value: flat, error: 1}", DIAG_WRONG_KIND},
      {"words", "{value: a slice, sure: 0.5}", DIAG_WRONG_KIND},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct value value;
    const struct diags *diags = &trial.knowledge.diags;
    if (read_yaml(rows[i].name, rows[i].yaml, &value)) fail_msg("'%s' is read", rows[i].yaml);
    if (diags->errors != 1 || diags->list.at[0].code != rows[i].code)
      fail_msg("'%s': %zu errors, the first %s", rows[i].yaml, diags->errors,
               diag_word(diags->list.at[0].code));
  }
}

/* ---- thresholds and quantities ---- */

static void value_read_number__takes_a_unit_but_no_error(void **state) {
  const struct evidence *speed = &trial.model->evidence[trial_evidence(&trial, "ball_speed")];
  struct diags *diags = &trial.knowledge.diags;
  struct span nowhere = {0};
  double number = 0;
  (void)state;
  diags_init(diags, trial.knowledge.arena);
  assert_true(value_read_number(diags, speed, "72 km/h", 7, nowhere, true, &number));
  assert_near(number, 20, 1e-12);
  assert_true(value_read_number(diags, speed, "200", 3, nowhere, false, &number));
  assert_int_equal(diags->errors, 0);
  assert_false(value_read_number(diags, speed, "200", 3, nowhere, true, &number));
  assert_false(value_read_number(diags, speed, "20 +/- 1", 8, nowhere, true, &number));
  assert_int_equal(diags->errors, 2);
}

static void value_read_quantity__converts(void **state) {
  struct diags *diags = &trial.knowledge.diags;
  double number = 0;
  (void)state;
  diags_init(diags, trial.knowledge.arena);
  assert_true(value_read_quantity(diags, "length", golf_unit_at(GOLF_UNIT_M), "37 in", 5,
                                  (struct span){0}, &number));
  assert_near(number, 0.9398, 1e-15);
  assert_false(value_read_quantity(diags, "length", golf_unit_at(GOLF_UNIT_M), "37 deg", 6,
                                   (struct span){0}, &number));
  assert_false(value_read_quantity(diags, "length", golf_unit_at(GOLF_UNIT_M), "1 m +/- 1 m", 11,
                                   (struct span){0}, &number));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(value_read__numbers_units_and_errors),
      cmocka_unit_test(value_read__faults_point_at_the_word),
      cmocka_unit_test(value_read__words_of_a_number),
      cmocka_unit_test(value_read__choices_clubs_and_texts),
      cmocka_unit_test(value_mirror__turns_sides_and_nothing_else),
      cmocka_unit_test(value_mirror__a_word_without_a_side_means_the_same_to_both_hands),
      cmocka_unit_test(value_mirror__twice_is_the_value_itself),
      cmocka_unit_test(value_read_node__mappings),
      cmocka_unit_test(value_read_node__faults),
      cmocka_unit_test(value_read_number__takes_a_unit_but_no_error),
      cmocka_unit_test(value_read_quantity__converts),
  };
  return cmocka_run_group_tests(tests, open_all, close_all);
}
