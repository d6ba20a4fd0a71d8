/* Windows: how the shots of a session are sorted into flights, and which of them are misses. */
#include <string.h>

#include "model/reader.h"

/* ---- one quantity ---- */

static void read_formulas(struct reader *reader, const struct node *of, struct sorting *sorting) {
  bool list = of->kind == NODE_LIST;
  const struct formula **formulas =
      arena_new_array(reader->arena, const struct formula *, list ? of->n + 1 : 1);
  for (const struct node *node = list ? of->first : of; formulas && node;
       node = list ? node->next : NULL) {
    const char *text = reader_string(reader, node);
    if (!text) continue;
    formulas[sorting->n_of] =
        formula_read(reader->arena, reader->diags, reader->model, text, node->at, false);
    sorting->n_of += formulas[sorting->n_of] != NULL;
  }
  sorting->of = formulas;
}

/* {of: start, within: 2 deg} */
static struct sorting read_sorting(struct reader *reader, const struct entry *entry,
                                   const char *key) {
  struct sorting sorting = {.n_of = 0};
  const struct node *map = reader_key(reader, entry, key, true);
  if (!reader_is_map(reader, map, "a mapping with 'of' and 'within'")) return sorting;
  reader_check_keys(reader, map, key, KEYS_SORTING);
  const struct node *of = node_get(map, "of"), *within = node_get(map, "within");
  if (!of) DIAG(reader->diags, MISSING_KEY, map->at, "window", entry->name, "of");
  else read_formulas(reader, of, &sorting);
  if (!within) DIAG(reader->diags, MISSING_KEY, map->at, "window", entry->name, "within");
  const char *text = reader_string(reader, within);
  if (text &&
      value_read_quantity(reader->diags, "within", golf_unit_at(GOLF_UNIT_DEG), text, within->n,
                          within->at, &sorting.within) &&
      sorting.within <= 0)
    DIAG(reader->diags, BAD_NUMBER, within->at, text, " above zero");
  return sorting;
}

/* ---- the other parts ---- */

static void read_flights(struct reader *reader, const struct entry *entry, struct window *window) {
  const struct keys *keys = keys_of(KEYS_FLIGHTS); /* in the order of the classes */
  const struct node *map = reader_key(reader, entry, "flights", true);
  if (!reader_is_map(reader, map, "a mapping: flight to its words")) return;
  reader_check_keys(reader, map, "flights", KEYS_FLIGHTS);
  for (size_t i = 0; i < FLIGHTS; i++) {
    const struct node *words = node_get(map, keys->at[i].name);
    if (words) window->flights[i] = reader_wording(reader, words);
    else DIAG(reader->diags, MISSING_KEY, map->at, "window", entry->name, keys->at[i].name);
  }
}

/* An evidence of the kind, or NO_INDEX after a report. */
static size_t named_evidence(struct reader *reader, const char *name, struct span at,
                             enum evidence_kind kind) {
  size_t found = model_find_evidence(reader->model, name);
  if (found == NO_INDEX) {
    struct diag *diag = DIAG(reader->diags, UNKNOWN_NAME, at, "evidence", name);
    model_nearest_evidence(reader->model, reader->diags, diag, name);
  } else if (reader->model->evidence[found].kind != kind) {
    DIAG(reader->diags, WRONG_KIND, at, name,
         evidence_kind_word(reader->model->evidence[found].kind),
         kind == EVIDENCE_NUMBER ? "a number is named here" : "a yes or no is named here");
    return NO_INDEX;
  }
  return found;
}

static void read_ellipses(struct reader *reader, const struct entry *entry, struct window *window) {
  const struct node *list = node_get(entry->node, "ellipses");
  if (!reader_is_list(reader, list, "a list of pairs")) return;
  size_t(*pairs)[2] = arena_take_many(reader->arena, list->n + 1, sizeof *pairs);
  for (const struct node *pair = list->first; pairs && pair; pair = pair->next) {
    if (pair->kind != NODE_LIST || pair->n != 2) {
      reader_wrong_shape(reader, pair, "a pair: [start, curve]");
      continue;
    }
    size_t *place = pairs[window->n_ellipses];
    const struct node *node = pair->first;
    for (size_t i = 0; i < 2; i++, node = node->next) {
      const char *name = reader_string(reader, node);
      place[i] = name ? named_evidence(reader, name, node->at, EVIDENCE_NUMBER) : NO_INDEX;
    }
    window->n_ellipses += place[0] != NO_INDEX && place[1] != NO_INDEX;
  }
  window->ellipses = (const size_t(*)[2])pairs;
}

static void read_scatters(struct reader *reader, const struct entry *entry, struct window *window) {
  const struct node *map = node_get(entry->node, "scatter");
  if (!reader_is_map(reader, map, "a mapping: evidence to the one it is the deviation of")) return;
  struct scatter *scatters = arena_new_array(reader->arena, struct scatter, map->n + 1);
  for (const struct node *node = map->first; scatters && node; node = node->next) {
    const char *name = reader_string(reader, node);
    if (!name) continue;
    struct scatter scatter = {named_evidence(reader, node->key, node->key_at, EVIDENCE_NUMBER),
                              named_evidence(reader, name, node->at, EVIDENCE_NUMBER)};
    if (scatter.evidence != NO_INDEX && scatter.of != NO_INDEX)
      scatters[window->n_scatters++] = scatter;
  }
  window->scatters = scatters;
}

static struct window read_window(struct reader *reader, const struct entry *entry) {
  struct window window = {.name = entry->name, .both_ways = NO_INDEX, .at = entry->at};
  reader_check_keys(reader, entry->node, "window", KEYS_WINDOW);
  window.title = reader_string(reader, reader_key(reader, entry, "title", true));
  window.start = read_sorting(reader, entry, "start");
  window.curve = read_sorting(reader, entry, "curve");
  window.finish = read_sorting(reader, entry, "finish");
  read_flights(reader, entry, &window);
  read_ellipses(reader, entry, &window);
  read_scatters(reader, entry, &window);
  const struct node *both = node_get(entry->node, "both_ways");
  const char *name = reader_string(reader, both);
  if (name) window.both_ways = named_evidence(reader, name, both->at, EVIDENCE_YES_NO);
  reader_key(reader, entry, "source", true);
  window.source = reader_source(reader, entry);
  return window;
}

void read_windows(struct reader *reader) {
  struct entries entries = reader->kinds[ENTRY_WINDOW];
  struct window *windows = arena_new_array(reader->arena, struct window, entries.n + 1);
  if (!windows) return;
  for (size_t i = 0; i < entries.n; i++) windows[i] = read_window(reader, &entries.at[i]);
  reader->model->windows = windows;
  reader->model->n_windows = entries.n;
}
