/* Reads, lays out, reads again, and compares: the layout is given out only when both trees and all
 * comments are the same. The model is made of the tree alone, so the network is the same too. */
#include "workshop/tidy.h"

#include <string.h>

#include "workshop/tidy_parts.h"

static bool same_text(const char *a, const char *b) {
  return a == b || (a && b && strcmp(a, b) == 0);
}

/* Depth is bounded by the reader. */
static bool same_tree(const struct node *a, const struct node *b) {
  if (a->kind != b->kind || a->quoted != b->quoted || a->n != b->n || !same_text(a->key, b->key) ||
      !same_text(a->text, b->text))
    return false;
  const struct node *left = a->first, *right = b->first;
  for (; left && right; left = left->next, right = right->next)
    if (!same_tree(left, right)) return false;
  return !left && !right;
}

static const struct tidy_token *next_comment(const struct tidy_tokens *tokens, size_t *i) {
  while (*i < tokens->n && tokens->at[*i].kind != TIDY_COMMENT) ++*i;
  return *i < tokens->n ? &tokens->at[(*i)++] : NULL;
}

/* Comments are the same, and stand in the same order. */
static bool same_comments(const struct tidy_tokens *a, const struct tidy_tokens *b) {
  size_t i = 0, k = 0;
  for (;;) {
    const struct tidy_token *left = next_comment(a, &i), *right = next_comment(b, &k);
    if (!left || !right) return !left && !right;
    if (left->n != right->n || memcmp(left->at, right->at, left->n) != 0) return false;
  }
}

/* A tree, and its file as tokens. */
struct read_source {
  const struct node *root;
  struct tidy_tokens tokens;
};

static bool take(struct arena *arena, const struct source *source, struct diags *diags,
                 struct read_source *read) {
  read->root = node_read(arena, source, diags);
  return read->root && tidy_cut(arena, source, read->root, diags, &read->tokens);
}

/* Faults of the second reading are the layout's and not the file's. */
static bool is_same(struct arena *arena, const struct read_source *before,
                    const struct source *source) {
  struct diags unseen;
  struct read_source after;
  diags_init(&unseen, arena);
  return take(arena, source, &unseen, &after) && same_tree(before->root, after.root) &&
         same_comments(&before->tokens, &after.tokens);
}

const struct text *tidy_source(struct arena *arena, const struct source *source,
                               struct diags *diags) {
  struct read_source before;
  struct text *out = arena_new_object(arena, struct text);
  if (!out || !take(arena, source, diags, &before)) {
    if (arena_failed(arena)) diags->no_memory = true;
    return NULL;
  }
  text_init(out, arena);
  tidy_lay_out(out, &before.tokens);
  struct source made = {.name = source->name, .bytes = text_done(out), .n = out->n};
  bool good = made.bytes && is_same(arena, &before, &made);
  if (arena_failed(arena)) diags->no_memory = true;
  else if (!good)
    DIAG(diags, TIDY_UNSAFE, ((struct span){source, 1, 1, 1, 2}),
         "another layout would change what it says");
  return good && !diags->no_memory ? out : NULL;
}
