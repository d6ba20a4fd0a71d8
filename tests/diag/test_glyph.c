#include <string.h>

#include "diag/glyph.h"
#include "support/cases.h"

static void glyph_read__decodes_each_length(void **state) {
  (void)state;
  static const struct {
    const char *bytes;
    size_t length;
    uint32_t code;
  } rows[] = {
      {"a", 1, 'a'},
      {"\xC3\xA9", 2, 0xE9},
      {"\xE2\x82\xAC", 3, 0x20AC},
      {"\xF0\x9F\x8F\x8C", 4, 0x1F3CC},
      {"\xF4\x8F\xBF\xBF", 4, 0x10FFFF},
      {"\x80", 1, GLYPH_BAD},             /* a continuation alone */
      {"\xC0\x80", 1, GLYPH_BAD},         /* overlong NUL */
      {"\xC1\xBF", 1, GLYPH_BAD},         /* overlong */
      {"\xE0\x9F\xBF", 1, GLYPH_BAD},     /* overlong */
      {"\xF0\x8F\xBF\xBF", 1, GLYPH_BAD}, /* overlong */
      {"\xED\xA0\x80", 1, GLYPH_BAD},     /* surrogate */
      {"\xF4\x90\x80\x80", 1, GLYPH_BAD}, /* beyond the last */
      {"\xF5\x80\x80\x80", 1, GLYPH_BAD},
      {"\xFF", 1, GLYPH_BAD},
      {"\xE2\x82", 1, GLYPH_BAD}, /* cut off */
      {"\xE2\x82x", 1, GLYPH_BAD},
  };
  for (size_t i = 0; i < COUNT_OF(rows); i++) {
    uint32_t code = 0;
    assert_int_equal(glyph_read(rows[i].bytes, strlen(rows[i].bytes), &code), rows[i].length);
    assert_int_equal(code, rows[i].code);
  }
}

static void glyph_hidden__knows_what_hides_or_reorders(void **state) {
  (void)state;
  static const uint32_t hides[] = {0,      '\t',   '\n',   0x1B,   0x7F,   0x80,     0x85,
                                   0x9F,   0x61C,  0x200B, 0x200E, 0x200F, 0x2028,   0x2029,
                                   0x202A, 0x202B, 0x202C, 0x202D, 0x202E, 0x2060,   0x2066,
                                   0x2067, 0x2068, 0x2069, 0xFEFF, 0xFFFE, GLYPH_BAD};
  static const uint32_t shows[] = {' ',    '~',    0xA0,   0xE9,   0x61B,  0x61D,  0x200D,
                                   0x2010, 0x2027, 0x202F, 0x2065, 0x206A, 0x20AC, 0x1F3CC};
  for (size_t i = 0; i < COUNT_OF(hides); i++) assert_true(glyph_hidden(hides[i]));
  for (size_t i = 0; i < COUNT_OF(shows); i++) assert_false(glyph_hidden(shows[i]));
}

static void glyph_width__counts_columns(void **state) {
  (void)state;
  assert_int_equal(glyph_width('a'), 1);
  assert_int_equal(glyph_width(0xE9), 1);
  assert_int_equal(glyph_width(0x301), 0);
  assert_int_equal(glyph_width(0x7403), 2);
  assert_int_equal(glyph_width(0xFF21), 2);
  assert_int_equal(glyph_width(0x1F3CC), 2);
}

int main(void) {
  const struct CMUnitTest cases[] = {
      cmocka_unit_test(glyph_read__decodes_each_length),
      cmocka_unit_test(glyph_hidden__knows_what_hides_or_reorders),
      cmocka_unit_test(glyph_width__counts_columns),
  };
  return cmocka_run_group_tests(cases, NULL, NULL);
}
