/* A directory as it was at a revision of git. One thread; prints what is wrong. */
#ifndef WM_CLI_REVISION_H
#define WM_CLI_REVISION_H

#include <stdbool.h>
#include <stddef.h>

/* Unpacks the directory at the revision into a new temporary directory, whose path goes to out;
 * false after a message, and *out is "". */
bool revision_take(const char *directory, const char *revision, char *out, size_t room);
/* Removes it with all that is in it; "" is fine. */
void revision_remove(const char *path);

#endif
