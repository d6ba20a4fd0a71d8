/* One value for each evidence: what is said more than once, in opposite ways, of several clubs.
 * Where the words do not settle it, there is no value. */
#include <math.h>
#include <string.h>

#include "say/steps.h"

static const struct evidence *evidence_of(const struct say *say, const struct draft *draft) {
  return &say->model->evidence[draft->piece.evidence];
}

static bool is_used(const struct draft *draft) {
  return draft->piece.use == SAY_USED && draft->is_set;
}

/* ---- clubs ---- */

static bool is_club(const struct say *say, const struct draft *draft) {
  const struct evidence *evidence = evidence_of(say, draft);
  return draft->is_set && (evidence->kind == EVIDENCE_CLUB || evidence->from_club == CLUB_FAMILY);
}

static bool names_club(const struct say *say, const struct draft *draft) {
  return is_used(draft) && is_club(say, draft);
}

static const char *family_of(const struct say *say, const struct draft *draft) {
  const struct evidence *evidence = evidence_of(say, draft);
  size_t choice = draft->piece.value.choice;
  return evidence->kind == EVIDENCE_CLUB ? say->model->clubs[choice].family
                                         : evidence->choices[choice].name;
}

/* The same club, or a club and its kind. */
static bool same_club(const struct say *say, const struct draft *a, const struct draft *b) {
  bool both_clubs =
      evidence_of(say, a)->kind == EVIDENCE_CLUB && evidence_of(say, b)->kind == EVIDENCE_CLUB;
  if (both_clubs) return a->piece.value.choice == b->piece.value.choice;
  return strcmp(family_of(say, a), family_of(say, b)) == 0;
}

static bool is_the_club(const struct say *say, const struct draft *draft) {
  if (evidence_of(say, draft)->kind == EVIDENCE_CLUB) return draft->piece.value.choice == say->club;
  return strcmp(family_of(say, draft), say->model->clubs[say->club].family) == 0;
}

/* The club a clause is about: the one named in it, else the last named before. Of several in one
 * clause none, since what is said is of all of them. */
static void set_clubs(struct say *say) {
  size_t club = NO_INDEX, clause = NO_INDEX;
  for (size_t i = 0; i < say->drafts.n; i++) {
    struct draft *draft = &say->drafts.at[i];
    if (draft->match->clause != clause) {
      clause = draft->match->clause;
      for (size_t k = i, n = 0; k < say->drafts.n; k++) {
        const struct draft *other = &say->drafts.at[k];
        if (other->match->clause != clause) break;
        if (!names_club(say, other)) continue;
        club = n++ == 0 || (club != NO_INDEX && same_club(say, &say->drafts.at[club], other))
                   ? k
                   : NO_INDEX;
      }
    }
    draft->club = club;
  }
}

static void refuse(struct draft *draft, enum say_use use, const struct draft *because) {
  draft->piece.use = use;
  if (because) draft->piece.because = because->piece.words;
}

/* In the middle of what has sides: nothing is amiss. */
static bool is_neutral(const struct say *say, const struct draft *draft) {
  return evidence_of(say, draft)->minus && !draft->exact && draft->piece.value.number == 0;
}

/* The club of all that is said amiss, when it is one only; else NULL. */
static const struct draft *club_amiss(const struct say *say) {
  const struct draft *club = NULL;
  for (size_t i = 0; i < say->drafts.n; i++) {
    const struct draft *draft = &say->drafts.at[i];
    if (!is_used(draft) || is_club(say, draft) || is_neutral(say, draft)) continue;
    if (draft->club == NO_INDEX) return NULL;
    const struct draft *of = &say->drafts.at[draft->club];
    if (club && !same_club(say, club, of)) return NULL;
    club = club ? club : of;
  }
  return club;
}

/* Whether the clause says that something is not so, was so, or is well. */
static bool is_turned_clause(const struct say *say, size_t clause) {
  for (size_t i = 0; i < say->found.n; i++) {
    const struct match *match = &say->found.at[i];
    const struct phrase *phrase = &say->model->phrases[match->phrase];
    if (match->clause != clause || phrase->kind != PHRASE_TURNS) continue;
    if (phrase->turn == TURN_DENIED || phrase->turn == TURN_WELL || phrase->turn == TURN_PAST)
      return true;
  }
  return false;
}

static bool is_contrast(const struct say *say, const struct draft *club) {
  if (is_turned_clause(say, club->match->clause)) return true;
  for (size_t i = 0; i < say->drafts.n; i++) {
    const struct draft *draft = &say->drafts.at[i];
    if (is_used(draft) && !is_club(say, draft) && draft->club != NO_INDEX &&
        same_club(say, &say->drafts.at[draft->club], club) && is_neutral(say, draft))
      return true;
  }
  return false;
}

/* "The driver slices, the 7 iron does not": the other is named for contrast. */
static void leave_contrast(struct say *say) {
  const struct draft *amiss = say->club == NO_INDEX ? club_amiss(say) : NULL;
  for (size_t i = 0; amiss && i < say->drafts.n; i++) {
    const struct draft *draft = &say->drafts.at[i];
    if (names_club(say, draft) && !same_club(say, draft, amiss) && !is_contrast(say, draft)) return;
  }
  for (size_t i = 0; amiss && i < say->drafts.n; i++) {
    struct draft *draft = &say->drafts.at[i];
    const struct draft *club = draft->club != NO_INDEX ? &say->drafts.at[draft->club] : draft;
    if (is_used(draft) && is_club(say, club) && !same_club(say, club, amiss))
      refuse(draft, SAY_OTHER_CLUB, amiss);
  }
}

/* What is said of another club than the case's is left out; without one, what is said of different
 * clubs does not go together. */
static void settle_clubs(struct say *say) {
  const struct draft *first = NULL;
  bool several = false;
  for (size_t i = 0; i < say->drafts.n && say->club == NO_INDEX; i++) {
    const struct draft *draft = &say->drafts.at[i];
    if (!is_used(draft) || draft->club == NO_INDEX || names_club(say, draft)) continue;
    if (first == NULL) first = &say->drafts.at[draft->club];
    several = several || !same_club(say, first, &say->drafts.at[draft->club]);
  }
  for (size_t i = 0; i < say->drafts.n; i++) {
    struct draft *draft = &say->drafts.at[i];
    if (!is_used(draft) || draft->club == NO_INDEX) continue;
    const struct draft *club = &say->drafts.at[draft->club];
    if (say->club == NO_INDEX ? several : !is_the_club(say, club))
      refuse(draft, SAY_OTHER_CLUB, club);
  }
}

/* A club named with what was so once is still what the player speaks of, when no other is named. */
static void revive_club(struct say *say) {
  struct draft *past = NULL;
  for (size_t i = 0; i < say->drafts.n; i++) {
    struct draft *draft = &say->drafts.at[i];
    if (!is_club(say, draft)) continue;
    if (draft->piece.use == SAY_USED || (draft->piece.use == SAY_PAST && past)) return;
    if (draft->piece.use == SAY_PAST) past = draft;
  }
  if (past) past->piece.use = SAY_USED;
}

/* The kind of club says nothing beside the club. */
static void settle_family(struct say *say) {
  for (size_t i = 0; i < say->drafts.n; i++) {
    struct draft *family = &say->drafts.at[i];
    if (!is_used(family) || evidence_of(say, family)->from_club != CLUB_FAMILY) continue;
    for (size_t k = 0; k < say->drafts.n; k++) {
      const struct draft *club = &say->drafts.at[k];
      if (!is_used(club) || evidence_of(say, club)->kind != EVIDENCE_CLUB) continue;
      refuse(family, same_club(say, club, family) ? SAY_AGAIN : SAY_CONFLICT, club);
      break;
    }
  }
}

/* ---- what is compared ---- */

static int sign(double number) {
  return (number > 0) - (number < 0);
}

static bool agree(const struct say *say, const struct draft *a, const struct draft *b) {
  const struct evidence *evidence = evidence_of(say, a);
  const struct value *one = &a->piece.value, *other = &b->piece.value;
  if (evidence->kind != EVIDENCE_NUMBER) return one->choice == other->choice;
  if (evidence->minus && !(a->exact && b->exact)) return sign(one->number) == sign(other->number);
  return fabs(one->number - other->number) <= 2 * hypot(one->error, other->error);
}

/* ---- taken back ---- */

static const struct match *correction_between(const struct say *say, const struct match *before,
                                              const struct match *after) {
  for (size_t i = 0; i < say->found.n && say->found.at[i].start < after->start; i++) {
    const struct match *match = &say->found.at[i];
    const struct phrase *phrase = &say->model->phrases[match->phrase];
    if (phrase->kind == PHRASE_TURNS && phrase->turn == TURN_INSTEAD &&
        match->start >= before->end && after->clause <= match->clause + 1)
      return match;
  }
  return NULL;
}

/* "I hook it, no wait, slice it": another value of the same evidence right after the correction
 * takes the place of what was said before it. */
static void take_back(struct say *say) {
  for (size_t i = 0; i < say->drafts.n; i++) {
    struct draft *draft = &say->drafts.at[i];
    for (size_t k = i + 1; k < say->drafts.n && is_used(draft); k++) {
      const struct draft *later = &say->drafts.at[k];
      if (!is_used(later) || later->piece.evidence != draft->piece.evidence) continue;
      const struct match *by = correction_between(say, draft->match, later->match);
      if (by == NULL || agree(say, draft, later)) continue;
      draft->piece.use = SAY_DENIED;
      draft->piece.because = say_origin(say, by->start, by->end);
    }
  }
}

/* ---- one evidence ---- */

/* Whether a has its way over b: the usual over the seldom, a number over a word, the surer, the one
 * that was told larger or smaller, the greater (a fade that becomes a slice), the first. */
static bool is_better(const struct draft *a, const struct draft *b) {
  double size_a = fabs(a->piece.value.number), size_b = fabs(b->piece.value.number);
  if (a->frequency != b->frequency) return a->frequency > b->frequency;
  if (a->exact != b->exact) return a->exact;
  if (fabs(a->sure - b->sure) > 1e-9) return a->sure > b->sure;
  if ((a->scale != 1) != (b->scale != 1)) return a->scale != 1;
  if (!a->exact && size_a != size_b) return size_a > size_b;
  return a->match->start < b->match->start;
}

static bool is_of(const struct say *say, const struct meaning *meaning, const struct draft *draft) {
  if (meaning->evidence != draft->piece.evidence) return false;
  if (evidence_of(say, draft)->kind == EVIDENCE_NUMBER)
    return sign(meaning->value.number) == sign(draft->piece.value.number);
  return meaning->value.choice == draft->piece.value.choice;
}

/* The phrase that says what it is when both are so, or NULL. */
static const struct phrase *both_of(const struct say *say, const struct draft *a,
                                    const struct draft *b) {
  for (size_t i = 0; i < say->model->n_phrases; i++) {
    const struct phrase *phrase = &say->model->phrases[i];
    if (phrase->kind != PHRASE_BOTH) continue;
    if ((is_of(say, &phrase->both[0], a) && is_of(say, &phrase->both[1], b)) ||
        (is_of(say, &phrase->both[0], b) && is_of(say, &phrase->both[1], a)))
      return phrase;
  }
  return NULL;
}

/* Adds what the phrase means, over the words of both. False: no memory. */
static bool add_both(struct say *say, const struct phrase *phrase, const struct draft *a,
                     const struct draft *b) {
  struct draft both = *a;
  size_t end = b->piece.words.end;
  if (both.piece.words.end < end) both.piece.words.end = end;
  both.sure = phrase->sure;
  both.scale = 1;
  both.exact = both.is_set = false;
  both.piece.phrase = (size_t)(phrase - say->model->phrases);
  both.piece.use = SAY_USED;
  both.piece.because = (struct say_span){0, 0};
  for (size_t i = 0; i < phrase->n_means; i++) {
    struct draft added = both;
    if (!say_worth(say, &phrase->means[i], &added)) return false;
    struct draft *draft = array_push(say->arena, &say->drafts);
    if (draft == NULL) return false;
    *draft = added;
  }
  return true;
}

/* The best of the drafts of one evidence, or NO_INDEX. */
static size_t best_of(const struct say *say, size_t evidence) {
  size_t best = NO_INDEX;
  for (size_t i = 0; i < say->drafts.n; i++) {
    const struct draft *draft = &say->drafts.at[i];
    if (!is_used(draft) || draft->piece.evidence != evidence) continue;
    if (best == NO_INDEX || is_better(draft, &say->drafts.at[best])) best = i;
  }
  return best;
}

static bool names_side(const struct say *say, const struct draft *draft) {
  const struct phrase *phrase = &say->model->phrases[draft->match->phrase];
  return evidence_of(say, draft)->minus && phrase->n_means > 0 && phrase->means[0].recipe;
}

/* A word and a side right beside it ("hooks back left", of a left-hander) are one saying that
 * contradicts itself, not two shots. */
static bool side_by_side(const struct say *say, const struct draft *a, const struct draft *b) {
  bool in_order = a->match->start < b->match->start;
  size_t start = in_order ? a->match->end : b->match->end;
  size_t end = in_order ? b->match->start : a->match->start;
  bool touch = end <= start || (end == start + 1 && say->working.at[start] == ' ');
  return touch && names_side(say, a) != names_side(say, b);
}

/* Settles one against the best; only what is said to be usual has its way over another. Sets
 * *conflict to the index of what contradicts it as strongly. */
static void settle_against(struct say *say, size_t best, size_t i, size_t *conflict) {
  struct draft *draft = &say->drafts.at[i];
  const struct draft *strongest = &say->drafts.at[best];
  if (agree(say, strongest, draft)) {
    refuse(draft, SAY_AGAIN, strongest);
  } else if (strongest->frequency == FREQUENCY_MOSTLY && draft->frequency != FREQUENCY_MOSTLY) {
    refuse(draft, SAY_LESSER, strongest);
  } else {
    if (*conflict == NO_INDEX) *conflict = i;
    refuse(draft, SAY_CONFLICT, strongest);
  }
}

static bool settle_evidence(struct say *say, size_t evidence) {
  size_t best = best_of(say, evidence), conflict = NO_INDEX, n = say->drafts.n;
  if (best == NO_INDEX) return true;
  for (size_t i = 0; i < n; i++)
    if (i != best && is_used(&say->drafts.at[i]) && say->drafts.at[i].piece.evidence == evidence)
      settle_against(say, best, i, &conflict);
  if (conflict == NO_INDEX) return true;
  struct draft first = say->drafts.at[best], second = say->drafts.at[conflict];
  const struct phrase *phrase =
      side_by_side(say, &first, &second) ? NULL : both_of(say, &first, &second);
  refuse(&say->drafts.at[best], phrase ? SAY_BOTH : SAY_CONFLICT, &second);
  if (phrase) refuse(&say->drafts.at[conflict], SAY_BOTH, &first);
  if (first.match->start > second.match->start)
    return !phrase || add_both(say, phrase, &second, &first);
  return !phrase || add_both(say, phrase, &first, &second);
}

bool say_settle(struct say *say) {
  take_back(say);
  revive_club(say);
  set_clubs(say);
  leave_contrast(say);
  settle_clubs(say);
  settle_family(say);
  /* What two values of one evidence mean together is settled in the second round. */
  for (int round = 0; round < 2; round++)
    for (size_t i = 0; i < say->model->n_evidence; i++)
      if (!settle_evidence(say, i)) return false;
  return true;
}
