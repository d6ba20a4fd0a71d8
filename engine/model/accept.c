/* Acceptances: the key `accept` of any entry, a mapping of a finding of check to the reason why it
 * is meant so. A list of such mappings is understood too. */
#include <string.h>

#include "model/reader.h"

#define CODES_MAX 64

struct acceptances {
  struct reader *reader;
  ARRAY(struct acceptance) list;
};

static size_t list_codes(const char **words, enum diag_code *codes) {
  size_t n = 0;
  for (int code = 0; code < DIAG_CODES && n < CODES_MAX; code++)
    if (diag_is_finding((enum diag_code)code)) {
      codes[n] = (enum diag_code)code;
      words[n++] = diag_word((enum diag_code)code);
    }
  return n;
}

/* DIAG_CODES after a report. */
static enum diag_code read_code(struct reader *reader, const struct node *reason) {
  const char *words[CODES_MAX];
  enum diag_code codes[CODES_MAX];
  size_t n = list_codes(words, codes);
  for (size_t i = 0; i < n; i++)
    if (strcmp(words[i], reason->key) == 0) return codes[i];
  struct diag *diag = DIAG(reader->diags, UNKNOWN_WORD, reason->key_at, reason->key,
                           "finding of check", reader_join(reader, words, n));
  diag_nearest(reader->diags, diag, reason->key, words, n);
  return DIAG_CODES;
}

static void read_map(struct acceptances *acceptances, const struct entry *entry,
                     const struct node *map) {
  struct reader *reader = acceptances->reader;
  if (!reader_is_map(reader, map, "a mapping: finding of check to the reason")) return;
  for (const struct node *reason = map->first; reason; reason = reason->next) {
    enum diag_code code = read_code(reader, reason);
    const char *text = reader_string(reader, reason);
    struct acceptance *one =
        code != DIAG_CODES && text ? array_push(reader->arena, &acceptances->list) : NULL;
    if (one) *one = (struct acceptance){code, text, reason->key_at, entry->at};
  }
}

void read_acceptances(struct reader *reader) {
  struct acceptances acceptances = {.reader = reader};
  for (size_t kind = 0; kind < ENTRY_KINDS; kind++)
    for (size_t i = 0; i < reader->kinds[kind].n; i++) {
      const struct entry *entry = &reader->kinds[kind].at[i];
      const struct node *accept = node_get(entry->node, "accept");
      if (!accept) continue;
      if (accept->kind != NODE_LIST) read_map(&acceptances, entry, accept);
      else
        for (const struct node *map = accept->first; map; map = map->next)
          read_map(&acceptances, entry, map);
    }
  reader->model->acceptances = acceptances.list.at;
  reader->model->n_acceptances = acceptances.list.n;
}
