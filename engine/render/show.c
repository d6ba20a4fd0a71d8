/* An entry of the knowledge as text: one labelled paragraph a key. */
#include "render/show.h"

#include <math.h>

#include "golf/formula.h"
#include "model/formula.h"
#include "render/show_parts.h"
#include "render/wording_parts.h"

#define LABEL 14 /* columns of the labels */

struct page {
  struct text *out;
  const struct network *network;
  const struct model *model;
  enum hand hand;
};

static struct text beside(const struct page *page) {
  return wording_beside(page->out);
}

static void add_text(struct page *page, const char *label, const struct text *text) {
  wording_line(page->out, 0, label, LABEL, text);
}

static void add_string(struct page *page, const char *label, const char *string) {
  wording_paragraph(page->out, 0, label, LABEL, string);
}

static void add_words(struct page *page, const char *label, const struct wording *wording) {
  if (wording->n == 0) return;
  struct text words = beside(page);
  wording_add_plain(&words, page->model, wording, page->hand);
  add_text(page, label, &words);
}

static void add_source(struct page *page, struct source_ref source) {
  struct text words = beside(page);
  switch (source.kind) {
  case SOURCE_NONE: text_add(&words, "none is named"); break;
  case SOURCE_PRACTICE:
    text_add(&words, "common practice of the trade, no published source");
    break;
  case SOURCE_MEMORY: text_add(&words, "from memory, not checked"); break;
  case SOURCE_PUBLISHED: {
    const struct reference *reference = &page->model->references[source.index];
    text_format(&words, "%s: %s", reference->name, reference->title);
    if (reference->status != NULL) text_format(&words, " [%s]", reference->status);
    break;
  }
  }
  add_text(page, "source", &words);
}

static void add_place(struct page *page, struct span at) {
  struct text words = beside(page);
  wording_span(&words, at);
  add_text(page, "stands in", &words);
}

static void add_names(struct page *page, const char *label, const struct entries *entries) {
  if (entries->n == 0) return;
  struct text words = beside(page);
  for (size_t i = 0; i < entries->n; i++) {
    const char *kind = subject_kind_word(page->model, entries->list[i]);
    bool same = i != 0 && subject_kind_word(page->model, entries->list[i - 1]) == kind;
    text_add(&words, i == 0 ? "" : same ? ", " : "; ");
    if (!same) text_format(&words, "%s ", kind);
    text_add(&words, subject_name(page->model, entries->list[i]));
  }
  add_text(page, label, &words);
}

static void add_readers(struct page *page, const char *label, struct subject subject) {
  struct entries readers = show_readers(page->out->arena, page->network, subject);
  add_names(page, label, &readers);
}

/* ---- evidence ---- */

static void add_number_range(struct page *page, const struct evidence *evidence) {
  struct text range = beside(page), error = beside(page);
  wording_number(&range, evidence, evidence->low, page->hand);
  text_add(&range, " to ");
  wording_number(&range, evidence, evidence->high, page->hand);
  add_text(page, "plausible", &range);
  wording_size(&error, evidence, evidence->unit, evidence->error);
  text_add(&error, " is one standard deviation of one reading");
  if (evidence->spread > 0) {
    text_add(&error, "; from shot to shot a player spreads by ");
    wording_size(&error, evidence, evidence->unit, evidence->spread);
  }
  add_text(page, "error", &error);
}

/* A word is typed in the player's own frame, so its worth is the same for either hand. */
static void add_number_words(struct page *page, const struct evidence *evidence) {
  for (size_t i = 0; i < evidence->n_words; i++) {
    const struct number_word *word = &evidence->words[i];
    struct text words = beside(page);
    text_format(&words, "\"%s\" is worth ", word->name);
    wording_number(&words, evidence, word->value, HAND_RIGHT);
    text_add(&words, " +/- ");
    wording_size(&words, evidence, evidence->unit, word->error);
    add_text(page, i == 0 ? "in words" : "", &words);
  }
}

static void add_choices(struct page *page, const struct evidence *evidence) {
  struct text words = beside(page);
  for (size_t i = 0; i < evidence->n_choices; i++) {
    text_format(&words, "%s%s", i == 0 ? "" : "; ", evidence->choices[i].name);
    if (evidence->choices[i].title.n == 0) continue;
    text_add(&words, " = ");
    wording_choice(&words, page->model, evidence, i, page->hand);
  }
  if (evidence->n_choices != 0) add_text(page, "values", &words);
}

/* With the error of its own, a number or a formula again. */
static void add_formula(struct page *page, const char *label, const struct formula *formula) {
  struct text words = beside(page);
  text_add(&words, formula->text);
  if (formula->doubt != NULL) text_format(&words, " (+/- %s)", formula->doubt->text);
  if (formula->doubt == NULL && formula->error > 0) {
    text_add(&words, " (+/- ");
    text_number(&words, formula->error);
    text_add(&words, " of its own)");
  }
  add_text(page, label, &words);
}

static void show_evidence(struct page *page, struct subject subject) {
  static const char *const fields[] = {"", "family", "loft", "length", "lie", "head_mass"};
  const struct evidence *evidence = &page->model->evidence[subject.index];
  struct text kind = beside(page);
  add_words(page, "meaning", &evidence->about);
  text_add(&kind, evidence_kind_word(evidence->kind));
  if (evidence->kind == EVIDENCE_NUMBER) text_format(&kind, ", in %s", evidence->unit->about);
  if (evidence->minus != NULL)
    text_format(&kind, "; below zero is %s, above zero %s", evidence->minus, evidence->plus);
  add_text(page, "kind", &kind);
  if (evidence->kind == EVIDENCE_NUMBER) add_number_range(page, evidence);
  add_number_words(page, evidence);
  if (evidence->kind != EVIDENCE_YES_NO) add_choices(page, evidence);
  for (size_t i = 0; i < evidence->n_formulas; i++)
    add_formula(page, i == 0 ? "worked out by" : "or by", evidence->formulas[i]);
  if (evidence->from_club != CLUB_NONE) {
    struct text club = beside(page);
    text_format(&club, "the club's %s", fields[evidence->from_club]);
    add_text(page, "filled from", &club);
  }
  if (evidence->ask.n != 0) {
    add_words(page, "question", &evidence->ask);
    add_string(page, "effort", effort_word(evidence->effort));
  }
  add_readers(page, "read by", subject);
  add_source(page, evidence->source);
}

/* ---- findings and causes ---- */

static void add_concluders(struct page *page, size_t claim, const char *label) {
  const struct network *network = page->network;
  for (size_t i = network->first_contribution[claim]; i < network->first_contribution[claim + 1];
       i++) {
    const struct contribution *contribution = &network->contributions[i];
    const struct rule *rule = &page->model->rules[contribution->rule];
    struct text words = beside(page);
    wording_certainty(&words, contribution->strength);
    text_format(&words, " %s", rule->name);
    if (rule->group != NULL) text_format(&words, ", group %s", rule->group);
    text_add(&words, " (");
    wording_span(&words, rule->at);
    text_add(&words, ")");
    add_text(page, i == network->first_contribution[claim] ? label : "", &words);
  }
}

static void add_drills(struct page *page, size_t cause) {
  struct entries drills = show_drills_for(page->out->arena, page->model, cause);
  for (size_t i = 0; i < drills.n; i++) {
    const struct claim *drill = &page->model->claims[drills.list[i].index];
    struct text words = beside(page);
    text_format(&words, "%s, effect ", drill->name);
    text_number(&words, show_effect(drill->drill, cause));
    text_add(&words, ": ");
    wording_add_plain(&words, page->model, &drill->title, page->hand);
    add_text(page, i == 0 ? "drills" : "", &words);
  }
}

static void show_claim(struct page *page, struct subject subject) {
  const struct claim *claim = &page->model->claims[subject.index];
  add_words(page, "meaning", &claim->about);
  add_words(page, "tell apart", &claim->tell_apart);
  add_words(page, "red flag", &claim->red_flag);
  if (claim->area != NULL) add_string(page, "area", claim->area);
  if (claim->good) add_string(page, "good", "it says that something is as it should be");
  add_concluders(page, subject.index, "concluded by");
  add_readers(page, "read by", subject);
  if (claim->kind == CLAIM_CAUSE) add_drills(page, subject.index);
  add_source(page, claim->source);
}

/* ---- drills ---- */

static void add_changes(struct page *page, const struct drill *drill) {
  for (size_t i = 0; i < drill->n_changes; i++) {
    const struct claim *cause = &page->model->claims[drill->changes[i].cause];
    struct text words = beside(page);
    text_format(&words, "%s, effect ", cause->name);
    text_number(&words, drill->changes[i].effect);
    text_add(&words, ": ");
    wording_add_plain(&words, page->model, &cause->title, page->hand);
    add_text(page, i == 0 ? "changes" : "", &words);
  }
}

static void add_length(struct text *words, const char *what, double centimetres) {
  if (centimetres == 0) return;
  text_format(words, ", %s ", what);
  wording_trimmed(words, fabs(centimetres), 1);
  text_add(words, " cm");
}

static void add_objects(struct page *page, const struct drill *drill) {
  for (size_t i = 0; i < drill->n_objects; i++) {
    const struct drill_object *object = &drill->objects[i];
    struct text words = beside(page);
    text_add(&words, object->object);
    add_length(&words, object->ahead < 0 ? "behind the ball by" : "ahead of the ball by",
               object->ahead);
    add_length(&words, object->out < 0 ? "nearer to the player by" : "farther from the player by",
               object->out);
    add_length(&words, "off the ground by", object->height);
    add_length(&words, "long", object->length);
    if (object->angle != 0) {
      text_add(&words, ", turned ");
      wording_trimmed(&words, fabs(object->angle), 1);
      text_format(&words, " deg, far end %s the player",
                  object->angle < 0 ? "toward" : "away from");
    }
    add_text(page, i == 0 ? "objects" : "", &words);
  }
}

static void add_works(struct page *page, const struct drill *drill) {
  struct text words = beside(page), drop = beside(page);
  if (drill->works != NULL) {
    wording_condition(&words, page->model, drill->works, page->hand);
    text_format(&words, ", in %u of %u shots; ", drill->hits, drill->of);
  }
  if (drill->seen.n != 0) text_add(&words, drill->works != NULL ? "without a device: " : "");
  wording_add_plain(&words, page->model, &drill->seen, page->hand);
  add_text(page, "it works when", &words);
  text_format(&drop, "after %u shots: ", drill->drop_shots);
  wording_add_plain(&drop, page->model, &drill->drop_when, page->hand);
  add_text(page, "drop it", &drop);
}

static void show_drill(struct page *page, struct subject subject) {
  const struct claim *claim = &page->model->claims[subject.index];
  const struct drill *drill = claim->drill;
  add_string(page, "task",
             drill->external ? "external: something in the way, a target or a sound"
                             : "a thought about the body");
  add_changes(page, drill);
  add_words(page, "aim", &drill->aim);
  add_words(page, "set-up", &drill->setup);
  add_objects(page, drill);
  add_words(page, "dose", &drill->dose);
  add_works(page, drill);
  if (drill->needs != NULL) {
    struct text needs = beside(page);
    wording_condition(&needs, page->model, drill->needs, page->hand);
    add_text(page, "needs", &needs);
  }
  for (size_t i = 0; i < drill->n_cautions; i++)
    add_words(page, i == 0 ? "cautions" : "", &drill->cautions[i]);
  add_words(page, "can spoil", &drill->spoils);
  add_words(page, "fallback", &drill->fallback);
  add_concluders(page, subject.index, "advised by");
  add_source(page, claim->source);
}

/* ---- rules ---- */

static void add_when(struct page *page, const struct condition *condition, size_t depth) {
  bool joined = condition->n_clauses != 0;
  struct text words = beside(page);
  if (!joined) wording_condition(&words, page->model, condition, page->hand);
  else
    text_add(&words, condition->kind == CONDITION_ALL   ? "all of:"
                     : condition->kind == CONDITION_ANY ? "any of:"
                                                        : "none of:");
  size_t indent = LABEL + 2 * depth;
  wording_line(page->out, depth == 0 ? 0 : indent, depth == 0 ? "when" : "", indent, &words);
  for (size_t i = 0; i < condition->n_clauses; i++)
    add_when(page, &condition->clauses[i], depth + 1);
}

static void add_conclusions(struct page *page, const struct rule *rule) {
  for (size_t i = 0; i < rule->n_then; i++) {
    const struct claim *claim = &page->model->claims[rule->then[i].claim];
    struct text words = beside(page);
    wording_certainty(&words, rule->then[i].strength);
    text_format(&words, " for %s %s: ", claim_kind_word(claim->kind), claim->name);
    wording_add_plain(&words, page->model, &claim->title, page->hand);
    add_text(page, i == 0 ? "then" : "", &words);
  }
  for (size_t i = 0; i < rule->n_removes; i++)
    add_string(page, i == 0 ? "takes out" : "", page->model->claims[rule->removes[i]].name);
}

static void add_roots(struct page *page, size_t rule) {
  const bool *roots = network_roots(page->out->arena, page->network);
  struct text words = beside(page);
  const char *comma = "";
  for (size_t i = 0; roots != NULL && i < page->model->n_evidence; i++) {
    if (!roots[rule * page->model->n_evidence + i]) continue;
    text_format(&words, "%s%s", comma, page->model->evidence[i].name);
    comma = ", ";
  }
  add_text(page, "rests on", &words);
}

static void show_rule(struct page *page, struct subject subject) {
  const struct rule *rule = &page->model->rules[subject.index];
  struct text layer = beside(page);
  add_when(page, rule->when, 0);
  add_conclusions(page, rule);
  add_words(page, "because", &rule->because);
  add_words(page, "learner", &rule->learner);
  add_string(page, "kind", rule_kind_word(rule->kind));
  if (rule->group != NULL) add_string(page, "group", rule->group);
  text_format(&layer, "%zu of %zu", page->network->rules[subject.index].layer,
              page->network->n_layers);
  add_text(page, "layer", &layer);
  add_roots(page, subject.index);
  add_source(page, rule->source);
}

/* ---- clubs, sources, cases ---- */

static void add_quantity(struct page *page, const char *label, double number, const char *unit) {
  struct text words = beside(page);
  wording_trimmed(&words, number, 3);
  text_format(&words, " %s", unit);
  add_text(page, label, &words);
}

static void show_club(struct page *page, struct subject subject) {
  const struct club *club = &page->model->clubs[subject.index];
  add_string(page, "family", club->family);
  add_quantity(page, "loft", club->loft, "deg");
  add_quantity(page, "length", club->length, "m");
  add_quantity(page, "lie", club->lie, "deg");
  add_quantity(page, "head mass", club->head_mass, "g");
  add_source(page, club->source);
}

static void show_reference(struct page *page, struct subject subject) {
  const struct reference *reference = &page->model->references[subject.index];
  add_string(page, "title", reference->title);
  if (reference->status != NULL) add_string(page, "status", reference->status);
  if (reference->about != NULL) add_string(page, "used for", reference->about);
  add_readers(page, "named by", subject);
}

static void add_expected(struct page *page, const char *label, bool expects, size_t claim) {
  if (expects)
    add_string(page, label, claim != NO_INDEX ? page->model->claims[claim].name : "none");
}

static void show_case(struct page *page, struct subject subject) {
  const struct worked_case *worked = &page->model->cases[subject.index];
  add_string(page, "player", worked->hand == HAND_LEFT ? "left-handed" : "right-handed");
  for (size_t i = 0; i < worked->n_values; i++) {
    struct text words = beside(page);
    text_format(&words, "%s: %s", page->model->evidence[worked->values[i].evidence].name,
                worked->values[i].typed != NULL ? worked->values[i].typed : "");
    add_text(page, i == 0 ? "evidence" : "", &words);
  }
  add_expected(page, "leading", worked->expects_leading, worked->leading);
  add_expected(page, "drill", worked->expects_drill, worked->drill);
  if (worked->because != NULL) add_string(page, "because", worked->because);
}

/* ---- the whole ---- */

static void add_head(struct page *page, struct subject subject) {
  const struct model *model = page->model;
  text_format(page->out, "%s %s", subject_kind_word(model, subject), subject_name(model, subject));
  struct text title = beside(page);
  if (subject.kind == SUBJECT_EVIDENCE) text_add(&title, model->evidence[subject.index].title);
  if (subject.kind == SUBJECT_CLUB) text_add(&title, model->clubs[subject.index].title);
  if (subject.kind == SUBJECT_CLAIM)
    wording_add_plain(&title, model, &model->claims[subject.index].title, page->hand);
  text_add_char(page->out, '\n');
  if (title.n != 0) add_text(page, "title", &title);
}

void show_text(struct text *out, const struct network *network, struct subject subject,
               enum hand hand) {
  struct page page = {out, network, network->model, hand};
  add_head(&page, subject);
  switch (subject.kind) {
  case SUBJECT_EVIDENCE: show_evidence(&page, subject); break;
  case SUBJECT_CLAIM:
    if (network->model->claims[subject.index].kind == CLAIM_DRILL) show_drill(&page, subject);
    else show_claim(&page, subject);
    break;
  case SUBJECT_RULE: show_rule(&page, subject); break;
  case SUBJECT_CLUB: show_club(&page, subject); break;
  case SUBJECT_REFERENCE: show_reference(&page, subject); break;
  case SUBJECT_CASE: show_case(&page, subject); break;
  }
  add_place(&page, subject_span(network->model, subject));
  if (arena_failed(out->arena)) out->failed = true;
}

static void add_arguments(struct text *out, const char *arguments) {
  for (; *arguments != '\0'; arguments++) {
    if (*arguments == ' ') text_add_char(out, ',');
    text_add_char(out, *arguments);
  }
}

void show_functions_text(struct text *out) {
  size_t n;
  const struct golf_function *functions = golf_function_table(&n);
  wording_paragraph(
      out, 0, "", 0,
      "Besides + - * / ( ), min, max, abs, sqrt, hypot, and in degrees sin cos tan asin acos "
      "atan atan2:");
  for (size_t i = 0; i < n; i++) {
    struct text call = wording_beside(out);
    text_format(&call, "%s(", functions[i].name);
    add_arguments(&call, functions[i].arguments);
    text_add_char(&call, ')');
    wording_hanging(out, 0, 4, &call);
    wording_paragraph(out, 4, "", 4, functions[i].about);
  }
}
