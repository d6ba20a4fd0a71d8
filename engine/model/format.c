/* The rule-format version that a file of knowledge may name in its first entry: - format: 1 */
#include <string.h>

#include "model/reader.h"

bool format_is_entry(const struct node *node) {
  return node->kind == NODE_MAP && node->first && strcmp(node->first->key, "format") == 0;
}

void format_misplaced(struct diags *diags, const struct node *entry) {
  DIAG(diags, FORMAT_PLACE, entry->first->key_at, NULL);
}

/* Only digits: a version is counted, not measured. */
static bool read_version(struct reader *reader, const struct node *value, double *version) {
  bool digits = value->kind == NODE_SCALAR && value->n > 0 && value->n < 10 &&
                strspn(value->text, "0123456789") == value->n;
  *version = 0;
  if (digits) number_read(value->text, value->n, version);
  if (*version < 1) reader_wrong_shape(reader, value, "a whole number from 1 up");
  return *version >= 1;
}

bool format_is_known(struct reader *reader, const struct node *entry) {
  const struct node *value = entry->first;
  double version;
  if (value->next) DIAG(reader->diags, FORMAT_PLACE, value->next->key_at, NULL);
  if (!read_version(reader, value, &version) || version <= RULE_FORMAT) return true;
  struct text known;
  text_init(&known, reader->arena);
  text_number(&known, RULE_FORMAT);
  const char *word = text_done(&known);
  if (word) DIAG(reader->diags, FORMAT_NEWER, value->at, value->text, word);
  return false;
}
