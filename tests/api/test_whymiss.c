/* The public library as a program uses it: whymiss.h only, on the small knowledge base of the
 * tests. */
#include "whymiss.h"

#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"

#define OUTPUT_ROOM 65536

struct output {
  char bytes[OUTPUT_ROOM];
  size_t n;
};

static int collect(void *context, const char *bytes, size_t n) {
  struct output *output = context;
  if (n >= OUTPUT_ROOM - output->n) return -1;
  memcpy(output->bytes + output->n, bytes, n);
  output->n += n;
  output->bytes[output->n] = '\0';
  return 0;
}

static int refuse(void *context, const char *bytes, size_t n) {
  (void)context;
  (void)bytes;
  (void)n;
  return -1;
}

static const char *const small[] = {"tests/kb_small"};

static wm_kb *load_small(const struct wm_allocator *allocator) {
  wm_kb *kb = NULL;
  wm_diags *diags = wm_diags_new(NULL);
  assert_int_equal(wm_kb_load(&kb, small, 1, allocator, diags), WM_OK);
  assert_int_equal(wm_diags_count(diags), 0);
  wm_diags_free(diags);
  return kb;
}

static wm_case *new_case(const wm_kb *kb) {
  wm_case *player = NULL;
  assert_int_equal(wm_case_new(&player, kb, NULL), WM_OK);
  return player;
}

static void give_all(wm_case *player, const char *const *texts) {
  for (; *texts; texts++) assert_int_equal(wm_case_give(player, *texts, NULL, NULL), WM_OK);
}

static const char *const toe_cut[] = {"club=7i", "face=1", "path=-5", "strike=toe", NULL};
static const char *const mirrored_toe_cut[] = {"club=7i", "face=-1", "path=5", "strike=toe", NULL};

static const struct wm_cause *cause_called(wm_case *player, const char *name) {
  size_t n;
  const struct wm_cause *causes = wm_case_causes(player, &n);
  for (size_t i = 0; i < n; i++)
    if (strcmp(causes[i].name, name) == 0) return &causes[i];
  return NULL;
}

static const struct wm_reading *reading_called(wm_case *player, const char *name) {
  size_t n;
  const struct wm_reading *readings = wm_case_readings(player, &n);
  for (size_t i = 0; i < n; i++)
    if (strcmp(readings[i].name, name) == 0) return &readings[i];
  return NULL;
}

/* ---- knowledge ---- */

static void wm_kb_load__counts_what_it_read(void **state) {
  (void)state;
  struct wm_kb_counts counts;
  wm_kb *kb = load_small(NULL);
  wm_kb_count(kb, &counts);
  assert_int_equal(counts.files, 4);
  assert_int_equal(counts.evidence, 11);
  assert_int_equal(counts.causes, 3);
  assert_int_equal(counts.drills, 3);
  assert_int_equal(counts.clubs, 2);
  assert_int_equal(counts.cases, 2);
  assert_string_equal(wm_kb_name(kb, WM_CAUSE, 0), "aims_left");
  assert_string_equal(wm_kb_name(kb, WM_DRILL, 2), "stick_line");
  assert_null(wm_kb_name(kb, WM_DRILL, 3));
  wm_kb_free(kb);
}

static void wm_kb_load__of_a_missing_directory_says_which(void **state) {
  (void)state;
  static const char *const missing[] = {"tests/kb_small", "tests/no_such_place"};
  struct wm_diag diag;
  wm_kb *kb = (wm_kb *)&diag;
  wm_diags *diags = wm_diags_new(NULL);
  assert_int_equal(wm_kb_load(&kb, missing, 2, NULL, diags), WM_KB_FAULTY);
  assert_null(kb);
  assert_true(wm_diags_get(diags, 0, &diag));
  assert_string_equal(diag.code, "file-unreadable");
  assert_non_null(strstr(diag.message, "tests/no_such_place"));
  assert_false(wm_diags_get(diags, 1, &diag));
  wm_diags_free(diags);
}

/* The bytes are overwritten before the diagnostics are printed: the list must have its own. */
static void wm_kb_load_memory__faults_outlive_the_bytes(void **state) {
  (void)state;
  static struct output output;
  char bytes[] = "- finding: odd\n  titel: an odd thing\n  about: it is odd\n";
  struct wm_file file = {"mine.yaml", bytes, sizeof bytes - 1, 0};
  struct wm_diag diag;
  wm_kb *kb = NULL;
  wm_diags *diags = wm_diags_new(NULL);
  assert_int_equal(wm_kb_load_memory(&kb, &file, 1, NULL, diags), WM_KB_FAULTY);
  memset(bytes, '?', sizeof bytes - 1);
  assert_int_equal(wm_diags_errors(diags), 2);
  assert_true(wm_diags_get(diags, 1, &diag));
  assert_string_equal(diag.code, "unknown-key");
  assert_string_equal(diag.source, "mine.yaml");
  assert_int_equal(diag.line, 2);
  assert_int_equal(diag.column, 3);
  assert_non_null(strstr(diag.hint, "title"));
  assert_int_equal(wm_diags_write(diags, collect, &output), WM_OK);
  assert_non_null(strstr(output.bytes, "  titel: an odd thing\n"));
  wm_diags_clear(diags);
  assert_int_equal(wm_diags_count(diags), 0);
  assert_int_equal(wm_diags_errors(diags), 0);
  wm_diags_free(diags);
}

static void wm_kb_load__after_an_earlier_fault_in_the_same_list_succeeds(void **state) {
  (void)state;
  static const char *const missing[] = {"tests/no_such_place"};
  wm_kb *kb = NULL;
  wm_diags *diags = wm_diags_new(NULL);
  assert_int_equal(wm_kb_load(&kb, missing, 1, NULL, diags), WM_KB_FAULTY);
  assert_int_equal(wm_kb_load(&kb, small, 1, NULL, diags), WM_OK);
  assert_int_equal(wm_diags_errors(diags), 1);
  wm_kb_free(kb);
  wm_diags_free(diags);
}

static void wm_kb_override__lists_what_a_layer_replaces(void **state) {
  (void)state;
  static const char below[] = "- finding: odd\n  title: odd\n  about: it is odd\n";
  static const char above[] =
      "\n- finding: odd\n  replaces: odd\n  title: even\n  about: it is even\n";
  const struct wm_file files[] = {{"below.yaml", below, sizeof below - 1, 0},
                                  {"above.yaml", above, sizeof above - 1, 1}};
  struct wm_override override;
  wm_kb *kb = NULL;
  assert_int_equal(wm_kb_load_memory(&kb, files, 2, NULL, NULL), WM_OK);
  assert_true(wm_kb_override(kb, 0, &override));
  assert_string_equal(override.kind, "finding");
  assert_string_equal(override.name, "odd");
  assert_string_equal(override.file, "above.yaml");
  assert_int_equal(override.line, 2);
  assert_string_equal(override.old_file, "below.yaml");
  assert_int_equal(override.old_line, 1);
  assert_false(wm_kb_override(kb, 1, &override));
  wm_kb_free(kb);
}

static void wm_kb_check__finds_what_nothing_reads(void **state) {
  (void)state;
  struct wm_diag diag;
  wm_kb *kb = load_small(NULL);
  wm_diags *diags = wm_diags_new(NULL);
  assert_int_equal(wm_kb_check(kb, diags), WM_FINDINGS);
  wm_kb_free(kb);
  assert_true(wm_diags_warnings(diags) > 0);
  size_t i = 0;
  while (wm_diags_get(diags, i, &diag) && strcmp(diag.code, "unused") != 0) i++;
  assert_true(i < wm_diags_count(diags));
  assert_int_equal(diag.level, WM_WARNING);
  wm_diags_free(diags);
}

static void wm_kb_show__of_an_unknown_name_writes_nothing(void **state) {
  (void)state;
  static struct output output;
  struct wm_diag diag;
  wm_kb *kb = load_small(NULL);
  wm_diags *diags = wm_diags_new(NULL);
  output.n = 0;
  assert_int_equal(wm_kb_show(kb, "pth", "argument 1", WM_TEXT, collect, &output, diags),
                   WM_INPUT_FAULTY);
  assert_int_equal(output.n, 0);
  assert_true(wm_diags_get(diags, 0, &diag));
  assert_string_equal(diag.source, "argument 1");
  assert_non_null(strstr(diag.hint, "path"));
  assert_int_equal(wm_kb_show(kb, "path", NULL, WM_TEXT, collect, &output, NULL), WM_OK);
  assert_non_null(strstr(output.bytes, "club path"));
  wm_diags_free(diags);
  wm_kb_free(kb);
}

/* ---- evidence ---- */

static void wm_case_give__tells_each_fault_at_its_place(void **state) {
  (void)state;
  static const struct {
    const char *text, *code;
    uint32_t column, end;
  } faults[] = {
      {"pth=-5", "unknown-name", 1, 4},    {" pth = -5", "unknown-name", 2, 5},
      {"path=5kg", "bad-unit", 7, 9},      {"path=99", "out-of-range", 6, 8},
      {"path=-5+-x", "bad-error", 10, 11}, {"path", "bad-evidence", 1, 5},
      {"path=", "bad-evidence", 1, 6},     {"=5", "bad-evidence", 1, 3},
      {"", "bad-evidence", 1, 1},          {"lie=moon", "unknown-word", 5, 9},
      {"club=9x", "unknown-word", 6, 8},   {"pain=perhaps", "unknown-word", 6, 13},
      {"face=1", "twice-given", 1, 7},
  };
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  assert_int_equal(wm_case_give(player, "face=2", NULL, NULL), WM_OK);
  for (size_t i = 0; i < COUNT_OF(faults); i++) {
    struct wm_diag diag;
    wm_diags *diags = wm_diags_new(NULL);
    assert_int_equal(wm_case_give(player, faults[i].text, "argument 7", diags), WM_INPUT_FAULTY);
    assert_int_equal(wm_diags_count(diags), 1);
    assert_true(wm_diags_get(diags, 0, &diag));
    assert_string_equal(diag.code, faults[i].code);
    assert_string_equal(diag.source, "argument 7");
    assert_int_equal(diag.column, faults[i].column);
    assert_int_equal(diag.end_column, faults[i].end);
    wm_diags_free(diags);
  }
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(reading_called(player, "path")->state, WM_UNKNOWN);
  assert_int_equal(reading_called(player, "face")->state, WM_GIVEN);
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_give__understands_units_errors_and_other_names(void **state) {
  (void)state;
  static const char *const texts[] = {"club_path=-5 +/- 0.5 deg", "ball_speed=88mph", NULL};
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  give_all(player, texts);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  const struct wm_reading *path = reading_called(player, "path"),
                          *speed = reading_called(player, "ball_speed");
  assert_true(path->number == -5 && path->error == 0.5);
  assert_string_equal(path->unit, "deg");
  assert_true(fabs(speed->number - 88 * 0.44704) < 1e-12);
  assert_string_equal(speed->unit, "m/s");
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_give_number__is_as_good_as_text(void **state) {
  (void)state;
  static struct output by_text, by_number;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  give_all(player, toe_cut);
  by_text.n = by_number.n = 0;
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(wm_case_write(player, WM_BRIEF, WM_TEXT, collect, &by_text), WM_OK);
  wm_case_reset(player);
  assert_int_equal(wm_case_give_choice(player, "club", "7i", 1, NULL), WM_OK);
  assert_int_equal(wm_case_give_number(player, "face", 1, -1, 0, NULL), WM_OK);
  assert_int_equal(wm_case_give_number(player, "path", -5, -1, 0, NULL), WM_OK);
  assert_int_equal(wm_case_give_number(player, "strike", 15, 8, 0, NULL), WM_OK);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(wm_case_write(player, WM_BRIEF, WM_TEXT, collect, &by_number), WM_OK);
  assert_string_equal(by_number.bytes, by_text.bytes);
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_give_number__refuses_what_text_would_refuse(void **state) {
  (void)state;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  assert_int_equal(wm_case_give_number(player, "pth", 1, -1, 0, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_give_number(player, "path", 21, -1, 0, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_give_number(player, "path", NAN, -1, 0, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_give_number(player, "path", 1, NAN, 0, NULL), WM_USAGE);
  assert_int_equal(wm_case_give_number(player, "lie", 1, -1, 0, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_give_choice(player, "path", "left", 1, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_give_choice(player, "lie", "rough", 1.5, NULL), WM_USAGE);
  assert_int_equal(wm_case_give_choice(player, "lie", "moon", 1, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_give_text(player, "lie", "rough", NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_give_text(player, "words", "it bends", NULL), WM_OK);
  assert_int_equal(wm_case_give_text(player, "words", "it bends", NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_take_back(player, "words", NULL), WM_OK);
  assert_int_equal(wm_case_give_text(player, "words", "it bends", NULL), WM_OK);
  assert_int_equal(wm_case_take_back(player, "wrds", NULL), WM_INPUT_FAULTY);
  wm_case_free(player);
  wm_kb_free(kb);
}

/* A mean of 16 shots carries the player's spread: sqrt(1^2 + 2^2 / 16). */
static void wm_case_set_shots__makes_a_number_a_tendency(void **state) {
  (void)state;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  assert_int_equal(wm_case_set_shots(player, 0), WM_USAGE);
  assert_int_equal(wm_case_set_shots(player, 10001), WM_USAGE);
  assert_int_equal(wm_case_read_shots(player, "1.5", NULL, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_read_shots(player, "many", NULL, NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_read_shots(player, "16", NULL, NULL), WM_OK);
  assert_int_equal(wm_case_give(player, "path=-5", NULL, NULL), WM_OK);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_true(fabs(reading_called(player, "path")->error - sqrt(1 + 4.0 / 16)) < 1e-12);
  wm_case_free(player);
  wm_kb_free(kb);
}

/* ---- case files ---- */

static void wm_case_load_memory__gives_hand_and_evidence(void **state) {
  (void)state;
  static const char yaml[] =
      "- case: mine\n  handed: left\n  evidence: {face: -1, path: 5, strike: toe}\n";
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  assert_int_equal(wm_case_load_memory(player, "mine.yaml", yaml, sizeof yaml - 1, NULL), WM_OK);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_string_equal(reading_called(player, "path")->shown, "5.0 deg right +/- 1.0");
  assert_int_equal(cause_called(player, "steep_shaft")->standing, WM_LEADING);
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_load_memory__refuses_what_is_not_one_case(void **state) {
  (void)state;
  static const char *const texts[] = {
      "",
      "just words\n",
      "- rule: x\n",
      "- case: a\n  evidence: {path: 1}\n- case: b\n  evidence: {path: 1}\n",
      "- case: a\n  evidence: {pth: 1}\n",
      "- case: a\n  evidence: {path: 1}\n  expect: {leading: no_such}\n",
      "- case: a\n  handed: both\n  evidence: {path: 1}\n",
      "- case: a\n",
      "- case: [a]\n",
      "[[",
  };
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  for (size_t i = 0; i < COUNT_OF(texts); i++) {
    wm_diags *diags = wm_diags_new(NULL);
    assert_int_equal(wm_case_load_memory(player, "c.yaml", texts[i], strlen(texts[i]), diags),
                     WM_INPUT_FAULTY);
    assert_true(wm_diags_errors(diags) > 0);
    wm_diags_free(diags);
  }
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(reading_called(player, "path")->state, WM_UNKNOWN);
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_load_worked__finds_it_by_name(void **state) {
  (void)state;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  assert_int_equal(wm_case_load_worked(player, "toe-cutt", "option --case", NULL), WM_INPUT_FAULTY);
  assert_int_equal(wm_case_load_worked(player, "toe-cut", NULL, NULL), WM_OK);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(cause_called(player, "steep_shaft")->standing, WM_LEADING);
  wm_case_free(player);
  wm_kb_free(kb);
}

/* ---- results ---- */

static void results__before_the_run_are_null(void **state) {
  (void)state;
  static struct output output;
  size_t n = 7;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  assert_null(wm_case_readings(player, &n));
  assert_int_equal(n, 0);
  assert_null(wm_case_causes(player, &n));
  assert_null(wm_case_drills(player, &n));
  assert_null(wm_case_firings(player, &n));
  assert_null(wm_case_contributions(player, &n));
  assert_null(wm_case_checks(player, &n));
  assert_int_equal(wm_case_write(player, WM_ANSWER, WM_TEXT, collect, &output), WM_USAGE);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_non_null(wm_case_drills(player, &n));
  assert_int_equal(n, 0);
  assert_int_equal(wm_case_give(player, "path=1", NULL, NULL), WM_OK);
  assert_null(wm_case_causes(player, &n));
  wm_case_free(player);
  wm_kb_free(kb);
}

/* Values by hand: path -5 +/- 1 below -2.5 gives 2 P(z < 2.5) - 1 = 0.98758; x 0.8. */
static void wm_case_contributions__add_up_to_the_certainty(void **state) {
  (void)state;
  size_t n, n_findings;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  give_all(player, toe_cut);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  const struct wm_contribution *list = wm_case_contributions(player, &n);
  const struct wm_finding *findings = wm_case_findings(player, &n_findings);
  double sum = 0;
  for (size_t i = 0; i < n; i++) {
    if (strcmp(list[i].claim, "steep_shaft") == 0) sum = sum + list[i].value - sum * list[i].value;
    if (strcmp(list[i].claim, "path_left") == 0)
      assert_true(fabs(list[i].value - 0.8 * 0.987580669348448) < 1e-12);
  }
  assert_true(fabs(sum - cause_called(player, "steep_shaft")->certainty) < 1e-12);
  assert_int_equal(n_findings, 5);
  assert_string_equal(findings[0].name, "cuts_across");
  assert_int_equal(findings[0].state, WM_KNOWN);
  assert_string_equal(findings[1].name, "hurts");
  assert_int_equal(findings[1].state, WM_NOT_KNOWN);
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_firings__tell_what_is_lacking(void **state) {
  (void)state;
  size_t n;
  unsigned layer = 0;
  bool seen = false;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  give_all(player, toe_cut);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  const struct wm_firing *firings = wm_case_firings(player, &n);
  assert_int_equal(n, 10);
  for (size_t i = 0; i < n; i++) {
    assert_true(firings[i].layer >= layer);
    layer = firings[i].layer;
    if (strcmp(firings[i].rule, "few-knuckles") != 0) continue;
    seen = true;
    assert_int_equal(firings[i].state, WM_LACKING);
    assert_string_equal(firings[i].missing, "knuckles");
    assert_string_equal(firings[i].file, "tests/kb_small/rules/rules.yaml");
  }
  assert_true(seen);
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_drills__say_which_is_chosen_and_which_removed(void **state) {
  (void)state;
  static const char *const more[] = {"lie=rough", NULL};
  size_t n;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  give_all(player, toe_cut);
  give_all(player, more);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  const struct wm_drill *drills = wm_case_drills(player, &n);
  assert_int_equal(n, 2);
  assert_string_equal(drills[0].name, "stick_line");
  assert_true(drills[0].chosen);
  assert_string_equal(drills[1].name, "gate");
  assert_false(drills[1].chosen);
  assert_int_equal(drills[1].removal, WM_REMOVED_BY_RULE);
  assert_string_equal(drills[1].removed_by, "gate-not-from-rough");
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_drills__are_not_chosen_under_a_red_flag(void **state) {
  (void)state;
  static const char *const more[] = {"pain=yes", NULL};
  static struct output output;
  size_t n;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  give_all(player, toe_cut);
  give_all(player, more);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  const struct wm_drill *drills = wm_case_drills(player, &n);
  for (size_t i = 0; i < n; i++) assert_false(drills[i].chosen);
  assert_true(wm_case_findings(player, &n)[1].red_flag);
  output.n = 0;
  assert_int_equal(wm_case_write(player, WM_ANSWER, WM_TEXT, collect, &output), WM_OK);
  assert_non_null(strstr(output.bytes, "STOP "));
  assert_null(strstr(output.bytes, "Do now"));
  wm_case_free(player);
  wm_kb_free(kb);
}

/* Everything but the sides is the same, to the last bit. */
static void wm_case_set_hand__mirrors(void **state) {
  (void)state;
  size_t n, m;
  wm_kb *kb = load_small(NULL);
  wm_case *right = new_case(kb), *left = new_case(kb);
  give_all(right, toe_cut);
  give_all(left, mirrored_toe_cut);
  assert_int_equal(wm_case_set_hand(left, WM_LEFT), WM_OK);
  assert_int_equal(wm_case_run(right, NULL), WM_OK);
  assert_int_equal(wm_case_run(left, NULL), WM_OK);
  const struct wm_cause *a = wm_case_causes(right, &n), *b = wm_case_causes(left, &m);
  assert_int_equal(n, m);
  for (size_t i = 0; i < n; i++) {
    assert_string_equal(a[i].name, b[i].name);
    assert_true(a[i].certainty == b[i].certainty);
  }
  assert_true(reading_called(left, "face_to_path")->number ==
              -reading_called(right, "face_to_path")->number);
  assert_true(reading_called(left, "strike")->number == reading_called(right, "strike")->number);
  assert_string_equal(cause_called(right, "aims_left")->title, "the body aims to the left");
  assert_string_equal(cause_called(left, "aims_left")->title, "the body aims to the right");
  wm_case_free(left);
  wm_case_free(right);
  wm_kb_free(kb);
}

static void wm_case_reset__leaves_nothing_behind(void **state) {
  (void)state;
  static struct output fresh, reused;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  fresh.n = reused.n = 0;
  give_all(player, toe_cut);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(wm_case_write(player, WM_ANSWER, WM_JSON, collect, &fresh), WM_OK);
  wm_case_reset(player);
  assert_int_equal(wm_case_load_worked(player, "toe-cut-left-handed", NULL, NULL), WM_OK);
  assert_int_equal(wm_case_set_shots(player, 5), WM_OK);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  wm_case_reset(player);
  give_all(player, toe_cut);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(wm_case_write(player, WM_ANSWER, WM_JSON, collect, &reused), WM_OK);
  assert_string_equal(reused.bytes, fresh.bytes);
  wm_case_free(player);
  wm_kb_free(kb);
}

/* ---- words ---- */

static void wm_case_write__hands_on_a_failing_write(void **state) {
  (void)state;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(wm_case_write(player, WM_ANSWER, WM_TEXT, refuse, NULL), WM_INTERNAL);
  assert_int_equal(wm_case_write(player, WM_ANSWER, WM_TEXT, NULL, NULL), WM_USAGE);
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_explain__refuses_unknown_names_and_odd_pairs(void **state) {
  (void)state;
  static struct output output;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  output.n = 0;
  give_all(player, toe_cut);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(
      wm_case_explain(player, WM_WHY, "stepe_shaft", NULL, WM_TEXT, collect, &output, NULL),
      WM_INPUT_FAULTY);
  assert_int_equal(
      wm_case_contrast(player, "steep_shaft", NULL, "gate", NULL, WM_TEXT, collect, &output, NULL),
      WM_INPUT_FAULTY);
  assert_int_equal(
      wm_case_contrast(player, "path", NULL, "face", NULL, WM_TEXT, collect, &output, NULL),
      WM_INPUT_FAULTY);
  assert_int_equal(output.n, 0);
  assert_int_equal(
      wm_case_explain(player, WM_WHY, "steep_shaft", NULL, WM_TEXT, collect, &output, NULL), WM_OK);
  assert_non_null(strstr(output.bytes, "cut-on-the-toe"));
  wm_case_free(player);
  wm_kb_free(kb);
}

static void wm_case_what_if__leaves_the_case_as_it_was(void **state) {
  (void)state;
  static const char *const changes[] = {"path=0", "strike="};
  static const char *const faulty[] = {"pth=0"};
  static struct output before, after, change;
  wm_kb *kb = load_small(NULL);
  wm_case *player = new_case(kb);
  before.n = after.n = change.n = 0;
  give_all(player, toe_cut);
  assert_int_equal(wm_case_run(player, NULL), WM_OK);
  assert_int_equal(wm_case_write(player, WM_ANSWER, WM_JSON, collect, &before), WM_OK);
  assert_int_equal(wm_case_what_if(player, changes, NULL, 2, WM_TEXT, collect, &change, NULL),
                   WM_OK);
  assert_true(change.n > 0);
  assert_int_equal(wm_case_what_if(player, faulty, NULL, 1, WM_TEXT, collect, &change, NULL),
                   WM_INPUT_FAULTY);
  assert_int_equal(wm_case_write(player, WM_ANSWER, WM_JSON, collect, &after), WM_OK);
  assert_string_equal(before.bytes, after.bytes);
  wm_case_free(player);
  wm_kb_free(kb);
}

/* ---- wrong calls ---- */

static void null_arguments__are_refused(void **state) {
  (void)state;
  wm_kb *kb = NULL;
  wm_case *player = NULL;
  assert_int_equal(wm_kb_load(NULL, small, 1, NULL, NULL), WM_USAGE);
  assert_int_equal(wm_kb_load_memory(&kb, NULL, 1, NULL, NULL), WM_USAGE);
  assert_null(kb);
  assert_int_equal(wm_case_new(&player, NULL, NULL), WM_USAGE);
  assert_int_equal(wm_case_give(NULL, "path=1", NULL, NULL), WM_USAGE);
  assert_int_equal(wm_case_run(NULL, NULL), WM_USAGE);
  assert_int_equal(wm_diags_count(NULL), 0);
  wm_diags_free(NULL);
  wm_case_free(NULL);
  wm_kb_free(NULL);
}

/* ---- threads ---- */

#define THREADS 4

struct worker {
  const wm_kb *kb;
  struct output output;
};

static void *work(void *context) {
  struct worker *worker = context;
  for (int round = 0; round < 20; round++) {
    wm_case *player = NULL;
    worker->output.n = 0;
    if (wm_case_new(&player, worker->kb, NULL) != WM_OK) return NULL;
    for (const char *const *text = toe_cut; *text; text++) wm_case_give(player, *text, NULL, NULL);
    wm_case_run(player, NULL);
    wm_case_write(player, WM_ANSWER, WM_JSON, collect, &worker->output);
    wm_case_free(player);
  }
  return worker;
}

static void one_kb__serves_many_threads(void **state) {
  (void)state;
  static struct worker workers[THREADS];
  pthread_t threads[THREADS];
  wm_kb *kb = load_small(NULL);
  for (size_t i = 0; i < THREADS; i++) {
    workers[i].kb = kb;
    assert_int_equal(pthread_create(&threads[i], NULL, work, &workers[i]), 0);
  }
  for (size_t i = 0; i < THREADS; i++) {
    void *done = NULL;
    assert_int_equal(pthread_join(threads[i], &done), 0);
    assert_ptr_equal(done, &workers[i]);
    assert_string_equal(workers[i].output.bytes, workers[0].output.bytes);
  }
  assert_non_null(strstr(workers[0].output.bytes, "\"leading\": \"steep_shaft\""));
  wm_kb_free(kb);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(wm_kb_load__counts_what_it_read),
      cmocka_unit_test(wm_kb_load__of_a_missing_directory_says_which),
      cmocka_unit_test(wm_kb_load_memory__faults_outlive_the_bytes),
      cmocka_unit_test(wm_kb_load__after_an_earlier_fault_in_the_same_list_succeeds),
      cmocka_unit_test(wm_kb_override__lists_what_a_layer_replaces),
      cmocka_unit_test(wm_kb_check__finds_what_nothing_reads),
      cmocka_unit_test(wm_kb_show__of_an_unknown_name_writes_nothing),
      cmocka_unit_test(wm_case_give__tells_each_fault_at_its_place),
      cmocka_unit_test(wm_case_give__understands_units_errors_and_other_names),
      cmocka_unit_test(wm_case_give_number__is_as_good_as_text),
      cmocka_unit_test(wm_case_give_number__refuses_what_text_would_refuse),
      cmocka_unit_test(wm_case_set_shots__makes_a_number_a_tendency),
      cmocka_unit_test(wm_case_load_memory__gives_hand_and_evidence),
      cmocka_unit_test(wm_case_load_memory__refuses_what_is_not_one_case),
      cmocka_unit_test(wm_case_load_worked__finds_it_by_name),
      cmocka_unit_test(results__before_the_run_are_null),
      cmocka_unit_test(wm_case_contributions__add_up_to_the_certainty),
      cmocka_unit_test(wm_case_firings__tell_what_is_lacking),
      cmocka_unit_test(wm_case_drills__say_which_is_chosen_and_which_removed),
      cmocka_unit_test(wm_case_drills__are_not_chosen_under_a_red_flag),
      cmocka_unit_test(wm_case_set_hand__mirrors),
      cmocka_unit_test(wm_case_reset__leaves_nothing_behind),
      cmocka_unit_test(wm_case_write__hands_on_a_failing_write),
      cmocka_unit_test(wm_case_explain__refuses_unknown_names_and_odd_pairs),
      cmocka_unit_test(wm_case_what_if__leaves_the_case_as_it_was),
      cmocka_unit_test(null_arguments__are_refused),
      cmocka_unit_test(one_kb__serves_many_threads),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
