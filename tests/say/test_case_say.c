/* What a program does with a player's words: the order of calls does not matter, what is given
 * otherwise stands, and nothing of an earlier text is left behind. */
#include <stdio.h>
#include <string.h>

#include "support/cases.h"
#include "whymiss.h"

static wm_kb *kb;
static wm_case *player;
static wm_diags *diags;

static int load(void **state) {
  static const char *const directory = "tests/say/small";
  (void)state;
  diags = wm_diags_new(NULL);
  return wm_kb_load(&kb, &directory, 1, NULL, diags) == WM_OK &&
                 wm_case_new(&player, kb, NULL) == WM_OK
             ? 0
             : -1;
}

static int unload(void **state) {
  (void)state;
  wm_case_free(player);
  wm_kb_free(kb);
  wm_diags_free(diags);
  return 0;
}

static int reset(void **state) {
  (void)state;
  wm_case_reset(player);
  wm_diags_clear(diags);
  return 0;
}

static void say(const char *words) {
  assert_int_equal(wm_case_say(player, words, "words", diags), WM_OK);
}

static void give(const char *text) {
  assert_int_equal(wm_case_give(player, text, "argument", diags), WM_OK);
}

static const struct wm_reading *reading(const char *name) {
  size_t n;
  assert_int_equal(wm_case_run(player, diags), WM_OK);
  const struct wm_reading *list = wm_case_readings(player, &n);
  for (size_t i = 0; i < n; i++)
    if (strcmp(list[i].name, name) == 0) return &list[i];
  fail_msg("no evidence %s", name);
  return NULL;
}

static const char *use_of(const char *evidence) {
  size_t n;
  const struct wm_said *said = wm_case_said(player, &n);
  for (size_t i = 0; i < n; i++)
    if (strcmp(said[i].evidence, evidence) == 0) return said[i].use;
  return "nothing";
}

static void wm_case_say__gives_evidence(void **state) {
  (void)state;
  size_t n;
  say("a big slice, maybe thin");
  assert_float_equal(reading("curve")->number, 12, 1e-9);
  assert_string_equal(reading("contact")->word, "thin");
  assert_float_equal(reading("contact")->sure, 0.45, 1e-9);
  assert_string_equal(reading("words")->word, "a big slice, maybe thin");
  const struct wm_said *said = wm_case_said(player, &n);
  assert_int_equal(n, 2);
  assert_string_equal(said[0].words, "big slice");
  assert_string_equal(said[0].phrase, "slice");
  assert_string_equal(said[0].shown, "right");
  assert_null(said[0].reason);
  assert_int_equal(said[0].start, 2);
}

static void wm_case_say__yields_to_what_is_given(void **state) {
  (void)state;
  say("slice");
  give("curve=-3");
  assert_float_equal(reading("curve")->number, -3, 1e-9);
  assert_string_equal(use_of("curve"), "known");
  wm_case_reset(player);
  give("curve=-3");
  say("slice");
  assert_float_equal(reading("curve")->number, -3, 1e-9);
  assert_int_equal(wm_case_take_back(player, "curve", diags), WM_OK);
  assert_float_equal(reading("curve")->number, 8, 1e-9);
  give("curve=-3");
  assert_float_equal(reading("curve")->number, -3, 1e-9);
}

static void wm_case_say__adds_to_what_was_said(void **state) {
  (void)state;
  size_t n;
  say("slice");
  assert_float_equal(reading("curve")->number, 8, 1e-9);
  say("and a hook");
  assert_string_equal(reading("two_way_miss")->word, "yes");
  assert_int_equal(reading("curve")->state, WM_UNKNOWN);
  assert_string_equal(reading("words")->word, "slice\nand a hook");
  say("  ");
  assert_string_equal(reading("words")->word, "slice\nand a hook");
  wm_case_reset(player);
  assert_int_equal(reading("two_way_miss")->state, WM_UNKNOWN);
  assert_non_null(wm_case_said(player, &n));
  assert_int_equal(n, 0);
}

static void wm_case_say__keeps_a_text_that_was_given(void **state) {
  (void)state;
  give("words=other words");
  say("slice");
  assert_string_equal(reading("words")->word, "other words");
}

static void wm_case_say__takes_the_hand_from_the_words(void **state) {
  (void)state;
  say("i am left handed and slice");
  assert_float_equal(reading("curve")->number, -8, 1e-9);
  wm_case_reset(player);
  assert_int_equal(wm_case_set_hand(player, WM_RIGHT), WM_OK);
  say("i am left handed and slice");
  assert_float_equal(reading("curve")->number, 8, 1e-9);
  assert_int_equal(wm_diags_warnings(diags), 1);
}

static void wm_case_say__follows_a_hand_set_later(void **state) {
  (void)state;
  say("slice");
  assert_float_equal(reading("curve")->number, 8, 1e-9);
  assert_int_equal(wm_case_set_hand(player, WM_LEFT), WM_OK);
  assert_float_equal(reading("curve")->number, -8, 1e-9);
}

static void wm_case_say__leaves_other_clubs_out(void **state) {
  (void)state;
  give("club=driver");
  say("thin driver. slice my 7 iron");
  assert_string_equal(reading("contact")->word, "thin");
  assert_int_equal(reading("curve")->state, WM_UNKNOWN);
  assert_string_equal(use_of("curve"), "other_club");
}

static void wm_case_say__refuses_too_much(void **state) {
  (void)state;
  char text[4002];
  memset(text, 'x', sizeof text);
  text[4000] = '\0';
  say(text);
  assert_int_equal(wm_case_say(player, "y", "words", diags), WM_INPUT_FAULTY);
  assert_int_equal(strlen(reading("words")->word), 4000);
  wm_case_reset(player);
  text[4000] = 'x';
  text[4001] = '\0';
  assert_int_equal(wm_case_say(player, text, "words", diags), WM_INPUT_FAULTY);
  assert_int_equal(reading("words")->state, WM_UNKNOWN);
}

static void wm_case_say__refuses_wrong_calls(void **state) {
  (void)state;
  size_t n = 1;
  assert_int_equal(wm_case_say(NULL, "x", NULL, NULL), WM_USAGE);
  assert_int_equal(wm_case_say(player, NULL, NULL, NULL), WM_USAGE);
  assert_null(wm_case_said(player, &n));
  assert_int_equal(n, 0);
  assert_null(wm_case_said(NULL, NULL));
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test_setup(wm_case_say__gives_evidence, reset),
      cmocka_unit_test_setup(wm_case_say__yields_to_what_is_given, reset),
      cmocka_unit_test_setup(wm_case_say__adds_to_what_was_said, reset),
      cmocka_unit_test_setup(wm_case_say__keeps_a_text_that_was_given, reset),
      cmocka_unit_test_setup(wm_case_say__takes_the_hand_from_the_words, reset),
      cmocka_unit_test_setup(wm_case_say__follows_a_hand_set_later, reset),
      cmocka_unit_test_setup(wm_case_say__leaves_other_clubs_out, reset),
      cmocka_unit_test_setup(wm_case_say__refuses_too_much, reset),
      cmocka_unit_test_setup(wm_case_say__refuses_wrong_calls, reset),
  };
  return cmocka_run_group_tests(tests, load, unload);
}
