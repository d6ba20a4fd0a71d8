/* The answer is written section by section under a set of limits; while it does not fit the screen
 * the next tighter set is tried. What a player must have to do the drill safely (set-up, dose,
 * measure, cautions) is never shortened. */
#include "render/answer.h"

#include <stddef.h>
#include <string.h>

#include "explain/explain.h"
#include "model/formula.h"
#include "render/answer_parts.h"
#include "render/said.h"
#include "render/wording.h"

static const struct limits roomy = {.seen = 100,
                                    .worked_out = 8,
                                    .findings = 8,
                                    .because = 2,
                                    .others = 4,
                                    .open = 3,
                                    .removed = 3,
                                    .fallbacks = 3,
                                    .checks = 3};

/* What is shortened first when the answer does not fit, one step after the other. */
static const struct {
  size_t field; /* place in struct limits */
  size_t value;
} tighter[] = {
    {offsetof(struct limits, findings), 6},   {offsetof(struct limits, removed), 2},
    {offsetof(struct limits, open), 2},       {offsetof(struct limits, worked_out), 4},
    {offsetof(struct limits, findings), 4},   {offsetof(struct limits, others), 3},
    {offsetof(struct limits, checks), 2},     {offsetof(struct limits, because), 1},
    {offsetof(struct limits, findings), 3},   {offsetof(struct limits, fallbacks), 2},
    {offsetof(struct limits, worked_out), 2}, {offsetof(struct limits, removed), 1},
    {offsetof(struct limits, open), 0},       {offsetof(struct limits, others), 2},
    {offsetof(struct limits, checks), 1},     {offsetof(struct limits, worked_out), 0},
    {offsetof(struct limits, removed), 0},    {offsetof(struct limits, findings), 2},
    {offsetof(struct limits, seen), 12},      {offsetof(struct limits, seen), 6},
    {offsetof(struct limits, others), 1},     {offsetof(struct limits, fallbacks), 1},
};
#define N_TIGHTER (sizeof tighter / sizeof tighter[0])

/* ---- the verdict ---- */

static bool anything_given(const struct run *run) {
  for (size_t i = 0; i < run->network->model->n_evidence; i++)
    if (run->is_given[i]) return true;
  return false;
}

static bool any_finding(const struct run *run, bool good) {
  const struct model *model = run->network->model;
  for (size_t claim = 0; claim < model->first_cause; claim++)
    if (is_believed(run, claim) && model->claims[claim].good == good) return true;
  return false;
}

static bool is_candidate(const struct ranked_cause *cause) {
  return cause->standing == STANDING_LIKELY || cause->standing == STANDING_POSSIBLE;
}

static bool any_candidate(const struct run *run) {
  for (size_t i = 0; i < run->n_causes; i++)
    if (is_candidate(&run->causes[i])) return true;
  return false;
}

enum verdict answer_verdict(const struct run *run) {
  if (run->red_flag != NO_INDEX) return VERDICT_RED_FLAG;
  if (!anything_given(run)) return VERDICT_NO_EVIDENCE;
  if (run_leading(run) != NO_INDEX) return VERDICT_LEADING;
  if (any_finding(run, false) || any_candidate(run)) return VERDICT_UNDECIDED;
  return any_finding(run, true) ? VERDICT_SOUND : VERDICT_SILENT;
}

const char *verdict_word(enum verdict verdict) {
  static const char *const words[] = {"red_flag",  "no_evidence", "leading",
                                      "undecided", "sound",       "silent"};
  return words[verdict];
}

/* ---- what was seen ---- */

/* Adds "; " between the members of a list. */
static void add_member(struct text *list, const char *words) {
  if (list->n > 0) text_add(list, "; ");
  text_add(list, words);
}

static void add_more(struct text *list, size_t n) {
  if (n > 0) text_format(list, "%s%zu more", list->n > 0 ? "; and " : "", n);
}

static void add_reading(struct page *page, struct text *list, size_t evidence) {
  struct text text = page_text(page);
  if (page->model->evidence[evidence].kind != EVIDENCE_CLUB) {
    text_add(&text, page->model->evidence[evidence].title);
    text_add(&text, ": ");
  }
  wording_reading(&text, page->run, evidence);
  add_member(list, page_text_done(page, &text));
}

/* What the words tell is not told again. */
static bool is_seen(const struct page *page, size_t evidence) {
  return page->run->is_given[evidence] && !said_tells(page->run, evidence);
}

/* The club first, then by name. */
static void add_all_given(struct page *page, struct text *list) {
  size_t club = page->model->club_evidence, n = 0;
  if (club != NO_INDEX && is_seen(page, club)) add_reading(page, list, club);
  for (size_t i = 0; i < page->model->n_evidence; i++)
    if (is_seen(page, i) && i != club && n++ < page->limits.seen) add_reading(page, list, i);
  add_more(list, n > page->limits.seen ? n - page->limits.seen : 0);
}

static void add_given(struct page *page) {
  struct text list = page_text(page);
  add_all_given(page, &list);
  if (page->run->hand == HAND_LEFT) add_member(&list, "left-handed");
  if (page->run->shots > 1) {
    struct text shots = page_text(page);
    text_format(&shots, "each number the mean of %u shots", page->run->shots);
    add_member(&list, page_text_done(page, &shots));
  }
  said_paragraphs(page);
  if (list.n > 0 || !page->run->said) page_paragraph(page, "Seen", page_text_done(page, &list));
}

/* Derived readings that the answer rests on. */
static void add_worked_out(struct page *page) {
  struct chain chain = chain_of_answer(page->out->arena, page->run, false);
  struct text list = page_text(page);
  size_t n = 0;
  for (size_t i = 0; i < chain.n; i++) {
    if (chain.steps[i].kind != STEP_DERIVED ||
        page->run->readings[chain.steps[i].index].formula == NULL)
      continue;
    if (n++ < page->limits.worked_out) add_reading(page, &list, chain.steps[i].index);
  }
  if (n == 0 || page->limits.worked_out == 0) return;
  add_more(&list, n > page->limits.worked_out ? n - page->limits.worked_out : 0);
  page_paragraph(page, "Follows", page_text_done(page, &list));
}

static void add_findings(struct page *page) {
  size_t findings[16], total;
  size_t n = believed_findings(page->run, findings, page->limits.findings, &total);
  struct text list = page_text(page);
  for (size_t i = 0; i < n; i++) {
    struct text text = page_text(page);
    text_add(&text, page_title(page, findings[i]));
    text_add_char(&text, ' ');
    wording_certainty(&text, page->run->certainty[findings[i]]);
    add_member(&list, page_text_done(page, &text));
  }
  add_more(&list, total - n);
  if (total > 0) page_paragraph(page, "Means", page_text_done(page, &list));
}

static void add_contradictions(struct page *page) {
  for (size_t i = 0; i < page->run->n_contradictions; i++) {
    const struct contradiction *odd = &page->run->contradictions[i];
    struct text text = page_text(page);
    text_format(&text, "%s. Check them first.", odd->told);
    page_paragraph(page, "Doubt", page_text_done(page, &text));
  }
}

/* ---- causes ---- */

static void add_leading(struct page *page) {
  const struct run *run = page->run;
  const struct ranked_cause *best = NULL;
  for (size_t i = 0; i < run->n_causes && !best; i++)
    if (run->causes[i].standing == STANDING_LEADING) best = &run->causes[i];
  if (!best) return;
  page_paragraph(page, "Cause", page_cause(page, best));
  size_t rules[16];
  size_t n = strongest_rules(run, best->claim, rules, page->limits.because);
  for (size_t i = 0; i < n; i++)
    page_paragraph(page, i == 0 ? "  why" : "", page_because(page, rules[i]));
}

static void add_candidates(struct page *page, const char *label) {
  const struct run *run = page->run;
  size_t shown = 0, total = 0;
  for (size_t i = 0; i < run->n_causes; i++) {
    if (!is_candidate(&run->causes[i])) continue;
    if (total++ < page->limits.others) {
      page_paragraph(page, shown == 0 ? label : "", page_cause(page, &run->causes[i]));
      shown++;
    }
  }
  struct text more = page_text(page);
  if (total > shown) text_format(&more, "and %zu more: --json lists all", total - shown);
  if (total > shown) page_paragraph(page, "", page_text_done(page, &more));
}

/* Causes that only lack evidence: by name when they are few. */
static void add_open(struct page *page) {
  const struct run *run = page->run;
  struct text list = page_text(page), text = page_text(page);
  size_t total = 0;
  for (size_t i = 0; i < run->n_causes; i++)
    if (run->causes[i].standing == STANDING_OPEN && total++ < page->limits.open)
      add_member(&list, page_title(page, run->causes[i].claim));
  if (total == 0 || page->limits.open == 0) return;
  if (total <= page->limits.open)
    text_format(&text, "not known yet: %s", page_text_done(page, &list));
  else text_format(&text, "%zu more cannot be judged yet, for lack of evidence", total);
  page_paragraph(page, "", page_text_done(page, &text));
}

static void add_scale(struct page *page) {
  page_paragraph(page, "", "certainty: -1 surely not, 0 nothing known, +1 sure; not a probability");
}

static void add_causes(struct page *page, enum verdict verdict) {
  switch (verdict) {
  case VERDICT_LEADING:
    add_leading(page);
    add_candidates(page, "  or");
    add_open(page);
    add_scale(page);
    break;
  case VERDICT_UNDECIDED:
    page_paragraph(page, "Cause",
                   "No cause stands out yet; first find out what stands under Next.");
    add_candidates(page, "  perhaps");
    add_open(page);
    add_scale(page);
    break;
  case VERDICT_SOUND:
    page_paragraph(
        page, "Cause",
        page->run->n_checks == 0
            ? "Nothing to mend in these numbers."
            : "Nothing to mend in these numbers; what is not known yet may still show something.");
    add_scale(page);
    break;
  case VERDICT_SILENT:
    page_paragraph(page, "Cause",
                   "What was given does not point to any cause, nor does it rule one out.");
    break;
  case VERDICT_NO_EVIDENCE:
    page_paragraph(page, "Seen",
                   "Nothing was given, so nothing can be said. Start with what stands under Next.");
    break;
  case VERDICT_RED_FLAG: break;
  }
}

/* ---- drills ---- */

static void add_optional(struct page *page, const char *label, const char *words) {
  if (*words) page_paragraph(page, label, words);
}

static void add_chosen(struct page *page, size_t claim, bool leading) {
  const struct drill *drill = page->model->claims[claim].drill;
  struct text title = page_text(page);
  text_add(&title, page_title(page, claim));
  if (page->run->n_contradictions > 0) text_add(&title, " (when the doubt above is settled)");
  else if (!leading) text_add(&title, " (worth a try meanwhile)");
  page_paragraph(page, "Do now", page_text_done(page, &title));
  add_optional(page, "  set up", page_words(page, &drill->setup));
  add_optional(page, "  dose", page_words(page, &drill->dose));
  add_optional(page, "  worked", page_works(page, drill));
  add_optional(page, "  drop it", page_drop(page, drill));
  struct text care = page_text(page);
  text_add(&care, page_cautions(page, drill));
  if (drill->spoils.n > 0) {
    text_add_char(&care, ' ');
    wording_add(&care, page->run, &drill->spoils);
  }
  add_optional(page, "  careful", page_text_done(page, &care));
}

/* The next best drills, for when the first is dropped. */
static void add_fallbacks(struct page *page, size_t chosen) {
  const struct run *run = page->run;
  struct text list = page_text(page);
  size_t n = 0;
  for (size_t i = 0; i < run->n_drills; i++) {
    const struct ranked_drill *drill = &run->drills[i];
    if (drill->claim == chosen || drill->removal != REMOVAL_NONE || drill->value <= 0) continue;
    if (n++ < page->limits.fallbacks) add_member(&list, page_title(page, drill->claim));
  }
  if (n > 0) page_paragraph(page, "  instead", page_text_done(page, &list));
}

static const char *removal_reason(struct page *page, const struct ranked_drill *drill) {
  if (drill->removal == REMOVAL_RULE) return page_because(page, drill->removed_by);
  struct text text = page_text(page);
  text_add(&text, "needs ");
  wording_condition(&text, page->model, page->model->claims[drill->claim].drill->needs,
                    page->run->hand);
  return page_text_done(page, &text);
}

static void add_removed(struct page *page) {
  const struct run *run = page->run;
  size_t n = 0;
  for (size_t i = 0; i < run->n_drills; i++) {
    if (run->drills[i].removal == REMOVAL_NONE || n++ >= page->limits.removed) continue;
    struct text text = page_text(page);
    text_format(&text, "%s: ", page_title(page, run->drills[i].claim));
    text_add(&text, removal_reason(page, &run->drills[i]));
    page_paragraph(page, n == 1 ? "Left out" : "", page_text_done(page, &text));
  }
  if (n <= page->limits.removed) return;
  struct text more = page_text(page);
  text_format(&more, "%zu more: --json tells why", n - page->limits.removed);
  page_paragraph(page, page->limits.removed == 0 ? "Left out" : "", page_text_done(page, &more));
}

static void add_drills(struct page *page, enum verdict verdict) {
  size_t chosen = run_drill(page->run);
  if (chosen != NO_INDEX) {
    page_blank(page);
    add_chosen(page, chosen, verdict == VERDICT_LEADING);
    add_fallbacks(page, chosen);
  } else if (verdict == VERDICT_LEADING) {
    page_blank(page);
    page_paragraph(page, "Do now", "No drill is fit for this player as things are.");
  }
  add_removed(page);
}

/* ---- what to get next ---- */

static void add_checks(struct page *page) {
  const struct run *run = page->run;
  size_t n = 0;
  for (size_t i = 0; i < run->n_checks && n < page->limits.checks; i++) {
    const struct evidence *evidence = &page->model->evidence[run->checks[i].evidence];
    if (evidence->ask.n == 0) continue;
    if (n == 0) page_blank(page);
    page_paragraph(page, n++ == 0 ? "Next" : "", page_check(page, evidence));
  }
}

/* ---- the whole ---- */

static void add_red_flag(struct page *page) {
  page_paragraph(page, "STOP",
                 page_words(page, &page->model->claims[page->run->red_flag].red_flag));
  page_paragraph(page, "", "No drill is offered.");
  page_blank(page);
  add_given(page);
  add_findings(page);
}

static void add_answer(struct page *page, enum verdict verdict) {
  if (verdict == VERDICT_RED_FLAG) {
    add_red_flag(page);
    return;
  }
  if (verdict != VERDICT_NO_EVIDENCE) {
    add_given(page);
    add_worked_out(page);
    add_findings(page);
    add_contradictions(page);
    page_blank(page);
  }
  add_causes(page, verdict);
  bool next_first = verdict != VERDICT_LEADING;
  if (next_first) add_checks(page);
  add_drills(page, verdict);
  if (!next_first) add_checks(page);
}

static size_t count_lines(const struct text *text) {
  size_t n = 0;
  for (size_t i = 0; i < text->n; i++) n += text->at[i] == '\n';
  return n;
}

static void tighten(struct limits *limits, size_t step) {
  *(size_t *)((char *)limits + tighter[step].field) = tighter[step].value;
}

void answer_text(struct text *out, const struct run *run, bool emphasis) {
  enum verdict verdict = answer_verdict(run);
  struct limits limits = roomy;
  struct text answer;
  for (size_t step = 0;; step++) {
    text_init(&answer, out->arena);
    struct page page = page_start(&answer, run, emphasis);
    page.limits = limits;
    add_answer(&page, verdict);
    if (answer.failed || count_lines(&answer) <= ANSWER_ROWS || step == N_TIGHTER) break;
    tighten(&limits, step);
  }
  if (answer.failed) out->failed = true;
  else text_add_bytes(out, answer.at ? answer.at : "", answer.n);
}
