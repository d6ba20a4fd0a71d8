/* Writes JSON into a text, one value after the other.
 * Keeps track of commas and nesting; decides nothing about what is written. Output is ASCII:
 * everything else is escaped, bytes that are not UTF-8 become U+FFFD. Numbers are the shortest that
 * read back the same; what JSON cannot hold (nan, inf) becomes null. The writer borrows the text;
 * one thread at a time. Calls must pair up: each object and list has its json_end. */
#ifndef WM_RENDER_JSON_H
#define WM_RENDER_JSON_H

#include <stdbool.h>
#include <stdint.h>

#include "base/text.h"

#define JSON_DEPTH_MAX 32
#define JSON_SCHEMA_VERSION 1

struct json {
  struct text *out;
  bool indented; /* a line a value, two spaces a level; else all on one line */
  bool after_key;
  const char *schema; /* NULL: no head */
  uint64_t digest;
  unsigned depth; /* open objects and lists */
  bool is_list[JSON_DEPTH_MAX];
  bool has_value[JSON_DEPTH_MAX];
};

void json_start(struct json *json, struct text *out, bool indented);

/* The outermost object will begin with the name of its schema, its version and the digest of the
 * knowledge. Before the first value. */
void json_head(struct json *json, const char *schema, uint64_t digest);

void json_object(struct json *json);
void json_list(struct json *json);
/* Closes the innermost object or list; after the outermost an end of line. */
void json_end(struct json *json);

/* The key of the next value; only inside an object. */
void json_key(struct json *json, const char *key);

/* NULL writes null. */
void json_string(struct json *json, const char *string);
void json_bytes(struct json *json, const char *bytes, size_t n);
void json_number(struct json *json, double x);
void json_count(struct json *json, size_t n);
void json_bool(struct json *json, bool value);
void json_null(struct json *json);
/* A whole value that is JSON already, as it stands. NULL: no memory, which spoils the text. */
void json_constant(struct json *json, const char *value);
/* Sixteen hexadecimal digits as a string: a digest. */
void json_digest(struct json *json, uint64_t digest);

/* key and value in one call. */
void json_key_string(struct json *json, const char *key, const char *string);
void json_key_number(struct json *json, const char *key, double x);
void json_key_count(struct json *json, const char *key, size_t n);
void json_key_bool(struct json *json, const char *key, bool value);
void json_key_object(struct json *json, const char *key);
void json_key_list(struct json *json, const char *key);

#endif
