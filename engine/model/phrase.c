/* Phrases from their entries. Parts are read first, since other patterns hold them; a pattern that
 * names a side is compiled once for each hand, any other once for both. */
#include "model/phrase.h"

#include <string.h>

#include "model/phrase_parts.h"

#define SURE_USUAL 0.8

/* What reading one entry needs at hand. */
struct phrase_reader {
  struct reader *reader;
  const struct entry *entry;
  struct phrase *phrase;
  struct text printed;
};

static const char *const kind_keys[] = {NULL,   "turns", "hand", "when_both",
                                        "part", "spelt", "near"};

static enum phrase_kind kind_of(const struct node *map) {
  for (size_t kind = PHRASE_TURNS; kind <= PHRASE_NEAR; kind++)
    if (node_get(map, kind_keys[kind])) return (enum phrase_kind)kind;
  return PHRASE_MEANS;
}

static void check_keys(struct phrase_reader *one) {
  static const enum key_set keys[] = {
      [PHRASE_MEANS] = KEYS_PHRASE_MEANS, [PHRASE_TURNS] = KEYS_PHRASE_TURNS,
      [PHRASE_HAND] = KEYS_PHRASE_HAND,   [PHRASE_BOTH] = KEYS_PHRASE_BOTH,
      [PHRASE_PART] = KEYS_PHRASE_PART,   [PHRASE_SPELLING] = KEYS_PHRASE_SPELLING,
      [PHRASE_NEAR] = KEYS_PHRASE_NEAR,
  };
  reader_check_keys(one->reader, one->entry->node, "phrase", keys[one->phrase->kind]);
}

/* ---- patterns ---- */

/* Compiles the expanded text; the same pattern for both hands where it names no side. */
static void compile_both(struct phrase_reader *one, const struct node *node, bool sides_told,
                         bool whole_words, const struct pattern *patterns[2]) {
  struct phrase *phrase = one->phrase;
  for (int hand = HAND_RIGHT; hand <= HAND_LEFT; hand++) {
    bool has_side = false;
    const char *expanded = phrase_expand(one->reader, node, (enum hand)hand, sides_told,
                                         whole_words, phrase->parts, &phrase->n_parts, &has_side);
    if (expanded == NULL) return;
    patterns[hand] = pattern_compile(one->reader->arena, expanded, strlen(expanded), node->at,
                                     one->reader->diags);
    if (has_side) continue;
    patterns[HAND_LEFT] = patterns[hand];
    return;
  }
}

/* Stops and commas are no words, so a pattern that ends a clause stands as it is. */
static bool is_break(const struct node *map) {
  const struct node *turns = node_get(map, "turns");
  return turns && node_is(turns, "break");
}

static void read_says(struct phrase_reader *one) {
  const struct node *says = reader_key(one->reader, one->entry, "says", true);
  const struct node *unless = node_get(one->entry->node, "unless");
  /* Only what means something has to be mirrored; words such as "right now" may turn as they are.
   */
  bool sides_told = one->phrase->kind == PHRASE_MEANS;
  if (reader_string(one->reader, says)) {
    compile_both(one, says, sides_told, !is_break(one->entry->node), one->phrase->says);
    text_format(&one->printed, " says /%s/", says->text);
  }
  if (reader_string(one->reader, unless)) {
    compile_both(one, unless, false, true, one->phrase->unless);
    text_format(&one->printed, " unless /%s/", unless->text);
  }
}

/* ---- meanings ---- */

static bool has_part(const struct phrase_reader *one, const char *name, size_t n) {
  const struct model *model = one->reader->model;
  for (size_t i = 0; i < one->phrase->n_parts; i++) {
    const char *part = model->phrases[one->phrase->parts[i]].name;
    if (strlen(part) == n && memcmp(part, name, n) == 0) return true;
  }
  return false;
}

/* Whether each {part} of the recipe is a part of what is said; reports the first that is not. */
static bool recipe_holds(struct phrase_reader *one, const struct node *node) {
  const char *open = strchr(node->text, '{');
  for (; open; open = strchr(open + 1, '{')) {
    const char *end = strchr(open, '}');
    size_t n = end ? (size_t)(end - open) - 1 : 0;
    if (end && has_part(one, open + 1, n)) continue;
    const char *name = arena_copy(one->reader->arena, open + 1, end ? n : strlen(open + 1));
    DIAG(one->reader->diags, UNKNOWN_NAME, node->at, "part with values in 'says',",
         name ? name : "");
    return false;
  }
  return true;
}

static void print_meaning(struct text *out, const struct model *model,
                          const struct meaning *meaning) {
  const struct evidence *evidence = &model->evidence[meaning->evidence];
  text_format(out, " %s=", evidence->name);
  if (meaning->recipe) {
    text_add(out, meaning->recipe);
  } else if (evidence->kind == EVIDENCE_NUMBER) {
    text_number(out, meaning->value.number);
    text_add(out, " +/- ");
    text_number(out, meaning->value.error);
  } else {
    text_add(out, meaning->value.typed);
  }
}

static bool read_meaning(struct phrase_reader *one, const struct node *node,
                         struct meaning *meaning) {
  struct reader *reader = one->reader;
  size_t evidence = model_find_evidence(reader->model, node->key);
  if (evidence == NO_INDEX) {
    struct diag *diag = DIAG(reader->diags, UNKNOWN_NAME, node->key_at, "evidence", node->key);
    model_nearest_evidence(reader->model, reader->diags, diag, node->key);
    return false;
  }
  *meaning = (struct meaning){.evidence = evidence};
  if (reader->model->evidence[evidence].kind == EVIDENCE_TEXT) {
    DIAG(reader->diags, WRONG_KIND, node->key_at, node->key, "a text",
         "a phrase means a number, a choice, yes or no, or a club");
    return false;
  }
  if (node->kind == NODE_SCALAR && strchr(node->text, '{')) {
    meaning->recipe = node->text;
    return recipe_holds(one, node);
  }
  return value_read_node(reader->arena, reader->diags, reader->model, evidence, node,
                         &meaning->value);
}

static const struct meaning *read_meanings(struct phrase_reader *one, const char *key,
                                           const struct node *map, size_t *n) {
  *n = 0;
  if (!reader_is_map(one->reader, map, "a mapping: evidence to value")) return NULL;
  struct meaning *meanings = arena_new_array(one->reader->arena, struct meaning, map->n + 1);
  text_format(&one->printed, " %s", key);
  for (const struct node *node = map->first; meanings && node; node = node->next) {
    if (!read_meaning(one, node, &meanings[*n])) continue;
    print_meaning(&one->printed, one->reader->model, &meanings[(*n)++]);
  }
  return meanings;
}

static void read_sure(struct phrase_reader *one) {
  const struct node *node = node_get(one->entry->node, "sure");
  one->phrase->sure = SURE_USUAL;
  if (reader_number(one->reader, node, &one->phrase->sure) &&
      !(one->phrase->sure > 0 && one->phrase->sure <= 1))
    reader_wrong_shape(one->reader, node, "a number above 0, at most 1");
  text_add(&one->printed, " sure ");
  text_number(&one->printed, one->phrase->sure);
}

static void read_means(struct phrase_reader *one) {
  struct phrase *phrase = one->phrase;
  const struct node *denied = node_get(one->entry->node, "denied");
  read_says(one);
  phrase->means = read_meanings(
      one, "means", reader_key(one->reader, one->entry, "means", denied == NULL), &phrase->n_means);
  phrase->denied = read_meanings(one, "denied", denied, &phrase->n_denied);
  phrase->whole = reader_yes_no(one->reader, node_get(one->entry->node, "whole"), false);
  text_add(&one->printed, phrase->whole ? " whole" : "");
  phrase->firm = reader_yes_no(one->reader, node_get(one->entry->node, "firm"), false);
  text_add(&one->printed, phrase->firm ? " firm" : "");
  read_sure(one);
}

/* when_both: {curve: [left, right]} */
static void read_both(struct phrase_reader *one) {
  struct reader *reader = one->reader;
  const char *shape = "one evidence with two values: {curve: [left, right]}";
  const struct node *map = node_get(one->entry->node, "when_both");
  if (!reader_is_map(reader, map, shape)) return;
  const struct node *list = map->n == 1 ? map->first : NULL;
  if (list == NULL || list->kind != NODE_LIST || list->n != 2) {
    reader_wrong_shape(reader, map, shape);
    return;
  }
  const struct node *node = list->first;
  text_add(&one->printed, " when_both");
  for (int i = 0; i < 2; i++, node = node->next) {
    struct node value = *node;
    value.key = list->key;
    value.key_at = list->key_at;
    if (!read_meaning(one, &value, &one->phrase->both[i])) return;
    print_meaning(&one->printed, reader->model, &one->phrase->both[i]);
  }
  one->phrase->means = read_meanings(one, "means", reader_key(reader, one->entry, "means", true),
                                     &one->phrase->n_means);
  read_sure(one);
}

/* ---- turning words ---- */

const char *turn_word(enum turn turn) {
  return words_of(WORDS_TURN)->at[turn];
}

static void read_turns(struct phrase_reader *one) {
  struct reader *reader = one->reader;
  const struct node *map = one->entry->node, *by = node_get(map, "by");
  read_says(one);
  size_t turn = reader_listed(reader, node_get(map, "turns"), WORDS_TURN);
  size_t reach = reader_listed(reader, node_get(map, "reach"), WORDS_REACH);
  one->phrase->turn = turn == NO_INDEX ? TURN_NOTHING : (enum turn)turn;
  one->phrase->reach = reach == NO_INDEX ? REACH_AFTER : (enum reach)reach;
  one->phrase->by = 1;
  if (reader_number(reader, by, &one->phrase->by) && !(one->phrase->by > 0 && one->phrase->by <= 3))
    reader_wrong_shape(reader, by, "a number above 0, at most 3");
  text_format(&one->printed, " turns %s %s by ", turn_word(one->phrase->turn),
              words_of(WORDS_REACH)->at[one->phrase->reach]);
  text_number(&one->printed, one->phrase->by);
}

static void read_hand(struct phrase_reader *one) {
  read_says(one);
  size_t hand = reader_listed(one->reader, node_get(one->entry->node, "hand"), WORDS_HAND);
  one->phrase->hand = hand == 1 ? HAND_LEFT : HAND_RIGHT;
  text_format(&one->printed, " hand %s", words_of(WORDS_HAND)->at[one->phrase->hand]);
}

/* ---- spelling ---- */

static void read_spelling(struct phrase_reader *one) {
  struct reader *reader = one->reader;
  const struct node *map = node_get(one->entry->node, "spelt");
  if (!reader_is_map(reader, map, "a mapping: word to a pattern of its misspellings")) return;
  struct spelling *spelt = arena_new_array(reader->arena, struct spelling, map->n + 1);
  for (const struct node *node = map->first; spelt && node; node = node->next) {
    size_t ignored = PHRASE_PARTS;
    bool has_side;
    if (!reader_string(reader, node)) continue;
    const char *expanded =
        phrase_expand(reader, node, HAND_RIGHT, false, true, NULL, &ignored, &has_side);
    if (expanded == NULL) continue;
    spelt[one->phrase->n_spelt++] =
        (struct spelling){node->key, pattern_compile(reader->arena, expanded, strlen(expanded),
                                                     node->at, reader->diags)};
    text_format(&one->printed, " %s /%s/", node->key, node->text);
  }
  one->phrase->spelt = spelt;
}

static size_t add_strings(struct phrase_reader *one, const struct node *list,
                          const char **strings) {
  size_t n = 0;
  if (!reader_is_list(one->reader, list, "a list of words")) return 0;
  for (const struct node *node = list->first; node; node = node->next)
    if (reader_string(one->reader, node)) strings[n++] = node->text;
  return n;
}

static size_t length_of(const struct node *list) {
  return list && list->kind == NODE_LIST ? list->n : 0;
}

static void read_near(struct phrase_reader *one) {
  const struct node *near = node_get(one->entry->node, "near");
  const struct node *known = node_get(one->entry->node, "known");
  size_t room = length_of(near) + length_of(known) + 1;
  const char **words = arena_new_array(one->reader->arena, const char *, room);
  if (words == NULL) return;
  one->phrase->n_near = add_strings(one, near, words);
  one->phrase->n_known = add_strings(one, known, words + one->phrase->n_near);
  one->phrase->near = words;
  for (size_t i = 0; i < one->phrase->n_near + one->phrase->n_known; i++)
    text_format(&one->printed, "%s%s", i == one->phrase->n_near ? " known " : " ", words[i]);
}

/* ---- entries ---- */

static void read_part(struct phrase_reader *one) {
  phrase_read_part(one->reader, one->entry, one->phrase, &one->printed);
}

/* One text or a list of them. */
static void read_such_as(struct phrase_reader *one) {
  const struct node *node = node_get(one->entry->node, "such_as");
  const char **strings =
      node ? arena_new_array(one->reader->arena, const char *, length_of(node) + 1) : NULL;
  if (strings == NULL) return;
  if (node->kind == NODE_LIST) one->phrase->n_such_as = add_strings(one, node, strings);
  else if (reader_string(one->reader, node)) strings[one->phrase->n_such_as++] = node->text;
  one->phrase->such_as = strings;
}

static void read_phrase(struct reader *reader, const struct entry *entry, struct phrase *phrase) {
  static void (*const readers[])(struct phrase_reader *) = {
      [PHRASE_MEANS] = read_means, [PHRASE_TURNS] = read_turns, [PHRASE_HAND] = read_hand,
      [PHRASE_BOTH] = read_both,   [PHRASE_PART] = read_part,   [PHRASE_SPELLING] = read_spelling,
      [PHRASE_NEAR] = read_near,
  };
  struct phrase_reader one = {.reader = reader, .entry = entry, .phrase = phrase};
  text_init(&one.printed, reader->arena);
  check_keys(&one);
  readers[phrase->kind](&one);
  read_such_as(&one);
  phrase->source = reader_source(reader, entry);
  phrase->printed = text_done(&one.printed);
}

void read_phrases(struct reader *reader) {
  struct entries entries = reader->kinds[ENTRY_PHRASE];
  struct phrase *phrases = arena_new_array(reader->arena, struct phrase, entries.n + 1);
  if (phrases == NULL) return;
  for (size_t i = 0; i < entries.n; i++) {
    phrases[i].name = entries.at[i].name;
    phrases[i].at = entries.at[i].at;
    phrases[i].kind = kind_of(entries.at[i].node);
  }
  reader->model->phrases = phrases;
  reader->model->n_phrases = entries.n;
  for (int parts = 1; parts >= 0; parts--)
    for (size_t i = 0; i < entries.n; i++)
      if ((phrases[i].kind == PHRASE_PART) == (parts == 1))
        read_phrase(reader, &entries.at[i], &phrases[i]);
}
