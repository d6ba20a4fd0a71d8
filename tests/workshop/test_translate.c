#include "support/cases.h"
#include "workshop/shop.h"

#include "workshop/translate.h"

/* The shop's evidence in other units, with words in another order, and less of it. */
static const char other[] =
    "- evidence: path\n  title: path\n  about: in radians\n  kind: number\n  unit: rad\n"
    "  range: [-1, 1]\n  error: 0.01\n  spread: 0.02\n  sides: [left, right]\n  ask: How much?\n"
    "  effort: measure\n  source: practice\n"
    "- evidence: face\n  title: face\n  about: a word here\n  kind: choice\n"
    "  values: {open: open, closed: closed}\n  ask: Which?\n  effort: look\n  source: practice\n"
    "- evidence: lie\n  title: lie\n  about: the lie\n  kind: choice\n"
    "  values: {tee: tee, fairway: fairway}\n  ask: What lie?\n  effort: know\n  source: practice\n"
    "- cause: steep\n  title: a cause\n  about: a cause\n  area: downswing\n  source: practice\n";

struct fixture {
  struct knowledge from, to;
  struct translation translation;
};

static void start(struct fixture *fixture, const char *cases) {
  shop_load(&fixture->from, cases);
  assert_true(knowledge_load_text(&fixture->to, other));
  assert_true(translation_make(&fixture->translation, fixture->from.arena, fixture->from.model,
                               fixture->to.model));
}

static void end(struct fixture *fixture) {
  knowledge_free(&fixture->from);
  knowledge_free(&fixture->to);
}

static void translate_case__carries_what_both_know(void **state) {
  struct fixture fixture;
  struct worked_case there;
  bool impossible;
  (void)state;
  start(&fixture, CASE("cut", "path: -6, face: 1, lie: fairway, sticks: yes", "leading: steep"));
  assert_true(translate_case(fixture.from.arena, &fixture.translation,
                             shop_case(&fixture.from, "cut"), &there, &impossible));
  assert_false(impossible);
  assert_int_equal(there.n_values, 2); /* face is a word there, sticks are not known */
  assert_int_equal(there.leading, shop_claim(&fixture.to, "steep"));
  for (size_t i = 0; i < there.n_values; i++) {
    const struct evidence *evidence = &fixture.to.model->evidence[there.values[i].evidence];
    if (strcmp(evidence->name, "path") == 0) {
      assert_float_equal(there.values[i].number, -0.1047198, 1e-6);
      assert_float_equal(there.values[i].error, 0.0174533, 1e-6);
    } else {
      assert_string_equal(evidence->name, "lie");
      assert_string_equal(evidence->choices[there.values[i].choice].name, "fairway");
    }
  }
  end(&fixture);
}

static void translate_case__tells_what_cannot_be_expected(void **state) {
  static const struct {
    const char *expect;
    bool impossible;
  } rows[] = {
      {"leading: none, drill: none", false}, {"leading: aims_left", true},
      {"leading: steep, drill: gate", true}, {"believed: [path_left]", true},
      {"not_believed: [path_left]", false},  {"", false},
  };
  (void)state;
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    struct fixture fixture;
    struct worked_case there;
    char text[256];
    bool impossible;
    snprintf(text, sizeof text, "- case: c\n  evidence: {lie: rough}\n  expect: {%s}\n",
             rows[i].expect);
    start(&fixture, text);
    assert_true(translate_case(fixture.from.arena, &fixture.translation,
                               shop_case(&fixture.from, "c"), &there, &impossible));
    assert_int_equal(impossible, rows[i].impossible);
    assert_int_equal(there.n_values, 0); /* the other lie has no rough */
    end(&fixture);
  }
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(translate_case__carries_what_both_know),
      cmocka_unit_test(translate_case__tells_what_cannot_be_expected),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
