#include "render/answer.h"
#include "render/answer_parts.h"
#include "render/wording.h"

/* One line, not wrapped, so that three to five lines stay three to five. */
static void add_line(struct page *page, const char *label, const char *words) {
  if (*words)
    text_format(page->out, "%s%s:%s %s\n", page->emphasis ? "\x1b[1m" : "", label,
                page->emphasis ? "\x1b[0m" : "", words);
}

/* The findings most believed, those that say something is wrong first. */
static void add_means(struct page *page) {
  size_t findings[3], total;
  size_t n = believed_findings(page->run, findings, 3, &total);
  struct text list = page_text(page);
  for (size_t i = 0; i < n; i++)
    text_format(&list, "%s%s", i == 0 ? "" : "; ", page_title(page, findings[i]));
  add_line(page, "Means", page_text_done(page, &list));
}

static void add_cause(struct page *page, enum verdict verdict) {
  const struct run *run = page->run;
  switch (verdict) {
  case VERDICT_LEADING: add_line(page, "Cause", page_cause(page, &run->causes[0])); break;
  case VERDICT_UNDECIDED: add_line(page, "Cause", "none stands out yet"); break;
  case VERDICT_SOUND: add_line(page, "Cause", "nothing to mend in these numbers"); break;
  case VERDICT_SILENT: add_line(page, "Cause", "what was given does not point to any"); break;
  case VERDICT_NO_EVIDENCE:
    add_line(page, "Cause", "nothing was given, so nothing can be said");
    break;
  case VERDICT_RED_FLAG:
    add_line(page, "STOP", page_words(page, &page->model->claims[run->red_flag].red_flag));
    add_line(page, "Drill", "none is offered");
    add_means(page);
    break;
  }
}

static void add_why(struct page *page) {
  size_t rule;
  if (strongest_rules(page->run, page->run->causes[0].claim, &rule, 1) == 1)
    add_line(page, "Why", page_because(page, rule));
}

static void add_drill(struct page *page, size_t claim) {
  const struct drill *drill = page->model->claims[claim].drill;
  struct text text = page_text(page);
  text_format(&text, "%s (set-up: ", page_title(page, claim));
  wording_command(&text, page->model, "show", page->model->claims[claim].name);
  text_add_char(&text, ')');
  add_line(page, "Do now", page_text_done(page, &text));
  add_line(page, "Worked", page_works(page, drill));
  add_line(page, "Careful", page_cautions(page, drill));
}

static void add_next(struct page *page, size_t room) {
  for (size_t i = 0; i < page->run->n_checks && room > 0; i++) {
    const struct wording *ask = &page->model->evidence[page->run->checks[i].evidence].ask;
    if (ask->n == 0) continue;
    add_line(page, "Next", page_words(page, ask));
    room--;
  }
}

void answer_brief(struct text *out, const struct run *run, bool emphasis) {
  struct page page = page_start(out, run, emphasis);
  enum verdict verdict = answer_verdict(run);
  size_t drill = run_drill(run);
  add_cause(&page, verdict);
  if (verdict == VERDICT_LEADING) add_why(&page);
  if (drill != NO_INDEX) add_drill(&page, drill);
  else if (verdict != VERDICT_RED_FLAG) add_means(&page);
  if (verdict != VERDICT_LEADING && verdict != VERDICT_RED_FLAG)
    add_next(&page, drill != NO_INDEX ? 1 : 2);
}
