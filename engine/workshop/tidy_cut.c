/* A file cut into tokens. The tree tells where scalars are, so nothing in a text is taken for a
 * mark; what is left between them is cut byte by byte. */
#include <string.h>

#include "workshop/tidy_parts.h"

struct cutter {
  struct arena *arena;
  const struct source *source;
  struct diags *diags;
  const char *bytes; /* without the byte order mark, which columns do not count */
  size_t n;
  size_t at, line_start; /* next byte to cut; start of its line */
  size_t mark;           /* offset of a place of the tree, looked up in order */
  uint32_t mark_line, mark_column;
  size_t token_end; /* of the token before */
  size_t breaks;
  bool refused;
  ARRAY(struct tidy_token) tokens;
};

/* ---- places ---- */

/* The offset of a place behind the one asked for before, in characters as spans count. */
static size_t offset_of(struct cutter *cutter, uint32_t line, uint32_t column) {
  while (cutter->mark < cutter->n && (cutter->mark_line < line || (cutter->mark_line == line &&
                                                                   cutter->mark_column < column))) {
    bool ends = cutter->bytes[cutter->mark] == '\n';
    cutter->mark++;
    while (cutter->mark < cutter->n && ((unsigned char)cutter->bytes[cutter->mark] & 0xC0u) == 0x80)
      cutter->mark++;
    cutter->mark_column = ends ? 1 : cutter->mark_column + 1;
    cutter->mark_line += ends;
  }
  return cutter->mark;
}

static struct span here(const struct cutter *cutter) {
  struct span at = {cutter->source, 1, 1, 1, 2};
  for (size_t i = 0; i < cutter->at; i++) {
    at.line += cutter->bytes[i] == '\n';
    if (cutter->bytes[i] == '\n') at.column = 1;
    else at.column += ((unsigned char)cutter->bytes[i] & 0xC0u) != 0x80;
  }
  at.end_line = at.line;
  at.end_column = at.column + 1;
  return at;
}

/* ---- tokens ---- */

static void add(struct cutter *cutter, enum tidy_kind kind, size_t n, const struct node *node) {
  struct tidy_token *token = array_push(cutter->arena, &cutter->tokens);
  if (token)
    *token = (struct tidy_token){.kind = kind,
                                 .at = cutter->bytes + cutter->at,
                                 .n = n,
                                 .column = cutter->at - cutter->line_start,
                                 .breaks = cutter->breaks,
                                 .blanks = cutter->at - cutter->token_end,
                                 .node = node};
  for (size_t i = cutter->at; i < cutter->at + n; i++)
    if (cutter->bytes[i] == '\n') cutter->line_start = i + 1;
  cutter->at += n;
  cutter->token_end = cutter->at;
  cutter->breaks = 0;
}

/* Bytes up to the end of the line, without blanks at its end. */
static size_t rest_of_line(const struct cutter *cutter, size_t from, size_t end) {
  const char *line_end = memchr(cutter->bytes + from, '\n', end - from);
  size_t n = line_end ? (size_t)(line_end - cutter->bytes) - from : end - from;
  while (n > 0 && strchr(" \t\r", cutter->bytes[from + n - 1])) n--;
  return n;
}

/* "---" and "..." at the start of a line. */
static bool is_document_line(const struct cutter *cutter, size_t end) {
  const char *at = cutter->bytes + cutter->at;
  return cutter->at == cutter->line_start && end - cutter->at >= 3 &&
         (memcmp(at, "---", 3) == 0 || memcmp(at, "...", 3) == 0);
}

static void cut_mark(struct cutter *cutter, size_t end) {
  static const char marks[] = "-:,[{]}";
  static const enum tidy_kind kinds[] = {TIDY_DASH, TIDY_COLON, TIDY_COMMA, TIDY_OPEN,
                                         TIDY_OPEN, TIDY_CLOSE, TIDY_CLOSE};
  char byte = cutter->bytes[cutter->at];
  const char *mark = byte ? strchr(marks, byte) : NULL;
  if (byte == '#') add(cutter, TIDY_COMMENT, rest_of_line(cutter, cutter->at, end), NULL);
  else if (is_document_line(cutter, end)) add(cutter, TIDY_LINE, 3, NULL);
  else if (mark) add(cutter, kinds[mark - marks], 1, NULL);
  else {
    DIAG(cutter->diags, TIDY_UNSAFE, here(cutter),
         byte == '?' ? "a key is written with a question mark; write it as 'key: value'"
                     : "here stands what has no place in this layout");
    cutter->refused = true;
  }
}

/* What stands between two scalars. */
static void cut_between(struct cutter *cutter, size_t end) {
  while (cutter->at < end && !cutter->refused) {
    char byte = cutter->bytes[cutter->at];
    if (byte == '\n') {
      cutter->breaks++;
      cutter->at++;
      cutter->line_start = cutter->token_end = cutter->at;
    } else if (byte == ' ' || byte == '\t' || byte == '\r') {
      cutter->at++;
    } else {
      cut_mark(cutter, end);
    }
  }
}

/* ---- scalars ---- */

static bool keeps_end(const struct tidy_token *head) {
  return memchr(head->at, '+', head->n) != NULL;
}

/* Empty lines at the end of a block are no text, unless its head says that they are kept. */
static size_t body_end(const struct cutter *cutter, size_t from, size_t end) {
  size_t kept = from;
  for (size_t i = from; i < end;) {
    const char *line_end = memchr(cutter->bytes + i, '\n', end - i);
    size_t next = line_end ? (size_t)(line_end - cutter->bytes) + 1 : end;
    if (rest_of_line(cutter, i, end) > 0) kept = next;
    i = next;
  }
  return kept;
}

static void cut_block(struct cutter *cutter, const struct node *node, size_t end) {
  size_t n = strcspn(cutter->bytes + cutter->at, " \t\r\n");
  if (n > end - cutter->at) n = end - cutter->at;
  struct tidy_token head = {.at = cutter->bytes + cutter->at, .n = n};
  add(cutter, TIDY_BLOCK, n, node);
  const char *line_end = memchr(cutter->bytes + cutter->at, '\n', end - cutter->at);
  size_t start = line_end ? (size_t)(line_end - cutter->bytes) + 1 : end;
  cut_between(cutter, start);
  size_t stop = keeps_end(&head) ? end : body_end(cutter, start, end);
  if (stop == start || cutter->refused) return;
  add(cutter, TIDY_BODY, stop - start, node);
  if (cutter->bytes[stop - 1] == '\n') cutter->breaks = 1;
}

static void cut_scalar(struct cutter *cutter, const struct node *node, struct span at, bool key) {
  size_t start = offset_of(cutter, at.line, at.column);
  cut_between(cutter, start);
  size_t end = offset_of(cutter, at.end_line, at.end_column);
  if (end <= start || cutter->refused) return;
  char first = cutter->bytes[start];
  bool block = !key && node->quoted && (first == '|' || first == '>');
  if (block) cut_block(cutter, node, end);
  else add(cutter, key ? TIDY_KEY : TIDY_SCALAR, end - start, node);
}

static void cut_node(struct cutter *cutter, const struct node *node) {
  if (node->key) cut_scalar(cutter, node, node->key_at, true);
  if (node->kind == NODE_SCALAR) {
    cut_scalar(cutter, node, node->at, false);
    return;
  }
  for (const struct node *child = node->first; child; child = child->next) cut_node(cutter, child);
}

bool tidy_cut(struct arena *arena, const struct source *source, const struct node *root,
              struct diags *diags, struct tidy_tokens *tokens) {
  size_t skip = source->n >= 3 && memcmp(source->bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
  struct cutter cutter = {.arena = arena,
                          .source = source,
                          .diags = diags,
                          .bytes = source->bytes + skip,
                          .n = source->n - skip,
                          .mark_line = 1,
                          .mark_column = 1};
  cut_node(&cutter, root);
  cut_between(&cutter, cutter.n);
  *tokens = (struct tidy_tokens){cutter.tokens.at, cutter.tokens.n};
  return !cutter.refused;
}
