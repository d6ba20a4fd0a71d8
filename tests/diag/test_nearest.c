#include <stdlib.h>
#include <string.h>

#include "diag/diag.h"
#include "support/cases.h"

static const char *const names[] = {"attack", "face",  "face_to_path", "path",      "strike",
                                    "start",  "curve", "ball_speed",   "club_speed"};

static void check(const char *word, const char *expected) {
  const char *found = nearest_name(word, names, COUNT_OF(names));
  if (expected == NULL) assert_null(found);
  else assert_string_equal(found, expected);
}

static void nearest_name__mends_one_slip_of_each_kind(void **state) {
  (void)state;
  check("pth", "path");
  check("paath", "path");
  check("pith", "path");
  check("apth", "path");
  check("face_to_pth", "face_to_path");
  check("PATH", "path");
  check("ball-speed", "ball_speed");
  check("bal_sped", "ball_speed");
  check("path", "path");
}

static void nearest_name__stops_at_a_third_of_the_length(void **state) {
  (void)state;
  check("pxyh", NULL);
  check("tempo", NULL);
  check("attxyk", "attack");
  check("axxxck", NULL);
  check("", NULL);
  check("x", NULL);
}

static void nearest_name__a_tie_goes_to_the_first_in_byte_order(void **state) {
  (void)state;
  static const char *const tied[] = {"face_c", "face_a", "face_b"};
  for (int turn = 0; turn < 3; turn++) {
    const char *turned[] = {tied[turn], tied[(turn + 1) % 3], tied[(turn + 2) % 3]};
    assert_string_equal(nearest_name("face_x", turned, 3), "face_a");
  }
}

static void nearest_name__lengthens_what_is_cut_short(void **state) {
  (void)state;
  check("ball_s", "ball_speed");
  check("b_speed", "ball_speed");
  check("att", "attack");
  check("Str", "strike");
  check("st", NULL);
  check("sta", "start");
  check("face_to_p", "face_to_path");
  check("cl-sp", "club_speed");
}

static void nearest_name__a_shortened_word_that_fits_two_names_fits_none(void **state) {
  (void)state;
  static const char *const two[] = {"hips_at_impact", "hips_at_address", "hands"};
  assert_null(nearest_name("hips", two, 3));
  assert_string_equal(nearest_name("hips_at_imp", two, 3), "hips_at_impact");
}

static void nearest_name__long_words_are_left_alone(void **state) {
  (void)state;
  char word[200];
  memset(word, 'a', sizeof word);
  word[sizeof word - 1] = '\0';
  const char *const same[] = {word};
  assert_null(nearest_name(word, same, 1));
  assert_null(nearest_name("aaaaaaaa", same, 1));
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(nearest_name__mends_one_slip_of_each_kind),
      cmocka_unit_test(nearest_name__lengthens_what_is_cut_short),
      cmocka_unit_test(nearest_name__a_shortened_word_that_fits_two_names_fits_none),
      cmocka_unit_test(nearest_name__stops_at_a_third_of_the_length),
      cmocka_unit_test(nearest_name__a_tie_goes_to_the_first_in_byte_order),
      cmocka_unit_test(nearest_name__long_words_are_left_alone),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
