/* Entries and mappings from the tables of keys; what is not a mapping with fixed keys is a shape.
 */
#include "render/schema.h"

#include <string.h>

#include "model/keys.h"

static void words(struct json *json, enum word_list list) {
  const struct words *allowed = words_of(list);
  json_key_list(json, "enum");
  for (size_t i = 0; i < allowed->n; i++) json_string(json, allowed->at[i]);
  json_end(json);
}

static void property(struct json *json, const struct keys *set, const struct key *key) {
  json_key_object(json, key->name);
  json_key_string(json, "description", key->about);
  if (set->kind && strcmp(key->name, "kind") == 0) {
    json_key_string(json, "const", set->kind);
  } else if (key->shape == SHAPE_WORD) {
    words(json, key->words);
  } else {
    struct text target;
    text_init(&target, json->out->arena);
    text_format(&target, "#/definitions/%s", schema_shape_name(key->shape));
    json_key_string(json, "$ref", text_done(&target));
  }
  json_end(json);
}

void schema_properties(struct json *json, enum key_set set) {
  const struct keys *keys = keys_of(set);
  for (size_t i = 0; i < keys->n; i++) property(json, keys, &keys->at[i]);
}

static void required(struct json *json, const struct keys *set) {
  json_key_list(json, "required");
  for (size_t i = 0; i < set->n; i++)
    if (set->at[i].required) json_string(json, set->at[i].name);
  json_end(json);
}

/* "ask effort|formula": one object a part, which requires the keys of the part. */
static void any_of(struct json *json, const char *parts) {
  json_key_list(json, "anyOf");
  while (*parts) {
    json_object(json);
    json_key_list(json, "required");
    for (size_t n; (n = strcspn(parts, " |")) > 0; parts += n) {
      json_bytes(json, parts, n);
      n += parts[n] == ' ';
    }
    json_end(json);
    json_end(json);
    parts += *parts == '|';
  }
  json_end(json);
}

/* A drill works by one comparison on an evidence beside its own keys, or by what is seen. */
static void works_rest(struct json *json, const struct model *model) {
  json_key(json, "additionalProperties");
  schema_literal(json, model ? "false" : "{'type': 'object'}");
  json_key(json, "anyOf");
  schema_literal(json, "[{'required': ['seen'], 'maxProperties': 4},"
                       " {'not': {'required': ['seen']}, 'minProperties': 3, 'maxProperties': 3}]");
}

/* One comparison, or near with within. */
static void comparison_rest(struct json *json) {
  json_key(json, "anyOf");
  schema_literal(json, "[{'required': ['near', 'within'], 'maxProperties': 2},"
                       " {'minProperties': 1, 'maxProperties': 1,"
                       " 'not': {'anyOf': [{'required': ['near']}, {'required': ['within']}]}}]");
}

static void compare_works(struct json *json, const struct model *model) {
  for (size_t i = 0; model && i < model->n_evidence; i++) {
    json_key(json, model->evidence[i].name);
    struct text name;
    text_init(&name, json->out->arena);
    if (model->evidence[i].n_choices > 0) text_format(&name, "compare_%s", model->evidence[i].name);
    else
      text_add(&name,
               model->evidence[i].kind == EVIDENCE_TEXT ? "text_comparison" : "number_comparison");
    schema_refer(json, text_done(&name));
  }
}

static void definition(struct json *json, const struct model *model, enum key_set set) {
  const struct keys *keys = keys_of(set);
  json_key_object(json, keys->name);
  json_key_string(json, "type", "object");
  json_key_object(json, "properties");
  schema_properties(json, set);
  if (set == KEYS_WORKS) compare_works(json, model);
  json_end(json);
  required(json, keys);
  if (set == KEYS_WORKS) works_rest(json, model);
  else json_key_bool(json, "additionalProperties", false);
  if (set == KEYS_NUMBER_COMPARISON) comparison_rest(json);
  else if (set == KEYS_CHOICE_COMPARISON || set == KEYS_TEXT_COMPARISON) {
    json_key_count(json, "minProperties", 1);
    json_key_count(json, "maxProperties", 1);
  }
  if (keys->any_of) any_of(json, keys->any_of);
  json_end(json);
}

static void definitions(struct json *json, const struct model *model) {
  json_key_object(json, "definitions");
  for (int set = 0; set < KEY_SETS; set++) definition(json, model, (enum key_set)set);
  for (int shape = 0; shape < KEY_SHAPES; shape++) {
    if (shape == SHAPE_WORD || !schema_shape_name((enum key_shape)shape)) continue;
    bool is_set = false; /* a mapping with fixed keys is defined as a set */
    for (int set = 0; set < KEY_SETS && !is_set; set++)
      is_set =
          strcmp(keys_of((enum key_set)set)->name, schema_shape_name((enum key_shape)shape)) == 0;
    if (is_set) continue;
    json_key(json, schema_shape_name((enum key_shape)shape));
    schema_shape(json, model, (enum key_shape)shape);
  }
  if (model) schema_evidence_words(json, model);
  json_end(json);
}

void schema_write(struct text *out, const struct model *model) {
  struct json json;
  json_start(&json, out, true);
  json_object(&json);
  json_key_string(&json, "$schema", "http://json-schema.org/draft-07/schema#");
  json_key_string(&json, "$id", "urn:whymiss:schema:knowledge:1");
  json_key_string(&json, "title", "A file of knowledge: a list of entries");
  json_key_string(&json, "description",
                  "The first key of an entry says what it is. Units, ranges, formulas, patterns, "
                  "texts and what entries say of each other are checked by 'whymiss check'.");
  json_key_string(&json, "type", "array");
  json_key_object(&json, "items");
  json_key_list(&json, "oneOf");
  for (int set = 0; set < KEYS_ENTRIES; set++)
    schema_refer(&json, keys_of((enum key_set)set)->name);
  json_end(&json);
  json_end(&json);
  definitions(&json, model);
  json_end(&json);
}
