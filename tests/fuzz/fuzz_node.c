/* Any bytes: a tree that keeps its promises, or a diagnostic that can be printed. */
#include <stdlib.h>
#include <string.h>

#include "input/node.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

static void require(bool holds) {
  if (!holds) abort();
}

static void check_span(const struct source *source, const struct span *at) {
  size_t n = 0;
  require(at->source == source && at->line >= 1 && at->column >= 1);
  require(at->end_line > at->line || (at->end_line == at->line && at->end_column >= at->column));
  require(source_line(source, at->line, &n) != NULL);
  require(at->column <= n + 1);
}

static void check_node(const struct source *source, const struct node *node, int depth) {
  require(depth <= NODE_DEPTH_MAX + 1);
  check_span(source, &node->at);
  if (node->key != NULL) check_span(source, &node->key_at);
  if (node->kind == NODE_SCALAR) {
    require(strlen(node->text) == node->n);
    return;
  }
  size_t children = 0;
  for (const struct node *child = node->first; child != NULL; child = child->next, children++) {
    require((child->key != NULL) == (node->kind == NODE_MAP));
    if (child->key != NULL) require(node_get(node, child->key) == child);
    check_node(source, child, depth + 1);
  }
  require(children == node->n);
}

static void check_printed(struct arena *arena, struct diags *diags) {
  struct text text;
  text_init(&text, arena);
  diags_finish(diags);
  diags_print(&text, diags);
  const char *printed = text_done(&text);
  require(printed != NULL && strstr(printed, "error: ") != NULL);
  for (; *printed != '\0'; printed++) require((unsigned char)*printed >= 0x20 || *printed == '\n');
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
  struct arena *arena = arena_new(NULL);
  struct source source = {"fuzz.yaml", arena_copy(arena, (const char *)bytes, n), n};
  struct diags diags;
  diags_init(&diags, arena);
  const struct node *root = node_read(arena, &source, &diags);
  require((root != NULL) == (diags.errors == 0));
  if (root != NULL) check_node(&source, root, 1);
  else check_printed(arena, &diags);
  arena_free(arena);
  return 0;
}
