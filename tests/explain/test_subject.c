#include "support/cases.h"

#include "explain/small.h"

static const char *const nothing[] = {NULL};

static void subject_find__finds_each_kind(void **state) {
  static const struct {
    const char *name;
    const char *word;
  } known[] = {{"path", "evidence"},        {"cuts_across", "finding"},
               {"steep", "cause"},          {"gate", "drill"},
               {"soft-ball", "rule"},       {"7i", "club"},
               {"invented-2000", "source"}, {"cut", "case"}};
  struct small small;
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  for (size_t i = 0; i < COUNT_OF(known); i++) {
    struct subject subject = small_subject(&small, known[i].name);
    assert_string_equal(subject_kind_word(small.model, subject), known[i].word);
    assert_string_equal(subject_name(small.model, subject), known[i].name);
    assert_true(subject_span(small.model, subject).line > 0);
  }
  small_end(&small);
}

static void subject_find__takes_a_kind_before_the_name(void **state) {
  struct small small;
  struct subject subject;
  struct span nowhere = {0};
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_int_equal(small_subject(&small, "rule:soft-ball").kind, SUBJECT_RULE);
  assert_false(
      subject_find(small.model, &small.knowledge.diags, nowhere, "rule:path", false, &subject));
  small_end(&small);
}

static void subject_find__names_the_nearest(void **state) {
  struct small small;
  struct subject subject;
  struct diags diags;
  struct span nowhere = {0};
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  diags_init(&diags, small.arena);
  assert_false(subject_find(small.model, &diags, nowhere, "stepe", true, &subject));
  assert_int_equal(diags.errors, 1);
  assert_string_equal(diags.list.at[0].hint, "did you mean 'steep'?");
  small_end(&small);
}

static void subject_find__refuses_in_a_case_what_has_no_part_in_it(void **state) {
  struct small small;
  struct subject subject;
  struct span nowhere = {0};
  (void)state;
  small_start(&small, HAND_RIGHT, nothing);
  assert_false(subject_find(small.model, &small.knowledge.diags, nowhere, "7i", true, &subject));
  assert_true(subject_find(small.model, &small.knowledge.diags, nowhere, "7i", false, &subject));
  small_end(&small);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(subject_find__finds_each_kind),
      cmocka_unit_test(subject_find__takes_a_kind_before_the_name),
      cmocka_unit_test(subject_find__names_the_nearest),
      cmocka_unit_test(subject_find__refuses_in_a_case_what_has_no_part_in_it),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
