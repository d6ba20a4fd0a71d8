/* Parts of patterns: their text in the patterns that hold them, and what a match of them says. */
#include <math.h>
#include <string.h>

#include "model/phrase_parts.h"

#define DEFINED_MAX 16

static bool is_number(const struct phrase *part) {
  return strcmp(part->name, PHRASE_NUMBER) == 0;
}

/* ---- putting parts into patterns ---- */

/* A part is defined once at the front of a pattern, as the group part_<name>, and called where it
 * stands: so a pattern that holds several numbers stays short. */
struct expander {
  struct reader *reader;
  const struct node *node;
  enum hand hand;
  struct text out, definitions;
  struct text *to; /* out, or definitions while one is written */
  size_t defined[DEFINED_MAX];
  size_t n_defined;
  size_t *parts;
  size_t *n_parts;
  bool has_side, failed;
};

static const char *side_said(bool left, enum hand hand) {
  return left == (hand == HAND_RIGHT) ? "left" : "right";
}

static const struct entry *find_part(struct expander *expander, const char *name, size_t n,
                                     size_t *index) {
  const struct model *model = expander->reader->model;
  for (size_t i = 0; i < model->n_phrases; i++) {
    if (model->phrases[i].kind != PHRASE_PART || strlen(model->phrases[i].name) != n ||
        memcmp(model->phrases[i].name, name, n) != 0)
      continue;
    *index = i;
    return &expander->reader->kinds[ENTRY_PHRASE].at[i];
  }
  return NULL;
}

static void add_pattern(struct expander *expander, const char *text, size_t n, bool in_part);

static bool names_number(const struct node *value) {
  return value->key[0] >= '0' && value->key[0] <= '9';
}

/* The alternatives; of the part `number` only those that are numbers. */
static void add_values(struct expander *expander, const struct node *map, bool numbers) {
  size_t n = 0;
  for (const struct node *value = map->first; value; value = value->next) {
    if (value->kind != NODE_SCALAR || (numbers && !names_number(value))) continue;
    text_add(expander->to, n++ > 0 ? "|" : "");
    add_pattern(expander, value->text, value->n, true);
  }
  if (n == 0) text_add(expander->to, "(?!)");
}

static void add_named(struct expander *expander, const struct node *map, const char *name,
                      const char *before, const char *after) {
  const struct node *value = node_get(map, name);
  if (value == NULL || value->kind != NODE_SCALAR) return;
  text_add(expander->to, before);
  add_pattern(expander, value->text, value->n, true);
  text_add(expander->to, after);
}

/* One number: a sign, then digits or the words for numbers; or two with "to" between them. */
static void define_number(struct expander *expander, const struct node *map) {
  text_add(expander->to, "(?<number_word>(?:");
  add_values(expander, map, true);
  text_add(expander->to, ")(?!\\w))(?<number_one>(?:(?:[-+]");
  add_named(expander, map, "plus", "|(?:", ") ");
  add_named(expander, map, "minus", "|(?:", ") ");
  text_add(expander->to,
           ") ?)?(?:\\d{1,6}(?:[.,]\\d{1,3})?|(?&number_word)(?: (?&number_word)){0,3}))");
  text_add(expander->to, "(?<part_" PHRASE_NUMBER ">(?&number_one)(?:(?:-");
  add_named(expander, map, "to", "| (?:", ") ");
  text_add(expander->to, ")(?&number_one))?)");
}

static void define_part(struct expander *expander, const struct phrase *part,
                        const struct node *text) {
  struct text *to = expander->to;
  expander->to = &expander->definitions;
  if (text->kind == NODE_MAP && is_number(part)) {
    define_number(expander, text);
  } else {
    text_format(expander->to, "(?<part_%s>", part->name);
    if (text->kind == NODE_MAP) add_values(expander, text, false);
    else add_pattern(expander, text->text, text->n, true);
    text_add(expander->to, ")");
  }
  expander->to = to;
}

static bool is_among(const size_t *list, size_t n, size_t index) {
  for (size_t i = 0; i < n; i++)
    if (list[i] == index) return true;
  return false;
}

static void add_part(struct expander *expander, const struct entry *entry, size_t index) {
  const struct phrase *part = &expander->reader->model->phrases[index];
  const struct node *text = node_get(entry->node, "part");
  if (text->kind == NODE_LIST) return;
  if (!is_among(expander->defined, expander->n_defined, index)) {
    if (expander->n_defined < DEFINED_MAX) expander->defined[expander->n_defined++] = index;
    define_part(expander, part, text);
  }
  if (text->kind == NODE_SCALAR) {
    text_format(expander->to, "(?&part_%s)", part->name);
    return;
  }
  text_format(expander->to, "(?<%s>(?&part_%s))", part->name, part->name);
  if (!expander->parts || is_among(expander->parts, *expander->n_parts, index)) return;
  if (*expander->n_parts < PHRASE_PARTS) expander->parts[(*expander->n_parts)++] = index;
}

static void add_braced(struct expander *expander, const char *name, size_t n, bool in_part) {
  size_t index = NO_INDEX;
  const struct entry *entry = in_part ? NULL : find_part(expander, name, n, &index);
  if ((n == 4 && memcmp(name, "left", 4) == 0) || (n == 5 && memcmp(name, "right", 5) == 0)) {
    expander->has_side = true;
    text_add(expander->to, side_said(n == 4, expander->hand));
    return;
  }
  if (entry && node_get(entry->node, "part")) {
    add_part(expander, entry, index);
    return;
  }
  const char *copy = arena_copy(expander->reader->arena, name, n);
  DIAG(expander->reader->diags, UNKNOWN_NAME, expander->node->at, "part of phrases,",
       copy ? copy : "");
  expander->failed = true;
}

/* The length of a name in braces at the front of n bytes, braces left out; 0: something else. */
static size_t braced_name(const char *text, size_t n) {
  size_t i = 1;
  while (i < n && ((text[i] >= 'a' && text[i] <= 'z') || text[i] == '_')) i++;
  return i > 1 && i < n && text[i] == '}' ? i - 1 : 0;
}

static void add_pattern(struct expander *expander, const char *text, size_t n, bool in_part) {
  for (size_t i = 0; i < n;) {
    size_t name = text[i] == '{' ? braced_name(text + i, n - i) : 0;
    if (name == 0) {
      text_add_char(expander->to, text[i++]);
      continue;
    }
    add_braced(expander, text + i + 1, name, in_part);
    i += name + 2;
  }
}

static bool is_word_byte(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         ((unsigned char)c & 0x80);
}

/* Reports a side word that is not in braces. */
static void tell_sides(struct expander *expander) {
  static const char *const sides[] = {"left", "right"};
  const char *text = expander->node->text;
  for (size_t side = 0; side < 2; side++) {
    size_t n = strlen(sides[side]);
    for (const char *at = strstr(text, sides[side]); at; at = strstr(at + n, sides[side])) {
      bool inside = at > text && (is_word_byte(at[-1]) || at[-1] == '{');
      if (inside || is_word_byte(at[n])) continue;
      DIAG(expander->reader->diags, TEXT_SIDE,
           reader_place(expander->node->at, text, (size_t)(at - text), n), sides[side]);
    }
  }
}

static struct expander expander_start(struct reader *reader, const struct node *node,
                                      enum hand hand) {
  struct expander expander = {.reader = reader, .node = node, .hand = hand};
  text_init(&expander.out, reader->arena);
  text_init(&expander.definitions, reader->arena);
  return expander;
}

/* The pattern between what stands before and after it. */
static const char *expander_done(struct expander *expander, const char *before, const char *after) {
  struct text whole;
  const char *definitions = text_done(&expander->definitions), *out = text_done(&expander->out);
  if (expander->failed || definitions == NULL || out == NULL) return NULL;
  text_init(&whole, expander->reader->arena);
  /* (?n): only named groups capture; (?J): a part may stand twice. */
  text_format(&whole, "(?nJ)%s(?:%s)%s", before, out, after);
  /* At the end, where they do not hide from the matcher how a match must begin. */
  if (*definitions) text_format(&whole, "(?(DEFINE)%s)", definitions);
  return text_done(&whole);
}

const char *phrase_expand(struct reader *reader, const struct node *node, enum hand hand,
                          bool sides_told, bool whole_words, size_t *parts, size_t *n_parts,
                          bool *has_side) {
  struct expander expander = expander_start(reader, node, hand);
  expander.to = &expander.out;
  expander.parts = parts;
  expander.n_parts = n_parts;
  if (sides_told && hand == HAND_RIGHT) tell_sides(&expander);
  add_pattern(&expander, node->text, node->n, false);
  *has_side = expander.has_side;
  /* A pattern may end with a blank, where a word follows. */
  if (!whole_words) return expander_done(&expander, "", "");
  return expander_done(&expander, "(?<!\\w)", "(?:(?!\\w)|(?<=\\W))");
}

/* ---- reading parts ---- */

static const struct pattern *compile_value(struct reader *reader, const struct node *node,
                                           enum hand hand, bool *has_side) {
  struct expander expander = expander_start(reader, node, hand);
  expander.to = &expander.out;
  add_pattern(&expander, node->text, node->n, true);
  *has_side = expander.has_side;
  const char *text = expander_done(&expander, "\\G", "(?!\\w)");
  return text ? pattern_compile(reader->arena, text, strlen(text), node->at, reader->diags) : NULL;
}

static void read_value(struct reader *reader, const struct node *node, struct part_value *value) {
  bool has_side = false;
  value->name = node->key;
  value->patterns[HAND_RIGHT] = compile_value(reader, node, HAND_RIGHT, &has_side);
  value->patterns[HAND_LEFT] =
      has_side ? compile_value(reader, node, HAND_LEFT, &has_side) : value->patterns[HAND_RIGHT];
}

void phrase_read_part(struct reader *reader, const struct entry *entry, struct phrase *phrase,
                      struct text *printed) {
  const struct node *part = node_get(entry->node, "part");
  if (part->kind == NODE_SCALAR) {
    text_format(printed, " part /%s/", part->text);
    return;
  }
  if (!reader_is_map(reader, part, "a pattern, or a mapping: value to pattern")) return;
  struct part_value *values = arena_new_array(reader->arena, struct part_value, part->n + 1);
  for (const struct node *node = part->first; values && node; node = node->next) {
    if (!reader_string(reader, node)) continue;
    read_value(reader, node, &values[phrase->n_values++]);
    text_format(printed, " %s /%s/", node->key, node->text);
  }
  phrase->values = values;
}

/* ---- what a match says ---- */

/* The end of the value's words when they start at `from`; 0: they do not. */
static size_t value_end(const struct part_value *value, enum hand hand, const char *text,
                        size_t from, size_t end) {
  struct pattern_part found;
  const struct pattern *pattern = value->patterns[hand];
  if (pattern == NULL || pattern_match(pattern, text, end, from, &found, 1) != PATTERN_YES)
    return 0;
  return found.start == from ? found.end : 0;
}

const char *phrase_part_value(const struct phrase *part, enum hand hand, const char *text,
                              size_t from, size_t end) {
  for (size_t i = 0; i < part->n_values; i++)
    if (value_end(&part->values[i], hand, text, from, end) == end) return part->values[i].name;
  return NULL;
}

static const struct part_value *named_value(const struct phrase *part, const char *name) {
  for (size_t i = 0; i < part->n_values; i++)
    if (strcmp(part->values[i].name, name) == 0) return &part->values[i];
  return NULL;
}

static bool take_named(const struct phrase *part, const char *name, const char *text, size_t *from,
                       size_t end) {
  const struct part_value *value = named_value(part, name);
  size_t taken = value ? value_end(value, HAND_RIGHT, text, *from, end) : 0;
  if (taken == 0) return false;
  *from = taken;
  return true;
}

static void skip_blanks(const char *text, size_t *from, size_t end) {
  while (*from < end && text[*from] == ' ') ++*from;
}

static int take_sign(const struct phrase *part, const char *text, size_t *from, size_t end) {
  int sign = 0;
  if (*from < end && (text[*from] == '-' || text[*from] == '+'))
    sign = text[(*from)++] == '-' ? -1 : 1;
  else if (take_named(part, "minus", text, from, end)) sign = -1;
  else if (take_named(part, "plus", text, from, end)) sign = 1;
  skip_blanks(text, from, end);
  return sign;
}

/* Digits with a point or a decimal comma. */
static bool take_digits(const char *text, size_t *from, size_t end, double *number) {
  char digits[16];
  size_t n = 0;
  while (*from + n < end && n < sizeof digits - 1 &&
         strchr("0123456789.,", text[*from + n]) != NULL) {
    digits[n] = text[*from + n] == ',' ? '.' : text[*from + n];
    n++;
  }
  size_t used = number_read(digits, n, number);
  *from += used;
  return used > 0;
}

/* "twenty five" is a sum, "two hundred" a product. */
static bool take_words(const struct phrase *part, const char *text, size_t *from, size_t end,
                       double *number) {
  double sum = 0;
  bool any = false;
  for (bool more = true; more;) {
    more = false;
    for (size_t i = 0; i < part->n_values && !more; i++) {
      double worth;
      size_t n = strlen(part->values[i].name);
      if (number_read(part->values[i].name, n, &worth) != n) continue;
      size_t taken = value_end(&part->values[i], HAND_RIGHT, text, *from, end);
      if (taken == 0) continue;
      sum = worth >= 100 ? fmax(sum, 1) * worth : sum + worth;
      *from = taken;
      skip_blanks(text, from, end);
      any = more = true;
    }
  }
  *number = sum;
  return any;
}

static bool take_number(const struct phrase *part, const char *text, size_t *from, size_t end,
                        double *number, int *sign) {
  skip_blanks(text, from, end);
  *sign = take_sign(part, text, from, end);
  return take_digits(text, from, end, number) || take_words(part, text, from, end, number);
}

bool phrase_number(const struct phrase *part, const char *text, size_t from, size_t end,
                   struct said_number *said) {
  double first, second;
  int second_sign;
  *said = (struct said_number){0};
  if (!take_number(part, text, &from, end, &first, &said->sign)) return false;
  said->number = first;
  skip_blanks(text, &from, end);
  if (from == end) return true;
  if (text[from] == '-') from++;
  else if (!take_named(part, "to", text, &from, end)) return false;
  if (!take_number(part, text, &from, end, &second, &second_sign)) return false;
  said->number = (first + second) / 2;
  said->half_width = fabs(second - first) / 2;
  return from == end;
}
