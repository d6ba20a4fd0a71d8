/* What the words around a match make of it. Turning words reach within their clause only; the
 * tables of them are knowledge. */
#include "say/steps.h"

/* Words that make larger or smaller belong to what stands this many words away at most. */
#define SCALE_WORDS 2

static const struct phrase *phrase_of(const struct say *say, const struct match *match) {
  return &say->model->phrases[match->phrase];
}

/* ---- turned ---- */

static enum say_use use_of(enum turn turn) {
  switch (turn) {
  case TURN_OTHER:
  case TURN_THEIRS: return SAY_OTHER;
  case TURN_PAST: return SAY_PAST;
  case TURN_WISH: return SAY_WISH;
  case TURN_DENIED: return SAY_DENIED;
  case TURN_WELL: return SAY_WELL;
  default: return SAY_USED;
  }
}

/* Somebody else's fault is denied in vain, and so is a past one. */
static int rank_of(enum say_use use) {
  switch (use) {
  case SAY_OTHER: return 5;
  case SAY_PAST: return 4;
  case SAY_WISH: return 3;
  case SAY_DENIED: return 2;
  case SAY_WELL: return 1;
  default: return 0;
  }
}

static bool reaches(const struct phrase *phrase, const struct match *turning,
                    const struct match *match) {
  switch (phrase->reach) {
  case REACH_AFTER: return turning->end <= match->start;
  case REACH_BEFORE: return turning->start >= match->end;
  case REACH_CLAUSE: break;
  }
  return true;
}

/* Circumstances such as the club stand whatever is denied or wished of the ball. */
static bool stands(const struct phrase *phrase, enum say_use turned) {
  return phrase->firm && (turned == SAY_DENIED || turned == SAY_WISH);
}

/* Whether somebody else was named before, whom "he" or "her" may mean. */
static bool names_other(const struct say *say, const struct match *pronoun) {
  for (size_t i = 0; i < say->found.n && say->found.at[i].start < pronoun->start; i++) {
    const struct phrase *phrase = phrase_of(say, &say->found.at[i]);
    if (phrase->kind == PHRASE_TURNS && phrase->turn == TURN_OTHER) return true;
  }
  return false;
}

/* Somebody else is spoken of from comma to comma, until the player speaks of himself. What may be a
 * warning (it has a value of its own when denied, such as pain) is the player's when in doubt. */
static bool speaks_on(const struct say *say, const struct match *other, const struct match *match) {
  if (phrase_of(say, other)->turn != TURN_OTHER || other->clause >= match->clause) return false;
  if (phrase_of(say, match)->n_denied > 0) return false;
  for (size_t i = 0; i < say->found.n; i++) {
    const struct match *between = &say->found.at[i];
    const struct phrase *phrase = phrase_of(say, between);
    if (between->start < other->end || between->start >= match->end) continue;
    if (phrase->kind != PHRASE_TURNS) continue;
    if (phrase->turn == TURN_MINE) return false;
    if (phrase->turn == TURN_BREAK && say->working.at[between->start] != ',') return false;
  }
  return true;
}

enum say_use say_turned(const struct say *say, const struct match *match, const struct match **by) {
  enum say_use use = SAY_USED;
  *by = NULL;
  for (size_t i = 0; i < say->found.n; i++) {
    const struct match *turning = &say->found.at[i];
    const struct phrase *phrase = phrase_of(say, turning);
    if (phrase->kind != PHRASE_TURNS) continue;
    if (turning->clause != match->clause && !speaks_on(say, turning, match)) continue;
    enum say_use turned = use_of(phrase->turn);
    if (rank_of(turned) <= rank_of(use) || !reaches(phrase, turning, match)) continue;
    if (stands(phrase_of(say, match), turned)) continue;
    if (phrase->turn == TURN_THEIRS && !names_other(say, turning)) continue;
    use = turned;
    *by = turning;
  }
  return use;
}

/* ---- shaded ---- */

/* Words that start between two places of the working copy. */
static size_t words_between(const struct working *working, size_t start, size_t end) {
  size_t n = 0;
  for (size_t i = start; i < end; i++)
    n += working->at[i] != ' ' && (i == start || working->at[i - 1] == ' ');
  return n;
}

static bool is_inside(const struct match *inner, const struct match *outer) {
  return inner->start >= outer->start && inner->end <= outer->end;
}

/* Distance in words; 0 inside or side by side. */
static size_t distance(const struct say *say, const struct match *shade,
                       const struct match *match) {
  if (shade->end <= match->start) return words_between(&say->working, shade->end, match->start);
  if (match->end <= shade->start) return words_between(&say->working, match->end, shade->start);
  return 0;
}

/* The match that a scaling word belongs to: what holds it, else what follows it closely, else what
 * it follows closely. */
static bool scales(const struct say *say, const struct match *shade, const struct match *match) {
  const struct match *before = NULL, *after = NULL;
  for (size_t i = 0; i < say->found.n; i++) {
    const struct match *other = &say->found.at[i];
    if (phrase_of(say, other)->kind != PHRASE_MEANS || other->clause != shade->clause) continue;
    if (is_inside(shade, other)) return other == match;
    if (distance(say, shade, other) > SCALE_WORDS) continue;
    if (other->start >= shade->end && after == NULL) after = other;
    if (other->end <= shade->start) before = other;
  }
  return (after ? after : before) == match;
}

/* The frequency said nearest before the match in its clause, else nearest after it. */
static const struct match *frequency_of(const struct say *say, const struct match *match) {
  const struct match *before = NULL, *after = NULL;
  for (size_t i = 0; i < say->shades.n; i++) {
    const struct match *shade = &say->shades.at[i];
    enum turn turn = phrase_of(say, shade)->turn;
    if (shade->clause != match->clause || (turn != TURN_SELDOM && turn != TURN_MOSTLY)) continue;
    if (shade->start < match->end) before = shade;
    else if (after == NULL) after = shade;
  }
  return before ? before : after;
}

/* Takes the words of the shade in, when nothing but a blank parts them. */
static void widen(const struct say *say, const struct match *shade, size_t *start, size_t *end) {
  if (shade->end <= *start && words_between(&say->working, shade->end, *start) == 0)
    *start = shade->start;
  if (shade->start >= *end && words_between(&say->working, *end, shade->start) == 0)
    *end = shade->end;
}

void say_shade(const struct say *say, struct draft *draft) {
  const struct match *match = draft->match, *often = frequency_of(say, match);
  size_t start = match->start, end = match->end;
  double unsure = 1, larger = 1, smaller = 1;
  draft->sure = phrase_of(say, match)->sure;
  draft->frequency = FREQUENCY_PLAIN;
  for (size_t i = 0; i < say->shades.n; i++) {
    const struct match *shade = &say->shades.at[i];
    const struct phrase *phrase = phrase_of(say, shade);
    if (shade->clause != match->clause) continue;
    if (phrase->turn == TURN_UNSURE && phrase->by < unsure) unsure = phrase->by;
    if (phrase->turn != TURN_SCALE || !scales(say, shade, match)) continue;
    larger = phrase->by > larger ? phrase->by : larger;
    smaller = phrase->by < smaller ? phrase->by : smaller;
    widen(say, shade, &start, &end);
  }
  draft->scale = larger * smaller;
  if (often) {
    bool seldom = phrase_of(say, often)->turn == TURN_SELDOM;
    draft->frequency = seldom ? FREQUENCY_SELDOM : FREQUENCY_MOSTLY;
    draft->sure *= seldom ? phrase_of(say, often)->by : 1;
    widen(say, often, &start, &end);
  }
  draft->sure *= unsure;
  draft->piece.words = say_origin(say, start, end);
}
