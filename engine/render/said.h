/* What the player said and what became of it: for the answer as text and as JSON.
 * Reads run->said; decides nothing. Nothing is written when nothing was said. */
#ifndef WM_RENDER_SAID_H
#define WM_RENDER_SAID_H

#include "render/answer_parts.h"
#include "render/json.h"
#include "say/say.h"

/* A piece's value as the player reads it: "toe side", "5 deg left"; nothing when it has none. */
void wording_said(struct text *out, const struct run *run, const struct say_piece *piece);
/* Paragraphs "Words" and "Not used". */
void said_paragraphs(struct page *page);
/* Whether the words paragraph tells this evidence, so that it need not be told again. */
bool said_tells(const struct run *run, size_t evidence);
/* The member "words": an object, or null. */
void said_json(struct json *json, const struct run *run);

#endif
