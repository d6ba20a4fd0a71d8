/* Every view of every entry of the shipped knowledge, on a few worked cases: nothing crashes, no
 * line is too wide. And every worked case's answer fits one screen. */
#include "support/cases.h"

#include <string.h>

#include "render/answer.h"
#include "render/show.h"
#include "render/steps.h"
#include "render/views.h"
#include "render/why.h"

/* One worked case in so many; all would take too long. */
#define EACH_CASE 20

struct shipped {
  struct knowledge knowledge;
  struct run *run;
};

typedef void (*view)(struct text *, const struct run *, struct subject);

static void show(struct text *out, const struct run *run, struct subject subject) {
  show_text(out, run->network, subject, run->hand);
}

static void check_view(const struct run *run, view one, struct subject subject) {
  struct arena *arena = arena_new(NULL);
  struct text text;
  text_init(&text, arena);
  one(&text, run, subject);
  if (!view_is_tidy(text_done(&text)))
    fail_msg("untidy view of %s", subject_name(run->network->model, subject));
  arena_free(arena);
}

static void check_kind(const struct run *run, enum subject_kind kind, size_t n, bool in_case) {
  for (size_t i = 0; i < n; i++) {
    struct subject subject = {kind, i};
    if (!in_case) {
      check_view(run, show, subject);
      continue;
    }
    check_view(run, why_text, subject);
    check_view(run, whynot_text, subject);
  }
}

static void check_steps(const struct run *run) {
  struct arena *arena = arena_new(NULL);
  struct text text;
  text_init(&text, arena);
  steps_text(&text, run, true);
  assert_true(view_is_tidy(text_done(&text)));
  arena_free(arena);
}

static void each_view__of_each_entry_fits_the_screen(void **state) {
  struct shipped *shipped = *state;
  const struct model *model = shipped->knowledge.model;
  for (size_t i = 0; i < model->n_cases; i += EACH_CASE) {
    run_reset(shipped->run);
    worked_case_give(shipped->run, &model->cases[i]);
    assert_true(run_chain(shipped->run, NULL));
    check_steps(shipped->run);
    check_kind(shipped->run, SUBJECT_EVIDENCE, model->n_evidence, true);
    check_kind(shipped->run, SUBJECT_CLAIM, model->n_claims, true);
    check_kind(shipped->run, SUBJECT_RULE, model->n_rules, true);
  }
}

static size_t count_lines(const char *text) {
  size_t n = 0;
  for (; *text; text++) n += *text == '\n';
  return n;
}

static bool fits_the_screen(const char *text) {
  for (const char *line = text; *line; line += strcspn(line, "\n") + 1)
    if (strcspn(line, "\n") > ANSWER_COLUMNS) return false;
  for (const char *c = text; *c; c++)
    if (*c != '\n' && !(*c >= ' ' && *c <= '~')) return false;
  return count_lines(text) <= ANSWER_ROWS;
}

static void answers__of_each_case_fit_the_screen(void **state) {
  struct shipped *shipped = *state;
  const struct model *model = shipped->knowledge.model;
  for (size_t i = 0; i < model->n_cases; i++) {
    struct arena *arena = arena_new(NULL);
    struct text answer, brief;
    run_reset(shipped->run);
    worked_case_give(shipped->run, &model->cases[i]);
    assert_true(run_chain(shipped->run, NULL));
    text_init(&answer, arena);
    text_init(&brief, arena);
    answer_text(&answer, shipped->run, false);
    answer_brief(&brief, shipped->run, false);
    if (!fits_the_screen(text_done(&answer))) fail_msg("%s does not fit", model->cases[i].name);
    size_t n = count_lines(text_done(&brief));
    if (n < 2 || n > 5) fail_msg("%s in brief has %zu lines", model->cases[i].name, n);
    arena_free(arena);
  }
}

static void show_text__of_each_entry_fits_the_screen(void **state) {
  struct shipped *shipped = *state;
  const struct model *model = shipped->knowledge.model;
  check_kind(shipped->run, SUBJECT_EVIDENCE, model->n_evidence, false);
  check_kind(shipped->run, SUBJECT_CLAIM, model->n_claims, false);
  check_kind(shipped->run, SUBJECT_RULE, model->n_rules, false);
  check_kind(shipped->run, SUBJECT_CLUB, model->n_clubs, false);
  check_kind(shipped->run, SUBJECT_REFERENCE, model->n_references, false);
  check_kind(shipped->run, SUBJECT_CASE, model->n_cases, false);
}

static int load(void **state) {
  static struct shipped shipped;
  if (!knowledge_load_shipped(&shipped.knowledge, 0)) knowledge_print(&shipped.knowledge);
  assert_non_null(shipped.knowledge.network);
  shipped.run = run_new(NULL, shipped.knowledge.network);
  *state = &shipped;
  return 0;
}

static int unload(void **state) {
  struct shipped *shipped = *state;
  run_free(shipped->run);
  knowledge_free(&shipped->knowledge);
  return 0;
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(each_view__of_each_entry_fits_the_screen),
      cmocka_unit_test(answers__of_each_case_fit_the_screen),
      cmocka_unit_test(show_text__of_each_entry_fits_the_screen),
  };
  return cmocka_run_group_tests(tests, load, unload);
}
