/* The pages of a session: what was understood, then club by club figures, misses, plan. */
#include <math.h>
#include <string.h>

#include "render/session_parts.h"
#include "render/wording_parts.h"

#define MARGIN 10
#define OUTLIERS_SHOWN 6

/* ---- what was understood ---- */

static const char *delimiter_word(char delimiter) {
  return delimiter == '\t' ? "tabs" : delimiter == ';' ? "semicolons" : "commas";
}

static void say(struct session_page *page, const char *label, const struct text *text) {
  page_paragraph(&page->page, label, page_text_done(&page->page, text));
}

static void write_table(struct session_page *page) {
  const struct intake *intake = &page->session->intake;
  struct text text = page_text(&page->page);
  wording_escape(&text, intake->name, strlen(intake->name));
  text_format(&text, ": %zu shots, lines %u to %u, cells parted by %s",
              shots_count(&page->session->shots), (unsigned)intake->first_line,
              (unsigned)intake->last_line, delimiter_word(page->session->delimiter));
  if (intake->decimal == ',') text_add(&text, ", decimal comma");
  if (page->session->player->hand == HAND_LEFT) text_add(&text, ", left-handed");
  say(page, "Read", &text);
}

static void add_header(struct text *text, const struct intake_column *column) {
  text_add_char(text, '\'');
  wording_escape(text, column->header, strlen(column->header));
  text_add_char(text, '\'');
}

static void add_unit(struct text *text, const struct intake_column *column,
                     const struct evidence *evidence) {
  if (evidence->kind != EVIDENCE_NUMBER) return;
  if (!column->unit) {
    text_add(text, " (no unit)");
    return;
  }
  if (column->unit->dimension == GOLF_DIMENSION_NONE) return;
  text_format(text, ", %s", column->unit->name);
  if (column->unit_from == UNIT_ASKED) text_add(text, " as asked");
  if (column->unit_from == UNIT_USUAL) text_add(text, " as usual");
  if (column->unit_from == UNIT_NOWHERE) text_add(text, " in the cells");
}

/* "club path: 'Path (deg)', deg, 30 cells" */
static void write_columns(struct session_page *page) {
  const struct session *session = page->session;
  for (size_t i = 0; i < session->intake.n_columns; i++) {
    const struct intake_column *column = &session->intake.columns[i];
    if (column->use != USE_READINGS && column->use != USE_CLUB) continue;
    const struct evidence *evidence = &session->network->model->evidence[column->evidence];
    struct text text = page_text(&page->page);
    text_format(&text, "%s: column %zu ", evidence->title, i + 1);
    add_header(&text, column);
    add_unit(&text, column, evidence);
    text_format(&text, "; %zu known", column->n_read);
    if (column->n_bad > 0) text_format(&text, ", %zu left out", column->n_bad);
    say(page, "", &text);
  }
}

static const char *why_unused(enum column_use use) {
  switch (use) {
  case USE_UNKNOWN: return "not understood";
  case USE_AMBIGUOUS: return "two meanings";
  case USE_TWICE: return "said already";
  case USE_MISFIT: return "unit does not fit";
  case USE_SIDE: return "gives the side of the one before";
  case USE_HAND: return "gives the hand";
  case USE_PLAYER: return "gives the player";
  default: return "no reading";
  }
}

static void write_unused(struct session_page *page) {
  const struct intake *intake = &page->session->intake;
  struct text text = page_text(&page->page);
  for (size_t i = 0; i < intake->n_columns; i++) {
    const struct intake_column *column = &intake->columns[i];
    if (column->use == USE_READINGS || column->use == USE_CLUB || column->header[0] == '\0')
      continue;
    text_add(&text, text.n > 0 ? ", " : "passed over: ");
    add_header(&text, column);
    text_format(&text, " (%s%s)", why_unused(column->use),
                column->n_remarks > 0 ? "; searched for pain and danger alone" : "");
  }
  if (text.n > 0) say(page, "", &text);
}

static void add_count(struct text *text, size_t n, const char *one, const char *many) {
  if (n == 0) return;
  text_format(text, "%s%zu %s", text->n > 0 ? ", " : "", n, n == 1 ? one : many);
}

static void write_faults(struct session_page *page) {
  const struct intake *intake = &page->session->intake;
  struct text text = page_text(&page->page);
  add_count(&text, intake->n_before, "row before the header", "rows before the header");
  add_count(&text, intake->n_summary, "row that is no shot", "rows that are no shots");
  add_count(&text, intake->n_ragged, "row of another length", "rows of another length");
  add_count(&text, intake->n_bad, "cell left out", "cells left out");
  add_count(&text, intake->n_empty, "shot without a reading", "shots without a reading");
  add_count(&text, intake->n_unread, "remark not searched for pain and danger",
            "remarks not searched for pain and danger: look through them yourself");
  if (text.n > 0) say(page, "", &text);
}

void write_understood(struct session_page *page) {
  write_table(page);
  write_columns(page);
  write_unused(page);
  write_faults(page);
}

/* ---- figures ---- */

/* A number right-aligned in so many columns. */
static void add_cell(struct text *line, double number, int decimals, size_t width) {
  struct text cell = wording_beside(line);
  if (isnan(number)) text_add_char(&cell, '-');
  else text_fixed(&cell, number, decimals);
  const char *done = text_done(&cell);
  size_t n = done ? strlen(done) : 0;
  wording_indent(line, n < width ? width - n : 1);
  text_add(line, done ? done : "");
}

static void add_padded(struct text *line, const char *words, size_t width) {
  size_t n = strlen(words);
  text_add(line, words);
  wording_indent(line, n < width ? width - n : 1);
}

/* Decimals for the unit shown: as many as carry the worth of the evidence's own. */
static int decimals_of(const struct evidence *evidence, const struct golf_unit *unit) {
  double factor = golf_unit_convert_error(1, evidence->unit, unit);
  int decimals = evidence->decimals - (int)lround(log10(factor));
  return decimals < 0 ? 0 : decimals > 3 ? 3 : decimals;
}

static void write_figure(struct session_page *page, const struct figure *figure) {
  const struct evidence *evidence = &page->session->network->model->evidence[figure->evidence];
  const struct summary *summary = &figure->summary;
  const struct golf_unit *unit = figure->unit, *own = evidence->unit;
  int decimals = decimals_of(evidence, unit);
  struct text line = page_text(&page->page), title = page_text(&page->page);
  text_add(&title, evidence->title);
  wording_unit_name(&title, unit);
  if (figure->derived) text_add(&title, " *");
  add_padded(&line, page_text_done(&page->page, &title), 31);
  add_cell(&line, (double)summary->n, 0, 5);
  add_cell(&line, golf_unit_convert(summary->mean, own, unit), decimals, 8);
  add_cell(&line, golf_unit_convert_error(figure->error, own, unit), decimals + 1, 6);
  add_cell(&line, golf_unit_convert_error(summary->sd, own, unit), decimals, 6);
  add_cell(&line, golf_unit_convert(summary->median, own, unit), decimals, 8);
  add_cell(&line, golf_unit_convert_error(summary->robust, own, unit), decimals, 7);
  add_cell(&line, golf_unit_convert_error(figure->moves, own, unit), decimals, 7);
  text_add(page->page.out, page_text_done(&page->page, &line));
  text_add_char(page->page.out, '\n');
}

static bool any_derived(const struct block *block) {
  for (size_t i = 0; i < block->n_figures; i++)
    if (block->figures[i].derived) return true;
  return false;
}

static void write_regions(struct session_page *page) {
  const struct block *block = page->block;
  const struct model *model = page->session->network->model;
  for (size_t i = 0; i < block->n_regions; i++) {
    const struct region *region = &block->regions[i];
    const struct figure *x = &block->figures[region->x], *y = &block->figures[region->y];
    struct text text = page_text(&page->page);
    text_format(&text, "%s and %s of 9 shots in 10 lie in an ellipse about ",
                model->evidence[x->evidence].title, model->evidence[y->evidence].title);
    figure_quantity(&text, page->session, x, region->ellipse.x);
    text_add(&text, ", ");
    figure_quantity(&text, page->session, y, region->ellipse.y);
    text_add(&text, "; half axes ");
    wording_size(&text, &model->evidence[x->evidence], x->unit, region->ellipse.major);
    text_add(&text, " and ");
    wording_size(&text, &model->evidence[x->evidence], x->unit, region->ellipse.minor);
    text_add(&text, ", correlation ");
    wording_signed(&text, region->ellipse.correlation, 2);
    say(page, i == 0 ? "Ellipse" : "", &text);
  }
}

static void write_outliers(struct session_page *page) {
  const struct block *block = page->block;
  const struct session *session = page->session;
  struct text text = page_text(&page->page);
  for (size_t i = 0; i < block->n_outliers && i < OUTLIERS_SHOWN; i++) {
    const struct outlier *outlier = &block->outliers[i];
    const struct figure *figure = &block->figures[outlier->figure];
    size_t place = 0;
    while (block->shots[place] != outlier->shot) place++;
    text_format(&text, "%sline %u: %s ", i > 0 ? "; " : "",
                (unsigned)session->shots.lines.at[outlier->shot],
                session->network->model->evidence[figure->evidence].title);
    figure_quantity(&text, session, figure, figure->readings[place]);
  }
  if (block->n_outliers > OUTLIERS_SHOWN)
    text_format(&text, "; and %zu more", block->n_outliers - OUTLIERS_SHOWN);
  if (text.n == 0) return;
  text_add(&text, ". They are kept; leave out by hand what was no true swing or reading.");
  say(page, "Outliers", &text);
}

void write_figures(struct session_page *page) {
  const struct block *block = page->block;
  struct text line = page_text(&page->page);
  add_padded(&line, "", 31);
  text_add(&line, "shots    mean   +/-    sd  median robust  moves\n");
  text_add(page->page.out, page_text_done(&page->page, &line));
  for (size_t i = 0; i < block->n_figures; i++) write_figure(page, &block->figures[i]);
  page_paragraph(
      &page->page, "",
      "+/-: standard error of the mean, with the error of a reading itself, which more "
      "shots do not make smaller; robust: spread that outliers do not touch; moves: "
      "what the mean must change by in as many new shots to be more than noise (95 %), "
      "never less than +/-. Signs: + is right, up or toward the toe, as the player sees it.");
  if (any_derived(block))
    page_paragraph(&page->page, "", "*: worked out shot by shot from the other columns");
  write_regions(page);
  write_outliers(page);
}

/* ---- all of it ---- */

static void write_block(struct session_page *page) {
  struct text title = page_text(&page->page);
  text_format(&title, "%s: %zu %s", block_title(page->session, page->block), page->block->n,
              page->block->n == 1 ? "shot" : "shots");
  page_blank(&page->page);
  say(page, "Club", &title);
  write_figures(page);
  page_blank(&page->page);
  write_misses(page);
  page_blank(&page->page);
  /* As in the answer to one case: what is not decided is asked first. */
  bool asks =
      page->block->n_checks + page->block->n_hinges > 0 && page->block->red_flag == NO_INDEX;
  bool first = asks && page->block->leading == NO_INDEX;
  if (first) write_questions(page);
  if (first) page_blank(&page->page);
  write_plan(page);
  if (asks && !first) page_blank(&page->page);
  if (asks && !first) write_questions(page);
}

void write_stop(struct page *page, const struct session *session, const struct alarm *alarm) {
  struct text text = page_text(page);
  page_paragraph(page, "STOP", page_words(page, &page->model->claims[alarm->claim].red_flag));
  if (alarm->line > 0) {
    wording_escape(&text, session->intake.name, strlen(session->intake.name));
    text_format(&text, ", line %u: ", (unsigned)alarm->line);
    wording_escape(&text, alarm->words, strlen(alarm->words));
    text_add(&text, ". ");
  }
  text_add(&text, "No drill is offered.");
  page_paragraph(page, "", page_text_done(page, &text));
}

void session_text(struct text *out, const struct session *session, bool emphasis) {
  struct session_page page = {.page = page_start(out, session->player, emphasis),
                              .session = session};
  if (session->alarm.claim != NO_INDEX) {
    write_stop(&page.page, session, &session->alarm);
    page_blank(&page.page);
  }
  write_understood(&page);
  for (size_t i = 0; i < session->n_blocks; i++) {
    page.block = &session->blocks[i];
    page.page.run = block_run(session, page.block);
    write_block(&page);
  }
}
