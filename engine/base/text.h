/* A growing string in an arena, and the printing of numbers.
 * Failure to grow is remembered: build the whole text, then ask once with text_done. Numbers are
 * printed and read without regard to the locale. */
#ifndef WM_BASE_TEXT_H
#define WM_BASE_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

#include "base/arena.h"

struct text {
  struct arena *arena;
  char *at; /* always NUL-terminated once anything was added */
  size_t n; /* bytes, without the NUL */
  size_t room;
  bool failed;
};

void text_init(struct text *text, struct arena *arena);
void text_add(struct text *text, const char *string);
void text_add_bytes(struct text *text, const char *bytes, size_t n);
void text_add_char(struct text *text, char c);
/* printf's %s %d %zu %c and the like; never %f (the locale decides its point): see text_number. */
void text_format(struct text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* The shortest decimal that reads back to the same double; "nan", "inf", "-inf" otherwise. */
void text_number(struct text *text, double x);
/* Fixed decimals 0..9, never "-0.0". */
void text_fixed(struct text *text, double x, int decimals);
/* The finished string ("" when empty), or NULL when memory ran out on the way. */
const char *text_done(const struct text *text);

/* Room for any double printed by number_print, NUL included. */
#define NUMBER_ROOM 32
/* Writes the shortest round-trip form of x to out; returns its length. */
size_t number_print(char out[NUMBER_ROOM], double x);
/* Reads a decimal number (sign, digits, one point, exponent; no hex, inf, nan) from the front of n
 * bytes. Returns the count of bytes read, 0 when there is no number; the value may be infinite on
 * overflow. */
size_t number_read(const char *bytes, size_t n, double *value);

#endif
