/* The keys of the knowledge: for each kind of entry, and each mapping inside one, which keys it may
 * have, which it must have, the shape of their values, and what they mean. The readers of model/
 * refuse every other key by these tables, and render/ writes the JSON Schema of the knowledge from
 * them. Reads nothing itself. All tables are constant; any thread may read them. */
#ifndef WM_MODEL_KEYS_H
#define WM_MODEL_KEYS_H

#include <stdbool.h>
#include <stddef.h>

/* Lists of the words a key may take. */
enum word_list {
  WORDS_NONE,
  WORDS_YES_NO,
  WORDS_STATUS,
  WORDS_FAMILY,
  WORDS_EVIDENCE_KIND,
  WORDS_CLUB_FIELD,
  WORDS_EFFORT,
  WORDS_AREA,
  WORDS_TASK,
  WORDS_RULE_KIND,
  WORDS_HAND,
  WORDS_TURN,
  WORDS_REACH,
  WORD_LISTS
};
struct words {
  const char *what; /* for messages: "'x' is no <what>" */
  const char *const *at;
  size_t n;
};

/* What the value of a key looks like. Those of one line take a scalar; the others are told in
 * render/schema_shapes.c, and in full in docs/rules.md. */
enum key_shape {
  SHAPE_NAME,
  SHAPE_HYPHEN_NAME, /* the entry's own; with hyphens too */
  SHAPE_VERSION,
  SHAPE_TEXT,
  SHAPE_WORD,
  SHAPE_NUMBER,
  SHAPE_NOT_NEGATIVE,
  SHAPE_DECIMALS,
  SHAPE_SHARE,
  SHAPE_FACTOR,
  SHAPE_COUNT,
  SHAPE_MANY,
  SHAPE_QUANTITY,
  SHAPE_UNIT,
  SHAPE_SOURCE,
  SHAPE_MEANS,
  SHAPE_BELIEVED,
  SHAPE_EXPECTED_CAUSE,
  SHAPE_EXPECTED_DRILL,
  SHAPE_YES_NO_EVIDENCE,
  SHAPE_RANGE,
  SHAPE_INTERVAL,
  SHAPE_PAIR,
  SHAPE_TEXTS,
  SHAPE_TEXT_OR_TEXTS,
  SHAPE_CAUTIONS,
  SHAPE_TEXT_MAP,
  SHAPE_CHOICES,
  SHAPE_FORMULA,
  SHAPE_FORMULA_TEXTS,
  SHAPE_CONDITION,
  SHAPE_THEN,
  SHAPE_DRILLS,
  SHAPE_FINDINGS_CAUSES,
  SHAPE_CHANGES,
  SHAPE_OBJECTS,
  SHAPE_WORKS,
  SHAPE_DROP,
  SHAPE_VALUES,
  SHAPE_EXPECT,
  SHAPE_ACCEPT,
  SHAPE_SORTING,
  SHAPE_FLIGHTS,
  SHAPE_ELLIPSES,
  SHAPE_SCATTER,
  SHAPE_MEANINGS,
  SHAPE_BOTH,
  SHAPE_PART,
  KEY_SHAPES
};

struct key {
  const char *name;
  bool required;
  enum key_shape shape;
  enum word_list words; /* of SHAPE_WORD */
  const char *about;
};

/* Entries first. */
enum key_set {
  KEYS_SOURCE,
  KEYS_CLUB,
  KEYS_NUMBER,
  KEYS_CHOICE,
  KEYS_YES_NO,
  KEYS_TEXT,
  KEYS_CLUB_EVIDENCE,
  KEYS_FINDING,
  KEYS_CAUSE,
  KEYS_DRILL,
  KEYS_RULE,
  KEYS_CASE,
  KEYS_COLUMN,
  KEYS_WINDOW,
  KEYS_PHRASE_MEANS,
  KEYS_PHRASE_TURNS,
  KEYS_PHRASE_HAND,
  KEYS_PHRASE_BOTH,
  KEYS_PHRASE_PART,
  KEYS_PHRASE_SPELLING,
  KEYS_PHRASE_NEAR,
  KEYS_FORMAT,
  KEYS_ENTRIES,
  KEYS_OBJECT = KEYS_ENTRIES,
  KEYS_WORKS,
  KEYS_DROP,
  KEYS_EXPECT,
  KEYS_VALUE,
  KEYS_FORMULA,
  KEYS_SORTING,
  KEYS_FLIGHTS,
  KEYS_BELIEVED,
  KEYS_NUMBER_COMPARISON,
  KEYS_CHOICE_COMPARISON,
  KEYS_TEXT_COMPARISON,
  KEY_SETS
};

struct keys {
  const char *name; /* of the set: "rule", "evidence_number" */
  const struct key *at;
  size_t n;
  const char *kind;   /* of evidence: what its key `kind` says; else NULL */
  const char *any_of; /* "ask effort|formula": these keys or those must be there; else NULL */
};

const struct keys *keys_of(enum key_set set);
/* Whether the set has a key of that name. */
bool keys_have(enum key_set set, const char *name);
const struct words *words_of(enum word_list list);

#endif
