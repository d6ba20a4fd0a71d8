/* What the steps of tidy share: a file as a row of tokens. Scalars are taken whole from where the
 * tree says they stand; between them stand only marks, comments and breaks. Internal to tidy. */
#ifndef WM_WORKSHOP_TIDY_PARTS_H
#define WM_WORKSHOP_TIDY_PARTS_H

#include "workshop/tidy.h"

enum tidy_kind {
  TIDY_DASH,
  TIDY_KEY,    /* a scalar that is a key; its colon is a token of its own */
  TIDY_SCALAR, /* a plain or quoted value */
  TIDY_BLOCK,  /* the head of a block scalar; node has its place */
  TIDY_BODY,   /* the lines of a block scalar, each with its line end */
  TIDY_COLON,
  TIDY_COMMA,
  TIDY_OPEN,
  TIDY_CLOSE,
  TIDY_COMMENT,
  TIDY_LINE, /* of dashes or points, at the start or end of a document */
};

struct tidy_token {
  enum tidy_kind kind;
  const char *at; /* n bytes of the source */
  size_t n;
  size_t column;           /* bytes before it in its line */
  size_t breaks;           /* line ends since the token before: 0: on the same line */
  size_t blanks;           /* bytes between the token before and this one on the same line */
  const struct node *node; /* of a scalar */
};

struct tidy_tokens {
  const struct tidy_token *at;
  size_t n;
};

/* False after a diagnostic. */
bool tidy_cut(struct arena *arena, const struct source *source, const struct node *root,
              struct diags *diags, struct tidy_tokens *tokens);
/* Lays the tokens out. */
void tidy_lay_out(struct text *out, const struct tidy_tokens *tokens);

/* Adds a plain text or the lines of a block with new indentation; folded ones filled to the width.
 * The first line of a plain text starts at the column given. */
void tidy_add_plain(struct text *out, const struct tidy_token *token, size_t indent, size_t column);
void tidy_add_quoted(struct text *out, const struct tidy_token *token, size_t indent);
void tidy_add_body(struct text *out, const struct tidy_token *head, const struct tidy_token *body,
                   size_t indent);
/* The digit in the head of a block, or 0. */
size_t tidy_digit(const struct tidy_token *head);

#endif
