/* Any bytes as the value of an evidence, which the first byte picks: a fault that can be printed,
 * or a value within its range that is itself again when mirrored twice. */
#include <math.h>

#include "fixture.h"
#include "model/value.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

static const struct model *fixture_model(void) {
  static const struct model *model;
  static struct diags diags;
  if (model == NULL) model = fixture_read(arena_new(NULL), NULL, &diags);
  require(model != NULL);
  return model;
}

static void check_value(const struct evidence *evidence, const struct value *value) {
  const struct model *model = fixture_model();
  if (evidence->kind == EVIDENCE_NUMBER) {
    require(value->number >= evidence->low && value->number <= evidence->high);
    require(value->error >= 0 && isfinite(value->error));
  } else if (evidence->kind == EVIDENCE_TEXT) {
    require(value->text != NULL);
  } else {
    require(value->choice < evidence->n_choices);
  }
  struct value twice = value_mirror(model, value_mirror(model, *value));
  require(twice.number == value->number && twice.choice == value->choice);
}

/* As an argument. */
static void check_text(struct arena *arena, size_t evidence, const char *text) {
  const struct model *model = fixture_model();
  struct source source = {.name = "argument 1", .bytes = text, .n = strlen(text)};
  struct span at = {&source, 1, 1, 1, 1 + (uint32_t)source.n};
  struct diags diags;
  struct value value;
  diags_init(&diags, arena);
  bool read = value_read(arena, &diags, model, evidence, text, at, &value);
  require(read == (diags.errors == 0));
  if (read) check_value(&model->evidence[evidence], &value);
  else fixture_check_printed(arena, &diags);
}

/* As the value in a case file. */
static void check_yaml(struct arena *arena, size_t evidence, const char *yaml, size_t n) {
  const struct model *model = fixture_model();
  struct source source = {.name = "case.yaml", .bytes = yaml, .n = n};
  struct diags diags;
  struct value value;
  diags_init(&diags, arena);
  const struct node *node = node_read(arena, &source, &diags);
  bool read = node && value_read_node(arena, &diags, model, evidence, node, &value);
  require(read == (diags.errors == 0));
  if (read) check_value(&model->evidence[evidence], &value);
  else fixture_check_printed(arena, &diags);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
  if (n == 0) return 0;
  struct arena *arena = arena_new(NULL);
  const char *text = arena_copy(arena, (const char *)bytes + 1, n - 1);
  size_t evidence = (bytes[0] >> 1) % fixture_model()->n_evidence;
  if (bytes[0] % 2 != 0) check_yaml(arena, evidence, text, n - 1);
  else check_text(arena, evidence, text);
  arena_free(arena);
  return 0;
}
