/* A run from case to case: the same bits whether new or reused, for the mirror image of a case, and
 * with two threads on one network; and what is left when memory runs out. */
#include "run/run.h"

#include <pthread.h>
#include <string.h>

#include "support/cases.h"
#include "support/failing_allocator.h"
#include "support/trial.h"

#define CASES 200

static const char *const small[] = {"tests/kb_small", NULL};

/* ---- the bits of a run ---- */

static uint64_t add_size(uint64_t digest, size_t number) {
  return digest_bytes(digest, (const char *)&number, sizeof number);
}

static uint64_t add_double(uint64_t digest, double number) {
  return digest_bytes(digest, (const char *)&number, sizeof number);
}

static uint64_t add_judgements(uint64_t digest, const struct judgement *at, size_t n) {
  for (size_t i = 0; i < n; i++) {
    digest = add_size(digest, at[i].known);
    digest = add_double(digest, at[i].belief);
    digest = add_size(digest, at[i].missing_evidence);
    digest = add_size(digest, at[i].missing_claim);
  }
  return digest;
}

static uint64_t add_readings(uint64_t digest, const struct run *run) {
  for (size_t i = 0; i < run->network->model->n_evidence; i++) {
    const struct reading *reading = &run->readings[i];
    digest = add_size(digest, (size_t)reading->state);
    digest = add_double(digest, reading->number);
    digest = add_double(digest, reading->error);
    digest = add_size(digest, reading->state == READING_UNKNOWN ? 0 : reading->choice);
    digest = add_double(digest, reading->sure);
    digest = add_size(digest, reading->formula != NULL);
    if (reading->text) digest = digest_bytes(digest, reading->text, strlen(reading->text));
  }
  return digest;
}

static uint64_t add_claims(uint64_t digest, const struct run *run) {
  const struct network *network = run->network;
  for (size_t i = 0; i < network->model->n_claims; i++) {
    digest = add_double(digest, run->certainty[i]);
    digest = add_size(digest, (size_t)run->claims[i]);
  }
  for (size_t i = 0; i < network->model->n_rules; i++)
    digest = add_size(digest, (size_t)run->rules[i]);
  for (size_t i = 0; i < network->n_contributions; i++) {
    digest = add_size(digest, (size_t)run->contributions[i].state);
    digest = add_double(digest, run->contributions[i].value);
  }
  return digest;
}

static uint64_t add_ranks(uint64_t digest, const struct run *run) {
  for (size_t i = 0; i < run->n_causes; i++) {
    digest = add_size(digest, run->causes[i].claim);
    digest = add_size(digest, (size_t)run->causes[i].standing);
  }
  for (size_t i = 0; i < run->n_drills; i++) {
    digest = add_size(digest, run->drills[i].claim);
    digest = add_double(digest, run->drills[i].value);
    digest = add_size(digest, (size_t)run->drills[i].removal);
    digest = add_size(digest, run->drills[i].removed_by);
  }
  for (size_t i = 0; i < run->n_checks; i++) {
    digest = add_size(digest, run->checks[i].evidence);
    digest = add_double(digest, run->checks[i].gain);
  }
  for (size_t i = 0; i < run->n_contradictions; i++) {
    digest = add_size(digest, run->contradictions[i].evidence);
    digest = add_double(digest, run->contradictions[i].computed);
  }
  return add_size(digest, run->red_flag);
}

/* Of everything that was found, except who gave it in which hand. */
static uint64_t bits_of(const struct run *run) {
  uint64_t digest = add_readings(DIGEST_START, run);
  digest = add_judgements(digest, run->tests, run->network->n_tests);
  digest = add_judgements(digest, run->nodes, run->network->n_nodes);
  return add_ranks(add_claims(digest, run), run);
}

static void give_random(struct run *run, uint64_t seed) {
  run_reset(run);
  random_case(run, &seed, 3 + (size_t)(seed % 12));
}

static uint64_t bits_of_case(struct run *run, uint64_t seed) {
  give_random(run, seed);
  assert_true(run_chain(run, NULL));
  return bits_of(run);
}

/* ---- reuse ---- */

static void run_reset__a_reused_run_gives_the_bits_of_a_new_one(void **state) {
  struct knowledge knowledge;
  (void)state;
  assert_true(knowledge_load(&knowledge, small, 0));
  struct run *reused = run_new(NULL, knowledge.network);
  size_t different = 0;
  uint64_t last = 0;
  for (uint64_t seed = 0; seed < CASES; seed++) {
    struct run *fresh = run_new(NULL, knowledge.network);
    uint64_t bits = bits_of_case(fresh, seed);
    assert_true(bits == bits_of_case(reused, seed));
    different += bits != last; /* the bits say something */
    last = bits;
    run_free(fresh);
  }
  assert_true(different > CASES / 2);
  run_free(reused);
  knowledge_free(&knowledge);
}

static void run_chain__again_gives_the_same_bits(void **state) {
  struct knowledge knowledge;
  (void)state;
  assert_true(knowledge_load(&knowledge, small, 0));
  struct run *run = run_new(NULL, knowledge.network);
  for (uint64_t seed = 0; seed < CASES; seed++) {
    uint64_t bits = bits_of_case(run, seed);
    assert_true(run_chain(run, NULL));
    assert_true(bits == bits_of(run));
  }
  run_free(run);
  knowledge_free(&knowledge);
}

static void run_reset__forgets_all(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), MIRRORED("path"), CAUSE("a"), RULE("r", "{q: yes}", "a: 0.5"));
  uint64_t empty = (trial_chain(&trial), bits_of(trial.run));
  TRY(&trial, "q=yes", "path=5");
  trial.run->hand = HAND_LEFT;
  trial.run->shots = 9;
  trial_chain(&trial);
  assert_true(bits_of(trial.run) != empty);
  run_reset(trial.run);
  assert_int_equal(trial.run->hand, HAND_RIGHT);
  assert_int_equal(trial.run->shots, 1);
  assert_false(trial.run->judged);
  assert_null(trial.run->readings);
  trial_chain(&trial);
  assert_true(bits_of(trial.run) == empty);
  trial_close(&trial);
}

static void run_give__once_and_taken_back(void **state) {
  struct trial trial;
  (void)state;
  TRIAL(&trial, YES_NO("q"), CAUSE("a"), RULE("r", "{q: yes}", "a: 0.5"));
  TRY(&trial, "q=yes");
  assert_true(trial.run->judged);
  struct value no = {.evidence = 0, .choice = 0, .sure = 1};
  assert_false(run_give(trial.run, &no)); /* given already: stays yes */
  trial_chain(&trial);
  assert_near(trial_certainty(&trial, "a"), 0.5, 1e-15);
  run_take_back(trial.run, 0);
  assert_false(trial.run->judged);
  run_take_back(trial.run, 0);
  assert_true(run_give(trial.run, &no));
  trial_chain(&trial);
  assert_near(trial_certainty(&trial, "a"), 0, 0);
  trial_close(&trial);
}

/* ---- hands ---- */

/* The case as the player of the other hand would give it. */
static void mirror_case(struct run *run) {
  for (size_t i = 0; i < run->network->model->n_evidence; i++) run->values[i].evidence = i;
  for (size_t i = 0; i < run->network->model->n_evidence; i++)
    if (run->is_given[i]) run->values[i] = value_mirror(run->network->model, run->values[i]);
  run->hand = run->hand == HAND_LEFT ? HAND_RIGHT : HAND_LEFT;
}

static void run_chain__the_mirror_image_gives_the_same_bits(void **state) {
  struct knowledge knowledge;
  (void)state;
  assert_true(knowledge_load(&knowledge, small, 0));
  struct run *run = run_new(NULL, knowledge.network);
  for (uint64_t seed = 0; seed < CASES; seed++) {
    uint64_t bits = bits_of_case(run, seed);
    give_random(run, seed);
    mirror_case(run);
    assert_true(run_chain(run, NULL));
    assert_true(bits == bits_of(run));
  }
  run_free(run);
  knowledge_free(&knowledge);
}

/* ---- threads ---- */

struct worker {
  const struct network *network;
  uint64_t bits[CASES];
};

static void *work(void *argument) {
  struct worker *worker = argument;
  struct run *run = run_new(NULL, worker->network);
  for (uint64_t seed = 0; seed < CASES; seed++) {
    give_random(run, seed);
    worker->bits[seed] = run_chain(run, NULL) ? bits_of(run) : 0;
  }
  run_free(run);
  return NULL;
}

static void run_chain__two_threads_share_one_network(void **state) {
  static struct worker workers[2];
  struct knowledge knowledge;
  pthread_t threads[2];
  (void)state;
  assert_true(knowledge_load(&knowledge, small, 0));
  for (size_t i = 0; i < 2; i++) {
    workers[i].network = knowledge.network;
    assert_int_equal(pthread_create(&threads[i], NULL, work, &workers[i]), 0);
  }
  for (size_t i = 0; i < 2; i++) pthread_join(threads[i], NULL);
  struct run *run = run_new(NULL, knowledge.network);
  for (uint64_t seed = 0; seed < CASES; seed++) {
    uint64_t bits = bits_of_case(run, seed);
    assert_true(workers[0].bits[seed] == bits);
    assert_true(workers[1].bits[seed] == bits);
  }
  run_free(run);
  knowledge_free(&knowledge);
}

/* ---- memory ---- */

/* One try with the n-th taking failing. True when nothing failed. */
static bool try_run(const struct knowledge *knowledge, size_t n, bool for_good, uint64_t wanted) {
  struct failing_allocator failing;
  failing_allocator_init(&failing, n, for_good);
  struct run *run = run_new(&failing.allocator, knowledge->network);
  if (run) {
    give_random(run, 3);
    bool done = run_chain(run, NULL);
    assert_int_equal(done, run->judged);
    if (done) assert_true(bits_of(run) == wanted);
    else assert_null(run->readings);
    if (!done && !for_good) { /* usable again once there is memory */
      assert_true(run_chain(run, NULL));
      assert_true(bits_of(run) == wanted);
    }
  }
  bool reached = failing_allocator_reached(&failing);
  run_free(run);
  assert_int_equal(failing.bytes, 0);
  return !reached;
}

static void run_chain__memory_that_runs_out_at_any_call(void **state) {
  struct knowledge knowledge;
  (void)state;
  assert_true(knowledge_load(&knowledge, small, 0));
  struct run *run = run_new(NULL, knowledge.network);
  uint64_t wanted = bits_of_case(run, 3);
  for (int for_good = 0; for_good < 2; for_good++) {
    size_t n = 1;
    while (!try_run(&knowledge, n, for_good != 0, wanted)) n++;
    assert_true(n > 10);
  }
  run_free(run);
  knowledge_free(&knowledge);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(run_reset__a_reused_run_gives_the_bits_of_a_new_one),
      cmocka_unit_test(run_chain__again_gives_the_same_bits),
      cmocka_unit_test(run_reset__forgets_all),
      cmocka_unit_test(run_give__once_and_taken_back),
      cmocka_unit_test(run_chain__the_mirror_image_gives_the_same_bits),
      cmocka_unit_test(run_chain__two_threads_share_one_network),
      cmocka_unit_test(run_chain__memory_that_runs_out_at_any_call),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
