/* One layout for files of knowledge: indentation, blanks, empty lines and the width of folded
 * texts. Order, comments and line breaks between entries and keys stay as they were. Does not read
 * or write files and knows no entries: any YAML that node_read takes is laid out. What it makes
 * lives in the arena given and is returned only when reading it gives the same tree, so the same
 * network, and the same comments. One thread. */
#ifndef WM_WORKSHOP_TIDY_H
#define WM_WORKSHOP_TIDY_H

#include "input/node.h"

#define TIDY_WIDTH 100 /* characters of a line of a text, its indentation included */
#define TIDY_INDENT 2

/* The source laid out; NULL after a diagnostic: it cannot be read, or not laid out without change,
 * or there is no memory. */
const struct text *tidy_source(struct arena *arena, const struct source *source,
                               struct diags *diags);

#endif
