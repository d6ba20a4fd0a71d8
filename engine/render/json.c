/* Invariant: has_value[depth - 1] says whether the innermost open object or list holds a value
 * already, so the comma is written before a value or key, never after. */
#include "render/json.h"

#include <math.h>
#include <string.h>

void json_start(struct json *json, struct text *out, bool indented) {
  memset(json, 0, sizeof *json);
  json->out = out;
  json->indented = indented;
}

static void add_line(struct json *json) {
  if (!json->indented) return;
  text_add_char(json->out, '\n');
  for (unsigned i = 0; i < json->depth; i++) text_add(json->out, "  ");
}

/* What stands between the last value and the next key or list element. */
static void add_separator(struct json *json) {
  if (json->depth == 0) return;
  bool *has_value = &json->has_value[json->depth - 1];
  if (*has_value) text_add_char(json->out, ',');
  *has_value = true;
  add_line(json);
}

static void begin_value(struct json *json) {
  if (!json->after_key) add_separator(json);
  json->after_key = false;
}

static void open_level(struct json *json, bool is_list) {
  begin_value(json);
  text_add_char(json->out, is_list ? '[' : '{');
  if (json->depth ==
      JSON_DEPTH_MAX) { /* a fault of the caller: spoil the text rather than write out of bounds */
    json->out->failed = true;
    return;
  }
  json->is_list[json->depth] = is_list;
  json->has_value[json->depth] = false;
  json->depth++;
}

static void add_head(struct json *json) {
  json_key_string(json, "schema", json->schema);
  json_key_count(json, "schema_version", JSON_SCHEMA_VERSION);
  json_key(json, "kb_digest");
  json_digest(json, json->digest);
}

void json_head(struct json *json, const char *schema, uint64_t digest) {
  json->schema = schema;
  json->digest = digest;
}

void json_object(struct json *json) {
  open_level(json, false);
  if (json->schema && json->depth == 1) add_head(json);
}

void json_list(struct json *json) {
  open_level(json, true);
}

void json_end(struct json *json) {
  if (json->depth == 0) {
    json->out->failed = true;
    return;
  }
  json->depth--;
  if (json->has_value[json->depth]) add_line(json);
  text_add_char(json->out, json->is_list[json->depth] ? ']' : '}');
  if (json->depth == 0) text_add_char(json->out, '\n');
}

/* Length of the UTF-8 sequence at the front of n bytes and its code point; 0 when it is not one. */
static size_t read_code_point(const unsigned char *bytes, size_t n, uint32_t *code) {
  static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  unsigned char lead = bytes[0];
  size_t length = lead < 0x80   ? 1
                  : lead < 0xC2 ? 0
                  : lead < 0xE0 ? 2
                  : lead < 0xF0 ? 3
                  : lead < 0xF5 ? 4
                                : 0;
  if (length == 0 || length > n) return 0;
  *code = length == 1 ? lead : lead & (0x7Fu >> length);
  for (size_t i = 1; i < length; i++) {
    if ((bytes[i] & 0xC0) != 0x80) return 0;
    *code = *code << 6 | (bytes[i] & 0x3Fu);
  }
  bool surrogate = *code >= 0xD800 && *code <= 0xDFFF;
  return *code < least[length] || *code > 0x10FFFF || surrogate ? 0 : length;
}

static void add_escaped(struct text *out, uint32_t code) {
  if (code > 0xFFFF) { /* two surrogates */
    code -= 0x10000;
    text_format(out, "\\u%04x\\u%04x", (unsigned)(0xD800 + (code >> 10)),
                (unsigned)(0xDC00 + (code & 0x3FF)));
    return;
  }
  text_format(out, "\\u%04x", (unsigned)code);
}

static void add_character(struct text *out, uint32_t code) {
  static const char plain[] = "\"\\\n\r\t\b\f", letter[] = "\"\\nrtbf";
  const char *found = code > 0 && code < 0x80 ? strchr(plain, (int)code) : NULL;
  if (found) {
    text_add_char(out, '\\');
    text_add_char(out, letter[found - plain]);
  } else if (code >= 0x20 && code < 0x7F) {
    text_add_char(out, (char)code);
  } else {
    add_escaped(out, code);
  }
}

static void add_quoted(struct text *out, const char *bytes, size_t n) {
  text_add_char(out, '"');
  for (size_t i = 0; i < n;) {
    uint32_t code = 0;
    size_t length = read_code_point((const unsigned char *)bytes + i, n - i, &code);
    add_character(out, length == 0 ? 0xFFFD : code);
    i += length == 0 ? 1 : length;
  }
  text_add_char(out, '"');
}

void json_key(struct json *json, const char *key) {
  add_separator(json);
  add_quoted(json->out, key, strlen(key));
  text_add(json->out, json->indented ? ": " : ":");
  json->after_key = true;
}

void json_bytes(struct json *json, const char *bytes, size_t n) {
  begin_value(json);
  add_quoted(json->out, bytes, n);
}

void json_string(struct json *json, const char *string) {
  if (string) json_bytes(json, string, strlen(string));
  else json_null(json);
}

static void add_bare(struct json *json, const char *word) {
  begin_value(json);
  text_add(json->out, word);
}

void json_number(struct json *json, double x) {
  if (!isfinite(x)) {
    json_null(json);
    return;
  }
  begin_value(json);
  text_number(json->out, x == 0 ? 0.0 : x); /* no "-0" */
}

void json_count(struct json *json, size_t n) {
  begin_value(json);
  text_format(json->out, "%zu", n);
}

void json_bool(struct json *json, bool value) {
  add_bare(json, value ? "true" : "false");
}

void json_null(struct json *json) {
  add_bare(json, "null");
}

void json_constant(struct json *json, const char *value) {
  if (value) add_bare(json, value);
  else json->out->failed = true;
}

void json_digest(struct json *json, uint64_t digest) {
  begin_value(json);
  text_format(json->out, "\"%08lx%08lx\"", (unsigned long)(digest >> 32),
              (unsigned long)(digest & 0xFFFFFFFFu));
}

void json_key_string(struct json *json, const char *key, const char *string) {
  json_key(json, key);
  json_string(json, string);
}

void json_key_number(struct json *json, const char *key, double x) {
  json_key(json, key);
  json_number(json, x);
}

void json_key_count(struct json *json, const char *key, size_t n) {
  json_key(json, key);
  json_count(json, n);
}

void json_key_bool(struct json *json, const char *key, bool value) {
  json_key(json, key);
  json_bool(json, value);
}

void json_key_object(struct json *json, const char *key) {
  json_key(json, key);
  json_object(json);
}

void json_key_list(struct json *json, const char *key) {
  json_key(json, key);
  json_list(json);
}
