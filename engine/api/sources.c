/* Bytes from outside become sources here: texts of the caller, files, and all files of a directory.
 */
#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/stat.h>
#include <unistd.h>

#include "api/handles.h"
#include "input/node.h"

#define DIRECTORY_DEPTH_MAX 16 /* also what ends a circle of links */
#define FILES_MAX 4096
#define ASIDE_DEPTH_MAX 1 /* how deep beside rules/ and kb/ knowledge is looked for */
#define ALL_BYTES_MAX (64u << 20)

/* ---- texts ---- */

struct source *source_copy(struct arena *arena, const char *name, const char *bytes, size_t n) {
  struct source *source = arena_new_object(arena, struct source);
  if (!source) return NULL;
  source->name = arena_copy_string(arena, name);
  source->bytes = arena_copy(arena, bytes, n);
  source->n = n;
  return source->name && source->bytes ? source : NULL;
}

/* Characters of n bytes of UTF-8. */
static size_t count_characters(const char *bytes, size_t n) {
  size_t count = 0;
  for (size_t i = 0; i < n; i++) count += ((unsigned char)bytes[i] & 0xC0u) != 0x80u;
  return count;
}

struct span source_whole(const struct source *source) {
  return source_part(source, 0, source->n);
}

struct span source_part(const struct source *source, size_t from, size_t to) {
  uint32_t column = 1 + (uint32_t)count_characters(source->bytes, from);
  uint32_t length = (uint32_t)count_characters(source->bytes + from, to - from);
  return (struct span){source, 1, column, 1, column + length};
}

/* ---- files ---- */

static void report_unreadable(struct diags *diags, const char *path, const char *reason) {
  DIAG(diags, FILE_UNREADABLE, (struct span){0}, path, reason);
}

static void report_too_large(struct diags *diags, const char *path, size_t limit) {
  struct text digits;
  text_init(&digits, diags->arena);
  text_format(&digits, "%zu", limit);
  const char *words = text_done(&digits);
  DIAG(diags, FILE_TOO_LARGE, (struct span){0}, path, words ? words : "");
}

/* Reads until the end; a file that grows while it is read is cut at the room. False: errno tells.
 */
static bool read_all(int file, char *bytes, size_t room, size_t *n) {
  *n = 0;
  while (*n < room) {
    ssize_t got = read(file, bytes + *n, room - *n);
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return false;
    if (got == 0) break;
    *n += (size_t)got;
  }
  return true;
}

static struct source *read_open_file(struct arena *arena, const char *path, int file,
                                     struct diags *diags) {
  struct stat about;
  if (fstat(file, &about) != 0) {
    report_unreadable(diags, path, strerror(errno));
    return NULL;
  }
  if (!S_ISREG(about.st_mode)) {
    report_unreadable(diags, path, "it is not a file");
    return NULL;
  }
  if (about.st_size > (off_t)NODE_BYTES_MAX) {
    report_too_large(diags, path, NODE_BYTES_MAX);
    return NULL;
  }
  struct source *source = arena_new_object(arena, struct source);
  char *bytes = source ? arena_take(arena, (size_t)about.st_size + 1) : NULL;
  const char *name = bytes ? arena_copy_string(arena, path) : NULL;
  if (!name) {
    diags->no_memory = true;
    return NULL;
  }
  *source = (struct source){.name = name, .bytes = bytes};
  if (read_all(file, bytes, (size_t)about.st_size, &source->n)) return source;
  report_unreadable(diags, path, strerror(errno));
  return NULL;
}

struct source *source_read(struct arena *arena, const char *path, struct diags *diags) {
  int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK); /* a pipe must not hang the program */
  if (file < 0) {
    report_unreadable(diags, path, strerror(errno));
    return NULL;
  }
  struct source *source = read_open_file(arena, path, file, diags);
  close(file);
  return source;
}

/* ---- directories ---- */

struct walk {
  struct arena *arena;
  struct diags *diags;
  ARRAY(const char *) paths, ignored;
  bool aside; /* beside rules/ and kb/: nothing is read, only told that it is not */
};

static const char *join(struct walk *walk, const char *directory, const char *name) {
  struct text path;
  text_init(&path, walk->arena);
  text_add(&path, directory);
  if (path.n > 0 && path.at[path.n - 1] != '/') text_add_char(&path, '/');
  text_add(&path, name);
  const char *string = text_done(&path);
  if (!string) walk->diags->no_memory = true;
  return string;
}

static bool ends_in(const char *name, const char *end) {
  size_t n = strlen(name), n_end = strlen(end);
  return n > n_end && strcasecmp(name + n - n_end, end) == 0;
}

static bool is_yaml(const char *name) {
  return ends_in(name, ".yaml") && strcmp(name + strlen(name) - 5, ".yaml") == 0;
}

/* ---- files that are not read ---- */

#define LOOKED_AT 4096 /* bytes of a file in which an entry is looked for */

/* Whether an entry of knowledge starts a line: other programs keep YAML beside it. */
static bool holds_entry(const char *bytes) {
  static const char *const entries[] = {"evidence", "finding", "cause", "drill", "rule", "case"};
  for (const char *line = bytes; line; line = strchr(line, '\n')) {
    if (*line == '\n') line++;
    if (strncmp(line, "- ", 2) != 0) continue;
    for (size_t i = 0; i < sizeof entries / sizeof entries[0]; i++) {
      size_t n = strlen(entries[i]);
      if (strncmp(line + 2, entries[i], n) == 0 && line[2 + n] == ':') return true;
    }
  }
  return false;
}

static bool looks_like_knowledge(const char *path) {
  char bytes[LOOKED_AT + 1];
  int file = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  size_t n = 0;
  if (file < 0) return false;
  if (!read_all(file, bytes, LOOKED_AT, &n)) n = 0;
  close(file);
  bytes[n] = '\0';
  return holds_entry(bytes);
}

/* A name that was meant for one that is read, or knowledge where none is read. */
static bool is_worth_telling(const struct walk *walk, const char *path) {
  bool yaml = ends_in(path, ".yaml") || ends_in(path, ".yml");
  return yaml && (!walk->aside || looks_like_knowledge(path));
}

static int compare_paths(const void *left, const void *right) {
  return strcmp(*(const char *const *)left, *(const char *const *)right);
}

static void tell_ignored(struct walk *walk) {
  const char **paths = walk->ignored.at;
  if (walk->ignored.n > 0) qsort(paths, walk->ignored.n, sizeof *paths, compare_paths);
  for (size_t i = 0; i < walk->ignored.n; i++)
    DIAG(walk->diags, FILE_IGNORED, (struct span){0}, paths[i],
         is_yaml(paths[i]) ? "it stands beside rules/ and kb/; put it below one of them"
                           : "its name does not end in .yaml; rename it");
}

/* ---- walking ---- */

static bool is_directory(const char *path) {
  struct stat about;
  return stat(path, &about) == 0 && S_ISDIR(about.st_mode);
}

static void walk_directory(struct walk *walk, const char *directory, unsigned depth);

static void walk_entry(struct walk *walk, const char *directory, const char *name, unsigned depth) {
  if (name[0] == '.') return;
  const char *path = join(walk, directory, name);
  if (!path) return;
  if (is_directory(path)) {
    if (!walk->aside || depth < ASIDE_DEPTH_MAX) walk_directory(walk, path, depth + 1);
    return;
  }
  bool ignored = walk->aside || !is_yaml(name);
  if (ignored && (walk->ignored.n >= FILES_MAX || !is_worth_telling(walk, path))) return;
  const char **place =
      ignored ? array_push(walk->arena, &walk->ignored) : array_push(walk->arena, &walk->paths);
  if (place) *place = path;
  else walk->diags->no_memory = true;
}

static void walk_directory(struct walk *walk, const char *directory, unsigned depth) {
  if (depth > DIRECTORY_DEPTH_MAX) {
    report_unreadable(walk->diags, directory, "directories are nested too deeply");
    return;
  }
  DIR *open_directory = opendir(directory);
  if (!open_directory && walk->aside) return;
  if (!open_directory) {
    report_unreadable(walk->diags, directory, strerror(errno));
    return;
  }
  errno = 0;
  for (struct dirent *entry;
       (entry = readdir(open_directory)) != NULL && walk->paths.n <= FILES_MAX; errno = 0)
    walk_entry(walk, directory, entry->d_name, depth);
  if (errno != 0) report_unreadable(walk->diags, directory, strerror(errno));
  closedir(open_directory);
}

static void read_files(struct walk *walk, struct file_list *list, const char *root,
                       unsigned layer) {
  for (size_t i = 0; i < walk->paths.n; i++) {
    struct source *source = source_read(walk->arena, walk->paths.at[i], walk->diags);
    struct model_file *file = source ? array_push(walk->arena, &list->files) : NULL;
    if (!file) continue;
    source->root = root;
    *file = (struct model_file){source, layer};
    list->bytes += source->n;
    if (list->bytes > ALL_BYTES_MAX) {
      report_too_large(walk->diags, "the knowledge base", ALL_BYTES_MAX);
      return;
    }
  }
}

static const char *const parts[] = {"rules", "kb"};

/* What stands beside them, which is easily taken for read. */
static void walk_aside(struct walk *walk, const char *directory) {
  DIR *open_directory = opendir(directory);
  if (!open_directory) return;
  walk->aside = true;
  for (struct dirent *entry; (entry = readdir(open_directory)) != NULL;)
    if (strcmp(entry->d_name, parts[0]) != 0 && strcmp(entry->d_name, parts[1]) != 0)
      walk_entry(walk, directory, entry->d_name, 0);
  walk->aside = false;
  closedir(open_directory);
}

/* rules/ and kb/ where there is either; a directory without them is read whole. */
static void walk_layer(struct walk *walk, const char *directory) {
  bool found = false;
  for (size_t i = 0; i < 2; i++) {
    const char *path = join(walk, directory, parts[i]);
    if (!path || !is_directory(path)) continue;
    walk_directory(walk, path, 1);
    found = true;
  }
  if (found) walk_aside(walk, directory);
  else walk_directory(walk, directory, 0);
}

void files_collect(struct arena *arena, struct file_list *list, const char *directory,
                   unsigned layer, struct diags *diags) {
  struct walk walk = {.arena = arena, .diags = diags};
  size_t before = diags->errors;
  walk_layer(&walk, directory);
  tell_ignored(&walk);
  if (walk.paths.n > FILES_MAX) {
    report_unreadable(diags, directory, "it holds too many files");
    return;
  }
  if (walk.paths.n == 0 && diags->errors == before)
    report_unreadable(diags, directory, "there is no *.yaml file in it");
  if (walk.paths.n > 0) qsort(walk.paths.at, walk.paths.n, sizeof *walk.paths.at, compare_paths);
  const char *root = arena_copy_string(arena, directory);
  if (!root) diags->no_memory = true;
  read_files(&walk, list, root, layer);
}
