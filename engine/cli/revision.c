/* A directory as it was at a revision of git, unpacked into a temporary directory: `git archive`
 * into `tar`, without a shell. */
#include "cli/revision.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

/* ---- removing ---- */

static void remove_below(int parent, const char *name);

static void remove_entries(DIR *open_directory) {
  int directory = dirfd(open_directory);
  for (struct dirent *entry; (entry = readdir(open_directory)) != NULL;)
    if (strcmp(entry->d_name, ".") != 0 && strcmp(entry->d_name, "..") != 0)
      remove_below(directory, entry->d_name);
}

/* Links are removed, not followed. */
static void remove_below(int parent, const char *name) {
  int directory = openat(parent, name, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  DIR *open_directory = directory >= 0 ? fdopendir(directory) : NULL;
  if (open_directory) {
    remove_entries(open_directory);
    closedir(open_directory);
    unlinkat(parent, name, AT_REMOVEDIR);
    return;
  }
  if (directory >= 0) close(directory);
  unlinkat(parent, name, 0);
}

void revision_remove(const char *path) {
  if (*path) remove_below(AT_FDCWD, path);
}

/* ---- unpacking ---- */

/* Starts a program with one end of its input or output on the pipe; 127 when there is none. */
static pid_t start(char *const arguments[], int from, int to, int unused) {
  pid_t child = fork();
  if (child != 0) return child;
  if (from >= 0) dup2(from, STDIN_FILENO);
  if (to >= 0) dup2(to, STDOUT_FILENO);
  close(from >= 0 ? from : to);
  close(unused);
  execvp(arguments[0], arguments);
  _exit(127);
}

static int wait_for(pid_t child) {
  int status = 0;
  if (child < 0) return -1;
  while (waitpid(child, &status, 0) < 0)
    if (errno != EINTR) return -1;
  return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

static bool complain(const char *program, int status) {
  if (status == 0) return true;
  if (status == 127) fprintf(stderr, "whymiss compare: there is no program '%s' to run\n", program);
  return false;
}

static bool unpack(const char *directory, const char *revision, const char *into) {
  char *git[] = {"git", "-C", (char *)directory, "archive", "--format=tar", (char *)revision, NULL};
  char *tar[] = {"tar", "-x", "-f", "-", "-C", (char *)into, NULL};
  int ends[2];
  if (pipe(ends) != 0) return false;
  pid_t writer = start(git, -1, ends[1], ends[0]);
  pid_t reader = start(tar, ends[0], -1, ends[1]);
  close(ends[0]);
  close(ends[1]);
  bool written = complain("git", wait_for(writer));
  bool read = complain("tar", wait_for(reader));
  return written && read;
}

bool revision_take(const char *directory, const char *revision, char *out, size_t room) {
  const char *place = getenv("TMPDIR");
  int n = snprintf(out, room, "%s/whymiss-XXXXXX", place && *place ? place : "/tmp");
  if (n < 0 || (size_t)n >= room || !mkdtemp(out)) {
    fprintf(stderr, "whymiss compare: no temporary directory: %s\n", strerror(errno));
    *out = '\0';
    return false;
  }
  if (*revision != '-' && unpack(directory, revision, out)) return true;
  fprintf(stderr, "whymiss compare: git gives no '%s' of '%s'\n", revision, directory);
  revision_remove(out);
  *out = '\0';
  return false;
}
