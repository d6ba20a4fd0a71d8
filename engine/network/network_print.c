/* The canonical print of a network: everything that decides an answer, in sorted order, without
 * positions or long texts. */
#include "model/phrase.h"
#include "network/network.h"

static void print_strength(struct text *out, const char *name, double strength) {
  text_format(out, " %s=", name);
  text_number(out, strength);
}

static void print_field(struct text *out, const char *name, double number) {
  text_format(out, " %s ", name);
  text_number(out, number);
}

static void print_number_evidence(struct text *out, const struct evidence *evidence) {
  text_format(out, " unit %s", evidence->unit->name);
  print_field(out, "low", evidence->low);
  print_field(out, "high", evidence->high);
  print_field(out, "error", evidence->error);
  print_field(out, "spread", evidence->spread);
  text_add(out, evidence->mirrored ? " mirrored" : "");
  for (size_t i = 0; i < evidence->n_words; i++) {
    print_strength(out, evidence->words[i].name, evidence->words[i].value);
    print_field(out, "+/-", evidence->words[i].error);
  }
}

static void print_evidence(struct text *out, const struct evidence *evidence) {
  static const char *const fields[] = {
      [CLUB_NONE] = "",         [CLUB_FAMILY] = "family", [CLUB_LOFT] = "loft",
      [CLUB_LENGTH] = "length", [CLUB_LIE] = "lie",       [CLUB_HEAD_MASS] = "head_mass"};
  text_format(out, "evidence %s: %s", evidence->name, evidence_kind_word(evidence->kind));
  if (evidence->kind == EVIDENCE_NUMBER) print_number_evidence(out, evidence);
  for (size_t i = 0; i < evidence->n_choices; i++)
    text_format(out, " %s", evidence->choices[i].name);
  for (size_t i = 0; i < evidence->n_formulas; i++) {
    const struct formula *formula = evidence->formulas[i];
    text_format(out, " = %s", formula->printed);
    if (formula->doubt) text_format(out, " +/- %s", formula->doubt->printed);
    else if (formula->error > 0) print_field(out, "+/-", formula->error);
  }
  if (evidence->from_club != CLUB_NONE)
    text_format(out, " from_club %s", fields[evidence->from_club]);
  text_format(out, " effort %s\n", effort_word(evidence->effort));
}

static void print_drill(struct text *out, const struct model *model, const struct drill *drill) {
  text_add(out, drill->external ? " external" : " body");
  for (size_t i = 0; i < drill->n_changes; i++)
    print_strength(out, model->claims[drill->changes[i].cause].name, drill->changes[i].effect);
  if (drill->needs) text_format(out, " needs %s", drill->needs->printed);
  if (drill->works) text_format(out, " works %s", drill->works->printed);
  text_format(out, " %u of %u drop %u", drill->hits, drill->of, drill->drop_shots);
}

static void print_claim(struct text *out, const struct network *network, size_t index) {
  const struct claim *claim = &network->model->claims[index];
  text_format(out, "%s %s: layer %zu", claim_kind_word(claim->kind), claim->name,
              network->claim_layer[index]);
  text_add(out, claim->good ? " good" : "");
  text_add(out, claim->red_flag.n ? " red_flag" : "");
  if (claim->drill) print_drill(out, network->model, claim->drill);
  text_add(out, "\n");
}

static void print_rule(struct text *out, const struct network *network, size_t index) {
  const struct model *model = network->model;
  const struct rule *rule = &model->rules[index];
  text_format(out, "rule %s: layer %zu when %s then", rule->name, network->rules[index].layer,
              rule->when->printed);
  for (size_t i = 0; i < rule->n_then; i++)
    print_strength(out, model->claims[rule->then[i].claim].name, rule->then[i].strength);
  for (size_t i = 0; i < rule->n_removes; i++)
    text_format(out, " removes %s", model->claims[rule->removes[i]].name);
  if (rule->group) text_format(out, " group %s", rule->group);
  text_add(out, "\n");
}

static void print_club(struct text *out, const struct club *club) {
  text_format(out, "club %s: %s", club->name, club->family);
  print_field(out, "loft", club->loft);
  print_field(out, "length", club->length);
  print_field(out, "lie", club->lie);
  print_field(out, "head_mass", club->head_mass);
  text_add(out, "\n");
}

void network_print(struct text *out, const struct network *network) {
  const struct model *model = network->model;
  for (size_t i = 0; i < model->n_clubs; i++) print_club(out, &model->clubs[i]);
  for (size_t i = 0; i < model->n_evidence; i++) print_evidence(out, &model->evidence[i]);
  for (size_t i = 0; i < model->n_claims; i++) print_claim(out, network, i);
  for (size_t i = 0; i < model->n_rules; i++) print_rule(out, network, i);
  for (size_t i = 0; i < model->n_phrases; i++)
    text_format(out, "phrase %s:%s\n", model->phrases[i].name,
                model->phrases[i].printed ? model->phrases[i].printed : "");
}
