/* Untrusted YAML in, a tree of nodes with positions out.
 * The only user of libyaml. Accepts the part of YAML the rule language needs: block and flow lists
 * and mappings with scalar keys, plain, quoted and block scalars. Refuses, with a diagnostic:
 * aliases, anchors, tags, a second document, duplicate keys, depth over 32, more than
 * NODE_BYTES_MAX bytes or NODE_COUNT_MAX values, NUL, control and bidirectional control characters,
 * bytes that are not UTF-8. Nodes live in the given arena and borrow the source. */
#ifndef WM_INPUT_NODE_H
#define WM_INPUT_NODE_H

#include <stdbool.h>

#include "diag/diag.h"

#define NODE_DEPTH_MAX 32
#define NODE_BYTES_MAX (8u << 20)
#define NODE_COUNT_MAX 1000000

enum node_kind { NODE_SCALAR, NODE_LIST, NODE_MAP };

struct node {
  enum node_kind kind;
  bool quoted;        /* scalar written in quotes or as a block */
  struct span at;     /* of the value */
  struct span key_at; /* of its key, when it is a value of a mapping */
  const char *key;    /* NULL unless it is a value of a mapping */
  const char *text;   /* scalar: NUL-terminated, no NUL inside */
  size_t n;           /* scalar: bytes; list, map: children */
  struct node *first; /* children, in the order written */
  struct node *next;
};

/* NULL when the bytes are faulty or memory ran out (a diagnostic says which). An empty document
 * gives an empty list. */
struct node *node_read(struct arena *arena, const struct source *source, struct diags *diags);
/* The value of a key of a mapping, or NULL. */
const struct node *node_get(const struct node *map, const char *key);
bool node_is(const struct node *scalar, const char *text);
/* "a list", "a mapping", "'word'" for messages; in the arena. */
const char *node_describe(struct arena *arena, const struct node *node);
/* libyaml's version, such as "0.2.5". */
const char *node_reader_version(void);

#endif
