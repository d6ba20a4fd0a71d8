/* What wording.c, wording_value.c and wording_condition.c share; for other parts of render/ the
 * finer tools of wording. Same contract as wording.h. */
#ifndef WM_RENDER_WORDING_PARTS_H
#define WM_RENDER_WORDING_PARTS_H

#include "render/wording.h"

/* Columns that text fits; one less than a screen of 80, so that no terminal breaks a full line. */
#define WORDING_WIDTH 79

void wording_indent(struct text *out, size_t columns);
/* A label at the margin and the text wrapped beside it from the column indent on; ends the line. */
void wording_paragraph(struct text *out, size_t margin, const char *label, size_t indent,
                       const char *text);
/* An empty text in the same arena, and a paragraph of it; one without memory fails the text it is
 * added to. */
struct text wording_beside(const struct text *out);
void wording_line(struct text *out, size_t margin, const char *label, size_t indent,
                  const struct text *text);
/* A line from the margin on, what does not fit indented further. */
void wording_hanging(struct text *out, size_t margin, size_t indent, const struct text *text);
/* Fixed decimals, with a sign unless it shows as zero: "+0.7901". */
void wording_signed(struct text *out, double x, int decimals);
/* A known reading without its error: "5.0 deg left", "7 iron", "yes". */
void wording_value(struct text *out, const struct run *run, size_t evidence);
/* The unit the player used for quantities of this evidence's unit; the evidence's own otherwise.
 * Numbers only. */
const struct golf_unit *wording_unit(const struct run *run, size_t evidence);
/* How many shots a given reading stands for; 0 when not given. */
unsigned wording_shots(const struct run *run, size_t evidence);
/* A number of the right-handed frame told in the unit, with its side word. */
void wording_quantity(struct text *out, const struct evidence *evidence,
                      const struct golf_unit *unit, double number, enum hand hand);
/* A distance or an error, without sign and side: "3.0 deg". */
void wording_size(struct text *out, const struct evidence *evidence, const struct golf_unit *unit,
                  double size);
/* A choice's title for the hand. */
void wording_choice(struct text *out, const struct model *model, const struct evidence *evidence,
                    size_t choice, enum hand hand);
/* A condition for the run's player, in the units the player used. */
void wording_condition_in(struct text *out, const struct run *run,
                          const struct condition *condition);
/* " deg", " mph"; nothing for a plain number. */
void wording_unit_name(struct text *out, const struct golf_unit *unit);
/* At most the given decimals, trailing zeros dropped: "2.5", "3". */
void wording_trimmed(struct text *out, double x, int decimals);
/* Seven significant digits. */
void wording_significant(struct text *out, double x);
/* Enough decimals that what is reckoned from it with the given error agrees to about 4 decimals;
 * error 0: the shortest exact form. */
void wording_precise(struct text *out, double x, double error);
/* "rules/path.yaml:12:5" */
void wording_span(struct text *out, struct span at);

#endif
