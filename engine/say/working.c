/* The working copy: what patterns need not care about is taken out of the text once, here. Knows no
 * language but that words are parted by blanks and have apostrophes. */
#include <string.h>

#include "diag/glyph.h"
#include "say/steps.h"

/* A character may become at most a full stop and a blank, and a blank may be put before it. */
#define GROWTH 3

struct writer {
  struct working *working;
  size_t from, to; /* of the character being written */
};

static void put(struct writer *writer, char c) {
  struct working *working = writer->working;
  working->at[working->n] = c;
  working->from[working->n] = (uint32_t)writer->from;
  working->to[working->n++] = (uint32_t)writer->to;
}

static char last(const struct writer *writer) {
  return writer->working->n > 0 ? writer->working->at[writer->working->n - 1] : ' ';
}

static bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

static bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || ((unsigned char)c & 0x80) != 0;
}

static bool is_word(char c) {
  return is_digit(c) || is_letter(c);
}

static bool is_apostrophe(uint32_t code) {
  return code == '\'' || code == '`' || code == 0xB4 || code == 0x2018 || code == 0x2019;
}

static bool is_hyphen(uint32_t code) {
  return code == '-' || (code >= 0x2010 && code <= 0x2015) || code == 0x2212;
}

static void put_blank(struct writer *writer) {
  if (last(writer) != ' ') put(writer, ' ');
}

/* Nothing at the start, and none after another. */
static void put_stop(struct writer *writer) {
  size_t n = writer->working->n;
  char before = n > 1 && last(writer) == ' ' ? writer->working->at[n - 2] : last(writer);
  if (n > 0 && strchr(".;!?", before) == NULL) put(writer, '.');
  put_blank(writer);
}

/* Between letters it joins words, which are read apart; before a digit it is a sign or "to". */
static void put_hyphen(struct writer *writer, char next) {
  char before = last(writer);
  bool keep = !is_word(before) || !is_word(next) || (is_digit(before) && is_digit(next));
  if (keep) put(writer, '-');
  else put_blank(writer);
}

/* "ball's" is read "ball s": whose, or is; any other apostrophe goes. */
static void put_apostrophe(struct writer *writer, const char *next) {
  if ((next[0] == 's' || next[0] == 'S') && !is_word(next[1])) put_blank(writer);
}

static void put_bytes(struct writer *writer, const char *bytes, size_t n) {
  for (size_t i = 0; i < n; i++) put(writer, bytes[i]);
}

/* Digits stand apart from words: "7iron", but not "7i". */
static void put_character(struct writer *writer, uint32_t code, const char *bytes, size_t n,
                          const char *next) {
  if (is_letter(bytes[0]) && is_digit(last(writer)) && is_letter(next[0])) put_blank(writer);
  if ((code == ':' || code == '=') && next[0] == ' ') put_blank(writer);
  if (code == '\n' || code == '\r') put_stop(writer);
  else if (code == ' ' || code == '\t' || code == 0xA0 || code < 0x20) put_blank(writer);
  else if (is_apostrophe(code) && is_letter(last(writer)) && is_letter(next[0]))
    put_apostrophe(writer, next);
  else if (is_hyphen(code)) put_hyphen(writer, next[0]);
  else if (code == 0xB0) put_bytes(writer, " deg", 4);
  else put_bytes(writer, bytes, n);
}

/* Room for so many bytes, with what is there kept. */
static bool reserve(struct arena *arena, struct working *working, size_t room) {
  struct working old = *working;
  if (room <= old.room) return true;
  working->at = arena_new_array(arena, char, room + 1);
  working->from = arena_new_array(arena, uint32_t, room + 1);
  working->to = arena_new_array(arena, uint32_t, room + 1);
  working->room = room;
  if (!working->at || !working->from || !working->to) return false;
  if (old.n == 0) return true;
  memcpy(working->at, old.at, old.n);
  memcpy(working->from, old.from, old.n * sizeof *old.from);
  memcpy(working->to, old.to, old.n * sizeof *old.to);
  return true;
}

bool say_make_working(struct say *say) {
  const char *text = say->source->bytes;
  size_t n = say->source->n;
  struct writer writer = {.working = &say->working};
  if (!reserve(say->arena, &say->working, GROWTH * n + 2)) return false;
  for (size_t i = 0; i < n;) {
    uint32_t code;
    size_t length = glyph_read(text + i, n - i, &code);
    writer.from = i;
    writer.to = i + length;
    const char next[] = {i + length < n ? text[i + length] : ' ',
                         i + length + 1 < n ? text[i + length + 1] : ' '};
    put_character(&writer, code, text + i, length, next);
    i += length;
  }
  say->working.at[say->working.n] = '\0';
  return true;
}

struct say_span say_origin(const struct say *say, size_t start, size_t end) {
  if (start >= end) return (struct say_span){0, 0};
  return (struct say_span){say->working.from[start], say->working.to[end - 1]};
}

/* ---- spelling ---- */

/* Replaces [start, end) of the working copy by a word; every byte of it comes from the whole. */
static bool replace(struct say *say, size_t start, size_t end, const char *word) {
  struct working *working = &say->working;
  size_t n_word = strlen(word), after = working->n - end, n = start + n_word + after;
  struct say_span origin = say_origin(say, start, end);
  if (n > working->room && !reserve(say->arena, working, 2 * n)) return false;
  memmove(working->at + start + n_word, working->at + end, after);
  memmove(working->from + start + n_word, working->from + end, after * sizeof *working->from);
  memmove(working->to + start + n_word, working->to + end, after * sizeof *working->to);
  struct writer writer = {working, origin.start, origin.end};
  working->n = start;
  for (size_t i = 0; i < n_word; i++) put(&writer, word[i]);
  working->n = n;
  working->at[n] = '\0';
  return true;
}

static bool mend_word(struct say *say, const struct spelling *spelling) {
  struct pattern_part found;
  size_t from = 0;
  while (spelling->pattern && pattern_match(spelling->pattern, say->working.at, say->working.n,
                                            from, &found, 1) == PATTERN_YES) {
    if (found.end <= found.start) break;
    if (!replace(say, found.start, found.end, spelling->word)) return false;
    from = found.start + strlen(spelling->word);
  }
  return true;
}

static char lower(char c) {
  return c >= 'A' && c <= 'Z' ? (char)(c | 0x20) : c;
}

static bool same(const char *a, const char *b, size_t n) {
  for (size_t i = 0; i < n; i++)
    if (lower(a[i]) != lower(b[i])) return false;
  return true;
}

/* One letter more, less, other, or two exchanged. */
static bool is_one_off(const char *a, size_t n_a, const char *b, size_t n_b) {
  size_t front = 0, less = n_a < n_b ? n_a : n_b;
  while (front < less && lower(a[front]) == lower(b[front])) front++;
  const char *rest_a = a + front, *rest_b = b + front;
  size_t left_a = n_a - front, left_b = n_b - front;
  if (n_a == n_b + 1) return same(rest_a + 1, rest_b, left_b);
  if (n_b == n_a + 1) return same(rest_a, rest_b + 1, left_a);
  if (n_a != n_b || left_a == 0) return false;
  if (same(rest_a + 1, rest_b + 1, left_a - 1)) return true;
  return left_a >= 2 && lower(rest_a[0]) == lower(rest_b[1]) &&
         lower(rest_a[1]) == lower(rest_b[0]) && same(rest_a + 2, rest_b + 2, left_a - 2);
}

static bool is_among(const char *const *words, size_t n_words, const char *word, size_t n) {
  for (size_t i = 0; i < n_words; i++)
    if (strlen(words[i]) == n && same(words[i], word, n)) return true;
  return false;
}

/* The only word that is one letter off; NULL when there is none or more than one. */
static const char *only_near(const struct phrase *phrase, const char *word, size_t n) {
  const char *found = NULL;
  for (size_t i = 0; i < phrase->n_near; i++) {
    if (!is_one_off(word, n, phrase->near[i], strlen(phrase->near[i]))) continue;
    if (found) return NULL;
    found = phrase->near[i];
  }
  return found;
}

static bool mend_near(struct say *say, const struct phrase *phrase) {
  size_t n_known = phrase->n_near + phrase->n_known;
  for (size_t start = 0; start < say->working.n;) {
    size_t end = start;
    while (end < say->working.n && is_letter(say->working.at[end])) end++;
    const char *word = say->working.at + start;
    if (end - start >= 4 && !is_among(phrase->near, n_known, word, end - start)) {
      const char *meant = only_near(phrase, word, end - start);
      if (meant && !replace(say, start, end, meant)) return false;
      if (meant) end = start + strlen(meant);
    }
    start = end > start ? end : start + 1;
  }
  return true;
}

bool say_mend_spelling(struct say *say) {
  for (size_t i = 0; i < say->model->n_phrases; i++) {
    const struct phrase *phrase = &say->model->phrases[i];
    for (size_t k = 0; k < phrase->n_spelt; k++)
      if (!mend_word(say, &phrase->spelt[k])) return false;
  }
  for (size_t i = 0; i < say->model->n_phrases; i++)
    if (say->model->phrases[i].kind == PHRASE_NEAR && !mend_near(say, &say->model->phrases[i]))
      return false;
  return true;
}
