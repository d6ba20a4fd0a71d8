#include "render/answer_parts.h"

#include <math.h>
#include <string.h>

#include "render/wording.h"

#define MARGIN 10   /* columns of the labels */
#define GLUE '\x01' /* stands for a blank where no line may end */

/* ---- the page ---- */

struct page page_start(struct text *out, const struct run *run, bool emphasis) {
  return (struct page){.out = out, .run = run, .model = run->network->model, .emphasis = emphasis};
}

static void add_label(struct page *page, const char *label) {
  size_t n = strlen(label);
  bool bold = page->emphasis && n > 0;
  if (bold) text_add(page->out, "\x1b[1m");
  text_add(page->out, label);
  if (bold) text_add(page->out, "\x1b[0m");
  for (; n < MARGIN; n++) text_add_char(page->out, ' ');
}

/* A copy of the words in which no line may end before or after a "+/-". */
static char *glue_errors(struct page *page, const char *words) {
  char *glued = arena_copy_string(page->out->arena, words);
  for (char *at = glued; at && (at = strstr(at, " +/- ")) != NULL; at += 4) at[0] = at[4] = GLUE;
  return glued;
}

static void unglue(struct text *out, size_t from) {
  for (size_t i = from; i < out->n; i++)
    if (out->at[i] == GLUE) out->at[i] = ' ';
}

void page_paragraph(struct page *page, const char *label, const char *words) {
  const char *glued = glue_errors(page, words);
  if (!glued) {
    page->out->failed = true;
    return;
  }
  add_label(page, label);
  size_t start = page->out->n;
  wording_wrap(page->out, glued, MARGIN, MARGIN, ANSWER_COLUMNS);
  unglue(page->out, start);
  text_add_char(page->out, '\n');
}

void page_blank(struct page *page) {
  text_add_char(page->out, '\n');
}

struct text page_text(struct page *page) {
  struct text text;
  text_init(&text, page->out->arena);
  return text;
}

const char *page_text_done(struct page *page, const struct text *text) {
  const char *string = text_done(text);
  if (!string) page->out->failed = true;
  return string ? string : "";
}

/* ---- texts ---- */

const char *page_words(struct page *page, const struct wording *wording) {
  struct text text = page_text(page);
  wording_add(&text, page->run, wording);
  return page_text_done(page, &text);
}

const char *page_title(struct page *page, size_t claim) {
  return page_words(page, &page->model->claims[claim].title);
}

const char *page_because(struct page *page, size_t rule) {
  return page_words(page, &page->model->rules[rule].because);
}

const char *page_cause(struct page *page, const struct ranked_cause *cause) {
  struct text text = page_text(page);
  text_add(&text, page_title(page, cause->claim));
  text_format(&text, " (%s, ", standing_word(cause->standing));
  wording_certainty(&text, cause->certainty);
  text_add_char(&text, ')');
  return page_text_done(page, &text);
}

const char *page_works(struct page *page, const struct drill *drill) {
  struct text text = page_text(page);
  if (drill->works) {
    wording_condition(&text, page->model, drill->works, page->run->hand);
    if (drill->of > 0) text_format(&text, ", in %u of %u shots", drill->hits, drill->of);
  }
  if (drill->works && drill->seen.n > 0) text_add(&text, "; without a device: ");
  wording_add(&text, page->run, &drill->seen);
  if (!drill->works && drill->of > 0)
    text_format(&text, ", in %u of %u shots", drill->hits, drill->of);
  return page_text_done(page, &text);
}

const char *page_drop(struct page *page, const struct drill *drill) {
  struct text text = page_text(page);
  if (drill->drop_shots > 0)
    text_format(&text, "after %u shots%s", drill->drop_shots,
                drill->drop_when.n > 0 ? ", when " : "");
  wording_add(&text, page->run, &drill->drop_when);
  return page_text_done(page, &text);
}

const char *page_cautions(struct page *page, const struct drill *drill) {
  struct text text = page_text(page);
  for (size_t i = 0; i < drill->n_cautions; i++) {
    if (i > 0) text_add_char(&text, ' ');
    wording_add(&text, page->run, &drill->cautions[i]);
  }
  return page_text_done(page, &text);
}

/* ---- picking ---- */

bool is_believed(const struct run *run, size_t claim) {
  return run->certainty[claim] > BELIEF_THRESHOLD;
}

/* Puts candidate into the list of n, ordered by larger weight, equal weights in the order they
 * came; returns the new n. */
static size_t insert_by_weight(size_t *list, double *weights, size_t n, size_t room,
                               size_t candidate, double weight) {
  size_t place = n;
  while (place > 0 && weights[place - 1] < weight) place--;
  if (place >= room) return n;
  size_t last = n < room ? n : room - 1;
  memmove(list + place + 1, list + place, (last - place) * sizeof *list);
  memmove(weights + place + 1, weights + place, (last - place) * sizeof *weights);
  list[place] = candidate;
  weights[place] = weight;
  return last + 1;
}

#define PICK_MAX 16

size_t strongest_rules(const struct run *run, size_t claim, size_t *rules, size_t room) {
  const struct network *network = run->network;
  double weights[PICK_MAX];
  size_t n = 0;
  if (room > PICK_MAX) room = PICK_MAX;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    const struct contribution_record *record = &run->contributions[i];
    if (record->state == CONTRIBUTION_COUNTED && record->value > 0)
      n = insert_by_weight(rules, weights, n, room, network->contributions[i].rule, record->value);
  }
  return n;
}

size_t believed_findings(const struct run *run, size_t *findings, size_t room, size_t *total) {
  const struct model *model = run->network->model;
  double weights[PICK_MAX];
  size_t n = 0;
  *total = 0;
  if (room > PICK_MAX) room = PICK_MAX;
  for (size_t claim = 0; claim < model->first_cause; claim++) {
    if (!is_believed(run, claim)) continue;
    (*total)++;
    double weight = run->certainty[claim] - (model->claims[claim].good ? 2 : 0);
    n = insert_by_weight(findings, weights, n, room, claim, weight);
  }
  return n;
}

static bool sees_mirror_image(const struct run *run) {
  return run->hand == HAND_LEFT;
}

double reading_number(const struct run *run, size_t evidence) {
  double number = run->readings[evidence].number;
  return sees_mirror_image(run) && run->network->model->evidence[evidence].mirrored ? -number
                                                                                    : number;
}

size_t reading_choice(const struct run *run, size_t evidence) {
  size_t choice = run->readings[evidence].choice;
  const struct evidence *about = &run->network->model->evidence[evidence];
  return sees_mirror_image(run) && choice < about->n_choices ? about->choices[choice].mirror
                                                             : choice;
}

/* ---- what to find out next ---- */

#define ANSWERS_ROOM 66 /* columns that name and possible answers may take, on one line */

/* Names joined by "|". */
static void add_alternative(struct text *text, const char *name) {
  if (text->n > 0) text_add_char(text, '|');
  text_add(text, name);
}

/* What may be answered, as it is typed: "toe|heel|number"; "..." when it is long. */
static const char *answers_to(struct page *page, const struct evidence *evidence) {
  struct text text = page_text(page);
  for (size_t i = 0; i < evidence->n_words; i++) add_alternative(&text, evidence->words[i].name);
  for (size_t i = 0; i < evidence->n_choices; i++)
    add_alternative(&text, evidence->choices[i].name);
  if (evidence->kind == EVIDENCE_NUMBER) add_alternative(&text, "number");
  bool fits = strlen(evidence->name) + text.n <= ANSWERS_ROOM;
  return text.n > 0 && fits ? page_text_done(page, &text) : "...";
}

static const char *means_of(enum effort effort) {
  return effort == EFFORT_VIDEO ? ", from a video" : effort == EFFORT_MEASURE ? ", measured" : "";
}

const char *page_check(struct page *page, const struct evidence *evidence) {
  struct text text = page_text(page);
  text_format(&text, "%s (%s=%s%s)", page_words(page, &evidence->ask), evidence->name,
              answers_to(page, evidence), means_of(evidence->effort));
  return page_text_done(page, &text);
}
