/* What answer.c and answer_brief.c share: the picking of what is worth telling, and texts made of
 * it. Internal to the answer. Strings are in the page's arena; without memory the page's text has
 * failed and strings are "". */
#ifndef WM_RENDER_ANSWER_PARTS_H
#define WM_RENDER_ANSWER_PARTS_H

#include "render/answer.h"

/* How much of each part is shown; a tighter set is tried when the answer does not fit. */
struct limits {
  size_t seen, worked_out, findings, because, others, open, removed, fallbacks, checks;
};

struct page {
  struct text *out;
  const struct run *run;
  const struct model *model;
  struct limits limits;
  bool emphasis;
};

struct page page_start(struct text *out, const struct run *run, bool emphasis);
/* A label in the margin, and words wrapped beside it. */
void page_paragraph(struct page *page, const char *label, const char *words);
void page_blank(struct page *page);

const char *page_words(struct page *page, const struct wording *wording);
const char *page_title(struct page *page, size_t claim);
/* "title (leading, +0.82)" */
const char *page_cause(struct page *page, const struct ranked_cause *cause);
/* "path more than 2.5 deg left, in 3 of 5 shots; without a device: ..." */
const char *page_works(struct page *page, const struct drill *drill);
/* "after 10 shots: the path has not moved" */
const char *page_drop(struct page *page, const struct drill *drill);
const char *page_cautions(struct page *page, const struct drill *drill);
/* The because-text of the rule. */
const char *page_because(struct page *page, size_t rule);
/* The question for an evidence, and how its answer is typed: "How ...? (name=a|b|number)" */
const char *page_check(struct page *page, const struct evidence *evidence);
const char *page_text_done(struct page *page, const struct text *text);
/* A new text in the page's arena. */
struct text page_text(struct page *page);

/* Up to room rules that counted toward the claim, the strongest first; returns how many. */
size_t strongest_rules(const struct run *run, size_t claim, size_t *rules, size_t room);
/* Up to room believed findings, those that say something is wrong first, then by certainty; *total
 * gets the count of all. */
size_t believed_findings(const struct run *run, size_t *findings, size_t room, size_t *total);
bool is_believed(const struct run *run, size_t claim);

#endif
