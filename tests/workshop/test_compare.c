#include "support/cases.h"
#include "workshop/shop.h"

#include "workshop/compare.h"

struct fixture {
  struct knowledge old, new;
  struct comparison *comparison;
};

/* The shop as it is against the shop with one rule replaced. */
static void start(struct fixture *fixture, const char *old_cases, enum shop_rule replaced,
                  const char *rule, const char *new_cases, size_t samples) {
  shop_load(&fixture->old, old_cases);
  shop_load_with(&fixture->new, replaced, rule, "", new_cases);
  fixture->comparison =
      compare(fixture->new.arena, NULL, fixture->old.network, fixture->new.network, samples, 1);
  assert_non_null(fixture->comparison);
}

static void end(struct fixture *fixture) {
  knowledge_free(&fixture->old);
  knowledge_free(&fixture->new);
}

static const struct compared_case *find(const struct fixture *fixture, const char *name) {
  for (size_t i = 0; i < fixture->comparison->n_cases; i++)
    if (strcmp(fixture->comparison->cases[i].worked->name, name) == 0)
      return &fixture->comparison->cases[i];
  fail_msg("no case '%s'", name);
  return NULL;
}

static void compare__of_the_same_finds_no_difference(void **state) {
  struct fixture fixture;
  (void)state;
  start(&fixture, shop_cases, SHOP_RULES, "", shop_cases, 500);
  const struct comparison *same = fixture.comparison;
  assert_int_equal(same->n_cases, 3);
  assert_int_equal(same->n_of_change[CASE_SAME], 3);
  assert_int_equal(same->n_samples, 500);
  assert_int_equal(same->n_leading + same->n_drill + same->n_standing + same->n_certainty, 0);
  assert_int_equal(same->n_leading_moves + same->n_drill_moves + same->n_standings, 0);
  assert_false(comparison_differs(same));
  end(&fixture);
}

static void compare__tells_better_and_worse(void **state) {
  static const char both[] = CASE("cut", "path: -6, face: 1", "leading: steep, drill: gate")
      CASE("level", "path: -6, face: -8", "leading: aims_left");
  struct fixture fixture;
  (void)state;
  /* A path to the left now speaks for aim, and strongly. */
  start(&fixture, both, R_AIM,
        RULE("aim", "path_left: believed", "then: {aims_left: near_certain, steep: -strong}"), both,
        0);
  const struct compared_case *cut = find(&fixture, "cut"), *level = find(&fixture, "level");
  assert_int_equal(cut->change, CASE_WORSE);
  assert_true(cut->passes[OLD_SIDE] && !cut->passes[NEW_SIDE]);
  assert_string_equal(cut->outcomes[OLD_SIDE].leading, "steep");
  assert_string_equal(cut->outcomes[NEW_SIDE].leading, "aims_left");
  assert_true(cut->has_failing);
  assert_int_equal(cut->failing.kind, EXPECTED_LEADING);
  assert_string_equal(cut->failing_claim, "steep");
  assert_int_equal(level->change, CASE_BETTER);
  assert_null(level->outcomes[OLD_SIDE].leading);
  assert_int_equal(fixture.comparison->n_of_change[CASE_WORSE], 1);
  assert_int_equal(fixture.comparison->n_of_change[CASE_BETTER], 1);
  assert_int_equal(fixture.comparison->n_samples, 0);
  assert_true(comparison_differs(fixture.comparison));
  end(&fixture);
}

static void compare__merges_the_cases_of_both(void **state) {
  struct fixture fixture;
  (void)state;
  start(&fixture,
        CASE("a", "path: 0", "leading: none") CASE("b", "path: 0, face: 0", "drill: none"),
        SHOP_RULES, "",
        CASE("b", "path: -6, face: 1", "leading: steep") CASE("c", "path: 0", "leading: steep"), 0);
  assert_int_equal(fixture.comparison->n_cases, 3);
  const struct compared_case *a = find(&fixture, "a"), *b = find(&fixture, "b"),
                             *c = find(&fixture, "c");
  assert_true(a->on[OLD_SIDE] && !a->on[NEW_SIDE]);
  assert_true(b->on[OLD_SIDE] && b->on[NEW_SIDE]);
  assert_string_equal(b->outcomes[NEW_SIDE].leading, "steep"); /* as the new one has it */
  assert_true(!c->on[OLD_SIDE] && c->on[NEW_SIDE]);
  assert_int_equal(c->change, CASE_SAME); /* it fails on both */
  assert_false(c->passes[OLD_SIDE] || c->passes[NEW_SIDE]);
  end(&fixture);
}

static void compare__counts_moves_and_regions_of_drawn_impacts(void **state) {
  struct fixture fixture;
  size_t n = 0, n_leading = 0, n_moves = 0;
  (void)state;
  start(&fixture, "", R_LEFT, RULE("left", "path: {below: 1}", "then: {path_left: strong}"), "",
        2000);
  const struct comparison *made = fixture.comparison;
  assert_true(made->n_leading > 20);
  for (size_t i = 0; i < REGIONS; i++) {
    n += made->regions[i].n;
    n_leading += made->regions[i].n_leading;
    if (made->regions[i].region.path == 2) assert_int_equal(made->regions[i].n_leading, 0);
  }
  assert_int_equal(n, 2000);
  assert_int_equal(n_leading, made->n_leading);
  assert_int_equal(made->regions[0].region.path, 1); /* straight paths now count as left */
  for (size_t i = 0; i < made->n_leading_moves; i++) n_moves += made->leading_moves[i].n;
  assert_int_equal(n_moves, made->n_leading);
  for (size_t i = 1; i < made->n_leading_moves; i++)
    assert_true(made->leading_moves[i - 1].n >= made->leading_moves[i].n);
  end(&fixture);
}

static void compare__knows_a_cause_of_one_side_alone(void **state) {
  struct fixture fixture;
  (void)state;
  shop_load(&fixture.old, shop_cases);
  shop_load_with(&fixture.new, SHOP_RULES, "",
                 CAUSE("stands_far")
                     RULE("far", "path_left: believed", "then: {stands_far: near_certain}"),
                 shop_cases);
  fixture.comparison =
      compare(fixture.new.arena, NULL, fixture.old.network, fixture.new.network, 300, 3);
  assert_int_equal(find(&fixture, "cut")->change, CASE_WORSE);
  assert_string_equal(find(&fixture, "cut")->outcomes[NEW_SIDE].leading, "stands_far");
  assert_true(fixture.comparison->n_standings > 0);
  assert_true(fixture.comparison->n_leading > 0);
  end(&fixture);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(compare__of_the_same_finds_no_difference),
      cmocka_unit_test(compare__tells_better_and_worse),
      cmocka_unit_test(compare__merges_the_cases_of_both),
      cmocka_unit_test(compare__counts_moves_and_regions_of_drawn_impacts),
      cmocka_unit_test(compare__knows_a_cause_of_one_side_alone),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
