/* What a table says about its player: the hand, who it is, and remarks. A table is one player's and
 * of one hand, else means would be of nobody. */
#include <string.h>

#include "session/intake_parts.h"

/* ---- the hand ---- */

static const char *const hands[] = {[HAND_RIGHT] = "right", [HAND_LEFT] = "left"};

/* "R", "rh", "right-handed"; false: it is none. */
static bool hand_of(const struct cell *cell, enum hand *hand) {
  static const char *const words[][2] = {{"r", "l"},          {"rh", "lh"},
                                         {"right", "left"},   {"righthand", "lefthand"},
                                         {"righty", "lefty"}, {"righthanded", "lefthanded"}};
  char plain[PLAIN_ROOM];
  size_t n = plain_name(plain, cell->text, cell->n);
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    for (int k = 0; k < 2; k++)
      if (strlen(words[i][k]) == n && memcmp(words[i][k], plain, n) == 0) {
        *hand = k == 0 ? HAND_RIGHT : HAND_LEFT;
        return true;
      }
  return false;
}

static void refuse_hand(struct intake *intake, const struct row *row, const struct cell *cell,
                        enum hand hand) {
  struct text text;
  text_init(&text, intake->diags->arena);
  if (intake->hand_line > 0)
    text_format(&text, "it is %s-handed here and %s-handed in line %u", hands[hand],
                hands[intake->hand], (unsigned)intake->hand_line);
  else
    text_format(&text, "it is %s-handed here, and no hand is named in the shots before",
                hands[hand]);
  text_add(&text, "; give a table for each hand, or say --handed");
  refuse_table(intake, row, cell, text_done(&text));
}

static void tell_other_hand(struct intake *intake, struct intake_column *column, enum hand hand) {
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text, "it says %s, but %s was given; %s is used", hands[hand], hands[intake->hand],
              hands[intake->hand]);
  if (!column->told && text_done(&text))
    DIAG(intake->diags, COLUMN_SKIPPED, column->at, column->header, text_done(&text));
  column->told = true;
}

bool cell_hand(struct intake *intake, const struct row *row, const struct cell *cell,
               struct intake_column *column) {
  enum hand hand;
  if (cell_is_empty(cell)) return true;
  if (!hand_of(cell, &hand)) {
    tell_cell(intake, row, cell, column, "it is no hand; use left or right");
    return true;
  }
  column->n_read++;
  if (intake->hand_given) {
    if (hand != intake->hand) tell_other_hand(intake, column, hand);
    return true;
  }
  bool first = intake->hand_line == 0 && shots_count(intake->shots) == 0;
  if (!first && hand != intake->hand) {
    refuse_hand(intake, row, cell, hand);
    return false;
  }
  intake->hand = hand;
  if (intake->hand_line == 0) intake->hand_line = row->line;
  return true;
}

/* ---- who ---- */

static void refuse_player(struct intake *intake, const struct row *row, const struct cell *cell,
                          const struct intake_column *column, const char *called) {
  struct text text;
  text_init(&text, intake->diags->arena);
  text_format(&text,
              "two players in one table? column '%s' says '%s' here and '%s' in line %u; give a "
              "table for each player, or leave the column out",
              column->header, called, column->called, (unsigned)column->player_line);
  refuse_table(intake, row, cell, text_done(&text));
}

bool cell_player(struct intake *intake, const struct row *row, const struct cell *cell,
                 struct intake_column *column) {
  char plain[PLAIN_ROOM + 1];
  size_t n = plain_name(plain, cell->text, cell->n);
  if (cell_is_empty(cell) || n == 0 || n > PLAIN_ROOM) return true;
  plain[n < PLAIN_ROOM ? n : PLAIN_ROOM] = '\0';
  column->n_read++;
  if (column->player && strcmp(column->player, plain) == 0) return true;
  const char *called = arena_copy(intake->shots->arena, cell->text, cell->n);
  const char *kept = arena_copy_string(intake->shots->arena, plain);
  if (!called || !kept) {
    intake->diags->no_memory = true;
    return false;
  }
  if (column->player) {
    refuse_player(intake, row, cell, column, called);
    return false;
  }
  column->player = kept;
  column->called = called;
  column->player_line = row->line;
  return true;
}

/* ---- remarks ---- */

/* Three letters in a row; what is not ASCII counts as letters. */
static bool has_word(const char *text, size_t n) {
  size_t letters = 0;
  for (size_t i = 0; i < n && letters < 3; i++) {
    char small = (char)(text[i] | 0x20);
    bool letter = (small >= 'a' && small <= 'z') || (text[i] & 0x80) != 0;
    letters = letter ? letters + 1 : 0;
  }
  return letters >= 3;
}

static bool is_one_of(const char *text, size_t n, const char *const *words, size_t n_words) {
  for (size_t i = 0; i < n_words; i++)
    if (strlen(words[i]) == n && memcmp(text, words[i], n) == 0) return true;
  return false;
}

/* What answers a question in the header: not at all, yes or so much of it, or in words. */
enum reply { REPLY_NO, REPLY_YES, REPLY_WORDS };

static enum reply reply_of(const struct cell *cell) {
  static const char *const no[] = {"no", "n", "false", "0", "00", "nil", "never", "not"};
  static const char *const yes[] = {"yes", "y", "true", "x", "yep"};
  char plain[PLAIN_ROOM];
  size_t n = plain_name(plain, cell->text, cell->n);
  if (is_one_of(plain, n, no, sizeof no / sizeof no[0])) return REPLY_NO;
  if (is_one_of(plain, n, yes, sizeof yes / sizeof yes[0])) return REPLY_YES;
  return has_word(cell->text, cell->n) ? REPLY_WORDS : REPLY_YES;
}

/* "Does it hurt?: yes" */
static const char *with_answer(struct arena *arena, const char *text, const struct cell *cell) {
  struct text told;
  text_init(&told, arena);
  text_format(&told, "%s: %s", text, cell->text);
  return text_done(&told);
}

static bool keep(struct intake *intake, uint32_t line, const char *text, size_t n,
                 const struct cell *answer) {
  struct arena *arena = intake->shots->arena;
  if (!intake->remarked && !(intake->remarked = names_new(arena))) return false;
  if (names_find(intake->remarked, text, n) != NAMES_NONE) return true;
  if (n > REMARK_MAX || intake->remarks.n == REMARKS_MAX) {
    intake->n_unread++;
    return true;
  }
  const char *copy = arena_copy(arena, text, n);
  const char *told = copy && answer ? with_answer(arena, copy, answer) : copy;
  struct remark *remark = told ? array_push(arena, &intake->remarks) : NULL;
  if (!remark || names_add(intake->remarked, copy, n, 0) == NAMES_NONE) return false;
  *remark = (struct remark){line, copy, told};
  return true;
}

/* A column that is not understood may ask about pain in its header and be answered by "yes" or by a
 * number: then the header is what is said. */
bool cell_remark(struct intake *intake, const struct row *row, const struct cell *cell,
                 struct intake_column *column) {
  if (!intake->keeps_remarks || cell_is_empty(cell)) return true;
  enum reply reply = reply_of(cell);
  bool header = reply == REPLY_YES;
  const char *text = header ? column->header : cell->text;
  size_t n = header ? strlen(column->header) : cell->n;
  if (reply == REPLY_NO || !has_word(text, n)) return true;
  column->n_remarks++;
  return keep(intake, row->line, text, n, header ? cell : NULL);
}
