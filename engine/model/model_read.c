/* From files to a model: entries are collected from all files, laid over each other by layer,
 * sorted by kind and name, and then read part by part, vocabulary before rules, so that every name
 * is known when it is used. */
#include <stdlib.h>
#include <string.h>

#include "model/reader.h"

struct collector {
  struct reader *reader;
  struct names *lost; /* names in what could not be read */
  ARRAY(struct entry) entries;
  ARRAY(struct override) overrides;
  bool newer; /* a file is of a newer format: what it means is not known */
};

static size_t entry_kind_find(const char *word) {
  for (size_t kind = 0; kind < ENTRY_KINDS; kind++)
    if (strcmp(entry_kind_word((enum entry_kind)kind), word) == 0) return kind;
  return NO_INDEX;
}

static void unknown_kind(struct reader *reader, const struct node *first) {
  const char *words[ENTRY_KINDS + 1];
  for (size_t kind = 0; kind < ENTRY_KINDS; kind++)
    words[kind] = entry_kind_word((enum entry_kind)kind);
  words[ENTRY_KINDS] = "format";
  struct diag *diag = DIAG(reader->diags, UNKNOWN_ENTRY, first->key_at, first->key,
                           reader_join(reader, words, ENTRY_KINDS + 1));
  diag_nearest(reader->diags, diag, first->key, words, ENTRY_KINDS + 1);
}

static bool is_name_byte(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         c == '-';
}

/* Every word of what could not be read may be a name it defines. */
static void lose(struct collector *collector, const char *bytes, size_t n) {
  for (size_t i = 0; i < n;) {
    size_t from = i;
    while (i < n && is_name_byte(bytes[i])) i++;
    if (i > from) names_add(collector->lost, bytes + from, i - from, 0);
    else i++;
  }
  collector->reader->diags->lost = collector->lost;
}

static void not_entries(struct reader *reader, const struct node *node) {
  const char *found = reader_describe(reader, node);
  if (found) DIAG(reader->diags, NOT_ENTRIES, node->at, found);
}

/* Words that conditions, cases, texts or sources would read otherwise. */
static bool is_reserved(size_t kind, const char *name) {
  static const char *const words[] = {"all",   "any",  "none", "formula", "left",
                                      "right", "hits", "of",   "seen"};
  if (kind == ENTRY_SOURCE) return strcmp(name, "practice") == 0 || strcmp(name, "memory") == 0;
  if (kind < ENTRY_EVIDENCE || kind > ENTRY_DRILL) return false;
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (strcmp(words[i], name) == 0) return true;
  return false;
}

static void collect_entry(struct collector *collector, const struct node *node, unsigned layer) {
  struct reader *reader = collector->reader;
  if (node->kind != NODE_MAP || node->first == NULL) {
    not_entries(reader, node);
    if (node->kind == NODE_SCALAR) lose(collector, node->text, node->n);
    return;
  }
  const struct node *first = node->first;
  if (format_is_entry(node)) {
    format_misplaced(reader->diags, node);
    return;
  }
  size_t kind = entry_kind_find(first->key);
  if (kind == NO_INDEX) {
    unknown_kind(reader, first);
    if (first->kind == NODE_SCALAR) lose(collector, first->text, first->n);
    return;
  }
  const char *name = reader_string(reader, first);
  bool hyphens = kind == ENTRY_RULE || kind == ENTRY_CASE || kind == ENTRY_SOURCE;
  if (name == NULL) return;
  if (!reader_is_name(name, hyphens)) {
    DIAG(reader->diags, BAD_NAME, first->at, name, hyphens ? "digits, _ and -" : "digits and _");
    names_add(collector->lost, name, first->n, 0);
    reader->diags->lost = collector->lost;
    return;
  }
  if (is_reserved(kind, name)) DIAG(reader->diags, RESERVED_NAME, first->at, name, first->key);
  struct entry *entry = array_push(reader->arena, &collector->entries);
  if (entry) *entry = (struct entry){(enum entry_kind)kind, name, node, layer, first->at};
}

static void collect_file(struct collector *collector, const struct model_file *file) {
  struct reader *reader = collector->reader;
  const struct node *list = node_read(reader->arena, file->source, reader->diags);
  if (list == NULL || list->kind != NODE_LIST) {
    if (list) not_entries(reader, list);
    lose(collector, file->source->bytes, file->source->n);
    return;
  }
  const struct node *first = list->first;
  if (first && format_is_entry(first)) {
    if (!format_is_known(reader, first)) {
      collector->newer = true;
      return;
    }
    first = first->next;
  }
  for (const struct node *node = first; node; node = node->next)
    collect_entry(collector, node, file->layer);
}

/* By kind, name, then layer; within a layer by place, so that a report never depends on the order
 * of files. */
static int compare_entries(const void *left, const void *right) {
  const struct entry *a = left, *b = right;
  if (a->kind != b->kind) return a->kind < b->kind ? -1 : 1;
  int by_name = strcmp(a->name, b->name);
  if (by_name != 0) return by_name;
  if (a->layer != b->layer) return a->layer < b->layer ? -1 : 1;
  return span_compare(&a->at, &b->at);
}

static void report_duplicate(struct reader *reader, const struct entry *entry,
                             const struct entry *beneath) {
  struct text by;
  const char *kind = entry_kind_word(entry->kind);
  text_init(&by, reader->arena);
  if (beneath->layer == entry->layer) text_format(&by, "another %s", kind);
  else
    text_format(&by, "%s of a lower layer; to replace it write 'replaces: %s'",
                entry_kind_phrase(entry->kind), entry->name);
  if (text_done(&by) == NULL) return;
  struct diag *diag = DIAG(reader->diags, DUPLICATE_NAME, entry->at, entry->name, text_done(&by));
  diag_note(reader->diags, diag, beneath->at, "it stands here");
}

static void check_replaces(struct collector *collector, const struct entry *entry,
                           const struct entry *beneath) {
  struct reader *reader = collector->reader;
  const struct node *replaces = node_get(entry->node, "replaces");
  const char *word = entry_kind_word(entry->kind);
  if (beneath && (replaces == NULL || beneath->layer == entry->layer)) {
    report_duplicate(reader, entry, beneath);
    return;
  }
  if (replaces == NULL) return;
  if (!node_is(replaces, entry->name)) {
    DIAG(reader->diags, REPLACES_OTHER, replaces->at, entry->name);
  } else if (beneath == NULL) {
    DIAG(reader->diags, REPLACES_NOTHING, replaces->at, word, entry->name);
  } else {
    struct override *override = array_push(reader->arena, &collector->overrides);
    if (override) *override = (struct override){word, entry->name, beneath->at, entry->at};
  }
}

/* Sorts, and keeps of equal names the one of the highest layer. */
static void overlay(struct collector *collector) {
  struct entry *at = collector->entries.at;
  size_t n = collector->entries.n, kept = 0;
  if (n > 0) qsort(at, n, sizeof *at, compare_entries);
  guard_red_flags(collector->reader, at, n);
  for (size_t i = 0; i < n; i++) {
    bool same =
        kept > 0 && at[kept - 1].kind == at[i].kind && strcmp(at[kept - 1].name, at[i].name) == 0;
    check_replaces(collector, &at[i], same ? &at[kept - 1] : NULL);
    if (same) at[kept - 1] = at[i];
    else at[kept++] = at[i];
  }
  collector->entries.n = kept;
}

static void split_kinds(struct collector *collector) {
  struct reader *reader = collector->reader;
  const struct entry *at = collector->entries.at;
  for (size_t i = 0; i < collector->entries.n; i++) {
    struct entries *entries = &reader->kinds[at[i].kind];
    if (entries->n++ == 0) entries->at = &at[i];
  }
}

/* Evidence, findings, causes and drills share one space of names. */
static void check_one_space(struct reader *reader) {
  for (size_t kind = ENTRY_EVIDENCE; kind <= ENTRY_DRILL; kind++) {
    for (size_t i = 0; i < reader->kinds[kind].n; i++) {
      const struct entry *entry = &reader->kinds[kind].at[i];
      uint32_t mark = (uint32_t)(kind << 24 | i);
      uint32_t first = names_add(reader->everything, entry->name, strlen(entry->name), mark);
      if (first == mark || first == NAMES_NONE) continue;
      const struct entry *other = &reader->kinds[first >> 24].at[first & 0xffffff];
      struct diag *diag = DIAG(reader->diags, DUPLICATE_NAME, entry->at, entry->name,
                               entry_kind_phrase(other->kind));
      diag_note(reader->diags, diag, other->at, "it stands here");
    }
  }
}

static bool make_name_tables(struct reader *reader) {
  struct model *model = reader->model;
  struct names **tables[] = {&model->evidence_names, &model->claim_names,     &model->rule_names,
                             &model->club_names,     &model->reference_names, &reader->everything};
  for (size_t i = 0; i < sizeof tables / sizeof tables[0]; i++)
    if ((*tables[i] = names_new(reader->arena)) == NULL) return false;
  return true;
}

static void read_parts(struct reader *reader) {
  check_one_space(reader);
  read_references(reader);
  read_clubs(reader);
  read_evidence(reader);
  read_claims(reader);
  read_drills(reader);
  read_rules(reader);
  read_cases(reader);
  read_columns(reader);
  read_windows(reader);
  read_phrases(reader);
  read_acceptances(reader);
}

static bool is_listed(const char *const *roots, size_t n, const char *root) {
  for (size_t i = 0; i < n; i++)
    if (strcmp(roots[i], root) == 0) return true;
  return false;
}

/* Files come layer by layer. */
static void list_roots(struct reader *reader, const struct model_file *files, size_t n_files) {
  ARRAY(const char *) roots = {0};
  for (size_t i = 0; i < n_files; i++) {
    const char *root = files[i].source->root;
    if (files[i].layer == 0 || root == NULL || is_listed(roots.at, roots.n, root)) continue;
    const char **place = array_push(reader->arena, &roots);
    if (place) *place = root;
  }
  reader->model->roots = roots.at;
  reader->model->n_roots = roots.n;
}

/* Ends the holding back: what else is reported to the list has all that it reads. */
static void tell_held(struct diags *diags) {
  struct text count;
  diags->lost = NULL;
  diags->lost_all = false;
  if (diags->held == 0) return;
  text_init(&count, diags->arena);
  text_format(&count, "%zu error%s", diags->held, diags->held == 1 ? "" : "s");
  if (text_done(&count))
    DIAG(diags, HELD_BACK, (struct span){0}, text_done(&count), diags->held == 1 ? "is" : "are");
  else diags->no_memory = true;
}

struct model *model_read(struct arena *arena, const struct model_file *files, size_t n_files,
                         struct diags *diags) {
  struct model *model = arena_new_object(arena, struct model);
  struct reader reader = {.arena = arena, .diags = diags, .model = model};
  struct collector collector = {.reader = &reader, .lost = names_new(arena)};
  if (model == NULL || collector.lost == NULL || !make_name_tables(&reader)) {
    diags->no_memory = true;
    return NULL;
  }
  model->arena = arena;
  model->club_evidence = NO_INDEX;
  diags->lost_all = diags->errors != 0; /* a file that could not even be opened */
  for (size_t i = 0; i < n_files; i++) collect_file(&collector, &files[i]);
  if (collector.newer) {
    tell_held(diags);
    return NULL; /* without that file the others would be told faulty for what it defines */
  }
  overlay(&collector);
  split_kinds(&collector);
  list_roots(&reader, files, n_files);
  model->overrides = collector.overrides.at;
  model->n_overrides = collector.overrides.n;
  if (!arena_failed(arena)) read_parts(&reader);
  tell_held(diags);
  if (arena_failed(arena)) diags->no_memory = true;
  return diags->errors == 0 && !diags->no_memory ? model : NULL;
}
