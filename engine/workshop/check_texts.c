/* Texts and strengths: numbers typed in a because-text that the rule does not hold, and strengths
 * that no word of the table stands for. */
#include <math.h>
#include <string.h>

#include "model/formula.h"
#include "workshop/check_parts.h"

/* ---- numbers a text names ---- */

struct named {
  const char *written; /* "2.5", "two" */
  size_t n;
  double number;
  const struct golf_unit *unit; /* that follows it, or NULL */
};

static bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_' || ((unsigned char)c & 0x80);
}

static bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

static size_t word_length(const char *text) {
  size_t n = 0;
  while (is_letter(text[n])) n++;
  return n;
}

static bool is_word(const char *text, size_t n, const char *word) {
  return strlen(word) == n && memcmp(text, word, n) == 0;
}

static bool number_word(const char *text, size_t n, double *number) {
  static const struct {
    const char *word;
    double number;
  } words[] = {{"one", 1},     {"two", 2},      {"three", 3},   {"four", 4},    {"five", 5},
               {"six", 6},     {"seven", 7},    {"eight", 8},   {"nine", 9},    {"ten", 10},
               {"twelve", 12}, {"fifteen", 15}, {"twenty", 20}, {"thirty", 30}, {"forty", 40}};
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (is_word(text, n, words[i].word)) {
      *number = words[i].number;
      return true;
    }
  return false;
}

/* A unit written out; where short also its sign, but for "in", which is mostly no inch. */
static const struct golf_unit *unit_word(const char *text, bool is_short) {
  static const struct {
    const char *word;
    enum golf_unit_index unit;
  } words[] = {
      {"degree", GOLF_UNIT_DEG},     {"degrees", GOLF_UNIT_DEG},   {"millimetre", GOLF_UNIT_MM},
      {"millimetres", GOLF_UNIT_MM}, {"centimetre", GOLF_UNIT_CM}, {"centimetres", GOLF_UNIT_CM},
      {"metre", GOLF_UNIT_M},        {"metres", GOLF_UNIT_M},      {"yard", GOLF_UNIT_YD},
      {"yards", GOLF_UNIT_YD},       {"gram", GOLF_UNIT_G},        {"grams", GOLF_UNIT_G},
      {"percent", GOLF_UNIT_PERCENT}};
  while (*text == ' ') text++;
  size_t n = word_length(text);
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (is_word(text, n, words[i].word)) return golf_unit_at(words[i].unit);
  return is_short && n > 0 && !is_word(text, n, "in") ? golf_unit_find(text, n) : NULL;
}

/* "7 iron", "7i": a club and not a number. */
static bool names_club(const char *text) {
  static const char *const words[] = {"iron",   "irons", "wood", "woods",
                                      "hybrid", "wedge", "i",    "w"};
  while (*text == ' ' || *text == '-') text++;
  size_t n = word_length(text);
  for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
    if (is_word(text, n, words[i])) return true;
  return false;
}

/* The next number at or after *at: digits, or a number word with its unit behind it. */
static bool next_number(const char **at, struct named *named) {
  const char *text = *at;
  while (*text) {
    size_t n = word_length(text);
    if (n == 0 && is_digit(*text)) {
      n = number_read(text, strlen(text), &named->number);
      if (n > 1 && text[n - 1] == '.') n--; /* the end of a sentence */
      *named = (struct named){text, n, named->number, unit_word(text + n, true)};
      *at = text + n;
      if (!names_club(text + n)) return true;
    } else if (n > 0 && number_word(text, n, &named->number) && unit_word(text + n, false)) {
      *named = (struct named){text, n, named->number, unit_word(text + n, false)};
      *at = text + n;
      return true;
    }
    text += n > 0 ? n : 1;
    if (n > 0)
      while (is_digit(*text)) text++; /* "wood3" is a name */
  }
  return false;
}

/* ---- numbers a rule holds ---- */

static bool same_number(double a, double b) {
  return fabs(fabs(a) - fabs(b)) <= 1e-6 * fmax(1, fabs(b));
}

static bool holds_in_unit(const struct named *named, double held, const struct golf_unit *unit) {
  if (!isfinite(held)) return false;
  if (!named->unit || !unit || !golf_unit_convertible(named->unit, unit))
    return same_number(named->number, held);
  double there = golf_unit_convert(held, unit, named->unit);
  return same_number(named->number, there) ||
         fabs(fabs(named->number) - fabs(there)) <= 0.02 * fabs(there); /* rounded on converting */
}

static bool text_holds(const struct named *named, const char *text) {
  struct named other;
  while (next_number(&text, &other))
    if (same_number(named->number, other.number)) return true;
  return false;
}

static bool choice_holds(const struct named *named, const struct evidence *evidence,
                         const struct condition *condition) {
  for (size_t i = 0; i < condition->n_choices; i++) {
    const struct wording *title = &evidence->choices[condition->choices[i]].title;
    for (size_t k = 0; k < title->n; k++)
      if (title->parts[k].text && text_holds(named, title->parts[k].text)) return true;
  }
  return false;
}

/* A threshold, half an interval, a number of a formula, a number a word of a choice speaks of. */
static bool condition_holds(const struct model *model, const struct condition *condition,
                            const struct named *named) {
  for (size_t i = 0; i < condition->n_clauses; i++)
    if (condition_holds(model, &condition->clauses[i], named)) return true;
  if (condition->formula) return text_holds(named, condition->formula->text);
  if (condition->evidence == NO_INDEX) return false;
  const struct evidence *evidence = &model->evidence[condition->evidence];
  if (condition->n_choices > 0) return choice_holds(named, evidence, condition);
  if (condition->kind > CONDITION_NEAR) return false;
  return holds_in_unit(named, condition->low, evidence->unit) ||
         holds_in_unit(named, condition->high, evidence->unit) ||
         holds_in_unit(named, (condition->high - condition->low) / 2, evidence->unit);
}

/* ---- where a text stands ---- */

static bool is_whole(const char *line, size_t n, const char *found, const struct named *named) {
  const char *end = found + named->n;
  bool before = found > line && (is_digit(found[-1]) || is_letter(found[-1]) || found[-1] == '.');
  bool after = end < line + n && (is_digit(*end) || is_letter(*end));
  return !before && !after;
}

/* The number in the lines of the rule, from the key of the text on; else the rule's name. */
static struct span find_place(const struct rule *rule, const char *key, const struct named *named) {
  bool inside = false;
  for (uint32_t line = rule->at.line + 1; line < rule->at.line + 60; line++) {
    size_t n;
    const char *bytes = source_line(rule->at.source, line, &n);
    if (!bytes || (n > 0 && bytes[0] == '-')) break;
    const char *from = bytes;
    for (size_t i = 0; !inside && i + strlen(key) <= n; i++)
      if (memcmp(bytes + i, key, strlen(key)) == 0) {
        inside = true;
        from = bytes + i + strlen(key);
      }
    for (; inside && from + named->n <= bytes + n; from++)
      if (memcmp(from, named->written, named->n) == 0 && is_whole(bytes, n, from, named)) {
        uint32_t column = 1;
        for (const char *c = bytes; c < from; c++) column += ((unsigned char)*c & 0xC0) != 0x80;
        return (struct span){rule->at.source, line, column, line, column + (uint32_t)named->n};
      }
  }
  return rule->at;
}

static void check_wording(struct checker *checker, const struct rule *rule, const char *key,
                          const struct wording *wording) {
  for (size_t i = 0; i < wording->n; i++) {
    const char *at = wording->parts[i].text;
    struct named named;
    if (wording->parts[i].kind != WORDING_TEXT || !at) continue;
    while (next_number(&at, &named)) {
      if (condition_holds(checker->model, rule->when, &named)) continue;
      const char *written = arena_copy(checker->arena, named.written, named.n);
      if (written)
        FIND(checker, NUMBER_IN_TEXT, find_place(rule, key, &named), rule->at, written, rule->name);
    }
  }
}

/* ---- strengths ---- */

static bool off_table(const struct conclusion *conclusion) {
  return strength_word(conclusion->strength) == NULL;
}

static bool has_off_table(const struct rule *rule) {
  for (size_t i = 0; i < rule->n_then; i++)
    if (off_table(&rule->then[i])) return true;
  return false;
}

/* One note a file: a base that grades finely would drown its other findings else. */
static void check_file_strengths(struct checker *checker, const struct rule *first, size_t from) {
  struct check_finding *finding = NULL;
  size_t n = 0;
  struct text count;
  for (size_t pass = 0; pass < 2; pass++) {
    for (size_t i = from; i < checker->model->n_rules; i++) {
      const struct rule *rule = &checker->model->rules[i];
      if (rule->at.source != first->at.source) continue;
      for (size_t k = 0; pass == 0 && k < rule->n_then; k++) n += off_table(&rule->then[k]);
      if (pass == 1 && rule != first && has_off_table(rule))
        check_about(checker, finding, rule->at);
    }
    if (pass == 1) return;
    text_init(&count, checker->arena);
    text_format(&count, "%zu", n);
    if (text_done(&count))
      finding = FIND(checker, STRENGTH_OFF_TABLE, first->at, first->at, text_done(&count));
  }
}

static bool is_first_of_file(const struct model *model, size_t index) {
  for (size_t i = 0; i < index; i++)
    if (model->rules[i].at.source == model->rules[index].at.source &&
        has_off_table(&model->rules[i]))
      return false;
  return true;
}

void check_texts(struct checker *checker) {
  const struct model *model = checker->model;
  for (size_t i = 0; i < model->n_rules; i++) {
    const struct rule *rule = &model->rules[i];
    check_wording(checker, rule, "because:", &rule->because);
    check_wording(checker, rule, "learner:", &rule->learner);
    if (has_off_table(rule) && is_first_of_file(model, i)) check_file_strengths(checker, rule, i);
  }
}
