/* The steps of understanding, in order: a working copy of the text, matches in it, what turns them,
 * what they are worth, and how those of one evidence are settled. Internal to say/. Each step
 * returns false when memory ran out. */
#ifndef WM_SAY_STEPS_H
#define WM_SAY_STEPS_H

#include "say/say.h"

/* The text as patterns see it: one blank between words, no apostrophes inside words, a full stop
 * for a line's end, digits parted from letters, misspellings mended. Each byte knows where it comes
 * from. */
struct working {
  char *at;            /* n bytes, then a NUL */
  uint32_t *from, *to; /* by byte: [from, to) of the text */
  size_t n, room;
};

/* Where one phrase was found. */
struct match {
  size_t phrase;
  size_t start, end; /* bytes of the working copy */
  size_t clause;
  struct say_span parts[PHRASE_PARTS]; /* of the working copy; start SIZE_MAX: took no part */
};
struct matches {
  struct match *at;
  size_t n, room;
  void *grown;
};

enum frequency { FREQUENCY_SELDOM, FREQUENCY_PLAIN, FREQUENCY_MOSTLY };

/* A piece on its way. */
struct draft {
  struct say_piece piece;
  const struct match *match;
  double sure, scale;
  enum frequency frequency;
  bool exact;  /* a number was said */
  bool is_set; /* piece.value holds, in the frame of a right-handed player */
  size_t club; /* index of the draft that says which club its clause is about, or NO_INDEX */
};
struct drafts {
  struct draft *at;
  size_t n, room;
  void *grown;
};

struct say {
  struct arena *arena;
  struct diags *diags;
  const struct model *model;
  const struct source *source;
  enum hand hand;
  size_t club;
  struct working working;
  struct matches found;  /* what means and what turns; no two overlap, in order */
  struct matches shades; /* seldom, mostly, unsure, scale: in order */
  struct drafts drafts;
};

bool say_make_working(struct say *say);
bool say_mend_spelling(struct say *say);
bool say_find(struct say *say);
/* Whether the match is denied, past ... : SAY_USED when nothing turns it; *by gets what does. */
enum say_use say_turned(const struct say *say, const struct match *match, const struct match **by);
/* Fills frequency, scale, sure and the words of the piece from what stands around its match. */
void say_shade(const struct say *say, struct draft *draft);
/* The draft's value by the meaning; sets use where there is none. False: no memory. */
bool say_worth(struct say *say, const struct meaning *meaning, struct draft *draft);
bool say_settle(struct say *say);

/* Bytes of the text that a stretch of the working copy comes from. */
struct say_span say_origin(const struct say *say, size_t start, size_t end);

#endif
