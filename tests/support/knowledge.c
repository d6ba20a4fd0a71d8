#define _XOPEN_SOURCE 700
#include "support/knowledge.h"

#include <ftw.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* nftw has no context argument. */
static char *found[2000];
static size_t n_found;

static int note_file(const char *path, const struct stat *status, int kind, struct FTW *where) {
  size_t n = strlen(path);
  (void)status;
  (void)where;
  if (kind == FTW_F && n > 5 && strcmp(path + n - 5, ".yaml") == 0 && n_found < 2000)
    found[n_found++] = strdup(path);
  return 0;
}

uint64_t random_next(uint64_t *state) {
  uint64_t z = (*state += UINT64_C(0x9e3779b97f4a7c15));
  z = (z ^ (z >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94d049bb133111eb);
  return z ^ (z >> 31);
}

double random_uniform(uint64_t *state) {
  return (double)(random_next(state) >> 11) * 0x1p-53;
}

static int compare_paths(const void *left, const void *right) {
  return strcmp(*(char *const *)left, *(char *const *)right);
}

static void shuffle(uint64_t seed) {
  for (size_t i = n_found; i > 1; i--) {
    size_t k = (size_t)(random_next(&seed) % i);
    char *swapped = found[i - 1];
    found[i - 1] = found[k];
    found[k] = swapped;
  }
}

static struct source *read_file(struct arena *arena, const char *path) {
  FILE *file = fopen(path, "rb");
  struct source *source = arena_new_object(arena, struct source);
  if (file == NULL || source == NULL) abort();
  char *bytes = arena_take(arena, 1 << 20);
  source->name = arena_copy_string(arena, path);
  source->n = fread(bytes, 1, (1 << 20) - 1, file);
  source->bytes = bytes;
  fclose(file);
  return source;
}

static bool compile(struct knowledge *knowledge, const struct model_file *files, size_t n) {
  diags_init(&knowledge->diags, knowledge->arena);
  knowledge->model = model_read(knowledge->arena, files, n, &knowledge->diags);
  knowledge->network = knowledge->model
                           ? network_compile(knowledge->arena, knowledge->model, &knowledge->diags)
                           : NULL;
  diags_finish(&knowledge->diags);
  return knowledge->network != NULL;
}

static struct knowledge_files read_directories(struct arena *arena, const char *const *directories,
                                               uint64_t seed) {
  struct knowledge_files files = {.at = arena_new_array(arena, struct model_file, 2000)};
  n_found = 0;
  for (; *directories; directories++) nftw(*directories, note_file, 16, FTW_PHYS);
  qsort(found, n_found, sizeof *found, compare_paths);
  if (seed) shuffle(seed);
  for (size_t i = 0; i < n_found; i++) {
    files.at[files.n++] = (struct model_file){read_file(arena, found[i]), 0};
    free(found[i]);
  }
  return files;
}

static const char *const shipped[] = {"rules", "kb", NULL};

struct knowledge_files knowledge_shipped_files(struct arena *arena) {
  return read_directories(arena, shipped, 0);
}

bool knowledge_load(struct knowledge *knowledge, const char *const *directories, uint64_t seed) {
  knowledge->arena = arena_new(NULL);
  struct knowledge_files files = read_directories(knowledge->arena, directories, seed);
  return compile(knowledge, files.at, files.n);
}

bool knowledge_load_shipped(struct knowledge *knowledge, uint64_t seed) {
  return knowledge_load(knowledge, shipped, seed);
}

bool knowledge_load_text(struct knowledge *knowledge, const char *yaml) {
  knowledge->arena = arena_new(NULL);
  struct source *source = arena_new_object(knowledge->arena, struct source);
  source->name = "kb.yaml";
  source->bytes = arena_copy_string(knowledge->arena, yaml);
  source->n = strlen(yaml);
  return compile(knowledge, &(struct model_file){source, 0}, 1);
}

void knowledge_print(struct knowledge *knowledge) {
  struct text text;
  text_init(&text, knowledge->arena);
  diags_print(&text, &knowledge->diags);
  fputs(text_done(&text) ? text_done(&text) : "no memory\n", stderr);
}

void knowledge_free(struct knowledge *knowledge) {
  arena_free(knowledge->arena);
}

static struct value random_value(const struct evidence *evidence, size_t index, uint64_t *state) {
  struct value value = {.evidence = index, .shots = 1, .sure = 1, .choice = NO_INDEX, .typed = ""};
  if (evidence->kind == EVIDENCE_NUMBER) {
    double middle = (evidence->low + evidence->high) / 2;
    double reach = (evidence->high - evidence->low) / 2;
    double part = random_uniform(state) < 0.8 ? 1.0 / 3 : 1;
    value.number = middle + reach * part * (2 * random_uniform(state) - 1);
    value.error = evidence->error * (0.5 + random_uniform(state));
    value.shots = random_uniform(state) < 0.3 ? 1 + (unsigned)(random_next(state) % 20) : 1;
  } else if (evidence->n_choices > 0) {
    value.choice = (size_t)(random_next(state) % evidence->n_choices);
    value.sure = random_uniform(state) < 0.2 ? 0.5 + 0.5 * random_uniform(state) : 1;
  } else {
    value.text = "my words say slice and hook";
  }
  return value;
}

void random_case(struct run *run, uint64_t *state, size_t n) {
  const struct model *model = run->network->model;
  run->hand = random_uniform(state) < 0.3 ? HAND_LEFT : HAND_RIGHT;
  for (size_t i = 0; i < n; i++) {
    size_t index = (size_t)(random_next(state) % model->n_evidence);
    struct value value = random_value(&model->evidence[index], index, state);
    run_give(run, &value);
  }
}

void worked_case_give(struct run *run, const struct worked_case *worked) {
  run->hand = worked->hand;
  for (size_t i = 0; i < worked->n_values; i++) run_give(run, &worked->values[i]);
}
