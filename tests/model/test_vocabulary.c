/* Evidence, clubs, sources, findings and causes as the model holds them. */
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

static void evidence__a_number_in_full(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial,
        "- evidence: path\n  title: club path\n  about: to the {right} +\n  kind: number\n"
        "  unit: deg\n  range: [-20, 20.5]\n  error: 1.5\n  spread: 2\n  decimals: 2\n"
        "  sides: [left, right]\n  words: {left: -4 +/- 2, square: 0}\n  also: [club_path]\n"
        "  formula:\n    - face - face_to_path\n    - {is: face, error: 3}\n"
        "  ask: Which way?\n  effort: video\n  source: memory\n",
        NUMBER("face"), NUMBER("face_to_path"));
  size_t index = trial_evidence(&trial, "club_path");
  const struct evidence *path = &trial.model->evidence[index];
  assert_string_equal(path->name, "path");
  assert_string_equal(path->title, "club path");
  assert_int_equal(path->about.n, 3);
  assert_int_equal(path->kind, EVIDENCE_NUMBER);
  assert_string_equal(path->unit->name, "deg");
  assert_near(path->low, -20, 0);
  assert_near(path->high, 20.5, 0);
  assert_near(path->error, 1.5, 0);
  assert_near(path->spread, 2, 0);
  assert_int_equal(path->decimals, 2);
  assert_true(path->mirrored);
  assert_string_equal(path->minus, "left");
  assert_int_equal(path->n_words, 2);
  assert_true(path->words[0].sided);
  assert_false(path->words[1].sided);
  assert_int_equal(path->n_formulas, 2);
  assert_near(path->formulas[1]->error, 3, 0);
  assert_int_equal(path->effort, EFFORT_VIDEO);
  assert_int_equal(path->source.kind, SOURCE_MEMORY);
  assert_int_equal(path->at.line, 1);
  assert_int_equal(path->at.column, 13);
  trial_close(&trial);
}

static void evidence__sides_that_are_not_left_and_right_are_not_mirrored(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, NUMBER("strike") "  sides: [heel side, toe side]\n",
        NUMBER("odd") "  sides: [right, left]\n", MIRRORED("path"), NUMBER("plain"));
  assert_false(trial.model->evidence[trial_evidence(&trial, "strike")].mirrored);
  assert_false(trial.model->evidence[trial_evidence(&trial, "odd")].mirrored);
  assert_true(trial.model->evidence[trial_evidence(&trial, "path")].mirrored);
  const struct evidence *plain = &trial.model->evidence[trial_evidence(&trial, "plain")];
  assert_null(plain->minus);
  assert_int_equal(plain->decimals, 1); /* the default */
  trial_close(&trial);
}

static void evidence__choices_know_their_mirror_image(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, CHOICE("aim", "left: a, far_left: b, flat: c, far_right: d, right: e, lefty: f"));
  const struct choice *choices = trial.model->evidence[0].choices;
  assert_int_equal(choices[0].mirror, 4);
  assert_int_equal(choices[1].mirror, 3);
  assert_int_equal(choices[2].mirror, 2);
  assert_int_equal(choices[3].mirror, 1);
  assert_int_equal(choices[5].mirror, 5); /* not the whole word */
  trial_close(&trial);
}

static void evidence__yes_no_and_club_have_their_choices(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("pain"), CLUB_EVIDENCE("club"), SEVEN_IRON);
  const struct evidence *pain = &trial.model->evidence[trial_evidence(&trial, "pain")];
  assert_int_equal(pain->n_choices, 2);
  assert_string_equal(pain->choices[0].name, "no");
  assert_string_equal(pain->choices[1].name, "yes");
  assert_true(trial.model->club_evidence == trial_evidence(&trial, "club"));
  const struct evidence *club = &trial.model->evidence[trial.model->club_evidence];
  assert_int_equal(club->n_choices, 1);
  assert_string_equal(club->choices[0].name, "7i");
  trial_close(&trial);
}

static void clubs__are_held_in_metres_degrees_and_grams(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, SEVEN_IRON);
  const struct club *club = &trial.model->clubs[0];
  assert_string_equal(club->title, "7 iron");
  assert_string_equal(club->family, "iron");
  assert_near(club->loft, 33, 0);
  assert_near(club->length, 0.9398, 1e-15); /* 37 in */
  assert_near(club->lie, 62.5, 0);
  assert_near(club->head_mass, 268, 1e-12);
  trial_close(&trial);
}

static void claims__findings_then_causes_then_drills_each_by_name(void **state) {
  static const char *const order[] = {"f1", "f2", "c1", "c2", "d1", "d2"};
  struct trial trial;
  (void)state;
  TRIAL(&trial, DRILL("d2", "body", "c1: 0.5"), CAUSE("c2"), FINDING("f2"), CAUSE("c1"),
        FINDING("f1"), DRILL("d1", "external", "c2: 0.5"));
  assert_int_equal(trial.model->n_claims, 6);
  assert_int_equal(trial.model->first_cause, 2);
  assert_int_equal(trial.model->first_drill, 4);
  for (size_t i = 0; i < 6; i++) {
    assert_string_equal(trial.model->claims[i].name, order[i]);
    assert_true(model_find_claim(trial.model, order[i]) == i);
    assert_true((trial.model->claims[i].drill != NULL) == (i >= 4));
  }
  trial_close(&trial);
}

static void findings__red_flag_and_good(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, FINDING("hurts") "  red_flag: Stop and see a doctor.\n",
        FINDING("sound") "  good: yes\n");
  assert_int_equal(trial.model->claims[0].red_flag.n, 1);
  assert_false(trial.model->claims[0].good);
  assert_true(trial.model->claims[1].good);
  assert_int_equal(trial.model->claims[1].red_flag.n, 0);
  trial_close(&trial);
}

static void sources__are_found_by_key(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, "- source: some-1999\n  title: Some paper\n  status: 2nd\n  about: what is taken\n",
        "- cause: c\n  title: x\n  about: x\n  area: grip\n  source: some-1999\n", FINDING("f"));
  const struct claim *cause = &trial.model->claims[trial_claim(&trial, "c")];
  assert_int_equal(cause->source.kind, SOURCE_PUBLISHED);
  assert_string_equal(source_word(trial.model, cause->source), "some-1999");
  assert_string_equal(trial.model->references[0].status, "2nd");
  assert_string_equal(source_word(trial.model, trial.model->claims[0].source), "no source");
  trial_close(&trial);
}

/* An entry's own name stands for it whatever another calls itself besides. */
static void names__other_names_never_hide_an_own_name(void **state) {
  struct arena *arena = arena_new(NULL);
  (void)state;
  const char *told = FAULTS(arena, NUMBER("a") "  also: [b]\n", NUMBER("b"));
  assert_non_null(strstr(told, "the name 'b' is taken by evidence 'b'"));
  told = FAULTS(arena, NUMBER("a") "  also: [f]\n", FINDING("f"));
  assert_non_null(strstr(told, "the name 'f' is taken by finding 'f'"));
  arena_free(arena);
}

static void from_club__needs_a_fitting_kind_and_unit(void **state) {
  struct arena *arena = arena_new(NULL);
  (void)state;
  const char *told = FAULTS(arena, NUMBER("loft") "  from_club: head_mass\n");
  assert_non_null(strstr(told, "unit 'deg' does not fit 'loft'; use g, kg"));
  told = FAULTS(arena, NUMBER("loft") "  from_club: family\n");
  assert_non_null(strstr(told, "[wrong-kind]"));
  told = FAULTS(arena, CHOICE("loft", "a: a") "  from_club: loft\n");
  assert_non_null(strstr(told, "[wrong-kind]"));
  arena_free(arena);
}

static void model_read__an_empty_knowledge_base_is_one(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, "# nothing yet\n");
  assert_int_equal(trial.model->n_evidence, 0);
  assert_int_equal(trial.model->n_claims, 0);
  trial_chain(&trial);
  assert_true(run_leading(trial.run) == NO_INDEX);
  trial_close(&trial);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(evidence__a_number_in_full),
      cmocka_unit_test(evidence__sides_that_are_not_left_and_right_are_not_mirrored),
      cmocka_unit_test(evidence__choices_know_their_mirror_image),
      cmocka_unit_test(evidence__yes_no_and_club_have_their_choices),
      cmocka_unit_test(clubs__are_held_in_metres_degrees_and_grams),
      cmocka_unit_test(claims__findings_then_causes_then_drills_each_by_name),
      cmocka_unit_test(findings__red_flag_and_good),
      cmocka_unit_test(sources__are_found_by_key),
      cmocka_unit_test(names__other_names_never_hide_an_own_name),
      cmocka_unit_test(from_club__needs_a_fitting_kind_and_unit),
      cmocka_unit_test(model_read__an_empty_knowledge_base_is_one),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
