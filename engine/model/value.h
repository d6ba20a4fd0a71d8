/* Values of evidence from text: "-5 +/- 1 deg", "88 mph", "toe", "yes", "7i".
 * Used for arguments, case files and thresholds in rules alike. */
#ifndef WM_MODEL_VALUE_H
#define WM_MODEL_VALUE_H

#include "model/model.h"

/* Reads n bytes as a number in the unit of the evidence; a unit in the text is converted. Refuses
 * what is outside the plausible range when ranged. False after a diagnostic at `at`. */
bool value_read_number(struct diags *diags, const struct evidence *evidence, const char *text,
                       size_t n, struct span at, bool ranged, double *number);
/* Reads a number with its unit for a quantity known by a unit alone (clubs, lengths of drills). */
bool value_read_quantity(struct diags *diags, const char *what, const struct golf_unit *unit,
                         const char *text, size_t n, struct span at, double *number);
/* Reads a whole value: number with optional "+/- error" (also "+-"), word, choice, yes or no, club,
 * text. Fills all of *value but evidence's mirror: the frame is the giver's. shots is 0 (not said),
 * sure 1. */
bool value_read(struct arena *arena, struct diags *diags, const struct model *model,
                size_t evidence, const char *text, struct span at, struct value *value);
/* The value of a case file: a scalar as above, or {value:, error:, shots:, sure:}. */
bool value_read_node(struct arena *arena, struct diags *diags, const struct model *model,
                     size_t evidence, const struct node *node, struct value *value);
/* "there is no unit 'x'; use ...": the units that fit `wanted`, or all for NULL. */
void value_report_unit(struct diags *diags, const struct golf_unit *wanted, const char *word,
                       struct span at);
/* "unit 'x' does not fit 'what'; use ...". */
void value_report_misfit(struct diags *diags, const char *what, const struct golf_unit *unit,
                         const struct golf_unit *wanted, struct span at);
/* The unit in which the model holds a club's quantity. */
const struct golf_unit *value_club_unit(enum club_field field);
/* The same value seen by a player of the other hand. */
struct value value_mirror(const struct model *model, struct value value);

#endif
