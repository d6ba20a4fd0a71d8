/* The steps of understanding in order, and the words for what became of a piece. */
#include "say/say.h"

#include <stdlib.h>
#include <string.h>

#include "model/value.h"
#include "say/steps.h"

/* The place of a piece of the text, whose lines may be several. */
static struct span place_of(const struct source *source, struct say_span words) {
  struct span span = {.source = source, .line = 1, .column = 1};
  for (size_t i = 0; i < words.end; i++) {
    if (i == words.start) {
      span.end_line = span.line;
      span.end_column = span.column;
    }
    bool starts_character = ((unsigned char)source->bytes[i] & 0xC0) != 0x80;
    uint32_t *line = i < words.start ? &span.line : &span.end_line;
    uint32_t *column = i < words.start ? &span.column : &span.end_column;
    if (source->bytes[i] == '\n') {
      ++*line;
      *column = 1;
    } else {
      *column += starts_character;
    }
  }
  return span;
}

/* ---- drafts ---- */

static bool add_draft(struct say *say, const struct match *match, const struct meaning *meaning,
                      enum say_use use, const struct match *by) {
  struct draft draft = {.match = match, .club = NO_INDEX};
  draft.piece.phrase = match->phrase;
  draft.piece.use = use;
  say_shade(say, &draft);
  if (by) draft.piece.because = say_origin(say, by->start, by->end);
  if (!say_worth(say, meaning, &draft)) return false;
  struct draft *added = array_push(say->arena, &say->drafts);
  if (added) *added = draft;
  return added != NULL;
}

/* A denial may be a value itself: then that is what was said. */
static bool add_match(struct say *say, const struct match *match) {
  const struct phrase *phrase = &say->model->phrases[match->phrase];
  const struct match *by;
  enum say_use use = say_turned(say, match, &by);
  bool is_denial = (use == SAY_DENIED || use == SAY_WELL) && phrase->n_denied > 0;
  const struct meaning *meanings = is_denial ? phrase->denied : phrase->means;
  size_t n = is_denial ? phrase->n_denied : phrase->n_means;
  for (size_t i = 0; i < n; i++)
    if (!add_draft(say, match, &meanings[i], is_denial ? SAY_USED : use, is_denial ? NULL : by))
      return false;
  return true;
}

static bool add_drafts(struct say *say, struct understanding *understanding) {
  for (size_t i = 0; i < say->found.n; i++) {
    const struct match *match = &say->found.at[i], *by;
    const struct phrase *phrase = &say->model->phrases[match->phrase];
    if (phrase->kind == PHRASE_MEANS && !add_match(say, match)) return false;
    if (phrase->kind != PHRASE_HAND || say_turned(say, match, &by) != SAY_USED) continue;
    understanding->says_hand = true;
    understanding->hand = phrase->hand;
    understanding->hand_at = place_of(say->source, say_origin(say, match->start, match->end));
  }
  return true;
}

/* ---- pieces ---- */

static int compare_pieces(const void *left, const void *right) {
  const struct say_piece *a = left, *b = right;
  if (a->words.start != b->words.start) return a->words.start < b->words.start ? -1 : 1;
  if (a->words.end != b->words.end) return a->words.end < b->words.end ? -1 : 1;
  if (a->evidence != b->evidence) return a->evidence < b->evidence ? -1 : 1;
  return a->phrase < b->phrase ? -1 : a->phrase > b->phrase;
}

static bool finish(struct say *say, struct understanding *understanding) {
  size_t n = say->drafts.n;
  struct say_piece *pieces = arena_new_array(say->arena, struct say_piece, n + 1);
  if (pieces == NULL) return false;
  for (size_t i = 0; i < n; i++) {
    pieces[i] = say->drafts.at[i].piece;
    pieces[i].sure = say->drafts.at[i].sure;
    pieces[i].value.at = place_of(say->source, pieces[i].words);
    if (say->hand == HAND_LEFT) pieces[i].value = value_mirror(say->model, pieces[i].value);
  }
  if (n > 0) qsort(pieces, n, sizeof *pieces, compare_pieces);
  understanding->pieces = pieces;
  understanding->n_pieces = n;
  return true;
}

bool say_understand(struct arena *arena, struct diags *diags, const struct model *model,
                    const struct source *source, enum hand hand, size_t club,
                    struct understanding *understanding) {
  struct say say = {
      .arena = arena, .diags = diags, .model = model, .source = source, .hand = hand, .club = club};
  *understanding = (struct understanding){.text = source->bytes, .n = source->n, .hand = hand};
  return say_make_working(&say) && say_mend_spelling(&say) && say_find(&say) &&
         add_drafts(&say, understanding) && say_settle(&say) && finish(&say, understanding);
}

/* ---- words ---- */

static const struct {
  const char *word, *reason;
} uses[] = {
    [SAY_USED] = {"used", ""},
    [SAY_DENIED] = {"denied", "denied"},
    [SAY_PAST] = {"past", "it was so once"},
    [SAY_OTHER] = {"other", "said of somebody else"},
    [SAY_WISH] = {"wish", "wished or meant"},
    [SAY_WELL] = {"well", "said to be well"},
    [SAY_BOTH] = {"both", "both are said"},
    [SAY_CONFLICT] = {"conflict", "the words contradict each other"},
    [SAY_LESSER] = {"lesser", "less often so than another"},
    [SAY_AGAIN] = {"again", "said already"},
    [SAY_OTHER_CLUB] = {"other_club", "of another club; one club at a time"},
    [SAY_NO_SIDE] = {"no_side", "which side is not said"},
    [SAY_NO_UNIT] = {"no_unit", "no unit that fits is said"},
    [SAY_IMPLAUSIBLE] = {"implausible", "outside the plausible range"},
    [SAY_NO_SUCH] = {"no_such", "there is no such club or word"},
    [SAY_KNOWN] = {"known", "given otherwise"},
};

const char *say_use_word(enum say_use use) {
  return uses[use].word;
}

const char *say_use_reason(enum say_use use) {
  return uses[use].reason;
}
