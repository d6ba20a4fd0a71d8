/* Layers over each other, whatever the order of the files. */
#include <string.h>

#include "support/cases.h"
#include "support/trial.h"

struct layer {
  const char *name, *yaml;
  unsigned layer;
};

struct reading_of_layers {
  struct arena *arena;
  struct diags diags;
  const struct model *model;
};

static struct reading_of_layers read_layers(const struct layer *layers, size_t n, bool backwards) {
  struct reading_of_layers made = {.arena = arena_new(NULL)};
  struct model_file files[8];
  diags_init(&made.diags, made.arena);
  for (size_t i = 0; i < n; i++) {
    const struct layer *layer = &layers[backwards ? n - 1 - i : i];
    struct source *source = arena_new_object(made.arena, struct source);
    source->name = layer->name;
    source->bytes = layer->yaml;
    source->n = strlen(layer->yaml);
    files[i] = (struct model_file){source, layer->layer};
  }
  made.model = model_read(made.arena, files, n, &made.diags);
  diags_finish(&made.diags);
  return made;
}

#define OLD "- finding: f\n  title: old\n  about: x\n"
#define NEW "- finding: f\n  replaces: f\n  title: new\n  about: x\n"
#define NEWEST "- finding: f\n  replaces: f\n  title: newest\n  about: x\n"
#define OTHER "- finding: g\n  title: other\n  about: x\n"

static void overlay__the_highest_layer_stands(void **state) {
  static const struct layer layers[] = {
      {"base", OLD OTHER, 0}, {"academy", NEW, 1}, {"mine", NEWEST, 2}};
  (void)state;
  for (int backwards = 0; backwards < 2; backwards++) {
    struct reading_of_layers made = read_layers(layers, 3, backwards != 0);
    assert_non_null(made.model);
    assert_int_equal(made.model->n_claims, 2);
    assert_string_equal(made.model->claims[0].title.parts[0].text, "newest");
    assert_string_equal(made.model->claims[0].at.source->name, "mine");
    assert_string_equal(made.model->claims[1].title.parts[0].text, "other");
    arena_free(made.arena);
  }
}

static void overlay__lists_what_is_replaced(void **state) {
  static const struct layer layers[] = {
      {"base", OLD OTHER, 0}, {"academy", "# mine\n" NEW, 1}, {"mine", NEWEST, 2}};
  (void)state;
  struct reading_of_layers made = read_layers(layers, 3, false);
  assert_int_equal(made.model->n_overrides, 2);
  const struct override *first = &made.model->overrides[0], *second = &made.model->overrides[1];
  assert_string_equal(first->kind, "finding");
  assert_string_equal(first->name, "f");
  assert_string_equal(first->old_at.source->name, "base");
  assert_string_equal(first->new_at.source->name, "academy");
  assert_int_equal(first->new_at.line, 2);
  assert_string_equal(second->old_at.source->name, "academy");
  assert_string_equal(second->new_at.source->name, "mine");
  arena_free(made.arena);
}

/* A rule of the base that reads what is replaced reads the new one. */
static void overlay__what_reads_the_old_reads_the_new(void **state) {
  static const struct layer layers[] = {
      {"base", YES_NO("q") OLD RULE("r", "{q: yes}", "f: 0.5"), 0}, {"academy", NEW, 1}};
  (void)state;
  struct reading_of_layers made = read_layers(layers, 2, false);
  assert_non_null(made.model);
  const struct claim *claim = &made.model->claims[made.model->rules[0].then[0].claim];
  assert_string_equal(claim->title.parts[0].text, "new");
  arena_free(made.arena);
}

static void assert_faults(const struct layer *layers, size_t n, const char *code) {
  for (int backwards = 0; backwards < 2; backwards++) {
    struct reading_of_layers made = read_layers(layers, n, backwards != 0);
    assert_null(made.model);
    assert_int_equal(made.diags.errors, 1);
    assert_string_equal(diag_word(made.diags.list.at[0].code), code);
    arena_free(made.arena);
  }
}

static void overlay__faults(void **state) {
  static const struct layer silent[] = {{"base", OLD, 0}, {"academy", OLD, 1}};
  static const struct layer twice[] = {{"base", OLD, 0}, {"a", NEW, 1}, {"b", NEWEST, 1}};
  static const struct layer same[] = {{"a", OLD, 0}, {"b", NEW, 0}};
  static const struct layer nothing[] = {{"base", OTHER, 0}, {"academy", NEW, 1}};
  static const struct layer beneath[] = {{"base", NEW, 0}, {"academy", OTHER, 1}};
  static const struct layer other[] = {
      {"base", OLD OTHER, 0},
      {"academy", "- finding: f\n  replaces: g\n  title: x\n  about: x\n", 1}};
  static const struct layer kinds[] = {{"base", OLD, 0}, {"academy", CAUSE("f"), 1}};
  (void)state;
  assert_faults(silent, 2, "duplicate-name");
  assert_faults(twice, 3, "duplicate-name");
  assert_faults(same, 2, "duplicate-name");
  assert_faults(nothing, 2, "replaces-nothing");
  assert_faults(beneath, 2, "replaces-nothing");
  assert_faults(other, 2, "replaces-other");
  assert_faults(kinds, 2, "duplicate-name");
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(overlay__the_highest_layer_stands),
      cmocka_unit_test(overlay__lists_what_is_replaced),
      cmocka_unit_test(overlay__what_reads_the_old_reads_the_new),
      cmocka_unit_test(overlay__faults),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
