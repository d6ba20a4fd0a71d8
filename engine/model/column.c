/* Columns: which trade words at the head of a table's column stand for which evidence. A pattern
 * has to match the whole header, so it needs no anchors. */
#include <string.h>

#include "model/reader.h"

/* Compiled once as written, so that a fault is placed inside it, and once to match the whole. */
static const struct pattern *read_pattern(struct reader *reader, const struct node *node) {
  const char *written = reader_string(reader, node);
  if (!written || !pattern_compile(reader->arena, written, node->n, node->at, reader->diags))
    return NULL;
  struct text whole;
  text_init(&whole, reader->arena);
  text_format(&whole, "^(?:%s)$", written);
  const char *bytes = text_done(&whole);
  return bytes ? pattern_compile(reader->arena, bytes, whole.n, node->at, reader->diags) : NULL;
}

static void read_means(struct reader *reader, const struct entry *entry, struct column *column) {
  static const char *const words[] = {
      [COLUMN_IGNORE] = "ignore", [COLUMN_SHOT] = "shot", [COLUMN_SIDE] = "side"};
  const struct node *node = reader_key(reader, entry, "means", true);
  const char *name = reader_string(reader, node);
  if (!name) return;
  for (size_t means = COLUMN_IGNORE; means <= COLUMN_SIDE; means++)
    if (strcmp(words[means], name) == 0) {
      column->means = (enum column_means)means;
      return;
    }
  column->evidence = model_find_evidence(reader->model, name);
  if (column->evidence == NO_INDEX) {
    struct diag *diag = DIAG(reader->diags, UNKNOWN_NAME, node->at, "evidence", name);
    model_nearest_evidence(reader->model, reader->diags, diag, name);
  } else if (reader->model->evidence[column->evidence].kind == EVIDENCE_TEXT) {
    DIAG(reader->diags, WRONG_KIND, node->at, name, "a text", "a column holds numbers or choices");
  }
}

static const struct evidence *number_evidence(struct reader *reader, const struct column *column) {
  if (column->means != COLUMN_EVIDENCE || column->evidence == NO_INDEX) return NULL;
  const struct evidence *evidence = &reader->model->evidence[column->evidence];
  return evidence->kind == EVIDENCE_NUMBER ? evidence : NULL;
}

static void read_unit(struct reader *reader, const struct entry *entry, struct column *column) {
  const struct node *node = node_get(entry->node, "unit");
  const char *name = reader_string(reader, node);
  const struct evidence *evidence = number_evidence(reader, column);
  if (!name) return;
  column->unit = golf_unit_find(name, node->n);
  if (!column->unit) DIAG(reader->diags, UNKNOWN_UNIT, node->at, name, "a unit of the table");
  else if (!evidence)
    DIAG(reader->diags, WRONG_SHAPE, node->at, "unit", "a column of numbers", "another column");
  else if (!golf_unit_convertible(column->unit, evidence->unit))
    DIAG(reader->diags, BAD_UNIT, node->at, name, evidence->name, evidence->unit->name);
}

static struct column read_column(struct reader *reader, const struct entry *entry) {
  const struct node *rows = node_get(entry->node, "rows");
  const struct node *header = rows ? rows : reader_key(reader, entry, "header", true);
  struct column column = {.name = entry->name,
                          .evidence = NO_INDEX,
                          .means = COLUMN_EVIDENCE,
                          .rows = rows != NULL,
                          .at = entry->at};
  reader_check_keys(reader, entry->node, "column", KEYS_COLUMN);
  column.written = header ? header->text : "";
  column.pattern = read_pattern(reader, header);
  if (rows) column.means = COLUMN_IGNORE;
  else read_means(reader, entry, &column);
  read_unit(reader, entry, &column);
  return column;
}

void read_columns(struct reader *reader) {
  struct entries entries = reader->kinds[ENTRY_COLUMN];
  struct column *columns = arena_new_array(reader->arena, struct column, entries.n + 1);
  if (!columns) return;
  for (size_t i = 0; i < entries.n; i++) columns[i] = read_column(reader, &entries.at[i]);
  reader->model->columns = columns;
  reader->model->n_columns = entries.n;
}
