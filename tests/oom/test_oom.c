/* Memory that runs out at each taking in turn, once and for good, in scenes of a program's life
 * through the public header alone: no crash, no leak, WM_INTERNAL, and what was there before is as
 * it was. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "whymiss.h"

/* ---- what is loaded ---- */

/* Every kind of entry, every kind of evidence and every kind of condition. */
static const char vocabulary[] =
    "- source: some-1999\n  title: Some paper\n  status: 2nd\n  about: x\n"
    "- club: 7i\n  title: 7 iron\n  also: [iron7]\n  family: iron\n  loft: 33 deg\n"
    "  length: 37 in\n  lie: 62.5 deg\n  head_mass: 268 g\n  source: practice\n"
    "- evidence: club\n  title: club\n  about: x\n  kind: club\n  ask: Which?\n  effort: know\n"
    "- evidence: loft\n  title: loft\n  about: x\n  kind: number\n  unit: deg\n  range: [0, 70]\n"
    "  error: 1\n  spread: 1\n  from_club: loft\n"
    "- evidence: path\n  title: club path\n  about: to the {left}\n  kind: number\n  unit: deg\n"
    "  range: [-20, 20]\n  error: 1\n  spread: 2\n  sides: [left, right]\n"
    "  words: {left: -4 +/- 2, slice: 5}\n  also: [club_path]\n  formula: face - face_to_path\n"
    "  ask: Where?\n  effort: measure\n  source: some-1999\n"
    "- evidence: face\n  title: face\n  about: x\n  kind: number\n  unit: deg\n"
    "  range: [-20, 20]\n  error: 1\n  spread: 2\n  sides: [left, right]\n  ask: x\n"
    "  effort: measure\n"
    "- evidence: face_to_path\n  title: face to path\n  about: x\n  kind: number\n  unit: deg\n"
    "  range: [-30, 30]\n  error: 1\n  spread: 2\n  formula: {is: face - path, error: 0.1}\n";
static const char vocabulary_2[] =
    "- evidence: lie\n  title: lie\n  about: x\n  kind: choice\n"
    "  values: {flat: flat, slope_left: \"to the {left}\", slope_right: b}\n  ask: x\n  effort: know\n"
    "- evidence: pain\n  title: pain\n  about: x\n  kind: yes_no\n  ask: x\n  effort: know\n"
    "- evidence: words\n  title: words\n  about: x\n  kind: text\n  ask: x\n  effort: know\n"
    "- finding: path_left\n  title: it goes {left}\n  about: it goes {left}\n"
    "- finding: hurts\n  title: it hurts\n  about: x\n  red_flag: Stop.\n"
    "- cause: steep\n  title: steep\n  about: steep\n  area: downswing\n  tell_apart: x\n"
    "- cause: aim\n  title: aim\n  about: aim\n  area: aim\n"
    "- drill: gate\n  title: gate\n  task: external\n  changes: {steep: 0.7, aim: 0.2}\n"
    "  aim: to the {right}\n  setup: Lay a ball.\n"
    "  objects: [{object: ball, ahead: -20 cm, out: 12 cm}]\n  dose: Ten.\n"
    "  works: {path: {above: -2}, hits: 3, of: 5, seen: straight}\n"
    "  drop: {shots: 10, when: x}\n  needs: {none: [{lie: slope_left}]}\n"
    "  cautions: [Mind your head.]\n  spoils: x\n  fallback: x\n"
    "- drill: line\n  title: line\n  task: body\n  changes: {aim: 0.7}\n  aim: x\n  setup: x\n"
    "  dose: x\n  works: {hits: 3, of: 5, seen: x}\n  drop: {shots: 10, when: x}\n  cautions: [x]\n";
static const char rules[] =
    "- rule: left\n  when: {path: {below: -2}}\n  then: {path_left: 0.8}\n"
    "  because: It goes {path}.\n  learner: x\n  kind: geometry\n  group: g\n"
    "- rule: left-2\n  when: {formula: face > path}\n  then: {path_left: 0.5}\n  because: x\n"
    "  kind: geometry\n  group: g\n"
    "- rule: steep\n  when: {all: [{path_left: believed}, {none: [{pain: yes}]}]}\n"
    "  then: {steep: 0.8, aim: -0.2}\n  because: x\n  kind: experience\n"
    "- rule: aimed\n  when: {any: [{lie: slope_right}, {words: {matches: \"pull(ed|ing)\"}}]}\n"
    "  then: {aim: 0.6, line: 0.2}\n  because: x\n  kind: experience\n"
    "- rule: hurts\n  when: {pain: yes}\n  then: {hurts: 0.9}\n  because: x\n  kind: convention\n"
    "- rule: not-flat\n  when: {lie: {one_of: [slope_left, slope_right]}}\n  removes: [gate]\n"
    "  because: x\n  kind: convention\n"
    "- case: cut\n  handed: left\n  shots: 3\n"
    "  evidence: {path: 5 +/- 2, lie: {value: flat, sure: 0.9}}\n"
    "  expect: {leading: steep, drill: gate, believed: [path_left]}\n  because: x\n";
static const char overlay[] =
    "- rule: aimed\n  replaces: aimed\n  when: {lie: slope_right}\n  then: {aim: 0.5}\n"
    "  because: x\n  kind: experience\n";
static const char faulty[] =
    "- finding: path_lefft\n  titel: x\n  about: to the left {pathh}\n"
    "- rule: r\n  when: {all: [{path: {below: 5 mph}}, {formula: fase > 2}, {lie: flatt},\n"
    "    {words: {matches: \"(\"}}]}\n  then: {stepp: strongg}\n  kind: geometri\n"
    "- case: c\n  evidence: {path: 99, lie: steep}\n  expect: {leading: gate}\n"
    "- rul: x\n";
static const char case_file[] =
    "- case: one\n  handed: left\n  evidence:\n    club: iron7\n    path: 5 +/- 1 deg\n"
    "    lie: flat\n    words: I always pulled it\n";

#define FILE_OF(text, layer)                                                                       \
  { #text ".yaml", text, sizeof text - 1, layer }

static const struct wm_file good_files[] = {FILE_OF(vocabulary, 0), FILE_OF(vocabulary_2, 0),
                                            FILE_OF(rules, 0), FILE_OF(overlay, 1)};
static const struct wm_file faulty_files[] = {FILE_OF(vocabulary, 0), FILE_OF(vocabulary_2, 0),
                                              FILE_OF(faulty, 0)};

/* ---- scenes ---- */

struct stage {
  const wm_kb *kb; /* loaded with memory enough */
  const struct wm_allocator *allocator;
  size_t written;
  bool told; /* [no-memory] was among it */
};

static int count_bytes(void *context, const char *bytes, size_t n) {
  struct stage *stage = context;
  stage->written += n;
  stage->told = stage->told || strstr(bytes, "[no-memory]") != NULL;
  return bytes == NULL;
}

static enum wm_status load_scene(struct stage *stage, const struct wm_file *files, size_t n) {
  wm_diags *diags = wm_diags_new(stage->allocator);
  if (!diags) return WM_INTERNAL;
  wm_kb *kb = NULL;
  enum wm_status status = wm_kb_load_memory(&kb, files, n, stage->allocator, diags);
  assert_true((kb != NULL) == (status == WM_OK));
  enum wm_status wrote = wm_diags_write(diags, count_bytes, stage);
  if (wrote == WM_OK) assert_int_equal(stage->told, status == WM_INTERNAL);
  else status = wrote;
  wm_kb_free(kb);
  wm_diags_free(diags);
  return status;
}

static enum wm_status load_good(struct stage *stage) {
  return load_scene(stage, good_files, COUNT_OF(good_files));
}

static enum wm_status load_faulty(struct stage *stage) {
  return load_scene(stage, faulty_files, COUNT_OF(faulty_files));
}

/* A case with evidence of every kind, run; the first failure ends it. */
static enum wm_status make_case(struct stage *stage, wm_case **player) {
  static const char *const texts[] = {"club=7i", "club_path=left", "face=1 deg +/- 0.5",
                                      "lie=slope_right", "words=it pulled again"};
  enum wm_status status = wm_case_new(player, stage->kb, stage->allocator);
  for (size_t i = 0; status == WM_OK && i < COUNT_OF(texts); i++)
    status = wm_case_give(*player, texts[i], "argument", NULL);
  if (status == WM_OK) status = wm_case_run(*player, NULL);
  return status;
}

static enum wm_status walk_results(struct stage *stage) {
  wm_case *player = NULL;
  size_t n;
  enum wm_status status = make_case(stage, &player);
  if (status == WM_OK &&
      !(wm_case_readings(player, &n) && wm_case_findings(player, &n) &&
        wm_case_causes(player, &n) && wm_case_drills(player, &n) && wm_case_firings(player, &n) &&
        wm_case_contributions(player, &n) && wm_case_checks(player, &n)))
    status = WM_INTERNAL;
  wm_case_free(player);
  return status;
}

static enum wm_status write_views(struct stage *stage) {
  static const enum wm_view views[] = {WM_ANSWER, WM_BRIEF, WM_STEPS, WM_ALL_STEPS};
  static const enum wm_format formats[] = {WM_TEXT, WM_EMPHASIS, WM_JSON};
  wm_case *player = NULL;
  enum wm_status status = make_case(stage, &player);
  for (size_t i = 0; i < COUNT_OF(views); i++)
    for (size_t k = 0; status == WM_OK && k < COUNT_OF(formats); k++)
      status = wm_case_write(player, views[i], formats[k], count_bytes, stage);
  wm_case_free(player);
  return status;
}

static enum wm_status explain(struct stage *stage, wm_case *player) {
  static const char *const names[] = {"path", "face_to_path", "path_left", "steep",
                                      "line", "aimed",        "hurts"};
  enum wm_status status = WM_OK;
  for (size_t i = 0; i < COUNT_OF(names); i++)
    for (int format = WM_TEXT; status == WM_OK && format <= WM_JSON; format += WM_JSON) {
      status = wm_case_explain(player, WM_WHY, names[i], NULL, (enum wm_format)format, count_bytes,
                               stage, NULL);
      if (status == WM_OK)
        status = wm_case_explain(player, WM_WHY_NOT, names[i], NULL, (enum wm_format)format,
                                 count_bytes, stage, NULL);
    }
  return status;
}

static enum wm_status explain_names(struct stage *stage) {
  wm_case *player = NULL;
  enum wm_status status = make_case(stage, &player);
  if (status == WM_OK) status = explain(stage, player);
  wm_case_free(player);
  return status;
}

static enum wm_status contrast_and_what_if(struct stage *stage) {
  static const char *const changes[] = {"path=3", "lie="};
  wm_case *player = NULL;
  enum wm_status status = make_case(stage, &player);
  for (int format = WM_TEXT; format <= WM_JSON; format += WM_JSON) {
    enum wm_format in = (enum wm_format)format;
    if (status == WM_OK)
      status = wm_case_contrast(player, "steep", NULL, "aim", NULL, in, count_bytes, stage, NULL);
    if (status == WM_OK)
      status = wm_case_contrast(player, "gate", NULL, "line", NULL, in, count_bytes, stage, NULL);
    if (status == WM_OK)
      status = wm_case_what_if(player, changes, NULL, 2, in, count_bytes, stage, NULL);
  }
  wm_case_free(player);
  return status;
}

/* Faults of evidence, told in a list whose memory may end too. */
static enum wm_status give_faulty(struct stage *stage) {
  static const char *const texts[] = {"pathh=1",   "path=5 mph", "path=99",
                                      "lie=flatt", "path",       "pain=perhaps"};
  wm_case *player = NULL;
  wm_diags *diags = wm_diags_new(stage->allocator);
  enum wm_status status = diags ? wm_case_new(&player, stage->kb, stage->allocator) : WM_INTERNAL;
  for (size_t i = 0; status != WM_INTERNAL && i < COUNT_OF(texts); i++) {
    status = wm_case_give(player, texts[i], "argument", diags);
    assert_true(status == WM_INTERNAL || status == WM_INPUT_FAULTY);
  }
  if (status == WM_INPUT_FAULTY && wm_diags_write(diags, count_bytes, stage) != WM_OK)
    status = WM_INTERNAL;
  wm_case_free(player);
  wm_diags_free(diags);
  return status;
}

static enum wm_status give_otherwise(struct stage *stage) {
  wm_case *player = NULL;
  enum wm_status status = wm_case_new(&player, stage->kb, stage->allocator);
  if (status == WM_OK) status = wm_case_read_hand(player, "left", NULL, NULL);
  if (status == WM_OK) status = wm_case_read_shots(player, "5", NULL, NULL);
  if (status == WM_OK) status = wm_case_give_number(player, "path", 5, -1, 0, NULL);
  if (status == WM_OK) status = wm_case_give_choice(player, "lie", "flat", 0.8, NULL);
  if (status == WM_OK) status = wm_case_give_text(player, "words", "it pulled", NULL);
  if (status == WM_OK) status = wm_case_take_back(player, "lie", NULL);
  if (status == WM_OK) status = wm_case_run(player, NULL);
  if (status == WM_OK) status = wm_case_write(player, WM_ANSWER, WM_TEXT, count_bytes, stage);
  wm_case_free(player);
  return status;
}

static enum wm_status load_cases(struct stage *stage) {
  wm_case *player = NULL;
  enum wm_status status = wm_case_new(&player, stage->kb, stage->allocator);
  if (status == WM_OK)
    status = wm_case_load_memory(player, "case.yaml", case_file, sizeof case_file - 1, NULL);
  if (status == WM_OK) status = wm_case_run(player, NULL);
  if (status == WM_OK) {
    wm_case_reset(player);
    status = wm_case_load_worked(player, "cut", NULL, NULL);
  }
  if (status == WM_OK) status = wm_case_run(player, NULL);
  if (status == WM_OK) status = wm_case_write(player, WM_BRIEF, WM_TEXT, count_bytes, stage);
  wm_case_free(player);
  return status;
}

/* ---- letting memory run out ---- */

static wm_kb *kb;

static int load_kb(void **state) {
  (void)state;
  wm_diags *diags = wm_diags_new(NULL);
  enum wm_status status = wm_kb_load_memory(&kb, good_files, COUNT_OF(good_files), NULL, diags);
  for (size_t i = 0; status != WM_OK && i < wm_diags_count(diags); i++) {
    struct wm_diag diag;
    if (wm_diags_get(diags, i, &diag))
      print_error("# %s:%u %s\n", diag.source, diag.line, diag.message);
  }
  wm_diags_free(diags);
  return status != WM_OK;
}

static int free_kb(void **state) {
  (void)state;
  wm_kb_free(kb);
  return 0;
}

typedef enum wm_status play(struct stage *stage);

/* One playing with the n-th taking failing; true when it was not reached. */
static bool play_with(play *scene, enum wm_status wanted, size_t n, bool for_good) {
  struct failing_allocator failing;
  failing_allocator_init(&failing, n, for_good);
  struct stage stage = {.kb = kb, .allocator = &failing.allocator};
  enum wm_status status = scene(&stage);
  if (failing.bytes != 0) fail_msg("taking %zu failed, and %zu bytes leak", n, failing.bytes);
  if (!failing_allocator_reached(&failing)) {
    assert_int_equal(status, wanted);
    return true;
  }
  if (status != WM_INTERNAL) fail_msg("taking %zu failed, and the status is %d", n, (int)status);
  return false;
}

static void play_until_it_succeeds(play *scene, enum wm_status wanted) {
  uint64_t digest = wm_kb_digest(kb);
  for (int for_good = 0; for_good < 2; for_good++) {
    size_t n = 1;
    while (!play_with(scene, wanted, n, for_good != 0)) n++;
    assert_true(n > 30);
    if (for_good == 0) print_message("# %zu takings\n", n - 1);
  }
  assert_true(wm_kb_digest(kb) == digest);
}

#define SCENE(scene, wanted)                                                                       \
  static void memory_runs_out__##scene(void **state) {                                             \
    (void)state;                                                                                   \
    play_until_it_succeeds(scene, (wanted));                                                       \
  }

SCENE(load_good, WM_OK)
SCENE(load_faulty, WM_KB_FAULTY)
SCENE(walk_results, WM_OK)
SCENE(write_views, WM_OK)
SCENE(explain_names, WM_OK)
SCENE(contrast_and_what_if, WM_OK)
SCENE(give_faulty, WM_INPUT_FAULTY)
SCENE(give_otherwise, WM_OK)
SCENE(load_cases, WM_OK)

/* A case whose run lacked memory runs again once there is some, with the same answer. */
static char answers[2][1 << 16];

static int keep_answer(void *context, const char *bytes, size_t n) {
  char *answer = context;
  size_t held = strlen(answer);
  if (held + n >= sizeof answers[0]) return 1;
  memcpy(answer + held, bytes, n);
  answer[held + n] = '\0';
  return 0;
}

static void memory_runs_out__and_comes_back(void **state) {
  (void)state;
  for (size_t n = 1;; n++) {
    struct failing_allocator failing;
    failing_allocator_init(&failing, 0, false);
    struct stage stage = {.kb = kb, .allocator = &failing.allocator};
    wm_case *player = NULL;
    assert_int_equal(make_case(&stage, &player), WM_OK);
    answers[0][0] = answers[1][0] = '\0';
    wm_case_write(player, WM_ALL_STEPS, WM_TEXT, keep_answer, answers[0]);
    failing.fail_at = failing.calls + n;
    failing.for_good = true;
    enum wm_status status = wm_case_run(player, NULL);
    bool reached = failing_allocator_reached(&failing);
    assert_int_equal(status, reached ? WM_INTERNAL : WM_OK);
    failing.fail_at = 0;
    assert_int_equal(wm_case_run(player, NULL), WM_OK);
    wm_case_write(player, WM_ALL_STEPS, WM_TEXT, keep_answer, answers[1]);
    assert_true(answers[0][0] != '\0');
    assert_string_equal(answers[0], answers[1]);
    wm_case_free(player);
    if (!reached) break;
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(memory_runs_out__load_good),
      cmocka_unit_test(memory_runs_out__load_faulty),
      cmocka_unit_test(memory_runs_out__walk_results),
      cmocka_unit_test(memory_runs_out__write_views),
      cmocka_unit_test(memory_runs_out__explain_names),
      cmocka_unit_test(memory_runs_out__contrast_and_what_if),
      cmocka_unit_test(memory_runs_out__give_faulty),
      cmocka_unit_test(memory_runs_out__give_otherwise),
      cmocka_unit_test(memory_runs_out__load_cases),
      cmocka_unit_test(memory_runs_out__and_comes_back),
  };
  return (cmocka_set_test_filter(getenv("ONLY")), cmocka_run_group_tests(tests, load_kb, free_kb));
}
