/* Drills: what they change, how they are set up as geometry, the number that says they worked, when
 * to drop them. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/reader.h"

#define SHOTS_MAX 200

/* "'works' of drill 'gate' has no 'hits'" */
static void report_missing(struct reader *reader, const struct entry *entry, const struct node *map,
                           const char *key) {
  struct text what;
  text_init(&what, reader->arena);
  text_format(&what, "'%s' of drill", map->key);
  if (text_done(&what))
    DIAG(reader->diags, MISSING_KEY, map->at, text_done(&what), entry->name, key);
}

static int compare_effects(const void *left, const void *right) {
  const struct drill_effect *a = left, *b = right;
  return a->cause < b->cause ? -1 : a->cause > b->cause;
}

static void read_changes(struct reader *reader, const struct entry *entry, struct drill *drill) {
  const struct node *map = reader_key(reader, entry, "changes", true);
  if (!reader_is_map(reader, map, "a mapping: cause to effect")) return;
  struct drill_effect *changes = arena_new_array(reader->arena, struct drill_effect, map->n);
  size_t n = 0;
  for (const struct node *value = map->first; changes && value; value = value->next) {
    double effect = 0;
    size_t cause = reader_any_claim(reader, value->key, value->key_at, "cause");
    if (cause != NO_INDEX && reader->model->claims[cause].kind != CLAIM_CAUSE) {
      reader_wrong_claim(reader, cause, value->key_at, "a drill changes causes");
      continue;
    }
    if (!reader_number(reader, value, &effect) || cause == NO_INDEX) continue;
    if (!(effect > 0 && effect <= 0.95)) DIAG(reader->diags, BAD_EFFECT, value->at, value->text);
    changes[n++] = (struct drill_effect){cause, effect};
  }
  if (n > 0) qsort(changes, n, sizeof *changes, compare_effects);
  drill->changes = changes;
  drill->n_changes = n;
}

static double length_in_cm(struct reader *reader, const struct node *map, const char *key) {
  double number = 0;
  const struct node *node = node_get(map, key);
  const char *text = reader_string(reader, node);
  if (text)
    value_read_quantity(reader->diags, key, golf_unit_at(GOLF_UNIT_CM), text, node->n, node->at,
                        &number);
  return number;
}

static double angle_in_deg(struct reader *reader, const struct node *map) {
  double number = 0;
  const struct node *node = node_get(map, "angle");
  const char *text = reader_string(reader, node);
  if (text)
    value_read_quantity(reader->diags, "angle", golf_unit_at(GOLF_UNIT_DEG), text, node->n,
                        node->at, &number);
  return number;
}

static bool read_object(struct reader *reader, const struct entry *entry, const struct node *map,
                        struct drill_object *object) {
  if (!reader_is_map(reader, map, "a mapping of one object's place")) return false;
  reader_check_keys(reader, map, "an object", KEYS_OBJECT);
  const struct node *name = node_get(map, "object");
  if (name == NULL) {
    DIAG(reader->diags, MISSING_KEY, map->at, "an object of drill", entry->name, "object");
    return false;
  }
  *object = (struct drill_object){
      .object = reader_string(reader, name),
      .ahead = length_in_cm(reader, map, "ahead"),
      .out = length_in_cm(reader, map, "out"),
      .height = length_in_cm(reader, map, "height"),
      .length = length_in_cm(reader, map, "length"),
      .angle = angle_in_deg(reader, map),
  };
  return object->object != NULL;
}

static void read_objects(struct reader *reader, const struct entry *entry, struct drill *drill) {
  const struct node *list = node_get(entry->node, "objects");
  if (!reader_is_list(reader, list, "a list of objects")) return;
  struct drill_object *objects = arena_new_array(reader->arena, struct drill_object, list->n);
  size_t n = 0;
  for (const struct node *map = list->first; objects && map; map = map->next)
    n += read_object(reader, entry, map, &objects[n]);
  drill->objects = objects;
  drill->n_objects = n;
}

/* 0 after a report. */
static unsigned read_count(struct reader *reader, const struct entry *entry, const struct node *map,
                           const char *key) {
  double number = 0;
  const struct node *node = node_get(map, key);
  if (node == NULL) {
    report_missing(reader, entry, map, key);
    return 0;
  }
  if (!reader_number(reader, node, &number)) return 0;
  if (number >= 1 && number <= SHOTS_MAX && number == floor(number)) return (unsigned)number;
  DIAG(reader->diags, BAD_NUMBER, node->at, node->text,
       " of shots; write a whole one from 1 to 200");
  return 0;
}

static const struct node *works_comparison(struct reader *reader, const struct node *map) {
  const struct node *found = NULL;
  for (const struct node *value = map->first; value; value = value->next) {
    if (keys_have(KEYS_WORKS, value->key)) continue;
    struct diag *diag = found ? DIAG(reader->diags, WRONG_SHAPE, value->key_at, "works",
                                     "one comparison with hits, of and seen", value->key)
                              : NULL;
    if (found) reader_comma_hint(reader, diag, value);
    else found = value;
  }
  return found;
}

/* works: {path: {above: -2.5}, hits: 3, of: 5, seen: "..."} */
static void read_works(struct reader *reader, const struct entry *entry, struct drill *drill) {
  const struct node *map = reader_key(reader, entry, "works", true);
  if (!reader_is_map(reader, map, "a comparison with hits and of")) return;
  const struct node *comparison = works_comparison(reader, map), *seen = node_get(map, "seen");
  drill->hits = read_count(reader, entry, map, "hits");
  drill->of = read_count(reader, entry, map, "of");
  if (drill->of > 0 && drill->hits > drill->of)
    DIAG(reader->diags, BAD_HITS, node_get(map, "hits")->at, node_get(map, "hits")->text,
         node_get(map, "of")->text);
  if (seen) drill->seen = reader_wording(reader, seen);
  if (comparison == NULL) {
    if (seen == NULL) report_missing(reader, entry, map, "seen");
    return;
  }
  size_t evidence = model_find_evidence(reader->model, comparison->key);
  size_t claim = model_find_claim(reader->model, comparison->key);
  if (evidence == NO_INDEX && claim != NO_INDEX) {
    reader_wrong_claim(reader, claim, comparison->key_at, "a drill works by evidence");
    return;
  }
  if (evidence == NO_INDEX) {
    struct diag *diag =
        DIAG(reader->diags, UNKNOWN_NAME, comparison->key_at, "evidence", comparison->key);
    if (!reader_comma_hint(reader, diag, comparison))
      model_nearest_evidence(reader->model, reader->diags, diag, comparison->key);
    return;
  }
  drill->works = reader_comparison(reader, evidence, comparison);
}

static void read_drop(struct reader *reader, const struct entry *entry, struct drill *drill) {
  const struct node *map = reader_key(reader, entry, "drop", true);
  if (!reader_is_map(reader, map, "{shots: count, when: text}")) return;
  reader_check_keys(reader, map, "drop", KEYS_DROP);
  drill->drop_shots = read_count(reader, entry, map, "shots");
  const struct node *when = node_get(map, "when");
  if (when) drill->drop_when = reader_wording(reader, when);
  else report_missing(reader, entry, map, "when");
}

static void read_cautions(struct reader *reader, const struct entry *entry, struct drill *drill) {
  const struct node *list = node_get(entry->node, "cautions");
  if (list == NULL || (list->kind == NODE_LIST && list->n == 0)) {
    DIAG(reader->diags, DRILL_WITHOUT_CAUTION, entry->at, entry->name);
    return;
  }
  if (!reader_is_list(reader, list, "a list of texts")) return;
  struct wording *cautions = arena_new_array(reader->arena, struct wording, list->n);
  size_t n = 0;
  for (const struct node *text = list->first; cautions && text; text = text->next)
    cautions[n++] = reader_wording(reader, text);
  drill->cautions = cautions;
  drill->n_cautions = n;
}

static void read_drill(struct reader *reader, const struct entry *entry, struct drill *drill) {
  reader_check_keys(reader, entry->node, "drill", KEYS_DRILL);
  drill->external = reader_listed(reader, reader_key(reader, entry, "task", true), WORDS_TASK) == 0;
  drill->aim = reader_wording_key(reader, entry, "aim", true);
  drill->setup = reader_wording_key(reader, entry, "setup", true);
  drill->dose = reader_wording_key(reader, entry, "dose", true);
  drill->spoils = reader_wording_key(reader, entry, "spoils", false);
  drill->fallback = reader_wording_key(reader, entry, "fallback", false);
  const struct node *needs = node_get(entry->node, "needs");
  if (needs) drill->needs = reader_condition(reader, needs);
  read_changes(reader, entry, drill);
  read_objects(reader, entry, drill);
  read_works(reader, entry, drill);
  read_drop(reader, entry, drill);
  read_cautions(reader, entry, drill);
}

void read_drills(struct reader *reader) {
  struct model *model = reader->model;
  struct entries entries = reader->kinds[ENTRY_DRILL];
  struct drill *drills = arena_new_array(reader->arena, struct drill, entries.n);
  /* Made by read_claims in this same reading, hence writable here. */
  struct claim *claims = (struct claim *)model->claims;
  if (drills == NULL || claims == NULL) return;
  for (size_t i = 0; i < entries.n; i++) {
    read_drill(reader, &entries.at[i], &drills[i]);
    claims[model->first_drill + i].drill = &drills[i];
  }
}
