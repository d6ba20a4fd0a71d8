/* Distances by the restricted Damerau-Levenshtein recurrence: insert, delete, replace, swap two
 * neighbours; and names cut short. */
#include <stdbool.h>
#include <string.h>

#include "diag/diag.h"

#define WORD_MAX 64
#define SHORT_MIN 3 /* bytes a shortened name has at least */

/* Case, and which dash joins two words, are slips of their own and cost nothing. */
static char folded(char c) {
  if (c >= 'A' && c <= 'Z') return (char)(c - 'A' + 'a');
  return c == '-' || c == ' ' ? '_' : c;
}

static unsigned min3(unsigned a, unsigned b, unsigned c) {
  unsigned least = a < b ? a : b;
  return least < c ? least : c;
}

static unsigned distance(const char *a, size_t n, const char *b, size_t m) {
  unsigned rows[3][WORD_MAX + 1];
  unsigned *before = rows[0], *above = rows[1], *row = rows[2];
  for (size_t j = 0; j <= m; j++) above[j] = (unsigned)j;
  for (size_t i = 1; i <= n; i++) {
    row[0] = (unsigned)i;
    for (size_t j = 1; j <= m; j++) {
      char x = folded(a[i - 1]), y = folded(b[j - 1]);
      row[j] = min3(above[j] + 1, row[j - 1] + 1, above[j - 1] + (x != y));
      bool swapped = i > 1 && j > 1 && x == folded(b[j - 2]) && folded(a[i - 2]) == y;
      if (swapped && before[j - 2] + 1 < row[j]) row[j] = before[j - 2] + 1;
    }
    unsigned *free_row = before;
    before = above;
    above = row;
    row = free_row;
  }
  return above[m];
}

/* Whether each part of the word, as "_" cuts it, begins the same part of the name. */
static bool shortens(const char *word, const char *name) {
  for (;;) {
    while (*word != '\0' && folded(*word) != '_' && folded(*word) == folded(*name)) word++, name++;
    if (*word == '\0') return true;
    if (folded(*word) != '_') return false;
    while (*name != '\0' && folded(*name) != '_') name++;
    if (*name == '\0') return false;
    word++;
    name++;
  }
}

/* NULL also when there are several. */
static const char *lengthened(const char *word, const char *const *names, size_t n) {
  const char *found = NULL;
  if (strlen(word) < SHORT_MIN) return NULL;
  for (size_t i = 0; i < n; i++) {
    if (strlen(names[i]) > WORD_MAX || !shortens(word, names[i])) continue;
    if (found != NULL && strcmp(found, names[i]) != 0) return NULL;
    found = names[i];
  }
  return found;
}

const char *nearest_name(const char *word, const char *const *names, size_t n) {
  size_t length = strlen(word);
  if (length == 0 || length > WORD_MAX) return NULL;
  unsigned limit = length >= 3 ? (unsigned)(length / 3) : 1;
  const char *nearest = NULL;
  for (size_t i = 0; i < n; i++) {
    size_t other = strlen(names[i]);
    size_t apart = other > length ? other - length : length - other;
    if (other > WORD_MAX || apart > limit) continue;
    unsigned d = distance(word, length, names[i], other);
    if (d > limit || d >= (length > other ? length : other)) continue;
    bool tie = nearest != NULL && d == limit;
    if (tie && strcmp(names[i], nearest) >= 0) continue;
    nearest = names[i];
    limit = d;
  }
  return nearest != NULL ? nearest : lengthened(word, names, n);
}
