/* From a player's own words to evidence: which pieces of the text mean what, how sure they make us,
 * and which pieces were heard and not used, with the reason. It guesses nothing: what is denied,
 * past, wished, said of somebody else or contradicted within the text gives no value. It gives no
 * value to a case by itself and knows no rules. The product lives in the caller's arena and borrows
 * the model; the model is only read, so threads may share it. */
#ifndef WM_SAY_SAY_H
#define WM_SAY_SAY_H

#include "model/phrase.h"

#define SAY_BYTES_MAX 4000

enum say_use {
  SAY_USED,
  SAY_DENIED,      /* "never fat" */
  SAY_PAST,        /* "used to hook" */
  SAY_OTHER,       /* "my brother slices" */
  SAY_WISH,        /* "i want to draw it" */
  SAY_WELL,        /* "my irons are fine" */
  SAY_BOTH,        /* left and right: taken together as one other evidence */
  SAY_CONFLICT,    /* said in two ways that cannot both be so */
  SAY_LESSER,      /* seldom, where another is usual */
  SAY_AGAIN,       /* said more surely elsewhere in the text */
  SAY_OTHER_CLUB,  /* of another club than the one that is spoken of */
  SAY_NO_SIDE,     /* a number without its side */
  SAY_NO_UNIT,     /* a number without its unit, or with one that does not fit */
  SAY_IMPLAUSIBLE, /* outside the plausible range */
  SAY_NO_SUCH,     /* no such club or word */
  SAY_KNOWN        /* the case has a value already; set by who gives the values */
};

struct say_span { /* bytes [start, end) of the text; both 0: none */
  size_t start, end;
};

struct say_piece {
  struct say_span words; /* with the words that make it larger, smaller, more or less often */
  size_t phrase;
  size_t evidence;
  double sure; /* of the phrase, with what the words around it make of it */
  enum say_use use;
  struct say_span because; /* the words that turned it, or those it conflicts with */
  const char *word;        /* the value's word in the knowledge; NULL: a number that was said */
  struct value
      value; /* as a player of the hand gives it; nothing where use is NO_SIDE to NO_SUCH */
};

struct understanding {
  const char *text; /* n bytes, as said */
  size_t n;
  const struct say_piece *pieces; /* in the order of the text */
  size_t n_pieces;
  bool says_hand; /* the words tell the hand the player plays with */
  enum hand hand;
  struct span hand_at; /* where they tell it */
};

/* Understands the whole source, at most SAY_BYTES_MAX bytes. club: the choice of the club evidence
 * that the case is about, or NO_INDEX. False: no memory. Diagnostics: patterns that gave up. */
bool say_understand(struct arena *arena, struct diags *diags, const struct model *model,
                    const struct source *source, enum hand hand, size_t club,
                    struct understanding *understanding);

/* "used", "denied" ...: for programs. */
const char *say_use_word(enum say_use use);
/* Why it gave no value, for readers: "it was so once". */
const char *say_use_reason(enum say_use use);

#endif
