/* Rules: a condition, what follows from it and how strongly, and why. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "model/reader.h"

#define STRENGTH_MAX 0.95

static const struct {
  const char *word;
  double strength;
} strength_words[] = {
    {"hint", 0.2}, {"suggests", 0.4}, {"points", 0.6}, {"strong", 0.8}, {"near_certain", 0.95}};

const char *strength_word(double strength) {
  for (size_t i = 0; i < sizeof strength_words / sizeof strength_words[0]; i++)
    if (fabs(fabs(strength) - strength_words[i].strength) < 1e-9) return strength_words[i].word;
  return NULL;
}

const char *strength_word_at(size_t i) {
  return i < sizeof strength_words / sizeof strength_words[0] ? strength_words[i].word : NULL;
}

static void report_strength(struct reader *reader, const struct node *node, const char *word) {
  const char *words[sizeof strength_words / sizeof strength_words[0]];
  size_t n = sizeof words / sizeof words[0];
  for (size_t i = 0; i < n; i++) words[i] = strength_words[i].word;
  struct diag *diag =
      DIAG(reader->diags, BAD_STRENGTH, node->at, node->text, reader_join(reader, words, n));
  diag_nearest(reader->diags, diag, word, words, n);
}

static bool read_strength(struct reader *reader, const struct node *node, double *strength) {
  const char *text = reader_string(reader, node);
  if (text == NULL) return false;
  double sign = *text == '-' ? -1 : 1;
  const char *word = text + (*text == '-');
  for (size_t i = 0; i < sizeof strength_words / sizeof strength_words[0]; i++) {
    if (strcmp(word, strength_words[i].word) == 0) {
      *strength = sign * strength_words[i].strength;
      return true;
    }
  }
  size_t used = number_read(text, node->n, strength);
  if (used > 0 && used == node->n && fabs(*strength) <= STRENGTH_MAX && *strength != 0) return true;
  report_strength(reader, node, word);
  return false;
}

static int compare_conclusions(const void *left, const void *right) {
  const struct conclusion *a = left, *b = right;
  return a->claim < b->claim ? -1 : a->claim > b->claim;
}

static void read_then(struct reader *reader, const struct entry *entry, struct rule *rule) {
  const struct node *map = node_get(entry->node, "then");
  if (!reader_is_map(reader, map, "a mapping: finding, cause or drill to strength")) return;
  struct conclusion *then = arena_new_array(reader->arena, struct conclusion, map->n);
  size_t n = 0;
  for (const struct node *value = map->first; then && value; value = value->next) {
    double strength;
    size_t claim = reader_any_claim(reader, value->key, value->key_at, "finding, cause or drill");
    if (!read_strength(reader, value, &strength) || claim == NO_INDEX) continue;
    then[n++] = (struct conclusion){claim, strength, value->key_at};
  }
  if (n > 0) qsort(then, n, sizeof *then, compare_conclusions);
  rule->then = then;
  rule->n_then = n;
}

static int compare_indices(const void *left, const void *right) {
  const size_t *a = left, *b = right;
  return *a < *b ? -1 : *a > *b;
}

static void read_removes(struct reader *reader, const struct entry *entry, struct rule *rule) {
  const struct node *list = node_get(entry->node, "removes");
  if (!reader_is_list(reader, list, "a list of drills")) return;
  size_t *removes = arena_new_array(reader->arena, size_t, list->n), n = 0;
  for (const struct node *name = list->first; removes && name; name = name->next) {
    size_t drill = reader_claim(reader, name, CLAIM_DRILL);
    if (drill != NO_INDEX) removes[n++] = drill;
  }
  if (n > 0) qsort(removes, n, sizeof *removes, compare_indices);
  rule->removes = removes;
  rule->n_removes = n;
}

/* Another shape than a list or mapping is told elsewhere. */
static bool holds_some(const struct node *node) {
  return node && (node->kind == NODE_SCALAR || node->n > 0);
}

static void read_rule(struct reader *reader, const struct entry *entry, struct rule *rule) {
  reader_check_keys(reader, entry->node, "rule", KEYS_RULE);
  rule->name = entry->name;
  rule->at = entry->at;
  rule->when = reader_condition(reader, reader_key(reader, entry, "when", true));
  read_then(reader, entry, rule);
  read_removes(reader, entry, rule);
  if (!holds_some(node_get(entry->node, "then")) && !holds_some(node_get(entry->node, "removes")))
    DIAG(reader->diags, RULE_WITHOUT_EFFECT, entry->at, entry->name);
  rule->because = reader_wording_key(reader, entry, "because", true);
  rule->learner = reader_wording_key(reader, entry, "learner", false);
  size_t kind = reader_listed(reader, reader_key(reader, entry, "kind", true), WORDS_RULE_KIND);
  rule->kind = kind == NO_INDEX ? RULE_EXPERIENCE : (enum rule_kind)kind;
  rule->source = reader_source(reader, entry);
  rule->group = reader_string(reader, node_get(entry->node, "group"));
}

void read_rules(struct reader *reader) {
  struct model *model = reader->model;
  struct entries entries = reader->kinds[ENTRY_RULE];
  struct rule *rules = arena_new_array(reader->arena, struct rule, entries.n);
  if (rules == NULL) return;
  for (size_t i = 0; i < entries.n; i++) {
    names_add(model->rule_names, entries.at[i].name, strlen(entries.at[i].name), (uint32_t)i);
    read_rule(reader, &entries.at[i], &rules[i]);
  }
  model->rules = rules;
  model->n_rules = entries.n;
}
