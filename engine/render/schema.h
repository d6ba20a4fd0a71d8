/* The JSON Schema of a file of knowledge, as editors read it: written from the tables of keys by
 * which the reader refuses (model/keys.h), with the names of a model, where there is one, as the
 * words allowed. Says nothing of units, ranges, formulas, patterns and texts: only the reader does.
 * Writes into the text given; one thread at a time. */
#ifndef WM_RENDER_SCHEMA_H
#define WM_RENDER_SCHEMA_H

#include "model/keys.h"
#include "model/model.h"
#include "render/json.h"

/* The whole schema, JSON Schema draft 7. model NULL: any name is allowed. */
void schema_write(struct text *out, const struct model *model);

/* ---- parts: schema_shapes.c ---- */

/* The name of the definition of a shape. */
const char *schema_shape_name(enum key_shape shape);
/* The definition of a shape as a value. SHAPE_WORD has none: its words stand at the key. */
void schema_shape(struct json *json, const struct model *model, enum key_shape shape);
/* Definitions of a value of, and a comparison on, each evidence that has words of its own. */
void schema_evidence_words(struct json *json, const struct model *model);
/* {"$ref": ...} to a definition. */
void schema_refer(struct json *json, const char *name);
/* The constant JSON value, in which ' stands for ". */
void schema_literal(struct json *json, const char *value);
/* The key-value pairs of a set, without the braces around them. */
void schema_properties(struct json *json, enum key_set set);

#endif
