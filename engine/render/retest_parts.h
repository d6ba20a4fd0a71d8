/* What the writers of a retest share. Internal to them. */
#ifndef WM_RENDER_RETEST_PARTS_H
#define WM_RENDER_RETEST_PARTS_H

#include "render/retest.h"
#include "render/session_parts.h"

/* A number of the evidence in the unit of the table before, with side word; of a block's own
 * figures only. */
void retest_quantity(struct text *out, const struct session *before, const struct block *block,
                     size_t evidence, double number);

#endif
