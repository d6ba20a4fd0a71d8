/* Where the shipped knowledge is: WHYMISS_BASE; beside the program as installed; above it as built.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "cli/cli.h"

#define PATH_ROOM 4096

static bool is_directory(const char *path) {
  struct stat about;
  return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static bool holds(const char *directory, const char *name) {
  char path[PATH_ROOM];
  int n = snprintf(path, sizeof path, "%s/%s", directory, name);
  return n > 0 && (size_t)n < sizeof path && is_directory(path);
}

/* The directory of the running program, without a slash at its end. */
static bool program_directory(char *out, size_t room) {
  ssize_t n = readlink("/proc/self/exe", out, room - 1);
  if (n <= 0) return false;
  out[n] = '\0';
  char *slash = strrchr(out, '/');
  if (!slash) return false;
  *slash = '\0';
  return true;
}

/* directory + tail into out; false when there is no room. */
static bool join(char *out, size_t room, const char *directory, const char *tail) {
  int n = snprintf(out, room, "%s%s", directory, tail);
  return n > 0 && (size_t)n < room;
}

/* Cuts the last part of a path off. */
static bool cut_last(char *path) {
  char *slash = strrchr(path, '/');
  if (!slash) return false;
  *slash = '\0';
  return true;
}

bool base_find(char *out, size_t room) {
  const char *told = getenv("WHYMISS_BASE");
  if (told && *told) return join(out, room, told, "");
  char above[PATH_ROOM];
  if (!program_directory(above, sizeof above) || !cut_last(above)) {
    join(out, room, "the directory of the program", "");
    return false;
  }
  if (join(out, room, above, "/share/whymiss") && is_directory(out)) return true;
  if (holds(above, "rules") && holds(above, "kb")) return join(out, room, above, "");
  join(out, room, above, "/share/whymiss");
  return false;
}
