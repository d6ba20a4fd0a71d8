#include <math.h>
#include <string.h>

#include "render/json.h"
#include "support/cases.h"

static void check(void (*write)(struct json *json), bool indented, const char *expected) {
  struct arena *arena = arena_new(NULL);
  struct text text;
  struct json json;
  text_init(&text, arena);
  json_start(&json, &text, indented);
  write(&json);
  assert_string_equal(text_done(&text), expected);
  arena_free(arena);
}

static void write_nested(struct json *json) {
  json_object(json);
  json_key_list(json, "a");
  json_number(json, 1);
  json_object(json);
  json_end(json);
  json_list(json);
  json_end(json);
  json_end(json);
  json_key_string(json, "b", NULL);
  json_key_bool(json, "c", true);
  json_key_count(json, "d", 12);
  json_end(json);
}

static void json__separates_and_nests(void **state) {
  (void)state;
  check(write_nested, false, "{\"a\":[1,{},[]],\"b\":null,\"c\":true,\"d\":12}\n");
  check(
      write_nested, true,
      "{\n  \"a\": [\n    1,\n    {},\n    []\n  ],\n  \"b\": null,\n  \"c\": true,\n  \"d\": 12\n}\n");
}

static void write_numbers(struct json *json) {
  json_list(json);
  json_number(json, 0.1);
  json_number(json, -0.0);
  json_number(json, 1e300);
  json_number(json, 5e-324);
  json_number(json, 0.1 + 0.2);
  json_number(json, NAN);
  json_number(json, INFINITY);
  json_end(json);
}

static void json_number__is_the_shortest_that_reads_back(void **state) {
  (void)state;
  check(write_numbers, false, "[0.1,0,1e+300,5e-324,0.30000000000000004,null,null]\n");
}

/* Quotes, controls, DEL, two, three and four bytes of UTF-8; then a lone continuation, an overlong
 * form, a surrogate and a cut sequence, each byte of which becomes U+FFFD. */
static void write_strings(struct json *json) {
  json_list(json);
  json_string(json, "\"\\/\b\f\n\r\t\x01\x7f");
  json_string(json, "\xC3\xA9\xE2\x82\xAC\xF0\x9F\x8F\x8C");
  json_bytes(json, "a\0b", 3);
  json_string(json, "\x80");
  json_string(json, "\xC0\xAF");
  json_string(json, "\xED\xA0\x80");
  json_string(json, "\xE2\x82");
  json_end(json);
}

static void json_string__escapes_all_but_plain_ascii(void **state) {
  (void)state;
  check(
      write_strings, false,
      "[\"\\\"\\\\/\\b\\f\\n\\r\\t\\u0001\\u007f\",\"\\u00e9\\u20ac\\ud83c\\udfcc\",\"a\\u0000b\",\"\\ufffd\","
      "\"\\ufffd\\ufffd\",\"\\ufffd\\ufffd\\ufffd\",\"\\ufffd\\ufffd\"]\n");
}

static void write_digest(struct json *json) {
  json_digest(json, UINT64_C(0x00ab00000000cdef));
}

static void json_digest__keeps_leading_zeros(void **state) {
  (void)state;
  check(write_digest, false, "\"00ab00000000cdef\"");
}

static void json_head__opens_the_outermost_object_only(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct text text;
  struct json json;
  text_init(&text, arena);
  json_start(&json, &text, false);
  json_head(&json, "whymiss-test", 10);
  json_object(&json);
  json_key_object(&json, "inner");
  json_end(&json);
  json_end(&json);
  assert_string_equal(text_done(&text), "{\"schema\":\"whymiss-test\",\"schema_version\":1,"
                                        "\"kb_digest\":\"000000000000000a\",\"inner\":{}}\n");
  arena_free(arena);
}

static void json__unpaired_or_too_deep_spoils_the_text(void **state) {
  (void)state;
  struct arena *arena = arena_new(NULL);
  struct text text;
  struct json json;
  text_init(&text, arena);
  json_start(&json, &text, false);
  json_end(&json);
  assert_null(text_done(&text));
  text_init(&text, arena);
  json_start(&json, &text, false);
  for (int i = 0; i < JSON_DEPTH_MAX; i++) json_list(&json);
  assert_non_null(text_done(&text));
  json_list(&json);
  assert_null(text_done(&text));
  arena_free(arena);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(json__separates_and_nests),
      cmocka_unit_test(json_number__is_the_shortest_that_reads_back),
      cmocka_unit_test(json_string__escapes_all_but_plain_ascii),
      cmocka_unit_test(json_digest__keeps_leading_zeros),
      cmocka_unit_test(json_head__opens_the_outermost_object_only),
      cmocka_unit_test(json__unpaired_or_too_deep_spoils_the_text),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
