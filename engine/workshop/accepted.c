#include "workshop/accepted.h"

#include <string.h>

#include "base/names.h"

struct reader {
  struct arena *arena;
  struct diags *diags;
  const struct model *model;
  const struct source *source;
  const struct names *cases;
  struct accepted *accepted;
  bool good;
};

static const struct names *index_cases(struct arena *arena, const struct model *model) {
  struct names *names = names_new(arena);
  for (size_t i = 0; names && i < model->n_cases; i++)
    if (names_add(names, model->cases[i].name, strlen(model->cases[i].name), (uint32_t)i) ==
        NAMES_NONE)
      return NULL;
  return names;
}

static void report_unknown(struct reader *reader, struct span at, const char *name) {
  const struct model *model = reader->model;
  struct diag *diag = DIAG(reader->diags, UNKNOWN_NAME, at, "worked case", name);
  const char **names = arena_new_array(reader->arena, const char *, model->n_cases + 1);
  for (size_t i = 0; names && i < model->n_cases; i++) names[i] = model->cases[i].name;
  if (names) diag_nearest(reader->diags, diag, name, names, model->n_cases);
}

static void read_line(struct reader *reader, uint32_t number, const char *line, size_t n) {
  const char *colon = n > 0 ? memchr(line, ':', n) : NULL;
  size_t name = colon ? (size_t)(colon - line) : n;
  struct span at = {reader->source, number, 1, number, (uint32_t)name + 1};
  if (n == 0 || line[0] == '#') return;
  size_t skip = name + 2; /* the colon and a blank */
  uint32_t which = names_find(reader->cases, line, name);
  const char *shown = arena_copy(reader->arena, line, name);
  if (!shown) return;
  if (!colon || n <= skip || colon[1] != ' ') DIAG(reader->diags, ACCEPTED_LINE, at, shown);
  else if (which == NAMES_NONE) report_unknown(reader, at, shown);
  else if (reader->accepted->answers[which]) DIAG(reader->diags, ACCEPTED_TWICE, at, shown);
  else {
    reader->accepted->answers[which] = arena_copy(reader->arena, line + skip, n - skip);
    return;
  }
  reader->good = false;
}

bool accepted_read(struct arena *arena, struct diags *diags, const struct model *model,
                   const struct source *source, struct accepted *accepted) {
  struct reader reader = {arena, diags, model, source, index_cases(arena, model), accepted, true};
  *accepted = (struct accepted){arena_new_array(arena, const char *, model->n_cases + 1), 0};
  if (!accepted->answers || !reader.cases) return false;
  accepted->n = model->n_cases;
  size_t n = 0;
  const char *line;
  for (uint32_t number = 1; (line = source_line(source, number, &n)) != NULL; number++)
    read_line(&reader, number, line, n);
  return reader.good && !arena_failed(arena);
}

const char *accepted_answer(const struct accepted *accepted, const struct model *model,
                            const struct worked_case *worked) {
  bool of_model = worked >= model->cases && worked < model->cases + model->n_cases;
  return of_model && accepted->answers ? accepted->answers[worked - model->cases] : NULL;
}
