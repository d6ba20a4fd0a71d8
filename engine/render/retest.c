/* The text: a section for each club, the verdict first. */
#include "render/retest.h"

#include <math.h>
#include <string.h>

#include "render/retest_parts.h"
#include "render/wording_parts.h"

#define TITLE_COLUMNS 27

struct retest_page {
  struct page page;
  const struct retest *retest;
  const struct club_retest *club;
};

static void say(struct retest_page *page, const char *label, const struct text *text) {
  page_paragraph(&page->page, label, page_text_done(&page->page, text));
}

static const struct evidence *evidence_of(const struct retest_page *page,
                                          const struct figure *figure) {
  return &page->retest->before->network->model->evidence[figure->evidence];
}

static void add_size(struct text *out, const struct retest_page *page, const struct compared *of,
                     double size) {
  wording_size(out, evidence_of(page, of->before), of->before->unit, size);
}

/* ---- the number that was to move ---- */

static void mean_target(struct text *out, const struct retest_page *page) {
  const struct club_retest *club = page->club;
  const struct target *target = &club->target;
  const struct test_block *plan = &target->plan;
  const struct session *before = page->retest->before;
  text_format(out, "mean %s: ", before->network->model->evidence[target->evidence].title);
  retest_quantity(out, before, club->before, target->evidence, plan->before);
  text_format(out, " in %zu shots before, ", plan->shots_before);
  retest_quantity(out, before, club->before, target->evidence, club->look.mean);
  text_format(out, " in %zu after. Chance brings what is beyond ", club->look.shots);
  retest_quantity(out, before, club->before, target->evidence, club->look.reach);
  text_format(out, " in fewer than 1 case in %s; the goal is ",
              club->look.shots < plan->shots
                  ? "1000, as is asked before the planned shots are there"
                  : "10");
  retest_quantity(out, before, club->before, target->evidence,
                  plan->direction > 0 ? plan->low : plan->high);
  text_add_char(out, '.');
}

static void count_target(struct text *out, const struct retest_page *page) {
  const struct look *look = &page->club->look;
  const struct test_block *plan = &page->club->target.plan;
  bool hits = plan->kind == TEST_HITS;
  text_format(out, "%s: %zu of %zu before, %zu of %zu after; at %s %zu of %zu say that it worked.",
              hits ? "shots as they should be" : "misses", plan->counted_before, plan->shots_before,
              look->counted, look->shots, hits ? "least" : "most", plan->needed, plan->shots);
}

static void write_target(struct retest_page *page) {
  struct text text = page_text(&page->page);
  enum test_kind kind = page->club->target.plan.kind;
  if (kind == TEST_NONE || page->club->look.shots == 0) return;
  if (kind == TEST_MEAN) mean_target(&text, page);
  else count_target(&text, page);
  if (page->club->target.plan.power < 0.5)
    text_add(&text, " The test shows little: the more shots before and after, the surer.");
  say(page, page->club->target.asked ? "Asked" : "Planned", &text);
}

/* ---- what got worse ---- */

static void write_worse(struct retest_page *page) {
  const struct club_retest *club = page->club;
  struct text text = page_text(&page->page);
  for (size_t i = 0; i < club->n_figures; i++) {
    const struct compared *of = &club->figures[i];
    const char *title = evidence_of(page, of->before)->title;
    if (of->worse) {
      text_format(&text, "%s%s by ", text.n > 0 ? "; " : "", title);
      add_size(&text, page, of, of->at_speed.difference);
      if (of->adjusted) text_add(&text, " at the same club speed");
    }
    if (of->wilder) {
      text_format(&text, "%s%s spreads ", text.n > 0 ? "; " : "", title);
      text_fixed(&text, of->ratio, 1);
      text_add(&text, " times as wide");
    }
  }
  if (club->more_misses)
    text_format(&text, "%smisses: %zu of %zu before, %zu of %zu after", text.n > 0 ? "; " : "",
                club->before->n_missed, club->before->n_sorted, club->after->n_missed,
                club->after->n_sorted);
  text_add(&text, text.n > 0 ? "." : "nothing by more than noise.");
  say(page, "Worse", &text);
}

/* ---- gains ---- */

static const struct compared *named(const struct retest_page *page, const char *name) {
  for (size_t i = 0; i < page->club->n_figures; i++)
    if (strcmp(evidence_of(page, page->club->figures[i].before)->name, name) == 0)
      return &page->club->figures[i];
  return NULL;
}

static void signed_size(struct text *out, const struct retest_page *page, const struct compared *of,
                        double size) {
  text_add_char(out, size < 0 ? '-' : '+');
  add_size(out, page, of, size);
}

static void add_gain(struct text *out, const struct retest_page *page, const char *name) {
  const struct compared *of = named(page, name);
  if (!of || isnan(of->at_speed.error)) return;
  text_format(out, "%s%s ", out->n > 0 ? "; " : "", evidence_of(page, of->before)->title);
  signed_size(out, page, of, of->at_speed.difference);
  text_add(out, " +/- ");
  add_size(out, page, of, of->at_speed.error);
  if (of->adjusted) {
    text_add(out, " at the same club speed (as read ");
    signed_size(out, page, of, of->change.difference);
    text_add_char(out, ')');
  }
  if (!of->moved) text_add(out, ", within noise");
}

static void add_spread(struct text *out, const struct retest_page *page, const char *name) {
  const struct compared *of = named(page, name);
  if (!of || !isfinite(of->ratio) || isnan(of->ratio_error)) return;
  text_format(out, "%s%s ", out->n > 0 ? "; " : "", evidence_of(page, of->before)->title);
  if (of->ratio == 1) {
    text_add(out, "as wide as before");
    return;
  }
  text_format(out, "%s, ", of->ratio < 1 ? "narrower" : "wider");
  text_fixed(out, of->ratio, 2);
  text_add(out, " +/- ");
  text_fixed(out, of->ratio_error, 2);
  text_add(out, " times as wide as before");
  if (!of->spread_moved) text_add(out, ", within noise");
}

static void write_gain(struct retest_page *page) {
  struct text text = page_text(&page->page);
  add_gain(&text, page, "ball_speed");
  add_gain(&text, page, "carry");
  if (text.n == 0) text_add(&text, "neither ball speed nor carry is in both tables");
  text_add_char(&text, '.');
  say(page, "Gain", &text);
}

static void write_spread(struct retest_page *page) {
  static const char *const spreads[] = {"offline", "start", "curve", "carry"};
  struct text text = page_text(&page->page);
  for (size_t i = 0; i < 4; i++) add_spread(&text, page, spreads[i]);
  if (text.n == 0) return;
  text_add_char(&text, '.');
  say(page, "Spread", &text);
}

static void write_speed(struct retest_page *page) {
  const struct club_retest *club = page->club;
  struct text text = page_text(&page->page);
  if (club->speed == NO_INDEX) {
    if (!named(page, "ball_speed") && !named(page, "carry")) return;
    text_add(
        &text,
        "the club's is not known in both tables: gains are as read, and may come from a faster "
        "swing.");
  } else {
    const struct compared *of = &club->figures[club->speed];
    text_add(&text, "club speed ");
    signed_size(&text, page, of, of->change.difference);
    text_add(&text, " +/- ");
    add_size(&text, page, of, of->change.error);
    text_add(&text, of->moved ? "." : ", within noise.");
    text_add(&text, " Ball speed is brought to the speed before shot by shot in proportion, carry "
                    "with the power 1.2 +/- 0.2.");
  }
  say(page, "Speed", &text);
}

/* ---- all figures ---- */

static void add_cell(struct text *line, double number, int decimals, size_t width) {
  struct text cell = wording_beside(line);
  if (!isfinite(number)) text_add_char(&cell, '-');
  else text_fixed(&cell, number, decimals);
  const char *done = text_done(&cell);
  size_t n = done ? strlen(done) : 0;
  wording_indent(line, n < width ? width - n : 1);
  text_add(line, done ? done : "");
}

static int decimals_of(const struct evidence *evidence, const struct golf_unit *unit) {
  double factor = golf_unit_convert_error(1, evidence->unit, unit);
  int decimals = evidence->decimals - (int)lround(log10(factor));
  return decimals < 0 ? 0 : decimals > 3 ? 3 : decimals;
}

static void add_title(struct text *line, struct retest_page *page, const struct compared *of) {
  struct text title = page_text(&page->page);
  text_add(&title, evidence_of(page, of->before)->title);
  wording_unit_name(&title, of->before->unit);
  const char *words = page_text_done(&page->page, &title);
  size_t n = strlen(words);
  if (n >= TITLE_COLUMNS) n = TITLE_COLUMNS - 1;
  text_add_bytes(line, words, n);
  wording_indent(line, TITLE_COLUMNS - n);
}

static void write_change(struct retest_page *page, const struct compared *of) {
  const struct evidence *evidence = evidence_of(page, of->before);
  const struct golf_unit *unit = of->before->unit, *own = evidence->unit;
  const struct change *change = &of->change;
  int decimals = decimals_of(evidence, unit);
  struct text line = page_text(&page->page);
  add_title(&line, page, of);
  add_cell(&line, golf_unit_convert(change->before, own, unit), decimals, 8);
  add_cell(&line, golf_unit_convert(change->after, own, unit), decimals, 8);
  add_cell(&line,
           golf_unit_convert(change->after, own, unit) -
               golf_unit_convert(change->before, own, unit),
           decimals, 8);
  add_cell(&line, golf_unit_convert_error((change->high - change->low) / 2, own, unit),
           decimals + 1, 7);
  add_cell(&line, golf_unit_convert_error(change->detectable, own, unit), decimals + 1, 7);
  add_cell(&line, change->effect, 1, 6);
  if (change->chance < 0.0005) text_add(&line, " <0.001");
  else add_cell(&line, change->chance, 3, 7);
  text_add(&line, of->moved ? "*\n" : "\n");
  text_add(page->page.out, page_text_done(&page->page, &line));
}

static void write_changes(struct retest_page *page) {
  struct text line = page_text(&page->page);
  wording_indent(&line, TITLE_COLUMNS);
  text_add(&line, "  before   after  change    95 %  noise  size      p\n");
  text_add(page->page.out, page_text_done(&page->page, &line));
  for (size_t i = 0; i < page->club->n_figures; i++) write_change(page, &page->club->figures[i]);
  page_paragraph(&page->page, "",
                 "95 %: the true change lies within so much of the one seen; noise: a smaller "
                 "change is none (95 %); size: change in standard deviations (Hedges); p: how "
                 "often chance alone does as much (Welch; with few shots the larger of that and a "
                 "permutation test). *: more than noise, all figures looked at together, "
                 "at the same club speed where that is known.");
}

/* ---- the page ---- */

static void write_club(struct retest_page *page) {
  const struct club_retest *club = page->club;
  const struct session *before = page->retest->before;
  struct text title = page_text(&page->page), why = page_text(&page->page);
  text_format(&title, "%s: %zu %s before, %zu after", block_title(before, club->before),
              club->before->n, club->before->n == 1 ? "shot" : "shots", club->after->n);
  page_blank(&page->page);
  say(page, "Club", &title);
  page_paragraph(&page->page, "Verdict", verdict_words(club->verdict));
  verdict_reason_words(&why, page->retest, club);
  say(page, "", &why);
  write_target(page);
  write_worse(page);
  write_gain(page);
  write_spread(page);
  write_speed(page);
  page_blank(&page->page);
  write_changes(page);
}

static void write_source(struct retest_page *page, const char *label,
                         const struct session *session) {
  struct text text = page_text(&page->page);
  wording_escape(&text, session->intake.name, strlen(session->intake.name));
  text_format(&text, ": %zu shots", shots_count(&session->shots));
  if (session->intake.n_bad > 0) text_format(&text, ", %zu cells left out", session->intake.n_bad);
  say(page, label, &text);
}

/* Clubs of one table alone. */
static void write_alone(struct retest_page *page, const struct session *of,
                        const struct session *other, const char *words) {
  struct text text = page_text(&page->page);
  for (size_t i = 0; i < of->n_blocks; i++)
    if (!retest_partner(of, other, &of->blocks[i]))
      text_format(&text, "%s%s", text.n > 0 ? ", " : words, block_title(of, &of->blocks[i]));
  if (text.n > 0) say(page, "", &text);
}

void retest_text(struct text *out, const struct retest *retest, bool emphasis) {
  struct retest_page page = {.page = page_start(out, retest->before->player, emphasis),
                             .retest = retest};
  if (retest->alarm) {
    bool first = retest->alarm == &retest->before->alarm;
    write_stop(&page.page, first ? retest->before : retest->after, retest->alarm);
    page_paragraph(&page.page, "", "There is no verdict.");
    return;
  }
  write_source(&page, "Before", retest->before);
  write_source(&page, "After", retest->after);
  write_alone(&page, retest->before, retest->after, "only before: ");
  write_alone(&page, retest->after, retest->before, "only after: ");
  for (size_t i = 0; i < retest->n_clubs; i++) {
    page.club = &retest->clubs[i];
    page.page.run = block_run(retest->before, page.club->before);
    write_club(&page);
  }
  if (retest->n_clubs > 0) return;
  page_paragraph(&page.page, "Verdict", verdict_words(VERDICT_TOO_EARLY));
  page_paragraph(&page.page, "", "Because no club has shots in both tables.");
}
