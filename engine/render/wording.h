/* Words and numbers as a person of the given hand reads them.
 * Fills texts, mirrors sides, shows values with unit, side word and error. ASCII only. Decides
 * nothing. */
#ifndef WM_RENDER_WORDING_H
#define WM_RENDER_WORDING_H

#include "run/run.h"

/* Adds a text with its sides for the run's hand and its values put in; a value not known shows as
 * the evidence's title. */
void wording_add(struct text *out, const struct run *run, const struct wording *wording);
/* The same without a case: right-handed, values shown as the evidence's title. */
void wording_add_plain(struct text *out, const struct model *model, const struct wording *wording,
                       enum hand hand);
/* A number in the right-handed frame: "5.0 deg left", "88.0 mph", "15 mm toe side"; without error.
 */
void wording_number(struct text *out, const struct evidence *evidence, double number,
                    enum hand hand);
/* A reading with its error: "5.0 deg left +/- 1.0", "toe side, about 15 mm +/- 8", "7 iron", "not
 * known". Numbers typed in another unit of the same kind are shown in the unit typed. */
void wording_reading(struct text *out, const struct run *run, size_t evidence);
/* A condition: "path below -2.5 (further left than 2.5 deg)", "all of: ...". */
void wording_condition(struct text *out, const struct model *model,
                       const struct condition *condition, enum hand hand);
/* "+0.72", "-0.30": two decimals and a sign. */
void wording_certainty(struct text *out, double certainty);
/* Adds the text wrapped at width columns, following lines indented; first is the column already
 * used on the first line. */
void wording_wrap(struct text *out, const char *text, size_t first, size_t indent, size_t width);
/* A command to type, such as "whymiss show gate --kb my-academy": what follows "whymiss", the name,
 * and the directories laid over the shipped knowledge. */
void wording_command(struct text *out, const struct model *model, const char *command,
                     const char *name);
/* Adds user bytes with control and bidirectional characters escaped. */
void wording_escape(struct text *out, const char *bytes, size_t n);

#endif
