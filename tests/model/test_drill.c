/* Drills as the model holds them. */
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

#define GATE                                                                                       \
  "- drill: gate\n  title: gate of two balls\n  task: external\n"                                  \
  "  changes: {steep: 0.7, aims: 0.95}\n  aim: The path moves to the {right}.\n"                   \
  "  setup: Lay a ball.\n  objects:\n"                                                             \
  "    - {object: ball, ahead: -0.2 m, out: 12 cm}\n"                                              \
  "    - {object: stick, ahead: 20 in, out: -15, angle: 0.5 rad, length: 110 cm, height: 1 m}\n"   \
  "  dose: Ten balls.\n"                                                                           \
  "  works: {path: {above: -2.5}, hits: 3, of: 5, seen: on the line}\n"                            \
  "  drop: {shots: 10, when: it has not moved}\n"                                                  \
  "  needs: {all: [{sticks: yes}, {lie: {one_of: [range, net]}}]}\n"                               \
  "  cautions:\n    - Clear swing space.\n    - Nobody in line.\n"                                 \
  "  spoils: x\n  fallback: y\n  source: practice\n"
#define AROUND                                                                                     \
  NUMBER("path"), YES_NO("sticks"), CHOICE("lie", "range: a, net: b, rough: c"), CAUSE("steep"),   \
      CAUSE("aims"), FINDING("f")

static void drill__in_full(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, AROUND, GATE);
  const struct drill *drill = trial.model->claims[trial_claim(&trial, "gate")].drill;
  assert_true(drill->external);
  assert_int_equal(drill->n_changes, 2);
  assert_true(drill->changes[0].cause == trial_claim(&trial, "aims")); /* sorted */
  assert_near(drill->changes[0].effect, 0.95, 0);
  assert_near(drill->changes[1].effect, 0.7, 0);
  assert_int_equal(drill->aim.n, 3);
  assert_int_equal(drill->hits, 3);
  assert_int_equal(drill->of, 5);
  assert_int_equal(drill->drop_shots, 10);
  assert_string_equal(drill->works->printed, "path above -2.5 deg");
  assert_string_equal(drill->needs->printed, "all(lie one of range, net; sticks is yes)");
  assert_int_equal(drill->n_cautions, 2);
  assert_int_equal(drill->fallback.n, 1);
  trial_close(&trial);
}

static void drill__objects_are_placed_in_centimetres_and_degrees(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, AROUND, GATE);
  const struct drill *drill = trial.model->claims[trial_claim(&trial, "gate")].drill;
  assert_int_equal(drill->n_objects, 2);
  assert_string_equal(drill->objects[0].object, "ball");
  assert_near(drill->objects[0].ahead, -20, 1e-12);
  assert_near(drill->objects[0].out, 12, 0);
  assert_near(drill->objects[0].length, 0, 0);
  assert_near(drill->objects[1].ahead, 50.8, 1e-12);
  assert_near(drill->objects[1].out, -15, 0);
  assert_near(drill->objects[1].angle, 28.64788975654116, 1e-12);
  assert_near(drill->objects[1].height, 100, 1e-12);
  trial_close(&trial);
}

static void drill__may_work_by_what_is_seen_alone(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, CAUSE("steep"), DRILL("line", "body", "steep: 0.5"));
  const struct drill *drill = trial.model->claims[1].drill;
  assert_null(drill->works);
  assert_null(drill->needs);
  assert_false(drill->external);
  assert_int_equal(drill->seen.n, 1);
  trial_close(&trial);
}

/* One fault each, in place of what is right. */
static void assert_fault(const char *line, const char *code) {
  struct arena *arena = arena_new(NULL);
  struct text yaml;
  static const char *const keys[] = {"changes", "works", "drop", "cautions", "task", "needs"};
  static const char *const right[] = {"  changes: {steep: 0.7}\n",
                                      "  works: {hits: 3, of: 5, seen: x}\n",
                                      "  drop: {shots: 10, when: x}\n",
                                      "  cautions: [x]\n",
                                      "  task: body\n",
                                      ""};
  text_init(&yaml, arena);
  text_add(&yaml, "- drill: line\n  title: x\n  aim: x\n  setup: x\n  dose: x\n");
  for (size_t i = 0; i < COUNT_OF(keys); i++)
    if (strncmp(line, keys[i], strlen(keys[i])) != 0) text_add(&yaml, right[i]);
  text_format(&yaml, "  %s\n", line);
  const char *told = FAULTS(arena, AROUND, text_done(&yaml));
  const char *first = strstr(told, "error: ");
  if (strstr(told, code) == NULL || strstr(first + 1, "error: ") != NULL)
    fail_msg("'%s' tells:\n%s", line, told);
  arena_free(arena);
}

static void drill__faults(void **state) {
  (void)state;
  assert_fault("changes: {steep: 0}", "[bad-effect]");
  assert_fault("changes: {steep: 0.96}", "[bad-effect]");
  assert_fault("changes: {steep: -0.5}", "[bad-effect]");
  assert_fault("changes: {steep: 1e999}", "[bad-number]");
  assert_fault("changes: {f: 0.5}", "[wrong-kind]");
  assert_fault("changes: [steep]", "[wrong-shape]");
  assert_fault("works: {hits: 6, of: 5, seen: x}", "[bad-hits]");
  assert_fault("works: {hits: 0, of: 5, seen: x}", "[bad-number]");
  assert_fault("works: {hits: 3, of: 201, seen: x}", "[bad-number]");
  assert_fault("works: {hits: 1e300x, of: 5, seen: x}", "[bad-number]");
  assert_fault("works: {hits: 3, of: 5}", "[missing-key]");
  assert_fault("works: {hits: 3, of: 5, path: {above: 1}, lie: range}", "[wrong-shape]");
  assert_fault("works: {hits: 3, of: 5, pth: {above: 1}}", "[unknown-name]");
  assert_fault("works: {hits: 3, of: 5, path: {is: left}}", "[bad-condition]");
  assert_fault("drop: {shots: 10}", "[missing-key]");
  assert_fault("drop: after ten", "[wrong-shape]");
  assert_fault("cautions: []", "[drill-without-caution]");
  assert_fault("cautions: be careful", "[wrong-shape]");
  assert_fault("task: mind", "[unknown-word]");
  assert_fault("needs: {line: believed}", "[wrong-kind]");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(drill__in_full),
      cmocka_unit_test(drill__objects_are_placed_in_centimetres_and_degrees),
      cmocka_unit_test(drill__may_work_by_what_is_seen_alone),
      cmocka_unit_test(drill__faults),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
