/* Cutting texts into parts: words, sides, values. A text never holds a bare side word, because it
 * is mirrored for left-handed players. */
#include <string.h>

#include "model/reader.h"

struct cutter {
  struct reader *reader;
  const struct node *node;
  ARRAY(struct wording_part) parts;
};

static bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || ((unsigned char)c & 0x80);
}

static bool equal_caseless(const char *bytes, size_t n, const char *word) {
  if (n != strlen(word)) return false;
  for (size_t i = 0; i < n; i++)
    if ((bytes[i] | 0x20) != word[i]) return false;
  return true;
}

static struct span place(const struct cutter *cutter, size_t start, size_t n) {
  return reader_place(cutter->node->at, cutter->node->text, start, n);
}

static void check_sides(struct cutter *cutter, const char *bytes, size_t n) {
  size_t offset = (size_t)(bytes - cutter->node->text);
  for (size_t i = 0; i < n;) {
    size_t end = i;
    while (end < n && is_letter(bytes[end])) end++;
    if (equal_caseless(bytes + i, end - i, "left"))
      DIAG(cutter->reader->diags, TEXT_SIDE, place(cutter, offset + i, 4), "left");
    else if (equal_caseless(bytes + i, end - i, "right"))
      DIAG(cutter->reader->diags, TEXT_SIDE, place(cutter, offset + i, 5), "right");
    i = end > i ? end : i + 1;
  }
}

static void check_end(struct cutter *cutter, const char *bytes, size_t n) {
  const char *end = memchr(bytes, '}', n);
  if (end)
    DIAG(cutter->reader->diags, TEXT_BRACE_END,
         place(cutter, (size_t)(end - cutter->node->text), 1), NULL);
}

const char *reader_title(struct reader *reader, const struct entry *entry) {
  const struct node *node = reader_key(reader, entry, "title", true);
  const char *title = reader_string(reader, node);
  if (title == NULL) return entry->name;
  struct cutter cutter = {.reader = reader, .node = node};
  for (size_t i = 0, end; title[i] != '\0'; i = end > i ? end : i + 1) {
    for (end = i; is_letter(title[end]);) end++;
    bool side =
        equal_caseless(title + i, end - i, "left") || equal_caseless(title + i, end - i, "right");
    bool brace = title[i] == '{' || title[i] == '}';
    if (title[i] == '{') end = i + strcspn(title + i, "}") + (strchr(title + i, '}') != NULL);
    size_t n = brace && end == i ? 1 : end - i;
    const char *word = side || brace ? arena_copy(reader->arena, title + i, n) : NULL;
    if (word)
      DIAG(reader->diags, TITLE_SIDE, place(&cutter, i, n), word, entry_kind_phrase(entry->kind));
  }
  return title;
}

static void add_text(struct cutter *cutter, const char *bytes, size_t n) {
  if (n == 0) return;
  check_sides(cutter, bytes, n);
  check_end(cutter, bytes, n);
  struct wording_part *part = array_push(cutter->reader->arena, &cutter->parts);
  if (part == NULL) return;
  part->kind = WORDING_TEXT;
  part->evidence = NO_INDEX;
  part->text = arena_copy(cutter->reader->arena, bytes, n);
}

/* In braces stand the sides and evidence. */
static void nearest_braced(struct reader *reader, struct diag *diag, const char *word) {
  const struct model *model = reader->model;
  const char **names =
      diag ? arena_new_array(reader->arena, const char *, model->n_evidence + 2) : NULL;
  if (names == NULL) return;
  names[0] = "left";
  names[1] = "right";
  for (size_t i = 0; i < model->n_evidence; i++) names[i + 2] = model->evidence[i].name;
  diag_nearest(reader->diags, diag, word, names, model->n_evidence + 2);
}

static void add_braced(struct cutter *cutter, const char *name, size_t n) {
  struct reader *reader = cutter->reader;
  struct wording_part *part = array_push(reader->arena, &cutter->parts);
  const char *copy = arena_copy(reader->arena, name, n);
  if (part == NULL || copy == NULL) return;
  part->text = copy;
  part->evidence = NO_INDEX;
  part->kind = WORDING_TEXT;
  if (strcmp(copy, "left") == 0) {
    part->kind = WORDING_LEFT;
  } else if (strcmp(copy, "right") == 0) {
    part->kind = WORDING_RIGHT;
  } else {
    part->evidence = model_find_evidence(reader->model, copy);
    part->kind = WORDING_VALUE;
    if (part->evidence != NO_INDEX) return;
    struct diag *diag =
        DIAG(reader->diags, UNKNOWN_NAME, place(cutter, (size_t)(name - cutter->node->text), n),
             "evidence", copy);
    nearest_braced(reader, diag, copy);
    part->kind = WORDING_TEXT;
  }
}

struct wording reader_wording(struct reader *reader, const struct node *node) {
  struct cutter cutter = {.reader = reader, .node = node};
  const char *text = reader_string(reader, node);
  if (text == NULL) return (struct wording){NULL, 0};
  const char *rest = text, *open;
  while ((open = strchr(rest, '{')) != NULL) {
    const char *close = strchr(open, '}');
    if (close == NULL) {
      DIAG(reader->diags, TEXT_BRACE, place(&cutter, (size_t)(open - text), 1), NULL);
      break;
    }
    add_text(&cutter, rest, (size_t)(open - rest));
    add_braced(&cutter, open + 1, (size_t)(close - open - 1));
    rest = close + 1;
  }
  add_text(&cutter, rest, strlen(rest));
  return (struct wording){cutter.parts.at, cutter.parts.n};
}

struct wording reader_wording_key(struct reader *reader, const struct entry *entry, const char *key,
                                  bool required) {
  const struct node *node = reader_key(reader, entry, key, required);
  return node ? reader_wording(reader, node) : (struct wording){NULL, 0};
}
