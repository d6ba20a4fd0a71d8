/* Worked cases: evidence as a player gave it, and what the knowledge should make of it. */
#include <stdlib.h>
#include <string.h>

#include "model/reader.h"

static int compare_values(const void *left, const void *right) {
  const struct value *a = left, *b = right;
  return a->evidence < b->evidence ? -1 : a->evidence > b->evidence;
}

static bool is_given(const struct value *values, size_t n, size_t evidence) {
  for (size_t i = 0; i < n; i++)
    if (values[i].evidence == evidence) return true;
  return false;
}

static bool read_case_value(struct reader *reader, const struct node *node,
                            const struct value *values, size_t n, struct value *value) {
  size_t evidence = model_find_evidence(reader->model, node->key);
  if (evidence == NO_INDEX) {
    struct diag *diag = DIAG(reader->diags, UNKNOWN_NAME, node->key_at, "evidence", node->key);
    if (!reader_comma_hint(reader, diag, node))
      model_nearest_evidence(reader->model, reader->diags, diag, node->key);
    return false;
  }
  if (is_given(values, n, evidence)) {
    DIAG(reader->diags, TWICE_GIVEN, node->key_at, reader->model->evidence[evidence].name);
    return false;
  }
  return value_read_node(reader->arena, reader->diags, reader->model, evidence, node, value);
}

static unsigned read_case_shots(struct reader *reader, const struct node *node) {
  double shots = 1;
  if (!reader_number(reader, node, &shots)) return 1;
  if (shots >= 1 && shots <= 10000 && shots == (double)(unsigned)shots) return (unsigned)shots;
  DIAG(reader->diags, BAD_SHOTS, node->at, node->text);
  return 1;
}

static void read_values(struct reader *reader, const struct node *map, unsigned shots,
                        struct worked_case *worked) {
  if (!reader_is_map(reader, map, "a mapping: evidence to value")) return;
  struct value *values = arena_new_array(reader->arena, struct value, map->n);
  size_t n = 0;
  for (const struct node *node = map->first; values && node; node = node->next) {
    if (!read_case_value(reader, node, values, n, &values[n])) continue;
    if (values[n].shots == 0) values[n].shots = shots;
    n++;
  }
  if (n > 0) qsort(values, n, sizeof *values, compare_values);
  worked->values = values;
  worked->n_values = n;
}

static void report_expected(struct reader *reader, const struct entry *entry,
                            const struct node *name, size_t claim, const char *key,
                            const char *allowed) {
  enum entry_kind kind = (enum entry_kind)(ENTRY_FINDING + reader->model->claims[claim].kind);
  DIAG(reader->diags, CASE_NOT_ALLOWED, name->at, entry->name, name->text, entry_kind_phrase(kind),
       key, allowed);
}

/* A claim of one of the kinds, "none" where allowed. True when it was given. */
static bool read_expected(struct reader *reader, const struct entry *entry,
                          const struct node *expect, const char *key, enum claim_kind kind,
                          size_t *claim) {
  const struct node *node = node_get(expect, key);
  *claim = NO_INDEX;
  if (reader_string(reader, node) == NULL) return false;
  if (node_is(node, "none")) return true;
  size_t found = reader_any_claim(reader, node->text, node->at, claim_kind_word(kind));
  if (found == NO_INDEX) return false;
  if (reader->model->claims[found].kind != kind) {
    report_expected(reader, entry, node, found, key,
                    kind == CLAIM_CAUSE ? "a cause or none" : "a drill or none");
    return false;
  }
  *claim = found;
  return true;
}

static const size_t *read_claim_list(struct reader *reader, const struct entry *entry,
                                     const struct node *expect, const char *key, size_t *n) {
  const struct node *list = node_get(expect, key);
  *n = 0;
  if (!reader_is_list(reader, list, "a list of findings or causes")) return NULL;
  size_t *claims = arena_new_array(reader->arena, size_t, list->n);
  for (const struct node *name = list->first; claims && name; name = name->next) {
    if (reader_string(reader, name) == NULL) continue;
    size_t claim = reader_any_claim(reader, name->text, name->at, "finding or cause");
    if (claim == NO_INDEX) continue;
    if (reader->model->claims[claim].kind == CLAIM_DRILL)
      report_expected(reader, entry, name, claim, key, "findings and causes");
    else claims[(*n)++] = claim;
  }
  return claims;
}

static void read_expect(struct reader *reader, const struct entry *entry,
                        struct worked_case *worked) {
  const struct node *expect = reader_key(reader, entry, "expect", true);
  if (!reader_is_map(reader, expect, "a mapping with leading, drill, believed, not_believed"))
    return;
  reader_check_keys(reader, expect, "expect", KEYS_EXPECT);
  worked->expects_leading =
      read_expected(reader, entry, expect, "leading", CLAIM_CAUSE, &worked->leading);
  worked->expects_drill =
      read_expected(reader, entry, expect, "drill", CLAIM_DRILL, &worked->drill);
  worked->believed = read_claim_list(reader, entry, expect, "believed", &worked->n_believed);
  worked->not_believed =
      read_claim_list(reader, entry, expect, "not_believed", &worked->n_not_believed);
}

static void read_case(struct reader *reader, const struct entry *entry,
                      struct worked_case *worked) {
  reader_check_keys(reader, entry->node, "case", KEYS_CASE);
  worked->name = entry->name;
  worked->at = entry->at;
  worked->leading = worked->drill = NO_INDEX;
  worked->hand = reader_listed(reader, node_get(entry->node, "handed"), WORDS_HAND) == 1
                     ? HAND_LEFT
                     : HAND_RIGHT;
  unsigned shots = read_case_shots(reader, node_get(entry->node, "shots"));
  read_values(reader, reader_key(reader, entry, "evidence", true), shots, worked);
  worked->because = reader_string(reader, node_get(entry->node, "because"));
  if (node_get(entry->node, "expect") != NULL) read_expect(reader, entry, worked);
}

void read_cases(struct reader *reader) {
  struct model *model = reader->model;
  struct entries entries = reader->kinds[ENTRY_CASE];
  struct worked_case *cases = arena_new_array(reader->arena, struct worked_case, entries.n);
  if (cases == NULL) return;
  for (size_t i = 0; i < entries.n; i++) read_case(reader, &entries.at[i], &cases[i]);
  model->cases = cases;
  model->n_cases = entries.n;
}
