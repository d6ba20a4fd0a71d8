#include "api/replace.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static bool unwritable(struct diags *diags, const char *path, const char *reason) {
  DIAG(diags, FILE_UNWRITABLE, (struct span){0}, path, reason);
  return false;
}

static bool write_all(int file, const char *bytes, size_t n) {
  while (n > 0) {
    ssize_t written = write(file, bytes, n);
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    bytes += written;
    n -= (size_t)written;
  }
  return true;
}

/* A file that is there already is not touched: it may be another writer's. */
static bool write_new(const char *path, const char *bytes, size_t n, mode_t mode) {
  int file = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
  if (file < 0) return false;
  bool good = write_all(file, bytes, n) && fsync(file) == 0;
  good = close(file) == 0 && good;
  if (!good) unlink(path);
  return good;
}

bool file_make(const char *path, const char *bytes, size_t n, struct diags *diags) {
  return write_new(path, bytes, n, 0666) || unwritable(diags, path, strerror(errno));
}

/* "dir/name.yaml" to "dir/.name.yaml.new": hidden, so that it is never read as knowledge. */
static const char *fresh_name(struct arena *arena, const char *path) {
  struct text name;
  const char *slash = strrchr(path, '/');
  size_t n = slash ? (size_t)(slash - path) + 1 : 0;
  text_init(&name, arena);
  text_add_bytes(&name, path, n);
  text_format(&name, ".%s.new", path + n);
  return text_done(&name);
}

bool file_replace(const char *path, const char *bytes, size_t n, struct diags *diags) {
  struct stat about;
  const char *fresh = fresh_name(diags->arena, path);
  if (!fresh) {
    diags->no_memory = true;
    return false;
  }
  if (lstat(path, &about) != 0) return unwritable(diags, path, strerror(errno));
  if (!S_ISREG(about.st_mode)) return unwritable(diags, path, "it is a link; name the file itself");
  mode_t mode = about.st_mode & 0777;
  if (!write_new(fresh, bytes, n, 0600)) return unwritable(diags, fresh, strerror(errno));
  if (chmod(fresh, mode) == 0 && rename(fresh, path) == 0) return true;
  unwritable(diags, path, strerror(errno));
  unlink(fresh);
  return false;
}
