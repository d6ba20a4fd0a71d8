/* What the working copy says: every phrase is looked for everywhere, the longest match wins, and
 * what is left is cut into clauses. Words that only shade a meaning are looked for apart, since
 * they may stand inside it. */
#include <stdlib.h>
#include <string.h>

#include "say/steps.h"

#define GROUPS_MAX 48
/* How many words on either side `unless` looks at. */
#define BESIDE_WORDS 3

struct finder {
  struct say *say;
  size_t phrase;
  struct matches *to;
};

/* ---- looking for one phrase ---- */

static bool is_stop(char c) {
  return strchr(".,;!?", c) != NULL;
}

/* The words beside a match, up to the next stop or comma on either side. */
static void surrounding(const struct working *working, size_t *start, size_t *end) {
  for (size_t words = 0; *start > 0 && !is_stop(working->at[*start - 1]); --*start)
    if (working->at[*start - 1] == ' ' && words++ == BESIDE_WORDS) break;
  for (size_t words = 0; *end < working->n && !is_stop(working->at[*end]); ++*end)
    if (working->at[*end] == ' ' && words++ == BESIDE_WORDS) break;
}

static void tell_limit(const struct finder *finder) {
  const struct phrase *phrase = &finder->say->model->phrases[finder->phrase];
  if (finder->say->diags) DIAG(finder->say->diags, PHRASE_LIMIT, phrase->at, phrase->name);
}

/* Whether the words around the match forbid it. */
static enum pattern_answer is_unless(const struct finder *finder, size_t start, size_t end) {
  const struct say *say = finder->say;
  const struct pattern *unless = say->model->phrases[finder->phrase].unless[say->hand];
  if (unless == NULL) return PATTERN_NO;
  surrounding(&say->working, &start, &end);
  return pattern_match(unless, say->working.at + start, end - start, 0, NULL, 0);
}

/* Where the parts of the phrase were in the match; a part may have several groups of one name. */
static void note_parts(const struct finder *finder, const struct pattern_part *groups,
                       struct match *match) {
  const struct model *model = finder->say->model;
  const struct phrase *phrase = &model->phrases[finder->phrase];
  for (size_t i = 0; i < PHRASE_PARTS; i++) match->parts[i] = (struct say_span){SIZE_MAX, SIZE_MAX};
  for (size_t i = 0; i < phrase->n_parts; i++) {
    size_t numbers[GROUPS_MAX];
    size_t n = pattern_groups(phrase->says[finder->say->hand],
                              model->phrases[phrase->parts[i]].name, numbers, GROUPS_MAX);
    for (size_t k = 0; k < n; k++) {
      if (numbers[k] >= GROUPS_MAX || groups[numbers[k]].start == SIZE_MAX) continue;
      match->parts[i] = (struct say_span){groups[numbers[k]].start, groups[numbers[k]].end};
      break;
    }
  }
}

/* Adds the matches of one phrase, from left to right, none over another. */
static bool find_phrase(struct finder *finder) {
  struct say *say = finder->say;
  const struct pattern *says = say->model->phrases[finder->phrase].says[say->hand];
  struct pattern_part groups[GROUPS_MAX];
  for (size_t from = 0; says && from <= say->working.n;) {
    enum pattern_answer answer =
        pattern_match(says, say->working.at, say->working.n, from, groups, GROUPS_MAX);
    if (answer == PATTERN_YES && groups[0].end > groups[0].start) {
      enum pattern_answer unless = is_unless(finder, groups[0].start, groups[0].end);
      from = groups[0].end;
      if (unless == PATTERN_YES) continue;
      if (unless != PATTERN_NO) answer = unless;
    }
    if (answer == PATTERN_NO_MEMORY) return false;
    if (answer == PATTERN_LIMIT) tell_limit(finder);
    if (answer != PATTERN_YES || groups[0].end <= groups[0].start) return true;
    struct match *match = array_push(say->arena, finder->to);
    if (match == NULL) return false;
    *match = (struct match){finder->phrase, groups[0].start, groups[0].end, 0, {{0, 0}}};
    note_parts(finder, groups, match);
  }
  return true;
}

static bool is_shade(const struct phrase *phrase) {
  return phrase->kind == PHRASE_TURNS && phrase->turn >= TURN_UNSURE;
}

static bool find_all(struct say *say) {
  for (size_t i = 0; i < say->model->n_phrases; i++) {
    const struct phrase *phrase = &say->model->phrases[i];
    struct finder finder = {say, i, is_shade(phrase) ? &say->shades : &say->found};
    if (!find_phrase(&finder)) return false;
  }
  return true;
}

/* ---- the longest wins ---- */

static size_t parts_said(const struct match *match) {
  size_t n = 0;
  for (size_t i = 0; i < PHRASE_PARTS; i++) n += match->parts[i].start != SIZE_MAX;
  return n;
}

/* The longer first, then the earlier, then what says more parts, then by name. */
static int compare_length(const void *left, const void *right) {
  const struct match *a = left, *b = right;
  size_t n_a = a->end - a->start, n_b = b->end - b->start;
  if (n_a != n_b) return n_a > n_b ? -1 : 1;
  if (a->start != b->start) return a->start < b->start ? -1 : 1;
  if (parts_said(a) != parts_said(b)) return parts_said(a) > parts_said(b) ? -1 : 1;
  return a->phrase < b->phrase ? -1 : a->phrase > b->phrase;
}

static int compare_place(const void *left, const void *right) {
  const struct match *a = left, *b = right;
  if (a->start != b->start) return a->start < b->start ? -1 : 1;
  return a->phrase < b->phrase ? -1 : a->phrase > b->phrase;
}

/* A club may be named within what is said of the ball ("my 7 iron flies low"), so clubs compete in
 * a lane of their own; what turns nothing, and what means a club besides, keeps both. "I" and "my"
 * are heard within whatever else is said. */
enum lane { LANE_CLUB = 1, LANE_REST = 2, LANE_MINE = 4 };

static bool means_club(const struct model *model, const struct meaning *meaning) {
  const struct evidence *evidence = &model->evidence[meaning->evidence];
  return evidence->kind == EVIDENCE_CLUB || evidence->from_club == CLUB_FAMILY;
}

static unsigned lanes_of(const struct model *model, const struct phrase *phrase) {
  unsigned lanes = 0;
  if (phrase->kind == PHRASE_TURNS && phrase->turn == TURN_MINE) return LANE_MINE;
  if (phrase->kind == PHRASE_TURNS)
    return phrase->turn == TURN_NOTHING ? LANE_CLUB | LANE_REST : LANE_REST;
  if (phrase->whole) return LANE_CLUB | LANE_REST;
  for (size_t i = 0; i < phrase->n_means; i++)
    lanes |= means_club(model, &phrase->means[i]) ? LANE_CLUB : LANE_REST;
  return lanes ? lanes : LANE_REST;
}

static bool is_free(const unsigned char *taken, const struct match *match, unsigned lanes) {
  for (size_t i = match->start; i < match->end; i++)
    if (taken[i] & lanes) return false;
  return true;
}

static bool keep_longest(struct say *say, struct matches *matches) {
  unsigned char *taken = arena_new_array(say->arena, unsigned char, say->working.n + 1);
  size_t kept = 0;
  if (taken == NULL) return false;
  if (matches->n == 0) return true;
  qsort(matches->at, matches->n, sizeof *matches->at, compare_length);
  for (size_t i = 0; i < matches->n; i++) {
    struct match match = matches->at[i];
    unsigned lanes = lanes_of(say->model, &say->model->phrases[match.phrase]);
    if (!is_free(taken, &match, lanes)) continue;
    for (size_t k = match.start; k < match.end; k++) taken[k] |= (unsigned char)lanes;
    matches->at[kept++] = match;
  }
  matches->n = kept;
  qsort(matches->at, kept, sizeof *matches->at, compare_place);
  return true;
}

/* ---- clauses ---- */

static bool turns(const struct say *say, const struct match *match, enum turn turn) {
  const struct phrase *phrase = &say->model->phrases[match->phrase];
  return phrase->kind == PHRASE_TURNS && phrase->turn == turn;
}

/* How many breaks start at or before the place; a correction begins anew, too. */
static size_t clause_at(const struct say *say, size_t place) {
  size_t clause = 0;
  for (size_t i = 0; i < say->found.n && say->found.at[i].start <= place; i++)
    clause +=
        turns(say, &say->found.at[i], TURN_BREAK) || turns(say, &say->found.at[i], TURN_INSTEAD);
  return clause;
}

static bool is_nothing(const struct say *say, const struct match *shade) {
  for (size_t i = 0; i < say->found.n; i++) {
    const struct match *match = &say->found.at[i];
    if (turns(say, match, TURN_NOTHING) && match->start <= shade->start && match->end >= shade->end)
      return true;
  }
  return false;
}

static void set_clauses(struct say *say) {
  size_t kept = 0;
  for (size_t i = 0; i < say->found.n; i++)
    say->found.at[i].clause = clause_at(say, say->found.at[i].start);
  for (size_t i = 0; i < say->shades.n; i++) {
    struct match shade = say->shades.at[i];
    shade.clause = clause_at(say, shade.start);
    if (!is_nothing(say, &shade)) say->shades.at[kept++] = shade;
  }
  say->shades.n = kept;
}

bool say_find(struct say *say) {
  if (!find_all(say) || !keep_longest(say, &say->found) || !keep_longest(say, &say->shades))
    return false;
  set_clauses(say);
  return true;
}
