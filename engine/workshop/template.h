/* The files of a new academy's own layer: a commented example that passes check and its own cases
 * over the shipped knowledge. Invented, and says so. Constant texts; writes nothing. */
#ifndef WM_WORKSHOP_TEMPLATE_H
#define WM_WORKSHOP_TEMPLATE_H

#include <stddef.h>

struct template_file {
  const char *path; /* below the directory of the layer */
  const char *text;
};

/* The i-th file, or NULL past the end. */
const struct template_file *template_file(size_t i);

#endif
