#include <float.h>
#include <locale.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"
#include "support/cases.h"

static uint64_t next_random(uint64_t *state) {
  *state ^= *state << 13;
  *state ^= *state >> 7;
  *state ^= *state << 17;
  return *state;
}

/* Any finite double; half of them of the size that readings have. */
static double random_double(uint64_t *state) {
  uint64_t bits = next_random(state);
  double x;
  if (bits & 1) return ((double)(bits >> 11) / 9007199254740992.0 - 0.5) * 400;
  memcpy(&x, &bits, sizeof x);
  return isfinite(x) ? x : 0.1;
}

static void number_print__writes_the_known_forms(void **state) {
  (void)state;
  static const struct {
    double x;
    const char *printed;
  } rows[] = {
      {0, "0"},
      {-0.0, "0"},
      {1, "1"},
      {-5, "-5"},
      {0.1, "0.1"},
      {-2.5, "-2.5"},
      {33.125, "33.125"},
      {0.1 + 0.2, "0.30000000000000004"},
      {1.0 / 3, "0.3333333333333333"},
      {0.00001, "0.00001"},
      {0.000001, "1e-06"},
      {-1.5e-7, "-1.5e-07"},
      {1e15, "1000000000000000"},
      {1e16, "1e+16"},
      {123456.789, "123456.789"},
      {5e-324, "5e-324"},
      {DBL_MIN, "2.2250738585072014e-308"},
      {DBL_MAX, "1.7976931348623157e+308"},
      {-DBL_MAX, "-1.7976931348623157e+308"},
      {NAN, "nan"},
      {INFINITY, "inf"},
      {-INFINITY, "-inf"},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    char printed[NUMBER_ROOM];
    size_t n = number_print(printed, rows[i].x);
    assert_string_equal(printed, rows[i].printed);
    assert_int_equal(n, strlen(printed));
  }
}

static void number_print__reads_back_to_the_same_double(void **state) {
  (void)state;
  uint64_t seed = 88172645463325252u;
  for (int i = 0; i < 100000; i++) {
    double x = random_double(&seed), back = 0;
    char printed[NUMBER_ROOM];
    size_t n = number_print(printed, x);
    assert_true(n < NUMBER_ROOM);
    assert_int_equal(number_read(printed, n, &back), n);
    assert_true(back == x);
    assert_true(strtod(printed, NULL) == x);
  }
}

static int digits_of(const char *printed) {
  int all = 0, zeros = 0;
  for (; *printed != '\0' && *printed != 'e'; printed++) {
    if (*printed < '0' || *printed > '9' || (all == 0 && *printed == '0')) continue;
    all++;
    zeros = *printed == '0' ? zeros + 1 : 0;
  }
  return all - zeros;
}

static void number_print__uses_the_fewest_digits(void **state) {
  (void)state;
  uint64_t seed = 1234567;
  for (int i = 0; i < 20000; i++) {
    double x = random_double(&seed);
    if (i % 10 == 0) x *= 1e-310;
    if (x == 0) continue;
    char printed[NUMBER_ROOM], shortest[64];
    int n = 1;
    do snprintf(shortest, sizeof shortest, "%.*e", n - 1, x);
    while (strtod(shortest, NULL) != x && n++ < 17);
    number_print(printed, x);
    assert_int_equal(digits_of(printed), digits_of(shortest));
  }
}

static void text_fixed__rounds_and_never_says_minus_zero(void **state) {
  (void)state;
  static const struct {
    double x;
    int decimals;
    const char *printed;
  } rows[] = {
      {1.25, 1, "1.2"},         {1.35, 1, "1.4"}, {-0.04, 1, "0.0"}, {-0.06, 1, "-0.1"},
      {-0.4, 0, "0"},           {2.5, 0, "2"},    {-7, 2, "-7.00"},  {1e3, 0, "1000"},
      {0.5, 12, "0.500000000"}, {1.5, -1, "2"},   {NAN, 1, "nan"},   {-INFINITY, 1, "-inf"},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct arena *arena = arena_new(NULL);
    struct text text;
    text_init(&text, arena);
    text_fixed(&text, rows[i].x, rows[i].decimals);
    assert_string_equal(text_done(&text), rows[i].printed);
    text_fixed(&text, DBL_MAX, 9);
    assert_int_equal(text.n, strlen(rows[i].printed) + 309 + 10);
    arena_free(arena);
  }
}

static void number_read__takes_what_is_a_number_and_no_more(void **state) {
  (void)state;
  static const struct {
    const char *written;
    size_t used;
    double value;
  } rows[] = {
      {"5", 1, 5},
      {"-6 deg", 2, -6},
      {"+3.25", 5, 3.25},
      {"88mph", 2, 88},
      {".5", 2, 0.5},
      {"5.", 1, 5},
      {"5..6", 1, 5},
      {"1.2.3", 3, 1.2},
      {"1e3", 3, 1000},
      {"1E-2x", 4, 0.01},
      {"1e", 1, 1},
      {"1e+", 1, 1},
      {"2em", 1, 2},
      {"0x10", 1, 0},
      {"007", 3, 7},
      {"0.000", 5, 0},
      {"1e99999999999999999999", 22, INFINITY},
      {"-1e400", 6, -INFINITY},
      {"1e-400", 6, 0},
      {"0e99999999", 10, 0},
      {"", 0, 0},
      {"-", 0, 0},
      {".", 0, 0},
      {"+.", 0, 0},
      {"e5", 0, 0},
      {"inf", 0, 0},
      {"nan", 0, 0},
      {"--5", 0, 0},
      {" 5", 0, 0},
      {"9007199254740993", 16, 9007199254740992.0},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    double value = 0;
    assert_int_equal(number_read(rows[i].written, strlen(rows[i].written), &value), rows[i].used);
    assert_true(value == rows[i].value);
  }
}

static void number_read__stops_at_the_given_length(void **state) {
  (void)state;
  double value = 0;
  assert_int_equal(number_read("1234", 2, &value), 2);
  assert_true(value == 12);
  assert_int_equal(number_read("1e5", 2, &value), 1);
  assert_int_equal(number_read("1", 0, &value), 0);
}

/* 2^53 + 1 lies halfway between two doubles; a digit far behind decides. */
static void number_read__a_far_digit_decides_a_tie(void **state) {
  (void)state;
  static char written[2000];
  double value = 0;
  memset(written, '0', sizeof written);
  memcpy(written, "9007199254740993.", 17);
  assert_int_equal(number_read(written, sizeof written, &value), sizeof written);
  assert_true(value == 9007199254740992.0);
  written[sizeof written - 1] = '1';
  number_read(written, sizeof written, &value);
  assert_true(value == 9007199254740994.0);
}

static void number_read__many_digits_before_the_point(void **state) {
  (void)state;
  static char written[1500];
  double value = 0;
  memset(written, '0', sizeof written);
  written[0] = '1';
  memcpy(written + sizeof written - 6, "e-1480", 6);
  assert_int_equal(number_read(written, sizeof written, &value), sizeof written);
  assert_true(value == 1e13);
}

static void numbers__do_not_depend_on_the_locale(void **state) {
  (void)state;
  static const char *const with_comma[] = {"de_DE.UTF-8", "fr_FR.UTF-8", "de_DE", "fr_FR"};
  bool found = false;
  for (size_t i = 0; i < COUNT_OF(with_comma) && !found; i++)
    found = setlocale(LC_ALL, with_comma[i]) != NULL;
  if (!found) skip();
  struct arena *arena = arena_new(NULL);
  struct text text;
  double value = 0;
  text_init(&text, arena);
  text_number(&text, -2.5);
  text_add_char(&text, ' ');
  text_fixed(&text, 1234.5, 2);
  size_t used = number_read("2.75", 4, &value);
  setlocale(LC_ALL, "C");
  assert_string_equal(text_done(&text), "-2.5 1234.50");
  assert_int_equal(used, 4);
  assert_true(value == 2.75);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(number_print__writes_the_known_forms),
      cmocka_unit_test(number_print__reads_back_to_the_same_double),
      cmocka_unit_test(number_print__uses_the_fewest_digits),
      cmocka_unit_test(text_fixed__rounds_and_never_says_minus_zero),
      cmocka_unit_test(number_read__takes_what_is_a_number_and_no_more),
      cmocka_unit_test(number_read__stops_at_the_given_length),
      cmocka_unit_test(number_read__a_far_digit_decides_a_tie),
      cmocka_unit_test(number_read__many_digits_before_the_point),
      cmocka_unit_test(numbers__do_not_depend_on_the_locale),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
