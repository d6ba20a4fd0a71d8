/* Numbers in and out without the locale: the C library is given, and asked for, digits only; the
 * point and the exponent are placed here. */
#include <ctype.h>
#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "base/text.h"

#define DIGITS_MAX 17  /* enough for any double to read back */
#define DIGITS_SURE 15 /* a decimal of so many digits survives the way through a double */
#define POINT_FIRST -5 /* decimal exponents outside these are printed with an e */
#define POINT_LAST 15
#define READ_DIGITS 800 /* a halfway case is decided within 767 digits */
#define EXPONENT_CAP 100000

struct decimal {
  char digits[DIGITS_MAX + 1]; /* d1 d2 d3 ...: d1.d2d3... x 10^exponent */
  int n;
  int exponent;
  bool negative;
};

/* x rounded to n digits; returns whether they read back to x. */
static bool decimal_of(struct decimal *out, double x, int n) {
  char printed[64];
  snprintf(printed, sizeof printed, "%.*e", n - 1, x);
  const char *e = strchr(printed, 'e');
  out->n = 0;
  out->negative = printed[0] == '-';
  for (const char *c = printed; c < e; c++)
    if (isdigit((unsigned char)*c) && out->n < DIGITS_MAX) out->digits[out->n++] = *c;
  while (out->n > 1 && out->digits[out->n - 1] == '0') out->n--;
  out->digits[out->n] = '\0';
  out->exponent = (int)strtol(e + 1, NULL, 10);
  return strtod(printed, NULL) == x;
}

static void shortest(struct decimal *out, double x) {
  /* Below DBL_MIN there are fewer digits in a double, so fewer may do. */
  int first = fabs(x) < DBL_MIN ? 1 : DIGITS_SURE;
  for (int n = first; n < DIGITS_MAX; n++)
    if (decimal_of(out, x, n)) return;
  decimal_of(out, x, DIGITS_MAX);
}

static char *put(char *out, const char *bytes, int n) {
  memcpy(out, bytes, (size_t)n);
  return out + n;
}

static char *put_zeros(char *out, int n) {
  memset(out, '0', (size_t)n);
  return out + n;
}

static char *put_with_point(char *out, const struct decimal *x) {
  if (x->exponent < 0) {
    out = put(out, "0.", 2);
    out = put_zeros(out, -x->exponent - 1);
    return put(out, x->digits, x->n);
  }
  int whole = x->exponent + 1;
  if (x->n <= whole) return put_zeros(put(out, x->digits, x->n), whole - x->n);
  out = put(out, x->digits, whole);
  out = put(out, ".", 1);
  return put(out, x->digits + whole, x->n - whole);
}

static char *put_with_exponent(char *out, const struct decimal *x) {
  out = put(out, x->digits, 1);
  if (x->n > 1) out = put(put(out, ".", 1), x->digits + 1, x->n - 1);
  return out + snprintf(out, 8, "e%+03d", x->exponent);
}

static const char *not_finite(double x) {
  if (isnan(x)) return "nan";
  return x > 0 ? "inf" : "-inf";
}

size_t number_print(char out[NUMBER_ROOM], double x) {
  if (!isfinite(x)) return (size_t)snprintf(out, NUMBER_ROOM, "%s", not_finite(x));
  struct decimal decimal;
  shortest(&decimal, x);
  char *end = out;
  if (decimal.negative && x != 0) *end++ = '-';
  bool plain = decimal.exponent >= POINT_FIRST && decimal.exponent <= POINT_LAST;
  end = plain ? put_with_point(end, &decimal) : put_with_exponent(end, &decimal);
  *end = '\0';
  return (size_t)(end - out);
}

void text_number(struct text *text, double x) {
  char printed[NUMBER_ROOM];
  text_add_bytes(text, printed, number_print(printed, x));
}

void text_fixed(struct text *text, double x, int decimals) {
  if (!isfinite(x)) {
    text_add(text, not_finite(x));
    return;
  }
  char printed[DBL_MAX_10_EXP + 32];
  decimals = decimals < 0 ? 0 : decimals > 9 ? 9 : decimals;
  size_t n = (size_t)snprintf(printed, sizeof printed, "%.*f", decimals, x);
  const char *start = printed + (printed[0] == '-');
  if (printed[0] == '-' && strpbrk(printed, "123456789") != NULL) text_add_char(text, '-');
  size_t whole = strspn(start, "0123456789");
  text_add_bytes(text, start, whole);
  if (decimals == 0) return;
  text_add_char(text, '.');
  text_add_bytes(text, printed + n - decimals, (size_t)decimals);
}

/* The digits of a number as an integer, and the power of ten that is missing. */
struct mantissa {
  char digits[READ_DIGITS + 32]; /* room for an exponent behind them */
  size_t n;
  long exponent;
  bool any; /* a digit was read, even a leading zero */
};

static void mantissa_digit(struct mantissa *m, char digit, bool after_point) {
  m->any = true;
  bool leading_zero = m->n == 0 && digit == '0';
  if (!leading_zero && m->n < READ_DIGITS) m->digits[m->n++] = digit;
  else if (!leading_zero) {
    /* A digit past the last kept one matters only by not being zero. */
    if (digit != '0') m->digits[READ_DIGITS - 1] = '1';
    m->exponent++;
  }
  if (after_point) m->exponent--;
}

static size_t read_mantissa(struct mantissa *m, const char *bytes, size_t n) {
  size_t i = 0;
  bool after_point = false;
  for (; i < n; i++) {
    if (bytes[i] == '.' && !after_point) after_point = true;
    else if (bytes[i] >= '0' && bytes[i] <= '9') mantissa_digit(m, bytes[i], after_point);
    else break;
  }
  /* "5." is a number and the end of a sentence; the point is left to the sentence. */
  if (i != 0 && bytes[i - 1] == '.') i--;
  return m->any ? i : 0;
}

/* Bytes of a whole exponent at the front, or 0. */
static size_t read_exponent(const char *bytes, size_t n, long *exponent) {
  size_t i = 0;
  if (n == 0 || (bytes[0] != 'e' && bytes[0] != 'E')) return 0;
  i++;
  bool negative = i < n && bytes[i] == '-';
  if (i < n && (bytes[i] == '-' || bytes[i] == '+')) i++;
  size_t first = i;
  long value = 0;
  for (; i < n && bytes[i] >= '0' && bytes[i] <= '9'; i++)
    if (value < EXPONENT_CAP) value = value * 10 + (bytes[i] - '0');
  if (i == first) return 0;
  *exponent = negative ? -value : value;
  return i;
}

size_t number_read(const char *bytes, size_t n, double *value) {
  struct mantissa m;
  m.n = 0;
  m.exponent = 0;
  m.any = false;
  bool negative = n != 0 && bytes[0] == '-';
  size_t used = n != 0 && (bytes[0] == '-' || bytes[0] == '+');
  size_t digits = read_mantissa(&m, bytes + used, n - used);
  if (digits == 0) return 0;
  used += digits;
  long exponent = 0;
  used += read_exponent(bytes + used, n - used, &exponent);
  if (m.n == 0) m.digits[m.n++] = '0';
  snprintf(m.digits + m.n, sizeof m.digits - m.n, "e%ld", m.exponent + exponent);
  double magnitude = strtod(m.digits, NULL);
  *value = negative ? -magnitude : magnitude;
  return used;
}
