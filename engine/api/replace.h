/* Files of knowledge written by the library: a new one, or one in the place of an old one. Whoever
 * looks, at whatever moment the program dies, finds the old file or the new one, whole. Faults of
 * the file system become diagnostics. Internal to api/. */
#ifndef WM_API_REPLACE_H
#define WM_API_REPLACE_H

#include "diag/diag.h"

/* Puts n bytes in the place of the file, with its permissions. Refuses links. */
bool file_replace(const char *path, const char *bytes, size_t n, struct diags *diags);
/* Makes a file that is not there yet. */
bool file_make(const char *path, const char *bytes, size_t n, struct diags *diags);

#endif
