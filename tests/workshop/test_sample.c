#include <math.h>

#include "support/cases.h"
#include "workshop/shop.h"

#include "workshop/sample.h"

static void sampler_next__is_the_same_for_the_same_seed(void **state) {
  struct knowledge knowledge;
  struct sampler a, b, c;
  size_t n_other = 0;
  (void)state;
  shop_load(&knowledge, "");
  assert_true(sampler_make(&a, knowledge.arena, knowledge.model, 5));
  assert_true(sampler_make(&b, knowledge.arena, knowledge.model, 5));
  assert_true(sampler_make(&c, knowledge.arena, knowledge.model, 6));
  for (int i = 0; i < 200; i++) {
    sampler_next(&a);
    sampler_next(&b);
    sampler_next(&c);
    assert_int_equal(a.n, b.n);
    for (size_t k = 0; k < a.n; k++) {
      assert_int_equal(a.values[k].evidence, b.values[k].evidence);
      assert_true(a.values[k].number == b.values[k].number);
      assert_int_equal(a.values[k].choice, b.values[k].choice);
    }
    n_other += a.n != c.n || (a.n > 0 && a.values[0].number != c.values[0].number);
  }
  assert_true(n_other > 100);
  knowledge_free(&knowledge);
}

static void check_values(const struct knowledge *knowledge, const struct sampler *sampler) {
  for (size_t i = 0; i < sampler->n; i++) {
    const struct value *value = &sampler->values[i];
    const struct evidence *evidence = &knowledge->model->evidence[value->evidence];
    if (i > 0) assert_true(sampler->values[i - 1].evidence < value->evidence);
    assert_int_equal(value->shots, 1);
    if (evidence->kind == EVIDENCE_NUMBER)
      assert_true(value->number >= evidence->low && value->number <= evidence->high);
    else assert_true(value->choice < evidence->n_choices);
  }
}

static void sampler_next__gives_plausible_values_of_all_kits(void **state) {
  struct knowledge knowledge;
  struct sampler sampler;
  size_t n_path = 0, n_lie = 0, regions[REGIONS] = {0};
  (void)state;
  shop_load(&knowledge, "");
  assert_true(sampler_make(&sampler, knowledge.arena, knowledge.model, 1));
  assert_true(sampler_is_fit(&sampler));
  for (int i = 0; i < 2000; i++) {
    sampler_next(&sampler);
    check_values(&knowledge, &sampler);
    n_path += sampler.given[model_find_evidence(knowledge.model, "path")];
    n_lie += sampler.given[model_find_evidence(knowledge.model, "lie")];
    regions[region_index(sampler.region)]++;
  }
  assert_true(n_path > 800 && n_path < 1200); /* two kits of four have it */
  assert_true(n_lie > 60 && n_lie < 200);     /* now and then */
  for (size_t i = 0; i < REGIONS; i++) assert_true(regions[i] > 0);
  knowledge_free(&knowledge);
}

static void sampler_is_fit__asks_for_one_number_of_an_impact(void **state) {
  struct knowledge knowledge;
  struct sampler sampler;
  (void)state;
  assert_true(knowledge_load_text(
      &knowledge, "- evidence: humour\n  title: humour\n  about: none\n  kind: yes_no\n"
                  "  ask: Well?\n  effort: know\n  source: practice\n"));
  assert_true(sampler_make(&sampler, knowledge.arena, knowledge.model, 1));
  assert_false(sampler_is_fit(&sampler));
  sampler_next(&sampler); /* harmless all the same */
  knowledge_free(&knowledge);
}

static void region_at__undoes_region_index(void **state) {
  (void)state;
  for (size_t i = 0; i < REGIONS; i++) assert_int_equal(region_index(region_at(i)), i);
  struct region region = {0, 2, 2};
  assert_string_equal(region_path_words(region), "path left");
  assert_string_equal(region_face_words(region), "face open to it");
  assert_string_equal(region_strike_words(region), "struck on the toe");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(sampler_next__is_the_same_for_the_same_seed),
      cmocka_unit_test(sampler_next__gives_plausible_values_of_all_kits),
      cmocka_unit_test(sampler_is_fit__asks_for_one_number_of_an_impact),
      cmocka_unit_test(region_at__undoes_region_index),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
