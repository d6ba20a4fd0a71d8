/* What players say: patterns over their words, what the words mean, and the words that turn a
 * meaning. Read from entries `phrase`; part of the model, so immutable and shared by threads.
 * Nothing is matched here; say/ does that. Everything is in the frame of a right-handed player: a
 * pattern is compiled once for each hand, with {left} and {right} as the player of that hand says
 * them, so that a match means the same evidence for both. */
#ifndef WM_MODEL_PHRASE_H
#define WM_MODEL_PHRASE_H

#include "model/model.h"

#define PHRASE_PARTS 6 /* parts with a value in one pattern */

enum phrase_kind {
  PHRASE_MEANS,    /* says: pattern; means: evidence */
  PHRASE_TURNS,    /* says: pattern; turns: what it does to what is said around it */
  PHRASE_HAND,     /* says: pattern; hand: left or right */
  PHRASE_BOTH,     /* when_both: two values of one evidence; means: evidence */
  PHRASE_PART,     /* part: a piece of other patterns, with or without values */
  PHRASE_SPELLING, /* spelt: word to the misspellings of it */
  PHRASE_NEAR      /* near: words to be read when one letter is wrong */
};

enum turn {
  TURN_DENIED,  /* not so */
  TURN_PAST,    /* so once, not now */
  TURN_OTHER,   /* so of somebody else */
  TURN_WISH,    /* meant, not seen */
  TURN_WELL,    /* as it should be */
  TURN_THEIRS,  /* of the somebody else named before; nothing when nobody was */
  TURN_MINE,    /* of the player again: here ends what is said of somebody else */
  TURN_INSTEAD, /* what follows takes the place of what was said before it */
  TURN_NOTHING, /* words that would turn by their parts, and do not as a whole */
  TURN_BREAK,   /* here ends what turning words reach */
  TURN_UNSURE,  /* by: how much of the sureness is left */
  TURN_SELDOM,  /* by: the same; and it gives way to what is said to be usual */
  TURN_MOSTLY,  /* it has its way over what is said to be seldom */
  TURN_SCALE    /* by: how much of the number is left, for the nearest piece */
};
enum reach { REACH_AFTER, REACH_BEFORE, REACH_CLAUSE };

/* A value, or the recipe for one from what a match says. */
struct meaning {
  size_t evidence;
  struct value value; /* typed is the word of the kb; not set when there is a recipe */
  const char *recipe; /* "{number} {unit} {side}", "{number}i"; NULL: value holds */
};

struct part_value {
  const char *name;
  const struct pattern *patterns[2]; /* by hand; anchored where the search starts */
};

struct spelling {
  const char *word;
  const struct pattern *pattern;
};

struct phrase {
  enum phrase_kind kind;
  const char *name;
  const struct pattern *says[2]; /* by hand; whole words */
  const struct pattern *unless[2];
  const struct meaning *means, *denied;
  size_t n_means, n_denied;
  bool whole;  /* means: no club is heard within it */
  bool firm;   /* means: a denial or a wish around it does not touch it */
  double sure; /* means: of choices; the error of a number is divided by it */
  double by;   /* scale, unsure, seldom */
  enum turn turn;
  enum reach reach;
  enum hand hand;
  size_t parts[PHRASE_PARTS]; /* of says: phrases of kind part that have values */
  size_t n_parts;
  struct meaning both[2];
  const struct part_value *values; /* part */
  size_t n_values;
  const struct spelling *spelt;
  size_t n_spelt;
  const char *const *near; /* near: the words, then those that are left as they are */
  size_t n_near, n_known;
  const char *const *such_as; /* examples, each of which must be understood */
  size_t n_such_as;
  const char *printed; /* all that decides an answer, for the digest */
  struct source_ref source;
  struct span at;
};

/* What a part `number` said; two numbers ("3 to 5") are their mean and half their distance. */
struct said_number {
  double number, half_width;
  int sign; /* +1 or -1 when a sign was said, else 0 */
};
/* Reads the bytes [from, end) of the text as digits or the words of the part's values. False: they
 * are no number. */
bool phrase_number(const struct phrase *part, const char *text, size_t from, size_t end,
                   struct said_number *said);
/* The value of the part that the words are, or NULL. */
const char *phrase_part_value(const struct phrase *part, enum hand hand, const char *text,
                              size_t from, size_t end);

const char *turn_word(enum turn turn);

#endif
