#include "support/cases.h"

#include <math.h>
#include <string.h>

#include "golf/close.h"
#include "golf/derive.h"
#include "golf/formula.h"
#include "golf/range.h"

static const double iron[GOLF_INPUTS] = {36, 2, -4, 28, -4, 268, 9, 4, 58, 1.5, 37};

static double call(const char *name, const double *x) {
  const struct golf_function *function = golf_function_find(name, strlen(name));
  assert_non_null(function);
  return function->call(x);
}

/* Each output must be what the formula of its name gives for the inputs of the same names. */
static void golf_derive__agrees_with_the_formula_of_the_same_name(void **state) {
  (void)state;
  double out[GOLF_OUTPUTS];
  golf_derive(iron, out);
  for (int i = 0; i < GOLF_OUTPUTS; i++) {
    const char *name = golf_output_name((enum golf_output)i);
    if (strcmp(name, "arc_direction") == 0) name = "arc_from_path";
    if (strcmp(name, "start") == 0) name = "start_direction";
    const struct golf_function *function = golf_function_find(name, strlen(name));
    assert_non_null(function);
    double x[GOLF_FUNCTION_ARITY_MAX];
    const char *word = function->arguments;
    for (int k = 0; k < function->arity; k++) {
      size_t length = strcspn(word, " ");
      /* start_direction takes any loft; golf_derive gives it the delivered one */
      if (length == 4 && memcmp(word, "loft", 4) == 0) {
        x[k] = iron[GOLF_IN_DELIVERED_LOFT];
        continue;
      }
      x[k] = length == 10 && memcmp(word, "ball_speed", 10) == 0 ? out[GOLF_OUT_BALL_SPEED] : NAN;
      for (int j = 0; j < GOLF_INPUTS; j++) {
        const char *input = golf_input_name((enum golf_input)j);
        if (strlen(input) == length && memcmp(input, word, length) == 0) x[k] = iron[j];
      }
      word += length + (word[length] == ' ');
    }
    assert_close(out[i], function->call(x), 1e-9 * (1 + fabs(out[i])));
  }
  assert_close(out[GOLF_OUT_FACE_TO_PATH], call("face_to_path", (double[]){2, -4}), 0);
}

static void golf_derive__unknown_inputs_leave_only_their_outputs_unknown(void **state) {
  (void)state;
  double in[GOLF_INPUTS], out[GOLF_OUTPUTS];
  memcpy(in, iron, sizeof in);
  in[GOLF_IN_PLANE_TILT] = in[GOLF_IN_CLUB_SPEED] = NAN;
  golf_derive(in, out);
  assert_true(isnan(out[GOLF_OUT_ARC_DIRECTION]) && isnan(out[GOLF_OUT_LOW_POINT]));
  assert_true(isnan(out[GOLF_OUT_BALL_SPEED]) && isnan(out[GOLF_OUT_SPIN]));
  assert_close(out[GOLF_OUT_FACE_TO_PATH], 6, 0);
  assert_false(isnan(out[GOLF_OUT_CENTRED_TILT]) || isnan(out[GOLF_OUT_START]) ||
               isnan(out[GOLF_OUT_LAUNCH]));
  assert_null(golf_derive_check(in, NULL));
}

static void golf_derive_check__names_the_input(void **state) {
  (void)state;
  double in[GOLF_INPUTS];
  size_t index = 0;
  memcpy(in, iron, sizeof in);
  in[GOLF_IN_STRIKE] = 300;
  assert_string_equal(golf_derive_check(in, &index)->name, "strike");
  assert_int_equal(index, GOLF_IN_STRIKE);
}

static void golf_derive__mirrored_input_gives_mirrored_bits(void **state) {
  (void)state;
  const int sideways[] = {GOLF_OUT_FACE_TO_PATH, GOLF_OUT_CENTRED_TILT, GOLF_OUT_AXIS_TILT,
                          GOLF_OUT_START, GOLF_OUT_SIDESPIN};
  const int level[] = {GOLF_OUT_INCIDENCE,  GOLF_OUT_LOW_POINT,           GOLF_OUT_LAUNCH,
                       GOLF_OUT_BALL_SPEED, GOLF_OUT_SPEED_RATIO,         GOLF_OUT_SPIN,
                       GOLF_OUT_BACKSPIN,   GOLF_OUT_EXPECTED_BALL_SPEED, GOLF_OUT_BALL_SPEED_LOST};
  double in[GOLF_INPUTS], a[GOLF_OUTPUTS], b[GOLF_OUTPUTS];
  memcpy(in, iron, sizeof in);
  golf_derive(in, a);
  in[GOLF_IN_FACE] = -in[GOLF_IN_FACE];
  in[GOLF_IN_PATH] = -in[GOLF_IN_PATH];
  in[GOLF_IN_STRIKE] = -in[GOLF_IN_STRIKE];
  golf_derive(in, b);
  for (size_t i = 0; i < COUNT_OF(sideways); i++) assert_true(a[sideways[i]] == -b[sideways[i]]);
  for (size_t i = 0; i < COUNT_OF(level); i++) assert_true(a[level[i]] == b[level[i]]);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(golf_derive__agrees_with_the_formula_of_the_same_name),
      cmocka_unit_test(golf_derive__unknown_inputs_leave_only_their_outputs_unknown),
      cmocka_unit_test(golf_derive_check__names_the_input),
      cmocka_unit_test(golf_derive__mirrored_input_gives_mirrored_bits),
  };
  return cmocka_run_group_tests_name("golf derive", cases, NULL, NULL);
}
