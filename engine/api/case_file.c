/* A case from a file, from memory, or from the worked cases of the knowledge base. */
#include <string.h>

#include "api/handles.h"
#include "model/reader.h"

/* ---- finding the one case of a file ---- */

/* The first entry behind that of the format, which is checked; NULL: there is none. */
static const struct node *first_case(struct diags *diags, const struct node *document) {
  if (document->kind != NODE_LIST) return document;
  const struct node *first = document->first;
  struct reader reader = {.arena = diags->arena, .diags = diags};
  if (!first || !format_is_entry(first)) return first;
  format_is_known(&reader, first);
  return first->next;
}

static void report_count(struct diags *diags, const struct node *document) {
  struct text found;
  text_init(&found, diags->arena);
  if (document->kind == NODE_SCALAR) text_add(&found, node_describe(diags->arena, document));
  else if (document->n == 0) text_add(&found, "an empty one");
  else text_format(&found, "one with %zu entries", document->n);
  const char *words = text_done(&found);
  DIAG(diags, WRONG_SHAPE, document->at, "case", "a file that holds one case", words ? words : "");
}

/* A mapping that starts with "case: name", as an entry; false after a diagnostic. */
static bool take_case(struct diags *diags, const struct node *map, struct entry *entry) {
  const struct node *name = map->kind == NODE_MAP ? map->first : NULL;
  if (!name || name->kind != NODE_SCALAR || strcmp(name->key, "case") != 0) {
    DIAG(diags, WRONG_SHAPE, map->at, "case", "an entry that starts with 'case: name'",
         name ? name->key : node_describe(diags->arena, map));
    return false;
  }
  *entry = (struct entry){.kind = ENTRY_CASE, .name = name->text, .node = map, .at = name->at};
  return true;
}

/* The case of the document as an entry; false after a diagnostic. */
static bool find_case(struct diags *diags, const struct node *document, struct entry *entry) {
  const struct node *map = first_case(diags, document);
  if (diags->errors > 0) return false;
  if (map && !map->next && document->kind != NODE_SCALAR) return take_case(diags, map, entry);
  report_count(diags, document);
  return false;
}

/* Reads cases with the model's own reader, on a copy of the model so that its cases stay as they
 * are. NULL after a diagnostic. */
static const struct worked_case *read_entries(struct arena *arena, struct diags *diags,
                                              const struct model *model,
                                              const struct entry *entries, size_t n) {
  struct model copy = *model;
  struct reader reader = {.arena = arena, .diags = diags, .model = &copy};
  reader.kinds[ENTRY_CASE] = (struct entries){entries, n};
  copy.cases = NULL;
  copy.n_cases = 0;
  read_cases(&reader);
  return diags->errors == 0 && copy.n_cases == n ? copy.cases : NULL;
}

static const struct worked_case *read_case(struct arena *arena, struct diags *diags,
                                           const struct model *model, const struct source *source) {
  struct entry entry;
  const struct node *document = node_read(arena, source, diags);
  if (!document || !find_case(diags, document, &entry)) return NULL;
  return read_entries(arena, diags, model, &entry, 1);
}

const struct worked_case *worked_cases_read(struct arena *arena, struct diags *diags,
                                            const struct model *model, const struct source *source,
                                            size_t *n) {
  const struct node *document = node_read(arena, source, diags);
  const struct node *first = document ? first_case(diags, document) : NULL;
  ARRAY(struct entry) entries = {0};
  *n = 0;
  if (document && !first) report_count(diags, document);
  for (const struct node *map = first; map; map = map->next) {
    struct entry *entry = array_push(arena, &entries);
    if (!entry) diags->no_memory = true;
    else if (!take_case(diags, map, entry)) entries.n--;
  }
  if (!document || diags->errors > 0 || diags->no_memory) return NULL;
  const struct worked_case *read = read_entries(arena, diags, model, entries.at, entries.n);
  if (read) *n = entries.n;
  return read;
}

/* ---- giving it ---- */

static void give_case(wm_case *player, struct diags *diags, const struct worked_case *worked) {
  case_changed(player);
  player->run->hand = worked->hand;
  player->hand_given = true;
  for (size_t i = 0; i < worked->n_values; i++)
    if (!run_give(player->run, &worked->values[i]))
      DIAG(diags, TWICE_GIVEN, worked->values[i].at,
           player->kb->model->evidence[worked->values[i].evidence].name);
}

static enum wm_status give_source(wm_case *player, struct report *report,
                                  const struct source *source) {
  const struct worked_case *worked =
      source ? read_case(player->texts, &report->list, player->kb->model, source) : NULL;
  if (worked) give_case(player, &report->list, worked);
  if (arena_failed(player->texts)) report->list.no_memory = true;
  return report_close(report, WM_OK, WM_INPUT_FAULTY);
}

enum wm_status wm_case_load(wm_case *player, const char *path, wm_diags *diags) {
  struct report report;
  if (!player || !path) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(player))) return WM_INTERNAL;
  return give_source(player, &report, source_read(player->texts, path, &report.list));
}

enum wm_status wm_case_load_memory(wm_case *player, const char *name, const char *bytes, size_t n,
                                   wm_diags *diags) {
  struct report report;
  if (!player || !name || (!bytes && n > 0)) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(player))) return WM_INTERNAL;
  return give_source(player, &report, source_copy(player->texts, name, bytes ? bytes : "", n));
}

/* ---- worked cases ---- */

static void report_unknown(struct diags *diags, const struct model *model,
                           const struct source *source) {
  struct diag *diag = DIAG(diags, UNKNOWN_NAME, source_whole(source), "worked case", source->bytes);
  const char **names = arena_new_array(diags->arena, const char *, model->n_cases + 1);
  for (size_t i = 0; names && i < model->n_cases; i++) names[i] = model->cases[i].name;
  if (names) diag_nearest(diags, diag, source->bytes, names, model->n_cases);
}

const struct worked_case *worked_case_find(const struct model *model, struct diags *diags,
                                           struct arena *arena, const char *name,
                                           const char *where) {
  const struct source *source = source_copy(arena, where ? where : "case", name, strlen(name));
  size_t i = 0;
  while (i < model->n_cases && strcmp(model->cases[i].name, name) != 0) i++;
  if (!source) diags->no_memory = true;
  else if (i < model->n_cases) return &model->cases[i];
  else report_unknown(diags, model, source);
  return NULL;
}

enum wm_status wm_case_load_worked(wm_case *player, const char *name, const char *where,
                                   wm_diags *diags) {
  struct report report;
  if (!player || !name) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(player))) return WM_INTERNAL;
  const struct worked_case *worked =
      worked_case_find(player->kb->model, &report.list, player->texts, name, where);
  if (worked) give_case(player, &report.list, worked);
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}
