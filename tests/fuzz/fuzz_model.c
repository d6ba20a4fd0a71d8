/* Any bytes as a file of knowledge over the fixture: either faults that can be printed, or a
 * network on which a case runs, with every certainty in range and the same bits twice. */
#include <math.h>

#include "fixture.h"
#include "render/answer.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

/* Half of what can be given: numbers in the middle of their range, the last of the choices. */
static void give(struct run *run) {
  const struct model *model = run->network->model;
  for (size_t i = 0; i < model->n_evidence; i += 2) {
    const struct evidence *evidence = &model->evidence[i];
    struct value value = {.evidence = i, .sure = 1, .choice = NO_INDEX, .text = "", .typed = "x"};
    value.number = (evidence->low + evidence->high) / 2;
    value.error = evidence->error;
    if (evidence->n_choices > 0) value.choice = evidence->n_choices - 1;
    else if (evidence->kind == EVIDENCE_TEXT)
      value.text = "my slice aaaaaaaaaaaaaaaaaaaaaaaaaaaaa!";
    else if (evidence->kind != EVIDENCE_NUMBER) continue; /* a club, and there is none */
    require(run_give(run, &value));
  }
}

static void check_ranges(const struct run *run) {
  const struct network *network = run->network;
  for (size_t i = 0; i < network->model->n_claims; i++)
    require(run->certainty[i] >= -1 && run->certainty[i] <= 1);
  for (size_t i = 0; i < network->n_nodes; i++)
    require(!run->nodes[i].known || (run->nodes[i].belief >= -1 && run->nodes[i].belief <= 1));
  for (size_t i = 0; i < network->model->n_evidence; i++)
    require(run->readings[i].state == READING_UNKNOWN || isfinite(run->readings[i].number));
  for (size_t i = 0; i < run->n_drills; i++) require(isfinite(run->drills[i].value));
  for (size_t i = 1; i < run->n_causes; i++)
    require(run->causes[i - 1].certainty >= run->causes[i].certainty);
}

static void check_run(struct arena *arena, const struct network *network, struct diags *diags) {
  size_t size = network->model->n_claims * sizeof(double);
  struct run *run = run_new(NULL, network);
  require(run != NULL);
  give(run);
  require(run_chain(run, diags));
  check_ranges(run);
  double *certainty = arena_take(arena, size + 1);
  memcpy(certainty, run->certainty, size);
  run->hand = HAND_LEFT;
  require(run_chain(run, NULL));
  run->hand = HAND_RIGHT;
  require(run_chain(run, NULL));
  require(size == 0 || memcmp(certainty, run->certainty, size) == 0);
  struct text out;
  text_init(&out, arena);
  answer_text(&out, run, false);
  require(text_done(&out) != NULL);
  run_free(run);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
  struct arena *arena = arena_new(NULL);
  struct source source = {
      .name = "fuzz.yaml", .bytes = arena_copy(arena, (const char *)bytes, n), .n = n};
  struct diags diags;
  const struct model *model = fixture_read(arena, &source, &diags);
  const struct network *network = model ? network_compile(arena, model, &diags) : NULL;
  require((network != NULL) == (diags.errors == 0));
  if (network) check_run(arena, network, &diags);
  if (diags.errors + diags.warnings > 0) fixture_check_printed(arena, &diags);
  arena_free(arena);
  return 0;
}
