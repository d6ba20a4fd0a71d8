/* One character of untrusted text as a terminal shows it: how wide, and whether it must be shown as
 * an escape. Does not know the locale or the terminal; keeps no state, so any thread may call. */
#ifndef WM_DIAG_GLYPH_H
#define WM_DIAG_GLYPH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/* Code point of bytes that are no UTF-8. */
#define GLYPH_BAD UINT32_MAX

/* Decodes the character at the front of n >= 1 bytes: returns its length in bytes. Bytes that are
 * not UTF-8 (overlong, surrogate, cut off, beyond U+10FFFF) come one at a time with *code
 * GLYPH_BAD. */
size_t glyph_read(const char *bytes, size_t n, uint32_t *code);
/* A control, a bidirectional control, a line separator, a non-character, or GLYPH_BAD: hides or
 * reorders text. Line feed, carriage return and tab are controls too. */
bool glyph_hidden(uint32_t code);
/* Columns of a terminal: 0 for a combining mark, 2 for wide scripts, else 1. */
unsigned glyph_width(uint32_t code);

#endif
