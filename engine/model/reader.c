/* Taking keys from entries: each function reports at the faulty value and returns something empty
 * but safe. */
#include "model/reader.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *entry_kind_word(enum entry_kind kind) {
  static const char *const words[] = {"source", "club", "evidence", "finding", "cause", "drill",
                                      "rule",   "case", "column",   "window",  "phrase"};
  return words[kind];
}

const char *entry_kind_phrase(enum entry_kind kind) {
  static const char *const phrases[] = {"a source", "a club",   "an evidence", "a finding",
                                        "a cause",  "a drill",  "a rule",      "a case",
                                        "a column", "a window", "a phrase"};
  return phrases[kind];
}

bool reader_is_name(const char *name, bool hyphens) {
  if (*name == '\0' || *name == '-') return false;
  for (; *name; name++)
    if (!((*name >= 'a' && *name <= 'z') || (*name >= '0' && *name <= '9') || *name == '_' ||
          (hyphens && *name == '-')))
      return false;
  return true;
}

const char *reader_join(struct reader *reader, const char *const *words, size_t n) {
  struct text text;
  text_init(&text, reader->arena);
  for (size_t i = 0; i < n; i++) {
    text_add(&text, i ? ", " : "");
    text_add(&text, words[i]);
  }
  const char *joined = text_done(&text);
  return joined ? joined : "";
}

const char *const *reader_key_names(struct reader *reader, enum key_set set) {
  const struct keys *keys = keys_of(set);
  const char **names = arena_new_array(reader->arena, const char *, keys->n);
  for (size_t i = 0; names && i < keys->n; i++) names[i] = keys->at[i].name;
  return names;
}

/* The byte at a place, and the n bytes of the rest of its line; good where the line is ASCII up to
 * there, which is all that a hint needs. */
static char byte_from(const struct source *source, uint32_t line, uint32_t column, size_t *n,
                      const char **rest) {
  const char *bytes = source ? source_line(source, line, n) : NULL;
  if (bytes == NULL || column == 0 || column - 1 > *n) return '\0';
  *rest = bytes + column - 1;
  *n -= column - 1;
  return *n > 0 ? **rest : '\0';
}

bool reader_comma_hint(struct reader *reader, struct diag *diag, const struct node *value) {
  size_t n = 0;
  const char *rest = NULL;
  bool nothing = value->kind == NODE_SCALAR && value->n == 0 && !value->quoted;
  if (!nothing || value->key == NULL) return false;
  byte_from(value->key_at.source, value->key_at.end_line, value->key_at.end_column, &n, &rest);
  while (n > 0 && *rest == ' ') rest++, n--;
  if (n == 0 || (*rest != ',' && *rest != '}')) return false;
  diag_hint(reader->diags, diag,
            "quote the text: inside { } and [ ] an unquoted text ends at a comma");
  return true;
}

void reader_check_keys(struct reader *reader, const struct node *map, const char *what,
                       enum key_set set) {
  for (const struct node *value = map->first; value; value = value->next) {
    if (keys_have(set, value->key)) continue;
    const char *const *names = reader_key_names(reader, set);
    if (names == NULL) return;
    size_t n = keys_of(set)->n;
    struct diag *diag = DIAG(reader->diags, UNKNOWN_KEY, value->key_at, what, value->key,
                             reader_join(reader, names, n));
    if (!reader_comma_hint(reader, diag, value))
      diag_nearest(reader->diags, diag, value->key, names, n);
  }
}

const struct node *reader_key(struct reader *reader, const struct entry *entry, const char *key,
                              bool required) {
  const struct node *value = node_get(entry->node, key);
  if (value == NULL && required)
    DIAG(reader->diags, MISSING_KEY, entry->at, entry_kind_word(entry->kind), entry->name, key);
  return value;
}

const char *reader_describe(struct reader *reader, const struct node *node) {
  struct text text;
  if (node->kind == NODE_SCALAR) return node_describe(reader->arena, node);
  text_init(&text, reader->arena);
  if (node->n == 0) text_add(&text, node->kind == NODE_LIST ? "an empty list" : "an empty mapping");
  else if (node->kind == NODE_LIST) text_format(&text, "a list of %zu", node->n);
  else text_format(&text, "a mapping of %zu", node->n);
  return text_done(&text);
}

struct diag *reader_wrong_shape(struct reader *reader, const struct node *node,
                                const char *wanted) {
  const char *found = reader_describe(reader, node);
  if (found == NULL) return NULL;
  return node->key ? DIAG(reader->diags, WRONG_SHAPE, node->at, node->key, wanted, found)
                   : DIAG(reader->diags, WRONG_ELEMENT, node->at, wanted, found);
}

/* A text that YAML took for a list or a mapping. */
static void wrong_text(struct reader *reader, const struct node *node) {
  size_t n = 0;
  const char *rest = NULL;
  struct diag *diag = reader_wrong_shape(reader, node, "a text");
  char first = byte_from(node->at.source, node->at.line, node->at.column, &n, &rest);
  if (node->kind != NODE_MAP || node->n != 1) return;
  const struct node *only = node->first;
  if (first == '{' && only->kind == NODE_SCALAR && only->n == 0)
    diag_hint(reader->diags, diag, "quote it: a text that begins with { stands in quotes");
  else if (first != '{')
    diag_hint(reader->diags, diag,
              "quote it: it holds \": \", which makes a key of what is before");
}

void reader_wrong_claim(struct reader *reader, size_t claim, struct span at, const char *wanted) {
  const struct claim *found = &reader->model->claims[claim];
  enum entry_kind kind = (enum entry_kind)(ENTRY_FINDING + found->kind);
  DIAG(reader->diags, WRONG_KIND, at, found->name, entry_kind_phrase(kind), wanted);
}

const char *reader_string(struct reader *reader, const struct node *node) {
  if (node == NULL) return NULL;
  if (node->kind == NODE_SCALAR && node->n > 0) return node->text;
  wrong_text(reader, node);
  return NULL;
}

bool reader_is_list(struct reader *reader, const struct node *node, const char *of) {
  if (node == NULL) return false;
  if (node->kind == NODE_LIST) return true;
  reader_wrong_shape(reader, node, of);
  return false;
}

bool reader_is_map(struct reader *reader, const struct node *node, const char *of) {
  if (node == NULL) return false;
  if (node->kind == NODE_MAP) return true;
  reader_wrong_shape(reader, node, of);
  return false;
}

bool reader_number(struct reader *reader, const struct node *node, double *number) {
  if (node == NULL) return false;
  if (node->kind != NODE_SCALAR) {
    reader_wrong_shape(reader, node, "a number");
    return false;
  }
  double read;
  size_t used = number_read(node->text, node->n, &read);
  if (used > 0 && used == node->n && isfinite(read)) {
    *number = read;
    return true;
  }
  DIAG(reader->diags, BAD_NUMBER, node->at, node->text, "");
  return false;
}

bool reader_yes_no(struct reader *reader, const struct node *node, bool fallback) {
  if (node == NULL) return fallback;
  size_t word = reader_listed(reader, node, WORDS_YES_NO);
  return word == NO_INDEX ? fallback : word == 1;
}

size_t reader_word(struct reader *reader, const struct node *node, const char *what,
                   const char *const *words, size_t n) {
  if (node == NULL) return NO_INDEX;
  if (node->kind != NODE_SCALAR) {
    reader_wrong_shape(reader, node, "one word");
    return NO_INDEX;
  }
  for (size_t i = 0; i < n; i++)
    if (strcmp(words[i], node->text) == 0) return i;
  struct diag *diag =
      DIAG(reader->diags, UNKNOWN_WORD, node->at, node->text, what, reader_join(reader, words, n));
  diag_nearest(reader->diags, diag, node->text, words, n);
  return NO_INDEX;
}

size_t reader_listed(struct reader *reader, const struct node *node, enum word_list list) {
  const struct words *words = words_of(list);
  return reader_word(reader, node, words->what, words->at, words->n);
}

struct source_ref reader_source(struct reader *reader, const struct entry *entry) {
  struct source_ref source = {SOURCE_NONE, NO_INDEX};
  const struct node *node = node_get(entry->node, "source");
  const char *word = reader_string(reader, node);
  if (word == NULL) return source;
  if (strcmp(word, "practice") == 0) {
    source.kind = SOURCE_PRACTICE;
    return source;
  }
  if (strcmp(word, "memory") == 0) {
    source.kind = SOURCE_MEMORY;
    return source;
  }
  const struct model *model = reader->model;
  uint32_t index = names_find(model->reference_names, word, node->n);
  if (index != NAMES_NONE) {
    source.kind = SOURCE_PUBLISHED;
    source.index = index;
    return source;
  }
  struct diag *diag = DIAG(reader->diags, UNKNOWN_NAME, node->at, "source", word);
  const char **names =
      diag ? arena_new_array(reader->arena, const char *, model->n_references + 2) : NULL;
  if (names == NULL) return source;
  names[0] = "practice";
  names[1] = "memory";
  for (size_t i = 0; i < model->n_references; i++) names[i + 2] = model->references[i].name;
  diag_nearest(reader->diags, diag, word, names, model->n_references + 2);
  return source;
}

size_t reader_any_claim(struct reader *reader, const char *name, struct span at, const char *what) {
  size_t claim = model_find_claim(reader->model, name);
  if (claim != NO_INDEX) return claim;
  const struct model *model = reader->model;
  struct diag *diag = DIAG(reader->diags, UNKNOWN_NAME, at, what, name);
  const char **names =
      diag ? arena_new_array(reader->arena, const char *, model->n_claims + 1) : NULL;
  if (names == NULL) return NO_INDEX;
  for (size_t i = 0; i < model->n_claims; i++) names[i] = model->claims[i].name;
  diag_nearest(reader->diags, diag, name, names, model->n_claims);
  return NO_INDEX;
}

size_t reader_claim(struct reader *reader, const struct node *node, enum claim_kind kind) {
  const char *name = reader_string(reader, node);
  if (name == NULL) return NO_INDEX;
  size_t claim = reader_any_claim(reader, name, node->at, claim_kind_word(kind));
  if (claim == NO_INDEX || reader->model->claims[claim].kind == kind) return claim;
  static const char *const wanted[] = {"a finding is named here", "a cause is named here",
                                       "a drill is named here"};
  reader_wrong_claim(reader, claim, node->at, wanted[kind]);
  return NO_INDEX;
}
