/* Delimited text in, cells with positions out: whatever the sizes of the pieces it is fetched in.
 */
#include <stdio.h>
#include <string.h>

#include "base/text.h"
#include "input/table.h"
#include "support/cases.h"

struct feed {
  const char *bytes;
  size_t n, at, piece; /* at most piece bytes a fetch */
  bool fails;          /* at the end */
};

static long fetch(void *context, char *bytes, size_t room) {
  struct feed *feed = context;
  size_t n = feed->n - feed->at;
  if (n > feed->piece) n = feed->piece;
  if (n > room) n = room;
  if (n == 0 && feed->fails) return -1;
  memcpy(bytes, feed->bytes + feed->at, n);
  feed->at += n;
  return (long)n;
}

/* Prints rows as "<line> [a|b|c]" with the places of cells where `places`; the answer at the end.
 */
static const char *print_table(struct arena *arena, struct feed *feed, bool places,
                               char *delimiter) {
  struct text out;
  struct row row;
  enum table_answer answer;
  struct table *table = table_open(arena, fetch, feed);
  text_init(&out, arena);
  while ((answer = table_next(table, &row)) == TABLE_ROW) {
    text_format(&out, "%u[", (unsigned)row.line);
    for (size_t i = 0; i < row.n; i++) {
      const struct cell *cell = &row.cells[i];
      assert_int_equal(strlen(cell->text), cell->n);
      text_format(&out, "%s%s%s%s", i ? "|" : "", cell->text, cell->quoted ? "\"" : "",
                  cell->torn ? "!" : "");
      if (places)
        text_format(&out, "@%u:%u-%u:%u", (unsigned)cell->line, (unsigned)cell->column,
                    (unsigned)cell->end_line, (unsigned)cell->end_column);
    }
    text_add(&out, "]");
  }
  if (answer != TABLE_END)
    text_format(&out, "fault %d at %u:%u", (int)answer, (unsigned)row.cells[0].line,
                (unsigned)row.cells[0].column);
  if (delimiter) *delimiter = table_delimiter(table);
  assert_int_equal(table_next(table, &row), answer); /* final */
  return text_done(&out);
}

static void check_bytes(const char *bytes, size_t n, bool places, const char *expected) {
  static const size_t pieces[] = {1, 2, 3, 7, 64, 100000};
  for (size_t i = 0; i < sizeof pieces / sizeof pieces[0]; i++) {
    struct arena *arena = arena_new(NULL);
    struct feed feed = {.bytes = bytes, .n = n, .piece = pieces[i]};
    assert_string_equal(print_table(arena, &feed, places, NULL), expected);
    arena_free(arena);
  }
}

static void check(const char *text, const char *expected) {
  check_bytes(text, strlen(text), false, expected);
}

static char delimiter_of(const char *text) {
  struct arena *arena = arena_new(NULL);
  struct feed feed = {.bytes = text, .n = strlen(text), .piece = 100000};
  char delimiter;
  print_table(arena, &feed, false, &delimiter);
  arena_free(arena);
  return delimiter;
}

static void table_next__reads_rows_with_either_line_end(void **state) {
  (void)state;
  check("a,b\n1,2\n", "1[a|b]2[1|2]");
  check("a,b\r\n1,2\r\n", "1[a|b]2[1|2]");
  check("a,b\r\n1,2", "1[a|b]2[1|2]");
  check("a,b\n1,\n,2\n,\n", "1[a|b]2[1|]3[|2]");
  check("", "");
  check("\n\n  \n", "");
  check("a\n\n1\n", "1[a]3[1]");
}

static void table_next__takes_quotes_off(void **state) {
  (void)state;
  check("\"a\",\"b,c\"\n", "1[a\"|b,c\"]");
  check("\"a\"\"b\",\"\"\n", "1[a\"b\"|\"]");
  check("\"a\nb\",c\nd,e\n", "1[a\nb\"|c]3[d|e]");
  check("\"a\r\nb\",c\r\nd,e\r\n", "1[a\r\nb\"|c]3[d|e]");
  check(" \" a \" , b \n", "1[ a \"|b]");
}

static void table_next__keeps_a_quote_inside_a_plain_cell(void **state) {
  (void)state;
  check("5\" wide,b\"c\"\n", "1[5\" wide|b\"c\"]");
}

static void table_next__marks_text_behind_a_closing_quote(void **state) {
  (void)state;
  check("\"a\"x,b\n", "1[ax\"!|b]");
  check("\"a\" \"b,c\",d\n", "1[a\"b\"!|c\"|d]");
}

static void table_next__passes_over_the_mark_of_utf8(void **state) {
  (void)state;
  check("\xEF\xBB\xBF"
        "a,b\n1,2\n",
        "1[a|b]2[1|2]");
  check_bytes("\xEF\xBB\xBF"
              "a,b\n",
              7, true, "1[a@1:1-1:2|b@1:3-1:4]");
}

static void table_next__places_cells_in_characters(void **state) {
  (void)state;
  const char *text = "\xC3\xA4"
                     "b; c ;\"d\ne\"\nf;;g";
  check_bytes(text, strlen(text), true,
              "1[\xC3\xA4"
              "b@1:1-1:3|c@1:5-1:6|d\ne\"@1:8-2:3]3[f@3:1-3:2|@3:3-3:3|g@3:4-3:5]");
}

static void table_next__finds_the_delimiter(void **state) {
  (void)state;
  assert_int_equal(delimiter_of("a,b\n1,2\n"), ',');
  assert_int_equal(delimiter_of("a;b\n1,5;2,5\n3,5;4,5\n"), ';');
  assert_int_equal(delimiter_of("a\tb\n1,5\t2,5\n3,5\t4;5\n"), '\t');
  assert_int_equal(delimiter_of("a;b;c"), ';');
  assert_int_equal(delimiter_of("Practice, on Monday\na;b;c\n1,5;2;3\n1,5;2;3\n"), ';');
  assert_int_equal(delimiter_of("\"a,b,c,d\";e\n\"1,2\";3\n"), ';');
  assert_int_equal(delimiter_of("one\n1\n2\n"), ',');
}

static void table_next__reports_ragged_rows_as_they_are(void **state) {
  (void)state;
  check("a,b,c\n1,2\n1,2,3,4\n", "1[a|b|c]2[1|2]3[1|2|3|4]");
}

static void table_next__places_a_quote_that_is_never_closed(void **state) {
  (void)state;
  check("a,b\n1,\"2\n3,4\n", "1[a|b]fault 4 at 2:3");
  check("a,b\n1,\"2", "1[a|b]fault 4 at 2:3");
  check("a,b\n1,\"\"\"", "1[a|b]fault 4 at 2:3");
}

static void table_next__refuses_what_is_no_text(void **state) {
  (void)state;
  check_bytes("\xFF\xFE"
              "a\0,\0",
              6, false, "fault 3 at 1:1");
  check_bytes("a,b\n1,\0\n", 8, false, "1[a|b]fault 3 at 2:3");
}

static void table_next__says_when_reading_fails(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct feed feed = {.bytes = "a,b\n1,2\n3", .n = 9, .piece = 4, .fails = true};
  assert_string_equal(print_table(arena, &feed, false, NULL), "1[a|b]2[1|2]fault 2 at 3:2");
  arena_free(arena);
}

static void table_next__keeps_to_its_limits(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct text text;
  text_init(&text, arena);
  for (int i = 1; i < TABLE_COLUMNS_MAX; i++) text_add_char(&text, ',');
  text_add_char(&text, '\n');
  size_t most = text.n;
  struct feed feed = {.bytes = text.at, .n = text.n, .piece = 1000};
  assert_string_equal(print_table(arena, &feed, false, NULL), "");
  text_add(&text, ",");
  for (size_t i = 0; i < most; i++) text_add_char(&text, text.at[i]);
  feed = (struct feed){.bytes = text.at + most, .n = text.n - most, .piece = 1000};
  assert_string_equal(print_table(arena, &feed, false, NULL), "fault 6 at 1:257");
  text_init(&text, arena);
  for (int i = 0; i < TABLE_RECORD_MAX; i++) text_add_char(&text, 'x');
  feed = (struct feed){.bytes = text.at, .n = text.n, .piece = 100000};
  assert_int_equal(strlen(print_table(arena, &feed, false, NULL)), TABLE_RECORD_MAX + 3);
  text_add(&text, "x\nb\n");
  feed = (struct feed){.bytes = text.at, .n = text.n, .piece = 100000};
  assert_string_equal(print_table(arena, &feed, false, NULL), "fault 5 at 1:1");
  arena_free(arena);
}

static void table_next__needs_no_more_memory_for_more_rows(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct text text;
  struct row row;
  text_init(&text, arena);
  for (int i = 0; i < 20000; i++) text_add(&text, "1,2,\"three\"\n");
  struct feed feed = {.bytes = text.at, .n = text.n, .piece = 4096};
  struct table *table = table_open(arena, fetch, &feed);
  const char *texts = NULL;
  size_t rows = 0;
  for (; table_next(table, &row) == TABLE_ROW; rows++) {
    if (texts) assert_ptr_equal(row.cells[0].text, texts);
    texts = row.cells[0].text;
  }
  assert_int_equal(rows, 20000);
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(table_next__reads_rows_with_either_line_end),
      cmocka_unit_test(table_next__takes_quotes_off),
      cmocka_unit_test(table_next__keeps_a_quote_inside_a_plain_cell),
      cmocka_unit_test(table_next__marks_text_behind_a_closing_quote),
      cmocka_unit_test(table_next__passes_over_the_mark_of_utf8),
      cmocka_unit_test(table_next__places_cells_in_characters),
      cmocka_unit_test(table_next__finds_the_delimiter),
      cmocka_unit_test(table_next__reports_ragged_rows_as_they_are),
      cmocka_unit_test(table_next__places_a_quote_that_is_never_closed),
      cmocka_unit_test(table_next__refuses_what_is_no_text),
      cmocka_unit_test(table_next__says_when_reading_fails),
      cmocka_unit_test(table_next__keeps_to_its_limits),
      cmocka_unit_test(table_next__needs_no_more_memory_for_more_rows),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
