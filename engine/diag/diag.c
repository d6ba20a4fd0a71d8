/* Invariant: once `cut` is set, the kept errors include the first DIAG_CAP of all added so far, and
 * `last` is the DIAG_CAP-th of those at the latest cut; whatever sorts behind it can never be
 * shown. */
#include "diag/diag.h"

#include <stdlib.h>
#include <string.h>

#define DIAG_CAP 50
#define KEEP_MAX (4 * DIAG_CAP) /* errors kept between two cuts */
#define WORD_MAX 600            /* bytes of one word that a message shows */

static const struct row {
  const char *word;
  enum diag_level level;
  const char *wording;
  const char *explanation;
} rows[] = {
#define DIAG_ROW(id, word, level, wording, explanation) {word, level, wording, explanation},
#include "diag/diag_table.h"
#undef DIAG_ROW
};

const char *diag_word(enum diag_code code) {
  return rows[code].word;
}

enum diag_level diag_level_of(enum diag_code code) {
  return rows[code].level;
}

const char *diag_wording(enum diag_code code) {
  return rows[code].wording;
}

const char *diag_explanation(enum diag_code code) {
  return rows[code].explanation;
}

/* The findings stand last in the table, from the first to the last of them. */
bool diag_is_finding(enum diag_code code) {
  return code >= DIAG_SHARED_READINGS && code < DIAG_ACCEPT_UNUSED;
}

void diags_init(struct diags *diags, struct arena *arena) {
  *diags = (struct diags){.arena = arena};
}

/* What was not read stands first, because the rest may follow from it; what was held back, last. */
static int rank(enum diag_code code) {
  bool unread = code < DIAG_NO_MEMORY || code == DIAG_NOT_ENTRIES || code == DIAG_UNKNOWN_ENTRY;
  return unread ? 0 : code != DIAG_HELD_BACK ? 1 : 2;
}

static int compare(const struct diag *a, const struct diag *b) {
  int order = rank(a->code) - rank(b->code);
  if (order == 0) order = span_compare(&a->at, &b->at);
  if (order == 0) order = (a->code > b->code) - (a->code < b->code);
  return order;
}

static int compare_stable(const void *a, const void *b) {
  const struct diag *x = a, *y = b;
  int order = compare(x, y);
  return order != 0 ? order : (x->order > y->order) - (x->order < y->order);
}

/* Sorts, and drops the errors past the cap. */
static void sort_and_cut(struct diags *diags) {
  size_t kept = 0, errors = 0;
  if (diags->list.n != 0)
    qsort(diags->list.at, diags->list.n, sizeof *diags->list.at, compare_stable);
  for (size_t i = 0; i < diags->list.n; i++) {
    const struct diag *diag = &diags->list.at[i];
    if (diag->level == DIAG_ERROR && ++errors > DIAG_CAP) continue;
    if (diag->level == DIAG_ERROR && errors == DIAG_CAP) diags->last = *diag;
    diags->list.at[kept] = *diag;
    diags->list.at[kept].order = kept;
    kept++;
  }
  diags->list.n = kept;
  if (errors > DIAG_CAP) diags->cut = true;
}

static size_t errors_kept(const struct diags *diags) {
  size_t n = 0;
  for (size_t i = 0; i < diags->list.n; i++) n += diags->list.at[i].level == DIAG_ERROR;
  return n;
}

static void add_word(struct text *out, const char *word) {
  size_t n = strlen(word);
  if (n <= WORD_MAX) {
    text_add_bytes(out, word, n);
    return;
  }
  n = WORD_MAX;
  while (n > 0 && ((unsigned char)word[n] & 0xC0) == 0x80) n--; /* not inside a character */
  text_add_bytes(out, word, n);
  text_add(out, "...");
}

/* The word that a placeholder at the front of the wording stands for, or NULL. */
static const char *placeholder(const char *wording, const char *const words[]) {
  if (wording[0] != '{' || wording[1] < '0' || wording[1] > '9' || wording[2] != '}') return NULL;
  for (int i = 0; i < wording[1] - '0'; i++)
    if (words[i] == NULL) return NULL;
  return words[wording[1] - '0'];
}

static const char *fill(struct arena *arena, const char *wording, const char *const words[]) {
  struct text message;
  text_init(&message, arena);
  while (*wording != '\0') {
    const char *word = placeholder(wording, words);
    if (word != NULL) add_word(&message, word);
    else text_add_char(&message, *wording);
    wording += word != NULL ? 3 : 1;
  }
  return text_done(&message);
}

static void count(struct diags *diags, enum diag_code code) {
  if (rows[code].level == DIAG_ERROR) diags->errors++;
  if (rows[code].level == DIAG_WARNING) diags->warnings++;
  if (code == DIAG_NO_MEMORY) diags->no_memory = true;
}

/* The name that the error says is missing, or NULL. */
static const char *missing_name(enum diag_code code, const char *const words[]) {
  if (code == DIAG_UNKNOWN_NAME || code == DIAG_REPLACES_NOTHING) return words[1];
  return code == DIAG_FORMULA_NAME ? words[0] : NULL;
}

static bool is_held_back(const struct diags *diags, enum diag_code code,
                         const char *const words[]) {
  if (!diags->lost && !diags->lost_all) return false;
  const char *name = missing_name(code, words);
  if (!name) return false;
  return diags->lost_all || names_find(diags->lost, name, strlen(name)) != NAMES_NONE;
}

struct diag *diag_add(struct diags *diags, enum diag_code code, struct span at,
                      const char *const words[]) {
  struct diag diag = {.code = code, .level = rows[code].level, .at = at};
  if (is_held_back(diags, code, words)) {
    diags->held++;
    return NULL;
  }
  count(diags, code);
  if (diag.level == DIAG_ERROR && diags->cut && compare(&diag, &diags->last) >= 0) return NULL;
  if (diag.level == DIAG_ERROR && diags->list.n >= KEEP_MAX && errors_kept(diags) >= KEEP_MAX)
    sort_and_cut(diags);
  diag.message = fill(diags->arena, rows[code].wording, words);
  struct diag *added = diag.message != NULL ? array_push(diags->arena, &diags->list) : NULL;
  if (added == NULL) {
    diags->no_memory = true;
    return NULL;
  }
  diag.order = diags->list.n;
  *added = diag;
  return added;
}

struct diag *diag_copy(struct diags *diags, const struct diag *diag) {
  const char *message = arena_copy_string(diags->arena, diag->message);
  struct diag *added = message != NULL ? array_push(diags->arena, &diags->list) : NULL;
  count(diags, diag->code);
  if (added == NULL) {
    diags->no_memory = true;
    return NULL;
  }
  *added = (struct diag){.code = diag->code,
                         .level = diag->level,
                         .at = diag->at,
                         .message = message,
                         .order = diags->list.n};
  if (diag->hint != NULL) diag_hint(diags, added, diag->hint);
  for (size_t i = 0; i < diag->notes.n; i++)
    diag_note(diags, added, diag->notes.at[i].at, diag->notes.at[i].text);
  return added;
}

void diag_note(struct diags *diags, struct diag *diag, struct span at, const char *text) {
  if (diag == NULL) return;
  const char *copy = arena_copy_string(diags->arena, text);
  struct diag_note *note = copy != NULL ? array_push(diags->arena, &diag->notes) : NULL;
  if (note != NULL) *note = (struct diag_note){copy, at};
  else diags->no_memory = true;
}

void diag_hint(struct diags *diags, struct diag *diag, const char *text) {
  if (diag == NULL) return;
  diag->hint = arena_copy_string(diags->arena, text);
  if (diag->hint == NULL) diags->no_memory = true;
}

void diag_nearest(struct diags *diags, struct diag *diag, const char *word,
                  const char *const *names, size_t n) {
  const char *nearest = diag != NULL ? nearest_name(word, names, n) : NULL;
  if (nearest == NULL) return;
  struct text hint;
  text_init(&hint, diags->arena);
  text_format(&hint, "did you mean '%s'?", nearest);
  diag->hint = text_done(&hint);
  if (diag->hint == NULL) diags->no_memory = true;
}

static void drop_summary(struct diags *diags) {
  size_t kept = 0;
  for (size_t i = 0; i < diags->list.n; i++)
    if (diags->list.at[i].code != DIAG_TOO_MANY) diags->list.at[kept++] = diags->list.at[i];
  diags->list.n = kept;
}

void diags_finish(struct diags *diags) {
  drop_summary(diags);
  sort_and_cut(diags);
  size_t kept = errors_kept(diags);
  /* Errors that no memory was left for are not "more errors": no_memory tells of them. */
  if (diags->errors <= kept || !diags->cut) return;
  struct text hidden;
  text_init(&hidden, diags->arena);
  text_format(&hidden, "%zu", diags->errors - kept);
  const char *words = text_done(&hidden);
  if (words != NULL) DIAG(diags, TOO_MANY, (struct span){0}, words);
  else diags->no_memory = true;
}
