/* What values look like that are no mapping with fixed keys. Names come from the model; without one
 * any name will do. */
#include <string.h>

#include "diag/diag.h"
#include "golf/units.h"
#include "render/schema.h"

void schema_literal(struct json *json, const char *value) {
  struct text text;
  text_init(&text, json->out->arena);
  for (; *value; value++) text_add_char(&text, *value == '\'' ? '"' : *value);
  json_constant(json, text_done(&text));
}

void schema_refer(struct json *json, const char *name) {
  struct text target;
  text_init(&target, json->out->arena);
  text_format(&target, "#/definitions/%s", name);
  json_object(json);
  json_key_string(json, "$ref", text_done(&target));
  json_end(json);
}

/* ---- names ---- */

/* Bits of which evidence is meant. */
enum { NUMBERS = 1, WORDED = 2, YES_NOS = 4, TEXTS = 8 };

static bool is_meant(const struct evidence *evidence, unsigned which) {
  switch (evidence->kind) {
  case EVIDENCE_NUMBER: return which & NUMBERS;
  case EVIDENCE_CHOICE:
  case EVIDENCE_CLUB: return which & WORDED;
  case EVIDENCE_YES_NO: return which & YES_NOS;
  case EVIDENCE_TEXT: return which & TEXTS;
  }
  return false;
}

/* Calls for each name of the evidence meant: its own in order, then the others understood. */
static void each_evidence(struct json *json, const struct model *model, unsigned which,
                          void (*act)(struct json *, const struct evidence *, const char *)) {
  for (size_t i = 0; i < model->n_evidence; i++)
    if (is_meant(&model->evidence[i], which))
      act(json, &model->evidence[i], model->evidence[i].name);
  uint32_t index;
  size_t place = 0;
  for (const char *name; (name = names_next(model->evidence_names, &place, &index)) != NULL;)
    if (strcmp(name, model->evidence[index].name) != 0 && is_meant(&model->evidence[index], which))
      act(json, &model->evidence[index], name);
}

static void act_name(struct json *json, const struct evidence *evidence, const char *name) {
  (void)evidence;
  json_string(json, name);
}

static void claim_names(struct json *json, const struct model *model, size_t from, size_t to) {
  for (size_t i = from; i < to; i++) json_string(json, model->claims[i].name);
}

/* {"enum": [word, names ...]}, or any text without a model. */
static void evidence_enum(struct json *json, const struct model *model, unsigned which) {
  if (!model) {
    schema_refer(json, schema_shape_name(SHAPE_TEXT));
    return;
  }
  json_object(json);
  json_key_list(json, "enum");
  if (which & WORDED) { /* what a column may mean besides */
    json_string(json, "ignore");
    json_string(json, "shot");
    json_string(json, "side");
  }
  each_evidence(json, model, which, act_name);
  json_end(json);
  json_end(json);
}

static void claim_enum(struct json *json, const struct model *model, const char *word, size_t from,
                       size_t to) {
  if (!model) {
    schema_refer(json, schema_shape_name(SHAPE_TEXT));
    return;
  }
  json_object(json);
  json_key_list(json, "enum");
  if (word) json_string(json, word);
  claim_names(json, model, from, to);
  json_end(json);
  json_end(json);
}

static size_t causes(const struct model *model) {
  return model ? model->first_cause : 0;
}
static size_t drills(const struct model *model) {
  return model ? model->first_drill : 0;
}
static size_t claims(const struct model *model) {
  return model ? model->n_claims : 0;
}

static void list_start(struct json *json) {
  json_object(json);
  json_key_string(json, "type", "array");
  json_key(json, "items");
}

static void map_start(struct json *json) {
  json_object(json);
  json_key_string(json, "type", "object");
}

/* ---- shapes with names ---- */

static void version(struct json *json, const struct model *model) {
  (void)model;
  json_object(json);
  json_key_string(json, "type", "integer");
  json_key_count(json, "minimum", 1);
  json_key_count(json, "maximum", RULE_FORMAT);
  json_end(json);
}

static void unit(struct json *json, const struct model *model) {
  (void)model;
  json_object(json);
  json_key_list(json, "enum");
  for (int i = 0; i < GOLF_UNITS; i++)
    json_string(json, golf_unit_at((enum golf_unit_index)i)->name);
  json_end(json);
  json_end(json);
}

static void source(struct json *json, const struct model *model) {
  json_object(json);
  if (!model) {
    json_key_string(json, "type", "string");
  } else {
    json_key_list(json, "enum");
    json_string(json, "practice");
    json_string(json, "memory");
    for (size_t i = 0; i < model->n_references; i++) json_string(json, model->references[i].name);
    json_end(json);
  }
  json_end(json);
}

static void means(struct json *json, const struct model *model) {
  evidence_enum(json, model, NUMBERS | WORDED | YES_NOS);
}
static void yes_no_evidence(struct json *json, const struct model *model) {
  evidence_enum(json, model, YES_NOS);
}
static void expected_cause(struct json *json, const struct model *model) {
  claim_enum(json, model, "none", causes(model), drills(model));
}
static void expected_drill(struct json *json, const struct model *model) {
  claim_enum(json, model, "none", drills(model), claims(model));
}
static void drill_list(struct json *json, const struct model *model) {
  list_start(json);
  claim_enum(json, model, NULL, drills(model), claims(model));
  json_end(json);
}
static void findings_causes(struct json *json, const struct model *model) {
  list_start(json);
  claim_enum(json, model, NULL, 0, drills(model));
  json_end(json);
}

static void strengths(struct json *json) {
  json_object(json);
  json_key_list(json, "anyOf");
  json_object(json);
  json_key_list(json, "enum");
  for (size_t i = 0; strength_word_at(i); i++) json_string(json, strength_word_at(i));
  for (size_t i = 0; strength_word_at(i); i++) {
    struct text against;
    text_init(&against, json->out->arena);
    text_format(&against, "-%s", strength_word_at(i));
    json_string(json, text_done(&against));
  }
  json_end(json);
  json_end(json);
  schema_literal(json,
                 "{'type': 'number', 'minimum': -0.95, 'maximum': 0.95, 'not': {'const': 0}}");
  json_end(json);
  json_end(json);
}

static void then(struct json *json, const struct model *model) {
  map_start(json);
  json_key_count(json, "minProperties", 1);
  json_key(json, "propertyNames");
  claim_enum(json, model, NULL, 0, claims(model));
  json_key(json, "additionalProperties");
  strengths(json);
  json_end(json);
}

static void changes(struct json *json, const struct model *model) {
  map_start(json);
  json_key(json, "propertyNames");
  claim_enum(json, model, NULL, causes(model), drills(model));
  json_key(json, "additionalProperties");
  schema_literal(json, "{'type': 'number', 'exclusiveMinimum': 0, 'maximum': 0.95}");
  json_end(json);
}

static void objects(struct json *json, const struct model *model) {
  (void)model;
  list_start(json);
  schema_refer(json, keys_of(KEYS_OBJECT)->name);
  json_end(json);
}

static void ellipses(struct json *json, const struct model *model) {
  list_start(json);
  json_object(json);
  json_key_string(json, "type", "array");
  json_key_count(json, "minItems", 2);
  json_key_count(json, "maxItems", 2);
  json_key(json, "items");
  evidence_enum(json, model, NUMBERS);
  json_end(json);
  json_end(json);
}

static void scatter(struct json *json, const struct model *model) {
  map_start(json);
  json_key(json, "propertyNames");
  evidence_enum(json, model, NUMBERS);
  json_key(json, "additionalProperties");
  evidence_enum(json, model, NUMBERS);
  json_end(json);
}

static void codes(struct json *json) {
  map_start(json);
  json_key_object(json, "propertyNames");
  json_key_list(json, "enum");
  for (int code = 0; code < DIAG_CODES; code++)
    if (diag_is_finding((enum diag_code)code)) json_string(json, diag_word((enum diag_code)code));
  json_end(json);
  json_end(json);
  json_key(json, "additionalProperties");
  schema_refer(json, schema_shape_name(SHAPE_TEXT));
  json_end(json);
}

static void accept(struct json *json, const struct model *model) {
  (void)model;
  json_object(json);
  json_key_list(json, "anyOf");
  codes(json);
  list_start(json);
  codes(json);
  json_end(json);
  json_end(json);
  json_end(json);
}

/* ---- evidence as keys ---- */

static const char *joined(struct json *json, const char *front, const char *name) {
  struct text text;
  text_init(&text, json->out->arena);
  text_format(&text, "%s%s", front, name);
  return text_done(&text);
}

static bool has_words(const struct evidence *evidence) {
  return evidence->n_choices > 0;
}

static const char *value_name(struct json *json, const struct evidence *evidence) {
  return has_words(evidence) ? joined(json, "value_of_", evidence->name) : "plain_value";
}

static const char *comparison_name(struct json *json, const struct evidence *evidence) {
  if (has_words(evidence)) return joined(json, "compare_", evidence->name);
  return keys_of(evidence->kind == EVIDENCE_TEXT ? KEYS_TEXT_COMPARISON : KEYS_NUMBER_COMPARISON)
      ->name;
}

static void refer_property(struct json *json, const struct evidence *evidence, const char *name,
                           const char *target) {
  json_key_object(json, name);
  json_key_string(json, "description", evidence->title);
  json_key_string(json, "$ref", joined(json, "#/definitions/", target));
  json_end(json);
}

static void act_value(struct json *json, const struct evidence *evidence, const char *name) {
  refer_property(json, evidence, name, value_name(json, evidence));
}

static void act_comparison(struct json *json, const struct evidence *evidence, const char *name) {
  refer_property(json, evidence, name, comparison_name(json, evidence));
}

/* A recipe with {parts} is a value too. */
static void act_meaning(struct json *json, const struct evidence *evidence, const char *name) {
  json_key_object(json, name);
  json_key_string(json, "description", evidence->title);
  json_key_list(json, "anyOf");
  schema_refer(json, value_name(json, evidence));
  schema_literal(json, "{'type': 'string', 'pattern': '[{]'}");
  json_end(json);
  json_end(json);
}

static void act_both(struct json *json, const struct evidence *evidence, const char *name) {
  json_key_object(json, name);
  json_key_string(json, "type", "array");
  json_key_count(json, "minItems", 2);
  json_key_count(json, "maxItems", 2);
  json_key(json, "items");
  schema_refer(json, value_name(json, evidence));
  json_end(json);
}

/* A mapping from evidence to what act writes; without a model any name will do. */
static void by_evidence(struct json *json, const struct model *model, unsigned which,
                        void (*act)(struct json *, const struct evidence *, const char *)) {
  map_start(json);
  if (model) {
    json_key_object(json, "properties");
    each_evidence(json, model, which, act);
    json_end(json);
    json_key_bool(json, "additionalProperties", false);
  }
}

static void values(struct json *json, const struct model *model) {
  by_evidence(json, model, NUMBERS | WORDED | YES_NOS | TEXTS, act_value);
  json_end(json);
}

static void meanings(struct json *json, const struct model *model) {
  by_evidence(json, model, NUMBERS | WORDED | YES_NOS, act_meaning);
  json_end(json);
}

static void both(struct json *json, const struct model *model) {
  by_evidence(json, model, NUMBERS | WORDED | YES_NOS, act_both);
  json_key_count(json, "minProperties", 1);
  json_key_count(json, "maxProperties", 1);
  json_end(json);
}

static void condition(struct json *json, const struct model *model) {
  static const char *const joins[] = {"all", "any", "none"};
  map_start(json);
  json_key_count(json, "minProperties", 1);
  json_key_count(json, "maxProperties", 1);
  json_key_object(json, "properties");
  for (size_t i = 0; i < 3; i++) {
    json_key(json, joins[i]);
    schema_literal(
        json, "{'type': 'array', 'minItems': 1, 'items': {'$ref': '#/definitions/condition'}}");
  }
  json_key(json, "formula");
  schema_refer(json, schema_shape_name(SHAPE_TEXT));
  if (model) each_evidence(json, model, NUMBERS | WORDED | YES_NOS | TEXTS, act_comparison);
  for (size_t i = 0; i < drills(model); i++) {
    json_key(json, model->claims[i].name);
    schema_literal(json, "{'anyOf': [{'const': 'believed'}, {'$ref': '#/definitions/believed'}]}");
  }
  json_end(json);
  if (model) json_key_bool(json, "additionalProperties", false);
  json_end(json);
}

/* ---- words of evidence ---- */

static void word_enum(struct json *json, const struct model *model,
                      const struct evidence *evidence) {
  json_object(json);
  json_key_list(json, "enum");
  for (size_t i = 0; i < evidence->n_choices; i++) json_string(json, evidence->choices[i].name);
  uint32_t index;
  size_t place = 0;
  const char *name;
  while (evidence->kind == EVIDENCE_CLUB &&
         (name = names_next(model->club_names, &place, &index)) != NULL)
    if (strcmp(name, model->clubs[index].name) != 0) json_string(json, name);
  json_end(json);
  json_end(json);
}

/* word, or {value: word, sure: ...} */
static void word_value(struct json *json, const struct evidence *evidence) {
  const char *word = joined(json, "word_of_", evidence->name);
  json_key_object(json, joined(json, "value_of_", evidence->name));
  json_key_list(json, "anyOf");
  schema_refer(json, word);
  map_start(json);
  json_key_object(json, "properties");
  json_key(json, "value");
  schema_refer(json, word);
  json_key(json, "shots");
  schema_refer(json, schema_shape_name(SHAPE_MANY));
  json_key(json, "sure");
  schema_refer(json, schema_shape_name(SHAPE_SHARE));
  json_end(json);
  json_key(json, "required");
  schema_literal(json, "['value']");
  json_key_bool(json, "additionalProperties", false);
  json_end(json);
  json_end(json);
  json_end(json);
}

/* word, or {is: word}, {one_of: [words]}, {known: yes} */
static void word_comparison(struct json *json, const struct evidence *evidence) {
  const char *word = joined(json, "word_of_", evidence->name);
  json_key_object(json, joined(json, "compare_", evidence->name));
  json_key_list(json, "anyOf");
  schema_refer(json, word);
  json_object(json);
  json_key_list(json, "allOf");
  schema_refer(json, keys_of(KEYS_CHOICE_COMPARISON)->name);
  json_object(json);
  json_key_object(json, "properties");
  json_key(json, "is");
  schema_refer(json, word);
  json_key_object(json, "one_of");
  json_key_count(json, "minItems", 1);
  json_key(json, "items");
  schema_refer(json, word);
  json_end(json);
  json_end(json);
  json_end(json);
  json_end(json);
  json_end(json);
  json_end(json);
  json_end(json);
}

void schema_evidence_words(struct json *json, const struct model *model) {
  json_key(json, "plain_value");
  schema_literal(
      json, "{'anyOf': [{'$ref': '#/definitions/text_line'}, {'$ref': '#/definitions/value'}]}");
  for (size_t i = 0; i < model->n_evidence; i++) {
    const struct evidence *evidence = &model->evidence[i];
    if (!has_words(evidence)) continue;
    json_key(json, joined(json, "word_of_", evidence->name));
    word_enum(json, model, evidence);
    word_value(json, evidence);
    word_comparison(json, evidence);
  }
}

/* ---- the table ---- */

#define NAME_PATTERN(more) "{'type': 'string', 'pattern': '^[a-z0-9_][a-z0-9_" more "]*$'}"
#define TEXT "{'$ref': '#/definitions/text_line'}"
#define LIST(of) "{'type': 'array', 'items': " of "}"
#define TWO(of) "{'type': 'array', 'items': " of ", 'minItems': 2, 'maxItems': 2}"
#define MAP(of) "{'type': 'object', 'additionalProperties': " of "}"
#define INTEGER(low, high) "{'type': 'integer', 'minimum': " low ", 'maximum': " high "}"

/* A constant definition, or a function that writes one; neither: a set of keys has that name. */
static const struct {
  const char *name, *literal;
  void (*write)(struct json *json, const struct model *model);
} shapes[KEY_SHAPES] = {
    [SHAPE_NAME] = {"name", NAME_PATTERN(""), NULL},
    [SHAPE_HYPHEN_NAME] = {"hyphen_name", NAME_PATTERN("-"), NULL},
    [SHAPE_VERSION] = {"version", NULL, version},
    [SHAPE_TEXT] = {"text_line", "{'type': ['string', 'number', 'boolean'], 'minLength': 1}", NULL},
    [SHAPE_NUMBER] = {"plain_number", "{'type': 'number'}", NULL},
    [SHAPE_NOT_NEGATIVE] = {"not_negative", "{'type': 'number', 'minimum': 0}", NULL},
    [SHAPE_DECIMALS] = {"decimals", INTEGER("0", "6"), NULL},
    [SHAPE_SHARE] = {"share", "{'type': 'number', 'exclusiveMinimum': 0, 'maximum': 1}", NULL},
    [SHAPE_FACTOR] = {"factor", "{'type': 'number', 'exclusiveMinimum': 0, 'maximum': 3}", NULL},
    [SHAPE_COUNT] = {"count", INTEGER("1", "200"), NULL},
    [SHAPE_MANY] = {"shot_count", INTEGER("1", "10000"), NULL},
    [SHAPE_QUANTITY] = {"quantity", "{'type': ['number', 'string'], 'pattern': '^ *[-+]?[.0-9]'}",
                        NULL},
    [SHAPE_UNIT] = {"unit", NULL, unit},
    [SHAPE_SOURCE] = {"source_name", NULL, source},
    [SHAPE_MEANS] = {"column_means", NULL, means},
    [SHAPE_BELIEVED] =
        {"certainty",
         "{'anyOf': [{'const': 'yes'}, {'type': 'number', 'minimum': 0.2, 'maximum': 0.95}]}",
         NULL},
    [SHAPE_EXPECTED_CAUSE] = {"expected_cause", NULL, expected_cause},
    [SHAPE_EXPECTED_DRILL] = {"expected_drill", NULL, expected_drill},
    [SHAPE_YES_NO_EVIDENCE] = {"yes_no_evidence", NULL, yes_no_evidence},
    [SHAPE_RANGE] = {"range", TWO("{'type': 'number'}"), NULL},
    [SHAPE_INTERVAL] = {"interval", TWO("{'$ref': '#/definitions/quantity'}"), NULL},
    [SHAPE_PAIR] = {"pair", TWO(TEXT), NULL},
    [SHAPE_TEXTS] = {"texts", LIST(TEXT), NULL},
    [SHAPE_TEXT_OR_TEXTS] = {"text_or_texts", "{'anyOf': [" TEXT ", " LIST(TEXT) "]}", NULL},
    [SHAPE_CAUTIONS] = {"cautions", "{'type': 'array', 'minItems': 1, 'items': " TEXT "}", NULL},
    [SHAPE_TEXT_MAP] = {"text_map", MAP(TEXT), NULL},
    [SHAPE_CHOICES] =
        {"choices",
         "{'type': 'object', 'minProperties': 1, 'propertyNames': {'pattern': '^[a-z0-9_]+$'},"
         " 'additionalProperties': " TEXT "}",
         NULL},
    [SHAPE_FORMULA] = {"formulas",
                       "{'anyOf': [" TEXT ", {'$ref': '#/definitions/formula'},"
                       " {'type': 'array', 'minItems': 1, 'items':"
                       " {'anyOf': [" TEXT ", {'$ref': '#/definitions/formula'}]}}]}",
                       NULL},
    [SHAPE_FORMULA_TEXTS] = {"formula_texts", "{'anyOf': [" TEXT ", " LIST(TEXT) "]}", NULL},
    [SHAPE_CONDITION] = {"condition", NULL, condition},
    [SHAPE_THEN] = {"then", NULL, then},
    [SHAPE_DRILLS] = {"drills", NULL, drill_list},
    [SHAPE_FINDINGS_CAUSES] = {"findings_causes", NULL, findings_causes},
    [SHAPE_CHANGES] = {"changes", NULL, changes},
    [SHAPE_OBJECTS] = {"objects", NULL, objects},
    [SHAPE_WORKS] = {"works", NULL, NULL},
    [SHAPE_DROP] = {"drop", NULL, NULL},
    [SHAPE_VALUES] = {"values", NULL, values},
    [SHAPE_EXPECT] = {"expect", NULL, NULL},
    [SHAPE_ACCEPT] = {"accept", NULL, accept},
    [SHAPE_SORTING] = {"sorting", NULL, NULL},
    [SHAPE_FLIGHTS] = {"flights", NULL, NULL},
    [SHAPE_ELLIPSES] = {"ellipses", NULL, ellipses},
    [SHAPE_SCATTER] = {"scatter", NULL, scatter},
    [SHAPE_MEANINGS] = {"meanings", NULL, meanings},
    [SHAPE_BOTH] = {"both", NULL, both},
    [SHAPE_PART] = {"part", "{'anyOf': [" TEXT ", " MAP(TEXT) "]}", NULL},
};

const char *schema_shape_name(enum key_shape shape) {
  return shapes[shape].name;
}

void schema_shape(struct json *json, const struct model *model, enum key_shape shape) {
  if (shapes[shape].literal) schema_literal(json, shapes[shape].literal);
  else if (shapes[shape].write) shapes[shape].write(json, model);
}
