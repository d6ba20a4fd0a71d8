#include "diag/glyph.h"

struct range {
  uint32_t first, last;
};

static const struct range hidden[] = {
    {0x00, 0x1F},     {0x7F, 0x9F},     {0x61C, 0x61C},   {0x200B, 0x200B},
    {0x200E, 0x200F}, {0x2028, 0x202E}, {0x2060, 0x2060}, {0x2066, 0x2069},
    {0xFDD0, 0xFDEF}, {0xFEFF, 0xFEFF}, {0xFFFE, 0xFFFF},
};

static const struct range combining[] = {
    {0x300, 0x36F},   {0x483, 0x489},   {0x591, 0x5BD},   {0x64B, 0x65F},   {0x1AB0, 0x1AFF},
    {0x1DC0, 0x1DFF}, {0x200C, 0x200D}, {0x20D0, 0x20FF}, {0xFE00, 0xFE0F}, {0xFE20, 0xFE2F},
};

static const struct range wide[] = {
    {0x1100, 0x115F},   {0x2E80, 0x303E},   {0x3041, 0xA4CF},   {0xAC00, 0xD7A3},
    {0xF900, 0xFAFF},   {0xFE30, 0xFE6F},   {0xFF00, 0xFF60},   {0x1F300, 0x1F64F},
    {0x1F680, 0x1F6FF}, {0x1F900, 0x1F9FF}, {0x20000, 0x3FFFD},
};

static bool within(uint32_t code, const struct range *ranges, size_t n) {
  for (size_t i = 0; i < n; i++)
    if (code >= ranges[i].first && code <= ranges[i].last) return true;
  return false;
}

#define WITHIN(code, ranges) within((code), (ranges), sizeof(ranges) / sizeof(ranges)[0])

static bool is_continuation(char byte) {
  return ((unsigned char)byte & 0xC0) == 0x80;
}

size_t glyph_read(const char *bytes, size_t n, uint32_t *code) {
  static const uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  unsigned char lead = (unsigned char)bytes[0];
  *code = lead;
  if (lead < 0x80) return 1;
  size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
  *code = GLYPH_BAD;
  if (lead < 0xC2 || lead > 0xF4 || length > n) return 1;
  uint32_t value = lead & (0x7Fu >> length);
  for (size_t i = 1; i < length; i++) {
    if (!is_continuation(bytes[i])) return 1;
    value = value << 6 | ((unsigned char)bytes[i] & 0x3Fu);
  }
  bool surrogate = value >= 0xD800 && value <= 0xDFFF;
  if (value < least[length] || surrogate || value > 0x10FFFF) return 1;
  *code = value;
  return length;
}

bool glyph_hidden(uint32_t code) {
  if (code >= 0x20 && code < 0x7F) return false;
  return code > 0x10FFFF || WITHIN(code, hidden);
}

unsigned glyph_width(uint32_t code) {
  if (code < 0x300) return 1;
  if (WITHIN(code, combining)) return 0;
  return WITHIN(code, wide) ? 2 : 1;
}
