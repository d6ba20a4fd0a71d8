/* Invariant: the compiled code lives wholly in the arena; run data comes from PCRE2's own default
 * memory, since an arena may not be used by two threads. */
#define PCRE2_CODE_UNIT_WIDTH 8
#include "input/pattern.h"

#include <pcre2.h>
#include <string.h>

#include "diag/glyph.h"

#define STEPS_MAX 100000 /* of one match; a fair pattern over a sentence needs some hundreds */
#define DEPTH_MAX 2000   /* of back-tracking */
#define HEAP_MAX_KIB 16384
#define LENGTH_MAX 4000    /* characters of a pattern, its parts put in */
#define PARENTHESES_MAX 50 /* nested */

struct pattern {
  const pcre2_code *code;
};

static void *take(PCRE2_SIZE size, void *arena) {
  return arena_take(arena, size);
}

static void keep(void *piece, void *arena) {
  (void)piece;
  (void)arena;
}

static size_t count_characters(const char *bytes, size_t n) {
  size_t count = 0;
  uint32_t code;
  for (size_t i = 0; i < n; count++) i += glyph_read(bytes + i, n - i, &code);
  return count;
}

/* The place of the character at byte `offset`, when the pattern stands in the source as it is:
 * plain, or in quotes without escapes; else the whole span. */
static struct span fault_span(struct span at, const char *bytes, size_t n, size_t offset) {
  size_t written = at.end_column - at.column;
  size_t characters = count_characters(bytes, n);
  size_t quote = written == characters + 2 ? 1 : 0;
  if (at.source == NULL || at.line != at.end_line || written != characters + 2 * quote) return at;
  return span_part(at, quote + count_characters(bytes, offset), 1);
}

static void report(struct diags *diags, struct span at, int error) {
  char message[256];
  if (error == PCRE2_ERROR_HEAP_FAILED) {
    DIAG(diags, NO_MEMORY, (struct span){0}, NULL);
    return;
  }
  pcre2_get_error_message(error, (PCRE2_UCHAR *)message, sizeof message);
  DIAG(diags, BAD_PATTERN, at, message);
}

static pcre2_compile_context *compile_context(struct arena *arena) {
  pcre2_general_context *general = pcre2_general_context_create(take, keep, arena);
  pcre2_compile_context *context = general != NULL ? pcre2_compile_context_create(general) : NULL;
  if (context == NULL) return NULL;
  pcre2_set_max_pattern_length(context, LENGTH_MAX);
  pcre2_set_parens_nest_limit(context, PARENTHESES_MAX);
  return context;
}

struct pattern *pattern_compile(struct arena *arena, const char *bytes, size_t n, struct span at,
                                struct diags *diags) {
  const uint32_t options =
      PCRE2_UTF | PCRE2_UCP | PCRE2_CASELESS | PCRE2_MATCH_INVALID_UTF | PCRE2_NEVER_BACKSLASH_C;
  int error = PCRE2_ERROR_HEAP_FAILED;
  PCRE2_SIZE offset = 0;
  struct pattern *pattern = arena_new_object(arena, struct pattern);
  pcre2_compile_context *context = pattern != NULL ? compile_context(arena) : NULL;
  if (context != NULL) {
    pattern->code = pcre2_compile((PCRE2_SPTR)bytes, n, options, &error, &offset, context);
    if (pattern->code != NULL) return pattern;
  }
  report(diags, fault_span(at, bytes, n, offset < n ? offset : n), error);
  return NULL;
}

void pattern_free(struct pattern *pattern) {
  (void)pattern; /* all of it is the arena's */
}

static enum pattern_answer answer_of(int result) {
  switch (result) {
  case PCRE2_ERROR_NOMATCH: return PATTERN_NO;
  case PCRE2_ERROR_NOMEMORY: return PATTERN_NO_MEMORY;
  default: return result >= 0 ? PATTERN_YES : PATTERN_LIMIT;
  }
}

static void copy_parts(pcre2_match_data *found, int groups, struct pattern_part *parts,
                       size_t room) {
  const PCRE2_SIZE *pairs = pcre2_get_ovector_pointer(found);
  for (size_t i = 0; i < room; i++) {
    bool took_part = i < (size_t)groups && pairs[2 * i] != PCRE2_UNSET;
    parts[i].start = took_part ? pairs[2 * i] : SIZE_MAX;
    parts[i].end = took_part ? pairs[2 * i + 1] : SIZE_MAX;
  }
}

enum pattern_answer pattern_match(const struct pattern *pattern, const char *subject, size_t n,
                                  size_t from, struct pattern_part *parts, size_t room) {
  if (from > n) return PATTERN_NO;
  size_t pairs = parts != NULL && room > 1 ? room : 1;
  pcre2_match_context *context = pcre2_match_context_create(NULL);
  pcre2_match_data *found = pcre2_match_data_create((uint32_t)pairs, NULL);
  int result = PCRE2_ERROR_NOMEMORY;
  if (context != NULL && found != NULL) {
    pcre2_set_match_limit(context, STEPS_MAX);
    pcre2_set_depth_limit(context, DEPTH_MAX);
    pcre2_set_heap_limit(context, HEAP_MAX_KIB);
    result = pcre2_match(pattern->code, (PCRE2_SPTR)subject, n, from, 0, found, context);
    /* 0 says that there were more groups than room. */
    if (result >= 0 && parts != NULL)
      copy_parts(found, result != 0 ? result : (int)pairs, parts, room);
  }
  pcre2_match_data_free(found);
  pcre2_match_context_free(context);
  return answer_of(result);
}

/* Entries of the name table: two bytes of number, then the name. Sorted by name, of equals by
 * number. */
size_t pattern_groups(const struct pattern *pattern, const char *name, size_t *numbers,
                      size_t room) {
  uint32_t n_names = 0, size = 0;
  PCRE2_SPTR entry = NULL;
  size_t n = 0;
  pcre2_pattern_info(pattern->code, PCRE2_INFO_NAMECOUNT, &n_names);
  pcre2_pattern_info(pattern->code, PCRE2_INFO_NAMEENTRYSIZE, &size);
  pcre2_pattern_info(pattern->code, PCRE2_INFO_NAMETABLE, &entry);
  for (uint32_t i = 0; i < n_names && n < room; i++, entry += size)
    if (strcmp((const char *)entry + 2, name) == 0) numbers[n++] = (size_t)entry[0] << 8 | entry[1];
  return n;
}

void pattern_version(char *out, size_t room) {
  char version[64] = "";
  pcre2_config(PCRE2_CONFIG_VERSION, version);
  if (room == 0) return;
  size_t n = strlen(version);
  if (n >= room) n = room - 1;
  memcpy(out, version, n);
  out[n] = '\0';
}
