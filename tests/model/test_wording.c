/* Texts cut into parts, and the places of what is wrong in them, in every way YAML writes a
 * text. */
#include <string.h>

#include "model/reader.h"
#include "support/cases.h"
#include "support/trial.h"

/* The parts as "<left>", "<value of evidence>" and plain text. */
static const char *parts_of(struct arena *arena, const struct model *model,
                            const struct wording *wording) {
  struct text out;
  text_init(&out, arena);
  for (size_t i = 0; i < wording->n; i++) {
    const struct wording_part *part = &wording->parts[i];
    if (part->kind == WORDING_TEXT) text_format(&out, "%s|", part->text);
    else if (part->kind == WORDING_VALUE)
      text_format(&out, "<value of %s>|", model->evidence[part->evidence].name);
    else text_add(&out, part->kind == WORDING_LEFT ? "<left>|" : "<right>|");
  }
  return text_done(&out) ? text_done(&out) : "";
}

static void assert_parts(const char *about, const char *parts) {
  struct trial trial;
  TRIAL(&trial, NUMBER("path") "  also: [club_path]\n",
        "- finding: f\n  title: x\n  about: ", about, "\n");
  assert_string_equal(parts_of(trial.knowledge.arena, trial.model, &trial.model->claims[0].about),
                      parts);
  trial_close(&trial);
}

static void wording__parts(void **state) {
  (void)state;
  assert_parts("plain words", "plain words|");
  assert_parts("to the {left} of it", "to the |<left>| of it|");
  assert_parts("\"{left}{right}\"", "<left>|<right>|");
  assert_parts("the path is {path}.", "the path is |<value of path>|.|");
  assert_parts("the path is {club_path}", "the path is |<value of path>|");
  assert_parts(">-\n    over two\n    lines {left}", "over two lines |<left>|");
}

/* Only whole words are sides. */
static void wording__other_words_that_hold_a_side_are_free(void **state) {
  (void)state;
  assert_parts("a bright and upright leftover, rightly cleft",
               "a bright and upright leftover, rightly cleft|");
  assert_parts("caf\xc3\xa9"
               "right",
               "caf\xc3\xa9"
               "right|");
}

/* The line and column of each fault in `about`, in order. */
static void assert_places(const char *about, const char *places) {
  struct arena *arena = arena_new(NULL);
  struct text yaml, got;
  struct knowledge knowledge;
  text_init(&yaml, arena);
  text_init(&got, arena);
  text_format(&yaml, "- finding: f\n  title: x\n  about: %s\n", about);
  assert_false(knowledge_load_text(&knowledge, text_done(&yaml)));
  for (size_t i = 0; i < knowledge.diags.list.n; i++) {
    const struct diag *diag = &knowledge.diags.list.at[i];
    text_format(&got, "%s%u:%u-%u:%u", i ? " " : "", diag->at.line, diag->at.column,
                diag->at.end_line, diag->at.end_column);
  }
  assert_string_equal(text_done(&got), places);
  knowledge_free(&knowledge);
  arena_free(arena);
}

static void wording__a_bare_side_is_pointed_at(void **state) {
  (void)state;
  assert_places("to the left", "3:17-3:21");
  assert_places("Left and RIGHT", "3:10-3:14 3:19-3:24");
  assert_places("left-handed", "3:10-3:14");
  assert_places("\"to the left\"", "3:18-3:22");
  assert_places("'it''s left'", "3:17-3:21");
  assert_places("\"a \\\"b\\\" left\"", "3:19-3:23");
  assert_places("caf\xc3\xa9 left", "3:15-3:19");
  assert_places("one\n    two  left\n    three", "4:10-4:14");
  assert_places(">-\n    one\n    two left\n\n    right", "5:9-5:13 7:5-7:10");
  assert_places("|\n    one\n      left", "5:7-5:11");
  assert_places("\"one\n    left\"", "4:5-4:9");
}

/* Where an escape makes the text differ from its source the whole is pointed at. */
static void wording__an_escape_is_pointed_at_whole(void **state) {
  (void)state;
  assert_places("\"a\\tb left\"", "3:10-3:21");
  assert_places("\"l\\x65ft\"", "3:10-3:19");
}

static void wording__braces(void **state) {
  (void)state;
  assert_places("the {path is", "3:14-3:15");
  assert_places("the path} is", "3:18-3:19");
  assert_places("the {paht} is", "3:15-3:19");
  assert_places("the {} is", "3:15-3:16");
  assert_places("the {LEFT} is", "3:15-3:19");
  assert_places("the {{left}} is", "3:15-3:20 3:21-3:22");
}

static void reader_place__of_arguments(void **state) {
  struct source source = {.name = "argument 1", .bytes = "words=\"a b\"", .n = 11};
  struct span at = {&source, 1, 7, 1, 12};
  (void)state;
  struct span part = reader_place(at, "\"a b\"", 3, 1);
  assert_int_equal(part.column, 10);
  assert_int_equal(part.end_column, 11);
  part = reader_place(at, "\"a b\"", 5, 1); /* behind the end: one caret */
  assert_int_equal(part.column, 12);
  part = reader_place(at, "something else", 3, 1);
  assert_int_equal(part.column, 7);
  assert_int_equal(part.end_column, 12);
  part = reader_place((struct span){0}, "nowhere", 3, 1);
  assert_null(part.source);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(wording__parts),
      cmocka_unit_test(wording__other_words_that_hold_a_side_are_free),
      cmocka_unit_test(wording__a_bare_side_is_pointed_at),
      cmocka_unit_test(wording__an_escape_is_pointed_at_whole),
      cmocka_unit_test(wording__braces),
      cmocka_unit_test(reader_place__of_arguments),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
