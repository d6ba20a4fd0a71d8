/* Patterns that are slow, or dangerous: a repeat inside a repeat, and texts made to wear a pattern
 * out. The trial counts the steps of a match and not its time, so that it comes out the same on
 * every machine: a text within the length of a long sentence must not use up the steps a match may
 * take (input/pattern.c).
 *
 * A pattern is walked once; the walk writes an example that it should match and keeps where each
 * repeated piece of the example begins and ends. Repeating a piece and spoiling the end makes the
 * matcher go back through all ways to share the piece out. */
#include <string.h>

#include "model/phrase.h"
#include "workshop/check_parts.h"

#define TEXT_MAX 400 /* bytes: a long sentence or two */
#define REPEATS_MAX 16
#define DEPTH_MAX 50

struct repeat {    /* of an element without an upper limit */
  size_t from, to; /* its part of the example */
};

struct walk {
  const char *at;
  struct text *out;
  unsigned silent; /* inside what looks around, which takes no text */
  unsigned depth;
  struct repeat repeats[REPEATS_MAX];
  size_t n_repeats;
  bool nested; /* a repeat without limit inside another */
  bool failed;
};

static void emit(struct walk *walk, char c) {
  if (walk->silent == 0) text_add_char(walk->out, c);
}

/* ---- elements: each returns whether it holds a repeat without limit ---- */

static bool walk_alternatives(struct walk *walk);

static void walk_escape(struct walk *walk) {
  char c = *++walk->at;
  if (c == '\0') return;
  walk->at++;
  switch (c) {
  case 'b':
  case 'B':
  case 'A':
  case 'z':
  case 'Z':
  case 'Q':
  case 'E': return;
  case 's':
  case 'W': emit(walk, ' '); return;
  case 'd': emit(walk, '5'); return;
  case 'w':
  case 'S':
  case 'D': emit(walk, 'a'); return;
  default: emit(walk, c);
  }
}

/* A character that stands in the class, or one that does not when it is negated. */
static void walk_class(struct walk *walk) {
  const char *from = ++walk->at;
  bool negated = *from == '^';
  if (negated) from++;
  const char *end = from;
  while (*end && (*end != ']' || end == from)) end += *end == '\\' && end[1] ? 2 : 1;
  size_t n = (size_t)(end - from);
  char member = *from == '\\' ? (from[1] == 's' ? ' ' : from[1] == 'd' ? '5' : 'a') : *from;
  if (negated) {
    static const char others[] = "a 5-_x";
    member = 'z';
    for (const char *other = others; *other; other++)
      if (!memchr(from, *other, n)) {
        member = *other;
        break;
      }
  }
  emit(walk, member);
  walk->at = *end ? end + 1 : end;
}

/* What follows "(?", up to the body; true when the body looks around. */
static bool walk_group_head(struct walk *walk) {
  const char *at = walk->at;
  if (at[0] != '?') return false;
  at++;
  bool around = *at == '=' || *at == '!' || (*at == '<' && (at[1] == '=' || at[1] == '!'));
  if (around) at += *at == '<' ? 2 : 1;
  else if (*at == 'P' || *at == '<' || *at == '\'') { /* a name */
    while (*at && *at != '>' && (*at != '\'' || at == walk->at + 1)) at++;
    if (*at) at++;
  } else { /* flags, or an atomic group */
    while (*at && *at != ':' && *at != ')' && *at != '>') at++;
    if (*at == ':' || *at == '>') at++;
  }
  walk->at = at;
  return around;
}

static bool walk_group(struct walk *walk) {
  walk->at++;
  if (++walk->depth > DEPTH_MAX) {
    walk->failed = true;
    return false;
  }
  bool around = walk_group_head(walk);
  walk->silent += around;
  bool unlimited = walk_alternatives(walk);
  walk->silent -= around;
  if (*walk->at == ')') walk->at++;
  walk->depth--;
  return unlimited;
}

static bool walk_element(struct walk *walk) {
  switch (*walk->at) {
  case '(': return walk_group(walk);
  case '[': walk_class(walk); return false;
  case '\\': walk_escape(walk); return false;
  case '^':
  case '$': walk->at++; return false;
  case '.': emit(walk, 'a'); break;
  default: emit(walk, *walk->at);
  }
  walk->at++;
  return false;
}

/* ---- repeats ---- */

struct times {
  unsigned least;
  bool unlimited, possessive;
};

static unsigned read_count(const char **at) {
  unsigned n = 0;
  for (; **at >= '0' && **at <= '9'; ++*at)
    if (n < 1000) n = 10 * n + (unsigned)(**at - '0');
  return n;
}

static struct times read_times(struct walk *walk) {
  struct times times = {1, false, false};
  const char *at = walk->at;
  if (*at == '*' || *at == '+') {
    times.least = *at == '+';
    times.unlimited = true;
    at++;
  } else if (*at == '?') {
    times.least = 0;
    at++;
  } else if (*at == '{' && at[1] >= '0' && at[1] <= '9') {
    at++;
    times.least = read_count(&at);
    times.unlimited = *at == ',' && at[1] == '}';
    while (*at && *at != '}') at++;
    if (*at) at++;
  } else {
    return times;
  }
  times.possessive = *at == '+';
  if (*at == '?' || *at == '+') at++;
  walk->at = at;
  return times;
}

/* Writes the piece of the example as often as it must stand there. */
static void repeat_piece(struct walk *walk, size_t from, unsigned least) {
  size_t n = walk->out->n - from;
  if (walk->silent > 0 || n == 0) return;
  if (least == 0) return; /* once does no harm: an example may hold what it could leave out */
  for (unsigned i = 1; i < least && i < 20; i++) {
    char piece[64];
    if (n > sizeof piece) return;
    memcpy(piece, walk->out->at + from, n);
    text_add_bytes(walk->out, piece, n);
  }
}

static bool walk_repeated(struct walk *walk) {
  size_t from = walk->out->n;
  bool inner = walk_element(walk);
  size_t to = walk->out->n;
  struct times times = read_times(walk);
  if (times.unlimited && inner && !times.possessive) walk->nested = true;
  if (times.unlimited && to > from && walk->n_repeats < REPEATS_MAX)
    walk->repeats[walk->n_repeats++] = (struct repeat){from, to};
  repeat_piece(walk, from, times.least);
  return (times.unlimited && !times.possessive) || inner;
}

static bool walk_alternatives(struct walk *walk) {
  bool unlimited = false, later = false;
  while (*walk->at && *walk->at != ')' && !walk->failed) {
    if (*walk->at == '|') {
      walk->at++;
      if (!later) walk->silent++; /* the first alternative is the example */
      later = true;
      continue;
    }
    if (walk_repeated(walk)) unlimited = true;
  }
  if (later) walk->silent--;
  return unlimited;
}

static struct walk walk_pattern(struct text *out, const char *pattern) {
  struct walk walk = {.at = pattern, .out = out};
  while (*walk.at && !walk.failed) {
    walk_alternatives(&walk);
    if (*walk.at == ')') walk.at++; /* faulty patterns are refused on reading */
  }
  return walk;
}

const char *check_example_text(struct arena *arena, const char *pattern) {
  struct text out;
  text_init(&out, arena);
  struct walk walk = walk_pattern(&out, pattern);
  return walk.failed ? NULL : text_done(&out);
}

/* "words matches /.../" */
const char *check_pattern_text(struct arena *arena, const struct condition *condition) {
  const char *from = condition->printed ? strchr(condition->printed, '/') : NULL;
  size_t n = from ? strlen(from) : 0;
  return n >= 2 ? arena_copy(arena, from + 1, n - 2) : NULL;
}

/* ---- the trial ---- */

/* The piece repeated, spoilt, and then the rest of the example, so that no letter the pattern asks
 * for is missed at once. */
static const char *worn_text(struct arena *arena, const char *example, struct repeat repeat,
                             size_t length) {
  struct text text;
  text_init(&text, arena);
  text_add_bytes(&text, example, repeat.from);
  while (text.n < length) text_add_bytes(&text, example + repeat.from, repeat.to - repeat.from);
  text_add(&text, "!");
  text_add(&text, example + repeat.to);
  return text_done(&text);
}

/* The shortest text tried that uses up the steps of a match, or NULL. */
static const char *find_worn(struct checker *checker, const struct pattern *pattern,
                             const char *example, const struct walk *walk) {
  for (size_t length = 25; length <= TEXT_MAX; length *= 2)
    for (size_t i = 0; i < walk->n_repeats; i++) {
      const char *text = worn_text(checker->arena, example, walk->repeats[i], length);
      if (text && pattern_match(pattern, text, strlen(text), 0, NULL, 0) == PATTERN_LIMIT)
        return text;
    }
  return NULL;
}

static const struct rule *rule_with(const struct network *network, size_t test) {
  for (size_t rule = 0; rule < network->model->n_rules; rule++) {
    size_t first = network->rules[rule].first_node;
    for (size_t node = first; node < first + network->nodes[first].n_nodes; node++)
      if (network->nodes[node].test == test) return &network->model->rules[rule];
  }
  return NULL;
}

static struct witness worn_witness(struct checker *checker, size_t evidence, const char *text) {
  struct value *value = arena_new_object(checker->arena, struct value);
  if (!value) return (struct witness){NULL, 0};
  *value = (struct value){
      .evidence = evidence, .choice = NO_INDEX, .sure = 1, .text = text, .typed = text};
  return (struct witness){value, 1};
}

static void check_pattern(struct checker *checker, size_t test) {
  const struct condition *condition = checker->network->tests[test].condition;
  const char *written = check_pattern_text(checker->arena, condition);
  const struct rule *rule = rule_with(checker->network, test);
  struct text out, told;
  if (!written || !rule) return;
  text_init(&out, checker->arena);
  struct walk walk = walk_pattern(&out, written);
  const char *example = text_done(&out);
  const char *worn = example ? find_worn(checker, condition->pattern, example, &walk) : NULL;
  if (!walk.nested && !worn) return;
  text_init(&told, checker->arena);
  if (walk.nested) text_add(&told, "repeats what repeats already");
  if (worn)
    text_format(&told, "%sgives up on a text of %zu characters", walk.nested ? " and " : "",
                strlen(worn));
  if (!text_done(&told)) return;
  struct check_finding *finding =
      FIND(checker, SLOW_PATTERN, condition->at, rule->at, "rule", rule->name, text_done(&told));
  if (finding && worn) finding->witness = worn_witness(checker, condition->evidence, worn);
}

/* ---- phrases: only the compiled pattern is at hand, so what players say is repeated ---- */

static const char *said_over(struct arena *arena, const char *piece) {
  struct text text;
  text_init(&text, arena);
  while (text.n < TEXT_MAX) text_format(&text, "%s ", piece);
  text_add(&text, "!");
  return text_done(&text);
}

static bool wears_out(struct checker *checker, const struct phrase *phrase, const char *piece) {
  const struct pattern *const patterns[] = {phrase->says[0], phrase->says[1], phrase->unless[0],
                                            phrase->unless[1]};
  const char *text = said_over(checker->arena, piece);
  for (size_t i = 0; text && i < sizeof patterns / sizeof patterns[0]; i++)
    if (patterns[i] && pattern_match(patterns[i], text, strlen(text), 0, NULL, 0) == PATTERN_LIMIT)
      return true;
  return false;
}

static void check_phrase(struct checker *checker, const struct phrase *phrase) {
  static const char *const pieces[] = {"a", "very", "left and right", "it goes", "a bit to the"};
  bool worn = false;
  for (size_t i = 0; !worn && i < phrase->n_such_as; i++)
    worn = wears_out(checker, phrase, phrase->such_as[i]);
  for (size_t i = 0; !worn && i < sizeof pieces / sizeof pieces[0]; i++)
    worn = wears_out(checker, phrase, pieces[i]);
  if (worn)
    FIND(checker, SLOW_PATTERN, phrase->at, phrase->at, "phrase", phrase->name,
         "gives up on words that repeat themselves");
}

void check_patterns(struct checker *checker) {
  for (size_t i = 0; i < checker->network->n_tests; i++)
    if (checker->network->tests[i].condition->kind == CONDITION_MATCHES) check_pattern(checker, i);
  for (size_t i = 0; i < checker->model->n_phrases; i++)
    check_phrase(checker, &checker->model->phrases[i]);
}
