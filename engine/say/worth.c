/* What a match is worth as a value: of its phrase's own, or from the number, unit, side and words
 * it said. Values are made in the frame of a right-handed player. */
#include <math.h>
#include <string.h>

#include "say/steps.h"

struct maker {
  struct say *say;
  const struct match *match;
  const struct phrase *phrase;
  const struct evidence *evidence;
  struct said_number number;
  bool has_number, has_side;
  int side; /* -1 below, +1 above */
  const struct golf_unit *unit;
  struct text word; /* what is neither number nor unit nor side */
};

/* There is no value, and why; true, since this is no failure of memory. */
static bool fail(struct draft *draft, enum say_use use) {
  draft->piece.use = use;
  return true;
}

/* ---- what a recipe's words say ---- */

static const struct say_span *part_said(const struct maker *maker, const char *name, size_t n,
                                        const struct phrase **part) {
  for (size_t i = 0; i < maker->phrase->n_parts; i++) {
    *part = &maker->say->model->phrases[maker->phrase->parts[i]];
    if (strlen((*part)->name) != n || memcmp((*part)->name, name, n) != 0) continue;
    const struct say_span *said = &maker->match->parts[i];
    return said->start != SIZE_MAX ? said : NULL;
  }
  return NULL;
}

/* The digits of a whole number as said, for names such as "7i". */
static void add_digits(struct text *out, const struct said_number *said) {
  if (said->half_width == 0 && said->number >= 0) text_number(out, said->number);
}

/* Adds what a part said to the token; false: it was not said. */
static bool add_part(struct maker *maker, struct text *token, const char *name, size_t n) {
  const struct phrase *part = NULL;
  const struct say_span *said = part_said(maker, name, n, &part);
  if (said == NULL) return false;
  const char *text = maker->say->working.at;
  if (strcmp(part->name, "number") == 0) {
    if (!phrase_number(part, text, said->start, said->end, &maker->number)) return false;
    maker->has_number = true;
    add_digits(token, &maker->number);
    return true;
  }
  const char *value = phrase_part_value(part, maker->say->hand, text, said->start, said->end);
  if (value) text_add(token, value);
  return value != NULL;
}

/* One word of the recipe with its parts put in; false: a part of it was not said. */
static bool fill_token(struct maker *maker, const char *recipe, size_t n, struct text *token) {
  for (size_t i = 0; i < n;) {
    const char *end = recipe[i] == '{' ? memchr(recipe + i, '}', n - i) : NULL;
    if (end == NULL) {
      text_add_char(token, recipe[i++]);
      continue;
    }
    size_t name = (size_t)(end - (recipe + i)) - 1;
    if (!add_part(maker, token, recipe + i + 1, name)) return false;
    i += name + 2;
  }
  return true;
}

/* Whether "toe side" begins with "toe". */
static bool begins(const char *side, const char *word) {
  size_t n = strlen(word);
  return side && strncmp(side, word, n) == 0 && (side[n] == '\0' || side[n] == ' ');
}

/* -1 or +1 when the word is a side of the evidence, else 0. */
static int side_of(const struct evidence *evidence, const char *word) {
  if (begins(evidence->minus, word)) return -1;
  if (begins(evidence->plus, word)) return 1;
  for (size_t i = 0; i < evidence->n_words; i++)
    if (strcmp(evidence->words[i].name, word) == 0)
      return evidence->words[i].value < 0 ? -1 : evidence->words[i].value > 0;
  return 0;
}

static void take_token(struct maker *maker, const char *token, bool is_number) {
  const struct golf_unit *unit = golf_unit_find(token, strlen(token));
  int side = maker->evidence->kind == EVIDENCE_NUMBER ? side_of(maker->evidence, token) : 0;
  if (is_number) return;
  if (maker->has_number && side != 0) {
    maker->side = side;
    maker->has_side = true;
  } else if (maker->has_number && unit) {
    maker->unit = unit;
  } else {
    text_add(&maker->word, token);
  }
}

/* False: no memory. */
static bool read_recipe(struct maker *maker, const char *recipe) {
  bool numeric = maker->evidence->kind == EVIDENCE_NUMBER;
  while (*recipe) {
    size_t n = strcspn(recipe, " ");
    struct text token;
    text_init(&token, maker->say->arena);
    bool filled = n > 0 && fill_token(maker, recipe, n, &token);
    const char *word = text_done(&token);
    if (word == NULL) return false;
    bool is_number = numeric && n == strlen("{number}") && strncmp(recipe, "{number}", n) == 0;
    if (filled && (is_number || *word)) take_token(maker, word, is_number);
    recipe += n + (recipe[n] == ' ');
  }
  return !maker->word.failed;
}

/* ---- numbers ---- */

/* How many units of one dimension players use; where there are several, one has to be said. */
static bool needs_unit(const struct golf_unit *unit) {
  switch (unit->dimension) {
  case GOLF_DIMENSION_SPEED:
  case GOLF_DIMENSION_LENGTH:
  case GOLF_DIMENSION_MASS:
  case GOLF_DIMENSION_TEMPERATURE: return true;
  default: return false;
  }
}

/* The sign in the frame of a right-handed player; 0: not told. */
static int sign_of(const struct maker *maker) {
  const struct evidence *evidence = maker->evidence;
  bool mirror = evidence->mirrored && maker->say->hand == HAND_LEFT;
  if (maker->has_side) return maker->side;
  if (maker->number.sign != 0) return mirror ? -maker->number.sign : maker->number.sign;
  return evidence->minus && maker->number.number != 0 ? 0 : 1;
}

static const char *typed_number(const struct maker *maker, const struct golf_unit *unit,
                                double number) {
  struct text text;
  text_init(&text, maker->say->arena);
  text_number(&text, number);
  if (unit->dimension != GOLF_DIMENSION_NONE) text_format(&text, " %s", unit->name);
  return text_done(&text);
}

static bool make_number(struct maker *maker, struct draft *draft) {
  const struct evidence *evidence = maker->evidence;
  struct value *value = &draft->piece.value;
  const struct golf_unit *unit = maker->unit ? maker->unit : evidence->unit;
  int sign = sign_of(maker);
  draft->exact = true;
  if (sign == 0) return fail(draft, SAY_NO_SIDE);
  if (!golf_unit_convertible(unit, evidence->unit) || (!maker->unit && needs_unit(evidence->unit)))
    return fail(draft, SAY_NO_UNIT);
  value->number = sign * golf_unit_convert(maker->number.number, unit, evidence->unit);
  double width = golf_unit_convert_error(maker->number.half_width, unit, evidence->unit);
  value->error = hypot(evidence->error, width) / draft->sure;
  value->typed = typed_number(maker, unit, sign * maker->number.number);
  if (value->number < evidence->low || value->number > evidence->high)
    return fail(draft, SAY_IMPLAUSIBLE);
  draft->is_set = true;
  return value->typed != NULL;
}

/* A word's number, made larger or smaller by what was said with it, within the plausible range. */
static void scale_number(const struct evidence *evidence, struct draft *draft) {
  struct value *value = &draft->piece.value;
  double scale = evidence->minus ? draft->scale : 1;
  value->number = fmax(evidence->low, fmin(evidence->high, value->number * scale));
  value->error = value->error * fmax(1, scale) / draft->sure;
}

static void make_word_number(struct maker *maker, const char *word, struct draft *draft) {
  const struct evidence *evidence = maker->evidence;
  for (size_t i = 0; i < evidence->n_words; i++) {
    if (strcmp(evidence->words[i].name, word) != 0) continue;
    draft->piece.word = evidence->words[i].name;
    draft->piece.value.number = evidence->words[i].value;
    draft->piece.value.error = evidence->words[i].error;
    scale_number(evidence, draft);
    draft->is_set = true;
    return;
  }
  fail(draft, SAY_NO_SUCH);
}

/* ---- words ---- */

static void make_choice(struct maker *maker, const char *word, struct draft *draft) {
  const struct model *model = maker->say->model;
  const struct evidence *evidence = maker->evidence;
  uint32_t club = evidence->kind == EVIDENCE_CLUB
                      ? names_find(model->club_names, word, strlen(word))
                      : NAMES_NONE;
  size_t choice = club == NAMES_NONE ? NO_INDEX : club;
  for (size_t i = 0; i < evidence->n_choices && choice == NO_INDEX; i++)
    if (strcmp(evidence->choices[i].name, word) == 0) choice = i;
  if (choice == NO_INDEX) {
    fail(draft, SAY_NO_SUCH);
    return;
  }
  draft->piece.value.choice = choice;
  draft->piece.value.sure = draft->sure;
  draft->piece.word = evidence->choices[choice].name;
  draft->is_set = true;
}

static bool make_from_recipe(struct maker *maker, const char *recipe, struct draft *draft) {
  text_init(&maker->word, maker->say->arena);
  if (!read_recipe(maker, recipe)) return false;
  const char *word = text_done(&maker->word);
  if (word == NULL) return false;
  if (maker->evidence->kind != EVIDENCE_NUMBER) make_choice(maker, word, draft);
  else if (maker->has_number) return make_number(maker, draft);
  else make_word_number(maker, word, draft);
  return true;
}

/* ---- all ---- */

static void make_own(const struct evidence *evidence, const struct meaning *meaning,
                     struct draft *draft) {
  draft->piece.value = meaning->value;
  draft->piece.value.handless = false;
  draft->piece.word = meaning->value.typed;
  draft->is_set = true;
  if (evidence->kind == EVIDENCE_NUMBER) scale_number(evidence, draft);
  else draft->piece.value.sure *= draft->sure;
}

static const char *quote(const struct say *say, struct say_span words) {
  return arena_copy(say->arena, say->source->bytes + words.start, words.end - words.start);
}

bool say_worth(struct say *say, const struct meaning *meaning, struct draft *draft) {
  struct maker maker = {.say = say,
                        .match = draft->match,
                        .phrase = &say->model->phrases[draft->match->phrase],
                        .evidence = &say->model->evidence[meaning->evidence]};
  struct value *value = &draft->piece.value;
  *value = (struct value){.choice = NO_INDEX, .sure = 1};
  if (meaning->recipe == NULL) make_own(maker.evidence, meaning, draft);
  else if (!make_from_recipe(&maker, meaning->recipe, draft)) return false;
  value->evidence = draft->piece.evidence = meaning->evidence;
  if (draft->is_set && !draft->exact) value->typed = quote(say, draft->piece.words);
  return value->typed != NULL || !draft->is_set;
}
