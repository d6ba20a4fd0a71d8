/* Misses in groups, the table of causes by misses, and the plan. */
#include <math.h>
#include <string.h>

#include "render/session_parts.h"
#include "render/wording_parts.h"

#define TITLE_COLUMNS 38
#define CELL_COLUMNS 7

static void say(struct session_page *page, const char *label, const struct text *text) {
  page_paragraph(&page->page, label, page_text_done(&page->page, text));
}

static void add_range(struct text *text, struct share_range range) {
  text_fixed(text, 100 * range.low, 0);
  text_add(text, " to ");
  add_percent(text, range.high);
}

/* ---- groups ---- */

static size_t seen_left(const struct session_page *page) {
  const struct block *block = page->block;
  bool mirror = page->session->player->hand == HAND_LEFT;
  return mirror ? block->n_missed - block->n_left : block->n_left;
}

static void write_share(struct session_page *page) {
  const struct block *block = page->block;
  struct text text = page_text(&page->page);
  if (block->n_sorted == 0) {
    text_add(&text, "Where the shots go is not known: the table has neither start and curve nor "
                    "what they could be worked out from. All shots are taken as one tendency.");
  } else {
    text_format(&text, "%zu of %zu shots finish more than ", block->n_missed, block->n_sorted);
    wording_trimmed(&text, page->session->flights.within, 2);
    text_format(&text, " deg beside the target (%s). Of all this player's shots it is ",
                page->session->window->title);
    add_range(&text, block->missed);
    text_add(&text, " (9 times in 10).");
  }
  if (block->n_sorted > 0 && block->n_sorted < block->n)
    text_format(&text, " %zu more could not be sorted.", block->n - block->n_sorted);
  say(page, "Misses", &text);
}

static void write_group(struct session_page *page, size_t index) {
  const struct miss_group *group = &page->block->groups[index];
  struct text label = page_text(&page->page), text = page_text(&page->page);
  text_format(&label, "  %c %5zu", group_letter(page->block, index), group->n);
  group_words(&text, page->session, page->block, group);
  text_add(&text, "; ");
  add_percent(&text, (double)group->n / (double)page->block->n_sorted);
  text_add(&text, " of the shots (");
  add_range(&text, group->share);
  text_add_char(&text, ')');
  if (!group->run) text_add(&text, "; too few to be diagnosed");
  else if (group->n < GROUP_SHOTS_FEW) text_add(&text, "; few, so only a hint");
  say(page, page_text_done(&page->page, &label), &text);
}

/* ---- the table of causes ---- */

static size_t table_columns(const struct block *block, size_t *groups) {
  size_t n = 0;
  for (size_t i = 0; i < block->n_groups && n < TABLE_GROUPS; i++)
    if (block->groups[i].run) groups[n++] = i;
  return n;
}

static void add_right(struct text *line, const char *words, size_t width) {
  size_t n = strlen(words);
  wording_indent(line, n < width ? width - n : 1);
  text_add(line, words);
}

static void add_certainty(struct session_page *page, struct text *line, double certainty) {
  struct text cell = page_text(&page->page);
  if (isnan(certainty)) text_add_char(&cell, '-');
  else wording_signed(&cell, certainty, 2);
  add_right(line, page_text_done(&page->page, &cell), CELL_COLUMNS);
}

static void write_heads(struct session_page *page, const size_t *groups, size_t n) {
  struct text line = page_text(&page->page);
  text_add(&line, "Causes");
  wording_indent(&line, TITLE_COLUMNS - 6);
  add_right(&line, "share", CELL_COLUMNS);
  for (size_t i = 0; i < n; i++) {
    char head[] = {group_letter(page->block, groups[i]), '\0'};
    add_right(&line, head, CELL_COLUMNS);
  }
  if (page->block->on_whole) add_right(&line, "all", CELL_COLUMNS);
  if (page->block->in_window.run) add_right(&line, "in", CELL_COLUMNS);
  text_add(page->page.out, page_text_done(&page->page, &line));
  text_add_char(page->page.out, '\n');
}

static void write_cause(struct session_page *page, const struct cause_share *cause,
                        const size_t *groups, size_t n) {
  struct text line = page_text(&page->page), share = page_text(&page->page);
  const char *title = page_title(&page->page, cause->claim);
  size_t width = strlen(title);
  text_format(&line, "  %s", title);
  if (width + 2 >= TITLE_COLUMNS) text_add_char(&line, '\n');
  wording_indent(&line, width + 2 < TITLE_COLUMNS ? TITLE_COLUMNS - width - 2 : TITLE_COLUMNS);
  text_fixed(&share, cause->score, 2);
  add_right(&line, page_text_done(&page->page, &share), CELL_COLUMNS);
  for (size_t i = 0; i < n; i++) add_certainty(page, &line, cause->certainty[groups[i]]);
  if (page->block->on_whole) add_certainty(page, &line, cause->on_whole);
  if (page->block->in_window.run) add_certainty(page, &line, cause->in_window);
  text_add(page->page.out, page_text_done(&page->page, &line));
  text_add_char(page->page.out, '\n');
}

static void write_one_cause(struct session_page *page) {
  const struct block *block = page->block;
  struct text text = page_text(&page->page);
  if (block->one_cause != NO_INDEX) {
    const struct cause_share *cause = &block->causes[0];
    text_format(&text, "One cause, %s, is believed in %zu of the %zu misses (of all this player's ",
                page_title(&page->page, cause->claim), cause->explained, block->n_missed);
    text_add(&text, "misses in at least ");
    add_percent(&text, block->one_cause_share.low);
    text_add(&text, ", 9 times in 10).");
    if (cause->in_window > BELIEF_THRESHOLD) {
      text_add(&text, " The shots in the window show it too (");
      wording_signed(&text, cause->in_window, 2);
      text_add(&text, ").");
    }
  } else if (!block->on_whole && block->n_missed < ONE_CAUSE_MISSES) {
    text_format(&text, "%zu misses are too few to say that one cause explains most of them.",
                block->n_missed);
  } else if (!block->on_whole) {
    text_add(&text, "No single cause explains most of the misses by these numbers.");
  }
  if (text.n > 0) say(page, "", &text);
}

/* The words that the answer to one case has, and why a few shots do not decide. */
static void write_undecided(struct session_page *page) {
  const struct block *block = page->block;
  struct text text = page_text(&page->page);
  if (block->leading != NO_INDEX) return;
  if (block->n < GROUP_SHOTS_MIN)
    text_format(&text, "%zu %s too few to tell a tendency: hit more", block->n,
                block->n == 1 ? "shot is" : "shots are");
  else text_add(&text, "No cause stands out yet");
  if (block->n_checks > 0) text_add(&text, "; first find out what stands under Next");
  text_add_char(&text, '.');
  say(page, "", &text);
}

static void write_causes(struct session_page *page) {
  const struct block *block = page->block;
  size_t groups[TABLE_GROUPS];
  size_t n = table_columns(block, groups), shown = 0;
  if (block->n_causes == 0) {
    page_paragraph(&page->page, "Causes",
                   block->apart ? "What is known besides the shots' numbers points to none."
                                : "Nothing in these shots points to a cause.");
    return;
  }
  write_heads(page, groups, n);
  for (; shown < block->n_causes && shown < TABLE_CAUSES; shown++)
    write_cause(page, &block->causes[shown], groups, n);
  struct text text = page_text(&page->page);
  text_add(&text, block->on_whole ? "share: its certainty for all shots"
                                  : "share: of the misses, each weighed by the certainty in its "
                                    "group (-1 surely not, +1 sure; not a probability)");
  if (block->in_window.run) text_add(&text, "; in: among the shots in the window");
  if (block->n_causes > shown)
    text_format(&text, "; %zu weaker causes are in --json", block->n_causes - shown);
  say(page, "", &text);
  write_one_cause(page);
  write_undecided(page);
}

static void write_doubts(struct session_page *page) {
  for (size_t i = 0; i < page->block->n_doubts; i++) {
    const struct doubt *doubt = &page->block->doubts[i];
    struct text text = page_text(&page->page);
    text_format(&text, "%s. Check the device, the signs and the units first.", doubt->told);
    say(page, i == 0 ? "Doubt" : "", &text);
  }
}

static void write_whole(struct session_page *page) {
  const struct block *block = page->block;
  struct text text = page_text(&page->page);
  if (!block->on_whole || block->n_sorted == 0 || block->n_missed == 0) return;
  if (!block->apart) {
    text_add(&text, "No group of misses is large enough to be diagnosed; all shots are taken as "
                    "one tendency.");
  } else {
    text_format(&text,
                "The misses go both ways (%zu left, %zu right), and no group is large enough to "
                "be diagnosed: that takes %d of a kind. A mean of opposite misses would hide "
                "them, so the numbers of these shots are not used.",
                seen_left(page), block->n_missed - seen_left(page), GROUP_SHOTS_MIN);
  }
  say(page, "", &text);
}

void write_misses(struct session_page *page) {
  write_share(page);
  for (size_t i = 0; i < page->block->n_groups; i++) write_group(page, i);
  write_whole(page);
  write_doubts(page);
  if (page->block->red_flag != NO_INDEX) return;
  page_blank(&page->page);
  write_causes(page);
}

/* ---- the plan ---- */

static void write_optional(struct session_page *page, const char *label, const char *words) {
  if (*words) page_paragraph(&page->page, label, words);
}

static void write_drill(struct session_page *page, size_t claim) {
  const struct drill *drill = page->page.model->claims[claim].drill;
  struct text care = page_text(&page->page);
  struct text title = page_text(&page->page);
  text_add(&title, page_title(&page->page, claim));
  if (page->block->leading == NO_INDEX) text_add(&title, " (worth a try meanwhile)");
  say(page, "Do now", &title);
  write_optional(page, "  set up", page_words(&page->page, &drill->setup));
  write_optional(page, "  dose", page_words(&page->page, &drill->dose));
  write_optional(page, "  worked", page_works(&page->page, drill));
  write_optional(page, "  drop it", page_drop(&page->page, drill));
  text_add(&care, page_cautions(&page->page, drill));
  if (drill->spoils.n > 0) {
    text_add_char(&care, ' ');
    wording_add(&care, page->page.run, &drill->spoils);
  }
  write_optional(page, "  careful", page_text_done(&page->page, &care));
}

#define FALLBACKS 3

static void write_fallbacks(struct session_page *page) {
  const struct block *block = page->block;
  size_t shown = 0;
  for (size_t i = 1; i < block->n_drills && shown < FALLBACKS; i++) {
    if (block->drills[i].removed) continue;
    struct text text = page_text(&page->page);
    text_format(&text, "%zu. %s", ++shown, page_title(&page->page, block->drills[i].claim));
    say(page, shown == 1 ? "  instead" : "", &text);
  }
}

#define CHECKS_SHOWN 3

static void write_checks(struct session_page *page) {
  const struct block *block = page->block;
  for (size_t i = 0; i < block->n_checks && i < CHECKS_SHOWN; i++)
    page_paragraph(&page->page, i == 0 ? "Next" : "",
                   page_check(&page->page, &page->page.model->evidence[block->checks[i].evidence]));
}

#define HINGES_SHOWN 2

/* "face at the top: square. The answer hangs on it: without it ... would come first." */
static void write_hinges(struct session_page *page) {
  const struct block *block = page->block;
  for (size_t i = 0; i < block->n_hinges && i < HINGES_SHOWN; i++) {
    const struct hinge *hinge = &block->hinges[i];
    struct text text = page_text(&page->page);
    text_format(&text, "%s: ", page->page.model->evidence[hinge->evidence].title);
    wording_reading(&text, page->page.run, hinge->evidence);
    text_format(&text,
                i == 0 ? "? The answer hangs on it; without it '%s' %s. Look once more."
                       : "? Without it '%s' %s.",
                page_title(&page->page, hinge->instead),
                hinge->margin >= 0 ? "would come first" : "would come close to the first");
    say(page, i == 0 ? "Again" : "", &text);
  }
}

void write_questions(struct session_page *page) {
  write_checks(page);
  write_hinges(page);
}

/* Why there is no drill. */
static void write_none(struct session_page *page) {
  const struct block *block = page->block;
  struct text text = page_text(&page->page);
  if (block->n_causes > 0) text_add(&text, "No drill is fit for this player as things are.");
  else if (block->apart || (block->on_whole && block->n_missed > 0))
    text_format(&text, "Nothing yet: hit more shots, until at least %d misses of a kind are there.",
                GROUP_SHOTS_MIN);
  else if (block->n_missed > 0)
    text_add(&text, "Nothing yet: these misses are there, but what is known points to no cause.");
  else if (block->n_sorted == 0)
    text_add(&text, "Nothing by the means of these shots. Misses that go both ways would not show "
                    "in them: measure where each shot starts and how it curves.");
  else text_add(&text, "Nothing to mend in these shots.");
  say(page, "Do now", &text);
}

void write_plan(struct session_page *page) {
  const struct block *block = page->block;
  size_t claim = block_drill(block);
  if (block->red_flag != NO_INDEX) {
    page_paragraph(&page->page, "Do now", "No drill: see STOP above.");
    return;
  }
  if (claim == NO_INDEX) {
    write_none(page);
    return;
  }
  write_drill(page, claim);
  struct text text = page_text(&page->page);
  test_words(&text, page->session, block);
  say(page, "Test", &text);
  write_fallbacks(page);
}
