/* What phrase.c and phrase_part.c share: patterns with parts put in. Internal to model/. */
#ifndef WM_MODEL_PHRASE_PARTS_H
#define WM_MODEL_PHRASE_PARTS_H

#include "model/phrase.h"
#include "model/reader.h"

/* The part of this name, numbers of which are read by themselves. */
#define PHRASE_NUMBER "number"

/* The scalar as a pattern, of whole words if wanted: {left} and {right} as said by a player of the
 * hand, {part} by its text. sides_told: a bare side word is reported. The parts with values are
 * added to parts, unless NULL. NULL after a report. */
const char *phrase_expand(struct reader *reader, const struct node *node, enum hand hand,
                          bool sides_told, bool whole_words, size_t *parts, size_t *n_parts,
                          bool *has_side);
/* part: a text, or a mapping of values to texts. */
void phrase_read_part(struct reader *reader, const struct entry *entry, struct phrase *phrase,
                      struct text *printed);

#endif
