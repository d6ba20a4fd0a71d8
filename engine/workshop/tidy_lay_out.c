/* Where each token goes. A token that starts a line gets the indentation of the collection it
 * belongs to, found from the old columns as YAML itself does; the others get what stands between
 * two such tokens. Lines are neither joined nor broken, except empty ones, folded texts and texts
 * too long for one line. */
#include <string.h>

#include "workshop/tidy_parts.h"

#define LEVELS_MAX (2 * NODE_DEPTH_MAX + 2) /* the reader has refused what is deeper */

struct level {
  bool list;
  size_t old_column, column;
};

struct layout {
  struct text *out;
  const struct tidy_tokens *tokens;
  struct level levels[LEVELS_MAX];
  size_t n_levels;
  size_t flow;       /* depth of brackets */
  size_t line_start; /* in the output */
};

static size_t column_now(const struct layout *layout) {
  return layout->out->n - layout->line_start;
}

/* Where what hangs under the innermost collection goes. */
static size_t inner_column(const struct layout *layout) {
  return layout->n_levels > 0 ? layout->levels[layout->n_levels - 1].column + TIDY_INDENT : 0;
}

/* ---- levels ---- */

/* Leaves the collections that have ended where a dash or a key stands at this old column, and
 * enters a new one if it starts one. A list may stand at the column of the key it belongs to. */
static size_t enter(struct layout *layout, bool list, size_t old_column) {
  while (layout->n_levels > 0) {
    const struct level *top = &layout->levels[layout->n_levels - 1];
    bool ended =
        top->old_column > old_column || (top->old_column == old_column && top->list && !list);
    if (!ended) break;
    layout->n_levels--;
  }
  const struct level *top = layout->n_levels > 0 ? &layout->levels[layout->n_levels - 1] : NULL;
  if (top && top->old_column == old_column && top->list == list) return top->column;
  size_t column = inner_column(layout);
  if (layout->n_levels < LEVELS_MAX)
    layout->levels[layout->n_levels++] = (struct level){list, old_column, column};
  return column;
}

/* In brackets lines hang as deep as brackets are open, and no less than the value they belong to.
 */
static size_t flow_column(const struct layout *layout, const struct tidy_token *token) {
  size_t base = layout->n_levels > 0 ? layout->levels[layout->n_levels - 1].column : 0;
  size_t depth = layout->flow - (token->kind == TIDY_CLOSE && layout->flow > 0);
  return base + TIDY_INDENT * (depth > 0 ? depth : 1);
}

static size_t own_column(struct layout *layout, const struct tidy_token *token) {
  if (layout->flow > 0) return flow_column(layout, token);
  switch (token->kind) {
  case TIDY_DASH: return enter(layout, true, token->column);
  case TIDY_KEY: return enter(layout, false, token->column);
  case TIDY_LINE: return 0;
  default: return inner_column(layout);
  }
}

/* A comment goes with what follows it, unless it stands deeper, under a collection that ends here:
 * then it goes with that. */
static size_t comment_column(const struct layout *layout, size_t i) {
  const struct tidy_token *comment = &layout->tokens->at[i], *next = NULL;
  if (layout->flow > 0) return flow_column(layout, comment);
  for (size_t k = i + 1; k < layout->tokens->n && !next; k++)
    if (layout->tokens->at[k].kind != TIDY_COMMENT) next = &layout->tokens->at[k];
  for (size_t k = layout->n_levels; k-- > 0;) {
    const struct level *level = &layout->levels[k];
    if (next && level->old_column <= next->column) break;
    if (level->old_column <= comment->column) return level->column;
  }
  if (!next) return 0;
  struct layout ahead = *layout;
  return own_column(&ahead, next);
}

/* ---- between tokens ---- */

static void start_line(struct layout *layout, const struct tidy_token *token, bool first) {
  struct text *out = layout->out;
  if (!first && out->n > 0 && out->at[out->n - 1] != '\n') text_add_char(out, '\n');
  if (!first && token->breaks > 1) text_add_char(out, '\n');
  layout->line_start = out->n;
}

static bool wants_blank(const struct tidy_token *before, const struct tidy_token *token) {
  if (before->kind == TIDY_COLON) return true;
  if (token->kind == TIDY_COLON || token->kind == TIDY_COMMA || token->kind == TIDY_CLOSE)
    return false;
  return before->kind != TIDY_OPEN;
}

static void separate(struct layout *layout, const struct tidy_token *before,
                     const struct tidy_token *token) {
  size_t blanks = wants_blank(before, token);
  if (token->kind == TIDY_COMMENT) blanks = token->blanks > 0 ? token->blanks : 1;
  while (blanks-- > 0) text_add_char(layout->out, ' ');
}

/* ---- tokens ---- */

/* A longer text than the width is broken, but not in brackets, where texts are short and lists are
 * not broken either, and not where a backslash may escape the blank. */
static bool fits(const struct layout *layout, const struct tidy_token *token) {
  return token->kind == TIDY_KEY || layout->flow > 0 || memchr(token->at, '\\', token->n) ||
         column_now(layout) + token->n <= TIDY_WIDTH;
}

static void add_scalar(struct layout *layout, const struct tidy_token *token) {
  struct text *out = layout->out;
  size_t indent = layout->flow > 0 ? flow_column(layout, token) : inner_column(layout);
  size_t lines_from = out->n;
  bool one_line = !memchr(token->at, '\n', token->n);
  if (one_line && fits(layout, token)) text_add_bytes(out, token->at, token->n);
  else if (token->node->quoted && !one_line) tidy_add_quoted(out, token, indent);
  else tidy_add_plain(out, token, indent, column_now(layout));
  for (size_t i = lines_from; i < out->n && !out->failed; i++)
    if (out->at[i] == '\n') layout->line_start = i + 1;
}

static void add_body(struct layout *layout, size_t i) {
  const struct tidy_token *body = &layout->tokens->at[i], *head = body - 1;
  while (head->kind != TIDY_BLOCK) head--; /* a comment may stand behind it */
  size_t digit = tidy_digit(head), indent = inner_column(layout);
  if (digit > 0) indent = indent + digit - (layout->n_levels > 0 ? TIDY_INDENT : 0);
  else if (layout->n_levels == 0) indent = TIDY_INDENT;
  text_add_char(layout->out, '\n');
  tidy_add_body(layout->out, head, body, indent);
  layout->line_start = layout->out->n;
}

static void add_token(struct layout *layout, size_t i) {
  const struct tidy_token *token = &layout->tokens->at[i];
  if (token->kind == TIDY_BODY) {
    add_body(layout, i);
    return;
  }
  bool starts = i == 0 || token->breaks > 0;
  size_t column = token->kind == TIDY_COMMENT && starts ? comment_column(layout, i)
                  : token->kind == TIDY_COMMENT         ? 0
                                                        : own_column(layout, token);
  if (starts) {
    start_line(layout, token, i == 0);
    while (column-- > 0) text_add_char(layout->out, ' ');
  } else {
    separate(layout, token - 1, token);
  }
  if (token->kind == TIDY_SCALAR || token->kind == TIDY_KEY) add_scalar(layout, token);
  else text_add_bytes(layout->out, token->at, token->n);
  layout->flow += token->kind == TIDY_OPEN;
  layout->flow -= token->kind == TIDY_CLOSE && layout->flow > 0;
}

void tidy_lay_out(struct text *out, const struct tidy_tokens *tokens) {
  struct layout layout = {.out = out, .tokens = tokens};
  for (size_t i = 0; i < tokens->n && !out->failed; i++) add_token(&layout, i);
  if (out->n > 0 && out->at[out->n - 1] != '\n') text_add_char(out, '\n');
}
