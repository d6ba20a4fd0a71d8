/* The account as text: one screen of 80 x 40, a label in the margin, a figure a line, and never a
 * figure without its error. */
#include <math.h>
#include <string.h>

#include "render/flight_parts.h"
#include "render/wording_parts.h"

enum { MARGIN = 10, NAME = 28, VALUE = 18 };

/* ---- lines ---- */

static void add_label(struct flight_page *page, const char *label) {
  bool bold = page->emphasis && *label != '\0';
  if (bold) text_add(page->out, "\x1b[1m");
  text_add(page->out, label);
  if (bold) text_add(page->out, "\x1b[0m");
  wording_indent(page->out, MARGIN - strlen(label));
}

static const char *done(struct flight_page *page, const struct text *text) {
  const char *string = text_done(text);
  if (!string) page->out->failed = true;
  return string ? string : "";
}

static void add_paragraph(struct flight_page *page, const char *label, const struct text *text) {
  add_label(page, label);
  wording_wrap(page->out, done(page, text), MARGIN, MARGIN, WORDING_WIDTH);
  text_add_char(page->out, '\n');
}

static void add_words(struct flight_page *page, const char *label, const char *words) {
  struct text text = wording_beside(page->out);
  text_add(&text, words);
  add_paragraph(page, label, &text);
}

static void pad(struct text *out, size_t from, size_t columns) {
  size_t used = out->n - from;
  if (used < columns) wording_indent(out, columns - used);
}

/* label, name, "111 yd +/- 6", remark. */
static void add_row(struct flight_page *page, const char *label, const char *name,
                    const struct text *amount, const char *remark) {
  struct text *out = page->out;
  add_label(page, label);
  size_t start = out->n;
  text_add(out, name);
  pad(out, start, NAME);
  if (out->n - start > NAME) text_add_char(out, ' ');
  const char *words = done(page, amount), *error = strstr(words, " +/- ");
  size_t value = out->n;
  text_add_bytes(out, words, error ? (size_t)(error - words) : strlen(words));
  if (error) {
    pad(out, value, VALUE);
    text_add(out, error);
  }
  if (*remark) {
    pad(out, value, VALUE + 12);
    text_format(out, " %s", remark);
  }
  text_add_char(out, '\n');
}

/* ---- what was given ---- */

static void add_member(struct flight_page *page, struct text *list, size_t evidence) {
  const struct evidence *about = &page->of->run->network->model->evidence[evidence];
  if (list->n > 0) text_add(list, "; ");
  if (about->kind != EVIDENCE_CLUB) text_format(list, "%s ", about->title);
  wording_reading(list, page->of->run, evidence);
}

/* Numbers, and the words that are turned into some. */
static bool is_used(const struct evidence *about) {
  return about->kind == EVIDENCE_NUMBER || strcmp(about->name, "wind") == 0 ||
         strcmp(about->name, "height") == 0;
}

static void add_given(struct flight_page *page) {
  const struct run *run = page->of->run;
  const struct model *model = run->network->model;
  struct text list = wording_beside(page->out);
  size_t club = model->club_evidence, unused = 0;
  if (club != NO_INDEX && run->is_given[club]) add_member(page, &list, club);
  for (size_t i = 0; i < model->n_evidence; i++) {
    if (!run->is_given[i] || i == club) continue;
    if (is_used(&model->evidence[i])) add_member(page, &list, i);
    else unused++;
  }
  if (list.n == 0) text_add(&list, "no number");
  if (unused > 0) text_format(&list, "; and %zu that no flight follows from", unused);
  if (run->hand == HAND_LEFT) text_add(&list, "; left-handed");
  if (run->shots > 1) text_format(&list, "; each number the mean of %u shots", run->shots);
  add_paragraph(page, "Given", &list);
}

static void add_doubts(struct flight_page *page) {
  const struct run *run = page->of->run;
  for (size_t i = 0; i < run->n_contradictions; i++) {
    struct text text = wording_beside(page->out);
    text_format(&text, "%s.", run->contradictions[i].told);
    add_paragraph(page, "Doubt", &text);
  }
}

/* "loft at impact 29.1 deg +/- 3.0" for a fact that was taken as usual. */
static void add_usual_fact(struct flight_page *page, struct text *list, enum golf_fact fact) {
  const struct run *run = page->of->run;
  size_t evidence = model_find_evidence(run->network->model, golf_fact_name(fact));
  if (!flight_is_usual(page->of, fact) || evidence == NO_INDEX) return;
  const struct evidence *about = &run->network->model->evidence[evidence];
  text_add(list, list->n > 0 ? "; " : "");
  text_format(list, "%s ", about->title);
  wording_number(list, about, page->of->facts.value[fact], run->hand);
  text_add(list, " +/- ");
  text_fixed(list, golf_fact_error(&page->of->facts, fact), 0);
}

static void add_usual(struct flight_page *page) {
  static const enum golf_fact facts[] = {GOLF_FACT_DELIVERED_LOFT, GOLF_FACT_ATTACK,
                                         GOLF_FACT_STRIKE, GOLF_FACT_STRIKE_HEIGHT};
  struct text list = wording_beside(page->out);
  for (size_t i = 0; i < sizeof facts / sizeof facts[0]; i++) add_usual_fact(page, &list, facts[i]);
  if (list.n == 0 || page->of->path.count == 0) return;
  text_add(&list, " (taken as usual for the club, not given)");
  add_paragraph(page, "Usual", &list);
}

/* ---- geometry and launch ---- */

/* A row for a number that is derived, or given when wanted; returns whether there was one. */
static bool add_reading(struct flight_page *page, const char *label, const char *name,
                        bool also_given) {
  const struct run *run = page->of->run;
  size_t evidence = model_find_evidence(run->network->model, name);
  if (evidence == NO_INDEX || run->readings[evidence].state == READING_UNKNOWN) return false;
  bool given = run->readings[evidence].state == READING_GIVEN;
  struct text amount = wording_beside(page->out);
  if (given && !also_given) return false;
  wording_reading(&amount, run, evidence);
  add_row(page, label, run->network->model->evidence[evidence].title, &amount,
          given ? "given" : "");
  return true;
}

static void add_geometry(struct flight_page *page) {
  static const char *const names[] = {"face",      "path",          "face_to_path",
                                      "incidence", "arc_direction", "low_point"};
  const char *label = "Geometry";
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
    if (add_reading(page, label, names[i], false)) label = "";
}

/* A fact the engine did not derive but the club's usual swing tells. */
static bool add_followed(struct flight_page *page, const char *label, enum golf_fact fact,
                         const char *name) {
  const struct flight_account *of = page->of;
  size_t evidence = model_find_evidence(of->run->network->model, name);
  double error = golf_fact_error(&of->facts, fact);
  if (!(of->facts.follows >> fact & 1u) || evidence == NO_INDEX) return false;
  const struct evidence *about = &of->run->network->model->evidence[evidence];
  const struct golf_unit *unit = wording_unit(of->run, evidence);
  struct text amount = wording_beside(page->out), size = wording_beside(page->out);
  double value =
      golf_unit_convert(of->facts.value[fact], golf_unit_base(about->unit->dimension), about->unit);
  wording_quantity(&amount, about, unit, value, of->run->hand);
  wording_size(&size, about, unit, error);
  text_format(&amount, " +/- %.*s", (int)strcspn(done(page, &size), " "), done(page, &size));
  add_row(page, label, about->title, &amount, "as usual");
  return true;
}

static void add_launch(struct flight_page *page) {
  static const struct {
    const char *name;
    enum golf_fact fact;
  } rows[] = {{"ball_speed", GOLF_FACT_BALL_SPEED},
              {"launch", GOLF_FACT_LAUNCH},
              {"start", GOLF_FACT_START},
              {"backspin", GOLF_FACT_BACKSPIN},
              {"axis_tilt", GOLF_FACT_AXIS_TILT}};
  const char *label = "Launch";
  if (page->of->path.count == 0 && isnan(page->of->facts.value[GOLF_FACT_BALL_SPEED])) return;
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
    if (add_reading(page, label, rows[i].name, true) ||
        add_followed(page, label, rows[i].fact, rows[i].name))
      label = "";
  add_reading(page, label, "speed_ratio", false);
}

/* ---- expected against given ---- */

static void add_amount(struct text *text, const struct flight_page *page,
                       const struct golf_outcomes *outcomes, enum golf_outcome outcome,
                       enum golf_dimension dimension, double sign) {
  flight_amount_error(text, page, dimension, sign * outcomes->value[outcome],
                      outcomes->error[outcome], false);
}

static void add_short(struct flight_page *page) {
  const struct golf_outcomes *outcomes = &page->of->outcomes;
  struct text text = wording_beside(page->out);
  double lost = outcomes->value[GOLF_OUTCOME_BALL_SPEED_SHORT];
  double sign = lost < 0 ? -1 : 1;
  text_add(&text, "the ball is ");
  add_amount(&text, page, outcomes, GOLF_OUTCOME_BALL_SPEED_SHORT, GOLF_DIMENSION_SPEED, sign);
  text_add(&text, lost < 0 ? " faster than this club speed gives; about "
                           : " short of what this club speed gives; about ");
  add_amount(&text, page, outcomes, GOLF_OUTCOME_CARRY_SHORT, GOLF_DIMENSION_LENGTH, sign);
  text_add(&text, lost < 0 ? " more carry" : " of carry");
  add_paragraph(page, "", &text);
}

static void add_expected(struct flight_page *page) {
  const struct golf_outcomes *outcomes = &page->of->outcomes;
  if (!flight_known(page->of, GOLF_OUTCOME_EXPECTED_BALL_SPEED)) return;
  struct text text = wording_beside(page->out);
  text_add(&text, "struck in the middle and square, this club speed gives ");
  add_amount(&text, page, outcomes, GOLF_OUTCOME_EXPECTED_BALL_SPEED, GOLF_DIMENSION_SPEED, 1);
  text_add(&text, " of ball speed and ");
  add_amount(&text, page, outcomes, GOLF_OUTCOME_EXPECTED_CARRY, GOLF_DIMENSION_LENGTH, 1);
  text_add(&text, " of carry");
  add_paragraph(page, "Expected", &text);
  if (flight_known(page->of, GOLF_OUTCOME_BALL_SPEED_SHORT)) add_short(page);
}

/* ---- flight ---- */

static void add_flight(struct flight_page *page) {
  size_t n;
  const struct flight_figure *figures = flight_figures(&n);
  const struct golf_outcomes *outcomes = &page->of->outcomes;
  const char *label = "Flight";
  if (page->of->path.count == 0) return;
  for (size_t i = 0; i < n; i++) {
    bool small = figures[i].outcome == GOLF_OUTCOME_LANDING_SPEED ||
                 figures[i].outcome == GOLF_OUTCOME_LANDING_SPIN ||
                 figures[i].outcome == GOLF_OUTCOME_CURVE_ANGLE;
    if (small || !flight_known(page->of, figures[i].outcome)) continue; /* --json has them */
    struct text amount = wording_beside(page->out);
    flight_amount_error(&amount, page, figures[i].dimension, outcomes->value[figures[i].outcome],
                        outcomes->error[figures[i].outcome], figures[i].sideways);
    add_row(page, label, figures[i].title, &amount, "");
    label = "";
  }
  struct text text = wording_beside(page->out);
  text_add_char(&text, '(');
  flight_conditions(&text, page);
  text_add_char(&text, ')');
  add_paragraph(page, "", &text);
}

/* ---- what if ---- */

static void add_what_if(struct flight_page *page, const char *label, const char *words,
                        enum golf_outcome first) {
  const struct golf_outcomes *outcomes = &page->of->outcomes;
  if (!flight_known(page->of, first) || !flight_known(page->of, (enum golf_outcome)(first + 1)))
    return;
  struct text text = wording_beside(page->out);
  double speed = outcomes->value[first], carry = outcomes->value[first + 1];
  text_add(&text, words);
  add_amount(&text, page, outcomes, first, GOLF_DIMENSION_SPEED, speed < 0 ? -1 : 1);
  text_add(&text, speed < 0 ? " less" : " more");
  text_add(&text, " ball speed, ");
  add_amount(&text, page, outcomes, (enum golf_outcome)(first + 1), GOLF_DIMENSION_LENGTH,
             carry < 0 ? -1 : 1);
  text_add(&text, carry < 0 ? " less carry" : " more carry");
  if (flight_known(page->of, (enum golf_outcome)(first + 2))) {
    text_add(&text, ", landing ");
    flight_amount_error(&text, page, GOLF_DIMENSION_LENGTH, outcomes->value[first + 2],
                        outcomes->error[first + 2], true);
  }
  add_paragraph(page, label, &text);
}

static void add_what_ifs(struct flight_page *page) {
  bool square = flight_known(page->of, GOLF_OUTCOME_SQUARE_CARRY);
  add_what_if(page, "What if",
              "face to path 0 at the same club speed: ", GOLF_OUTCOME_SQUARE_BALL_SPEED);
  add_what_if(page, square ? "" : "What if",
              "struck in the middle at the same club speed: ", GOLF_OUTCOME_CENTRED_BALL_SPEED);
}

/* ---- the flight alone ---- */

static const char *range_title(const struct flight_page *page, enum golf_guess guess) {
  const struct model *model = page->of->run->network->model;
  size_t evidence = model_find_evidence(model, golf_guess_name(guess));
  return evidence == NO_INDEX ? golf_guess_name(guess) : model->evidence[evidence].title;
}

static void add_bound(struct text *text, const struct flight_page *page, enum golf_guess guess,
                      double bound) {
  const struct model *model = page->of->run->network->model;
  size_t evidence = model_find_evidence(model, golf_guess_name(guess));
  if (evidence == NO_INDEX) {
    text_fixed(text, bound, 1);
    return;
  }
  const struct evidence *about = &model->evidence[evidence];
  double value = golf_unit_convert(bound, golf_unit_base(about->unit->dimension), about->unit);
  if (strcmp(about->unit->name, "mm") == 0) value = bound; /* golf/ tells these in mm itself */
  wording_quantity(text, about, wording_unit(page->of->run, evidence), value, page->of->run->hand);
}

static void add_range(struct flight_page *page, const char *label, enum golf_guess guess) {
  const struct golf_estimate *range = &page->of->ranges.of[guess];
  bool turned =
      page->of->run->hand == HAND_LEFT &&
      (guess == GOLF_GUESS_FACE || guess == GOLF_GUESS_PATH || guess == GOLF_GUESS_FACE_TO_PATH);
  struct text text = wording_beside(page->out);
  add_bound(&text, page, guess, turned ? range->high : range->low);
  text_add(&text, " to ");
  add_bound(&text, page, guess, turned ? range->low : range->high);
  if (range->open) text_add(&text, "   (open)");
  add_row(page, label, range_title(page, guess), &text, "");
}

static void add_ranges(struct flight_page *page) {
  static const enum golf_guess guesses[] = {
      GOLF_GUESS_FACE_TO_PATH, GOLF_GUESS_FACE,   GOLF_GUESS_PATH,      GOLF_GUESS_DELIVERED_LOFT,
      GOLF_GUESS_ATTACK,       GOLF_GUESS_STRIKE, GOLF_GUESS_CLUB_SPEED};
  if (!page->of->has_ranges) return;
  for (size_t i = 0; i < sizeof guesses / sizeof guesses[0]; i++)
    add_range(page, i == 0 ? "Ranges" : "", guesses[i]);
  struct text text = wording_beside(page->out);
  text_add(&text,
           "Nine in ten swings with such a flight lie within; (open): the flight leaves most "
           "of the doubt. An unseen strike off the middle alone may bend the ball ");
  text_fixed(&text, page->of->ranges.curve_from_strike, 1);
  text_add(&text, " deg either way.");
  add_paragraph(page, "", &text);
}

/* ---- what is missing ---- */

static bool lacks(const struct flight_page *page, enum golf_fact fact) {
  return isnan(page->of->facts.value[fact]) || flight_is_usual(page->of, fact);
}

static void add_missing_flight(struct flight_page *page) {
  bool speed = lacks(page, GOLF_FACT_BALL_SPEED), club = lacks(page, GOLF_FACT_CLUB_LOFT);
  bool height = lacks(page, GOLF_FACT_LAUNCH) || lacks(page, GOLF_FACT_BACKSPIN);
  struct text text = wording_beside(page->out);
  text_add(&text, "for the flight: ");
  if (speed) text_add(&text, "ball_speed or club_speed");
  if (speed && club && height) text_add(&text, "; ");
  if (club && height) text_add(&text, "the club, or launch and backspin");
  add_paragraph(page, "Missing", &text);
}

static void add_missed(struct flight_page *page) {
  const struct golf_range *missed = page->of->missed;
  struct text text = wording_beside(page->out);
  text_format(&text, "no flight: these numbers make %s, which is outside its plausible range, ",
              missed->name);
  text_number(&text, missed->low);
  text_add(&text, " to ");
  text_number(&text, missed->high);
  text_format(&text, " %s", missed->unit);
  add_paragraph(page, "Missing", &text);
}

static void add_missing(struct flight_page *page) {
  const struct flight_account *of = page->of;
  if (of->missed) add_missed(page);
  else if (of->path.count == 0) add_missing_flight(page);
  else if (!golf_facts_sideways(&of->facts))
    add_words(page, "Missing", "for the side: face and path, or start and curve or axis_tilt");
  else if (!flight_known(of, GOLF_OUTCOME_EXPECTED_BALL_SPEED))
    add_words(page, "Missing", "for what was lost: the club and club_speed");
  else if (!flight_known(of, GOLF_OUTCOME_CENTRED_CARRY))
    add_words(page, "Missing", "for what an off-centre strike costs: strike, strike_height");
}

void flight_text(struct text *out, const struct flight_account *account, bool emphasis) {
  struct flight_page page = flight_page_start(out, account, emphasis);
  add_given(&page);
  add_doubts(&page);
  add_usual(&page);
  if (account->has_ranges) add_ranges(&page);
  else add_geometry(&page);
  add_launch(&page);
  add_expected(&page);
  add_flight(&page);
  add_what_ifs(&page);
  add_missing(&page);
}
