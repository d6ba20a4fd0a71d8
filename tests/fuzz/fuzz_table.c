/* Any bytes, in pieces of any size: rows whose cells keep their promises; and the intake, on a
 * small knowledge, takes every row and keeps its counts. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "session/intake.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

static const char knowledge[] =
    "- evidence: club\n  title: club\n  about: club\n  kind: club\n  ask: Which?\n  effort: know\n"
    "  source: practice\n"
    "- club: 7i\n  title: 7 iron\n  also: [7iron]\n  family: iron\n  loft: 33 deg\n"
    "  length: 0.94 m\n  lie: 62 deg\n  head_mass: 268 g\n  source: practice\n"
    "- evidence: path\n  title: club path\n  about: path\n  kind: number\n  unit: deg\n"
    "  range: [-20, 20]\n  error: 1\n  spread: 2\n  sides: [left, right]\n"
    "  words: {left: -4 +/- 2, open: 3 +/- 1}\n  ask: How?\n  effort: measure\n  source: practice\n"
    "- evidence: speed\n  title: speed\n  about: speed\n  kind: number\n  unit: m/s\n"
    "  range: [5, 95]\n  error: 1\n  spread: 2\n  ask: How?\n  effort: measure\n  source: practice\n"
    "- column: club\n  header: club\n  means: club\n"
    "- column: path\n  header: '(club )?path'\n  means: path\n  unit: deg\n"
    "- column: speed\n  header: '(ball )?speed'\n  means: speed\n"
    "- column: side\n  header: l r\n  means: side\n"
    "- column: rows\n  rows: 'mean|average'\n";

static void require(bool holds) {
  if (!holds) abort();
}

static const struct model *load_model(void) {
  static const struct model *model;
  if (model) return model;
  struct arena *arena = arena_new(NULL);
  static struct source source;
  struct diags diags;
  source = (struct source){.name = "kb", .bytes = knowledge, .n = sizeof knowledge - 1};
  diags_init(&diags, arena);
  model = model_read(arena, &(struct model_file){&source, 0}, 1, &diags);
  require(model != NULL);
  return model;
}

struct feed {
  const uint8_t *bytes;
  size_t n, at, piece;
};

static long fetch(void *context, char *bytes, size_t room) {
  struct feed *feed = context;
  size_t n = feed->n - feed->at;
  if (n > feed->piece) n = feed->piece;
  if (n > room) n = room;
  memcpy(bytes, feed->bytes + feed->at, n);
  feed->at += n;
  return (long)n;
}

static void check_cell(const struct row *row, const struct cell *cell) {
  require(strlen(cell->text) == cell->n && cell->n <= row->n_bytes);
  require(cell->line >= row->line && cell->column >= 1);
  require(cell->end_line > cell->line ||
          (cell->end_line == cell->line && cell->end_column >= cell->column));
}

static void check_rows(struct arena *arena, struct feed feed) {
  struct row row;
  uint32_t line = 0;
  enum table_answer answer;
  struct table *table = table_open(arena, fetch, &feed);
  while ((answer = table_next(table, &row)) == TABLE_ROW) {
    require(row.line > line && row.n >= 1 && row.n <= TABLE_COLUMNS_MAX);
    require(row.n_bytes <= TABLE_RECORD_MAX && strlen(row.bytes) == row.n_bytes);
    for (size_t i = 0; i < row.n; i++) check_cell(&row, &row.cells[i]);
    line = row.line;
  }
  require(table_next(table, &row) == answer);
}

static void check_intake(struct arena *arena, struct feed feed, enum hand hand) {
  struct shots shots = {.arena = arena, .model = load_model()};
  struct intake intake;
  struct diags diags;
  diags_init(&diags, arena);
  require(intake_start(&intake, &shots, "table", &diags));
  intake.hand = hand;
  bool read = intake_table(&intake, table_open(arena, fetch, &feed));
  require(read == (diags.errors == 0) && !diags.no_memory);
  size_t bad = 0;
  for (size_t i = 0; i < intake.n_columns; i++) {
    require(intake.columns[i].n_read + intake.columns[i].n_bad <= shots_count(&shots));
    bad += intake.columns[i].n_bad;
  }
  require(bad == intake.n_bad);
  for (size_t i = 0; i < shots.n_columns; i++) {
    const struct evidence *evidence = &shots.model->evidence[shots.columns[i].evidence];
    for (size_t k = 0; k < shots_count(&shots); k++) {
      double reading = shots_reading(&shots, i, k);
      require(isnan(reading) || (reading >= evidence->low && reading <= evidence->high) ||
              (-reading >= evidence->low && -reading <= evidence->high));
    }
  }
  struct text text;
  text_init(&text, arena);
  diags_print(&text, &diags);
  require(text_done(&text) != NULL);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
  if (n == 0) return 0;
  struct arena *arena = arena_new(NULL);
  struct feed feed = {.bytes = bytes + 1, .n = n - 1, .piece = 1 + bytes[0] % 64};
  check_rows(arena, feed);
  feed.piece = 1 + (size_t)bytes[0] * 64;
  check_intake(arena, feed, bytes[0] & 1 ? HAND_LEFT : HAND_RIGHT);
  arena_free(arena);
  return 0;
}
