/* Lesson logs as files. A log is never written in place: the new text goes to a file beside it, is
 * flushed to the disk, and takes the old one's name in one step, so that whoever looks, at whatever
 * moment the program or the machine dies, finds the old log or the new one, whole. A lock file
 * keeps a second writer out; the lock dies with its holder. */
#include "session/lesson_log.h"

#include <errno.h>
#include <fcntl.h>
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "api/handles.h"
#include "render/lesson_course.h"

/* The log of one player, open for a change or for reading. */
struct log_file {
  struct diags *diags;
  struct arena *arena;
  const char *directory, *player;
  const char *path, *fresh, *lock; /* the log, the one that takes its place, the lock */
  int lock_file;                   /* -1: not held */
};

static const char *join(struct arena *arena, const char *directory, const char *before,
                        const char *player, const char *after) {
  struct text text;
  text_init(&text, arena);
  text_format(&text, "%s/%s%s%s", directory, before, player, after);
  return text_done(&text);
}

static bool name_files(struct log_file *file, struct diags *diags, const char *directory,
                       const char *player) {
  struct arena *arena = diags->arena;
  *file = (struct log_file){
      .diags = diags, .arena = arena, .directory = directory, .player = player, .lock_file = -1};
  if (!lesson_log_is_player(player)) {
    DIAG(diags, LOG_PLAYER, (struct span){0}, player);
    return false;
  }
  file->path = join(arena, directory, "", player, ".yaml");
  file->fresh = join(arena, directory, ".", player, ".yaml.new");
  file->lock = join(arena, directory, ".", player, ".lock");
  if (!file->path || !file->fresh || !file->lock) diags->no_memory = true;
  return file->path && file->fresh && file->lock;
}

static bool unwritable(struct log_file *file, const char *path) {
  DIAG(file->diags, FILE_UNWRITABLE, (struct span){0}, path, strerror(errno));
  return false;
}

/* Players' lessons are nobody else's business: a directory made here is its owner's alone. */
static bool make_directory(struct log_file *file) {
  if (mkdir(file->directory, 0700) == 0 || errno == EEXIST) return true;
  return unwritable(file, file->directory);
}

static bool lock(struct log_file *file) {
  struct flock whole = {.l_type = F_WRLCK, .l_whence = SEEK_SET};
  file->lock_file = open(file->lock, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
  if (file->lock_file < 0) return unwritable(file, file->lock);
  if (fcntl(file->lock_file, F_SETLK, &whole) == 0) return true;
  if (errno == EACCES || errno == EAGAIN)
    DIAG(file->diags, LOG_LOCKED, (struct span){0}, file->player);
  else unwritable(file, file->lock);
  return false;
}

/* A deletion may have taken the file away between the opening and the locking; then the lock is on
 * a file that nobody else will find. */
static bool is_lost(const struct log_file *file) {
  struct stat held, named;
  return fstat(file->lock_file, &held) != 0 || stat(file->lock, &named) != 0 ||
         held.st_ino != named.st_ino || held.st_dev != named.st_dev;
}

static bool take_lock(struct log_file *file) {
  bool held = lock(file);
  while (held && is_lost(file)) {
    close(file->lock_file);
    held = lock(file);
  }
  return held;
}

static void drop_lock(struct log_file *file) {
  if (file->lock_file >= 0) close(file->lock_file);
  file->lock_file = -1;
}

static bool is_there(const char *path) {
  struct stat status;
  return stat(path, &status) == 0;
}

static bool exists(const struct log_file *file) {
  return is_there(file->path);
}

/* The name of the lock is the player's: without a log it must not stay. The lock is held, so nobody
 * else can be writing. */
static void forget_player(const struct log_file *file) {
  if (file->lock_file >= 0 && !exists(file)) unlink(file->lock);
}

static bool write_all(int out, const char *bytes, size_t n) {
  while (n > 0) {
    ssize_t written = write(out, bytes, n);
    if (written < 0 && errno == EINTR) continue;
    if (written <= 0) return false;
    bytes += written;
    n -= (size_t)written;
  }
  return true;
}

static bool sync_directory(const struct log_file *file) {
  int directory = open(file->directory, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  bool good = directory >= 0 && fsync(directory) == 0;
  if (directory >= 0) close(directory);
  return good;
}

/* A file left over from a writer that died is simply written anew; the lock is held. */
static bool replace(struct log_file *file, const struct text *text) {
  int out = open(file->fresh, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
  if (out < 0) return unwritable(file, file->fresh);
  bool good = write_all(out, text->at, text->n) && fsync(out) == 0;
  good = close(out) == 0 && good;
  if (good && rename(file->fresh, file->path) == 0 && sync_directory(file)) return true;
  unwritable(file, file->path);
  unlink(file->fresh);
  return false;
}

/* What stands there already must be a log that can be read, or nothing is added to it. */
static bool old_text(struct log_file *file, struct text *text) {
  struct lesson_log log;
  if (!exists(file)) {
    lesson_log_start(text, file->player);
    return true;
  }
  const struct source *source = source_read(file->arena, file->path, file->diags);
  if (!source || !lesson_log_read(file->arena, source, file->diags, &log)) return false;
  text_add_bytes(text, source->bytes, source->n);
  if (source->n > 0 && source->bytes[source->n - 1] != '\n') text_add(text, "\n");
  return true;
}

static bool append(struct log_file *file, const struct lesson *lesson) {
  struct text text;
  text_init(&text, file->arena);
  if (!old_text(file, &text)) return false;
  lesson_log_add(&text, lesson);
  if (!text_done(&text)) {
    file->diags->no_memory = true;
    return false;
  }
  return replace(file, &text);
}

static bool fill_lesson(struct log_file *file, wm_case *player, const struct wm_lesson *told,
                        struct lesson *lesson) {
  *lesson = (struct lesson){.certainty = NAN};
  if (player && !lesson_of_run(file->arena, player->run, lesson)) {
    file->diags->no_memory = true;
    return false;
  }
  lesson->date = told->date;
  lesson->note = told->note;
  lesson->verdict = told->verdict;
  if (lesson_log_is_date(told->date)) return true;
  DIAG(file->diags, LOG_DATE, (struct span){0}, told->date);
  return false;
}

/* Faults of the file system are internal; the rest is input. */
static enum wm_status status_of(const struct diags *diags) {
  for (size_t i = 0; i < diags->list.n; i++) {
    enum diag_code code = diags->list.at[i].code;
    if (code == DIAG_FILE_UNWRITABLE || code == DIAG_FILE_UNREADABLE || code == DIAG_LOG_LOCKED)
      return WM_INTERNAL;
  }
  return WM_OK;
}

enum wm_status wm_log_add(const char *directory, const char *player, wm_case *of,
                          const struct wm_lesson *told, wm_diags *diags) {
  struct report report;
  struct log_file file;
  struct lesson lesson;
  if (!directory || !player || !told || !told->date || (of && !of->run->judged)) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  if (name_files(&file, &report.list, directory, player) && fill_lesson(&file, of, told, &lesson) &&
      make_directory(&file) && take_lock(&file)) {
    append(&file, &lesson);
    forget_player(&file);
  }
  drop_lock(&file);
  return report_close(&report, status_of(&report.list), WM_INPUT_FAULTY);
}

static bool find_log(struct log_file *file) {
  if (exists(file)) return true;
  DIAG(file->diags, LOG_MISSING, (struct span){0}, file->player, file->directory);
  return false;
}

enum wm_status wm_log_write(const wm_kb *kb, const char *directory, const char *player,
                            enum wm_format format, wm_write write, void *context, wm_diags *diags) {
  struct report report;
  struct log_file file;
  struct lesson_log log;
  struct text text;
  if (!kb || !directory || !player || !write) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  enum wm_status status = WM_OK;
  text_init(&text, report.list.arena);
  if (name_files(&file, &report.list, directory, player) && find_log(&file)) {
    const struct source *source = source_read(file.arena, file.path, file.diags);
    if (source && lesson_log_read(file.arena, source, file.diags, &log)) {
      struct json json;
      json_start(&json, &text, true);
      if (format == WM_JSON) lesson_course_json(&json, kb->network, &log);
      else lesson_course_text(&text, kb->model, &log);
      status = text_send(&text, write, context);
    }
  }
  if (status == WM_OK) status = status_of(&report.list);
  return report_close(&report, status, WM_INPUT_FAULTY);
}

/* Zeros over the bytes first, so that they do not stay in the file's old blocks where the disk
 * writes in place. */
static bool wipe(const char *path) {
  static const char zeros[4096];
  struct stat status;
  int file = open(path, O_WRONLY | O_CLOEXEC);
  if (file < 0 || fstat(file, &status) != 0) return false;
  bool good = true;
  for (off_t left = status.st_size; good && left > 0; left -= (off_t)sizeof zeros)
    good = write_all(file, zeros, left < (off_t)sizeof zeros ? (size_t)left : sizeof zeros);
  good = fsync(file) == 0 && good;
  return close(file) == 0 && good && unlink(path) == 0;
}

static void delete_files(struct log_file *file) {
  if (exists(file) && !wipe(file->path)) unwritable(file, file->path);
  if (is_there(file->fresh) && !wipe(file->fresh)) unwritable(file, file->fresh);
  forget_player(file);
  if (!sync_directory(file)) unwritable(file, file->directory);
}

/* What a writer that died left behind goes too, also when there is no log. */
enum wm_status wm_log_delete(const char *directory, const char *player, wm_diags *diags) {
  struct report report;
  struct log_file file;
  if (!directory || !player) return WM_USAGE;
  if (!report_open(&report, diags, NULL)) return WM_INTERNAL;
  if (name_files(&file, &report.list, directory, player)) {
    bool found = find_log(&file);
    if ((found || is_there(file.lock) || is_there(file.fresh)) && take_lock(&file))
      delete_files(&file);
  }
  drop_lock(&file);
  return report_close(&report, status_of(&report.list), WM_INPUT_FAULTY);
}
