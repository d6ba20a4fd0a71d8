/* stream: JSON Lines in, JSON Lines out, in order, in constant memory. A ring of slots goes round
 * between one reader, some workers and one writer, which is the main thread: a slot is free,
 * filled, being answered, answered, and free again once its answer is written. A full ring holds
 * the reader up, so a slow taker of answers holds up everything before it. */
#include <pthread.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "cli/cli.h"

#define JOBS_MAX 64
#define SLOTS_A_JOB 16
#define LINE_MAX_BYTES (1u << 20)

enum slot_state { SLOT_FREE, SLOT_FILLED, SLOT_ANSWERED };

/* Bytes that grow: a stream in memory, written over from its start for each line. */
struct bytes {
  FILE *stream;
  char *at;
  size_t room, n; /* n: as of bytes_end, without the NUL behind */
};

struct slot {
  enum slot_state state;
  struct bytes line, answer;
  size_t number; /* of the line */
  enum wm_status status;
  bool too_long;
};

struct stream {
  pthread_mutex_t lock;
  pthread_cond_t changed;
  struct slot slots[JOBS_MAX * SLOTS_A_JOB];
  size_t n_slots;
  size_t filled, taken, written; /* slots, counted on and on */
  bool ended;                    /* no more lines */
  bool stopped;                  /* nobody takes answers any more */
  bool whole;
  const wm_kb *kb;
};

/* ---- bytes ---- */

static bool bytes_start(struct bytes *bytes) {
  if (bytes->stream) return fseek(bytes->stream, 0, SEEK_SET) == 0;
  bytes->stream = open_memstream(&bytes->at, &bytes->room);
  return bytes->stream != NULL;
}

static bool bytes_add(struct bytes *bytes, const char *at, size_t n) {
  return fwrite(at, 1, n, bytes->stream) == n;
}

static bool bytes_end(struct bytes *bytes) {
  long n = ftell(bytes->stream);
  bytes->n = n < 0 ? 0 : (size_t)n;
  return n >= 0 && fputc('\0', bytes->stream) != EOF && fflush(bytes->stream) == 0;
}

static int take_answer(void *context, const char *at, size_t n) {
  return bytes_add(context, at, n) ? 0 : -1;
}

/* ---- reading ---- */

/* The next line without its end; what is over the limit is dropped and marked. False at the end. */
static bool read_line(struct slot *slot, size_t *number) {
  int c;
  size_t n = 0;
  slot->too_long = false;
  if (!bytes_start(&slot->line)) return false;
  while ((c = getc_unlocked(stdin)) != EOF && c != '\n') {
    char byte = (char)c;
    if (n >= LINE_MAX_BYTES) slot->too_long = true;
    else if (!bytes_add(&slot->line, &byte, 1)) return false;
    n++;
  }
  slot->number = ++*number;
  return bytes_end(&slot->line) && (c != EOF || n > 0);
}

static bool is_blank(const struct slot *slot) {
  return !slot->too_long && (slot->line.n == 0 || strspn(slot->line.at, " \t\r") == slot->line.n);
}

static struct slot *wait_free(struct stream *stream) {
  struct slot *slot = &stream->slots[stream->filled % stream->n_slots];
  pthread_mutex_lock(&stream->lock);
  while (slot->state != SLOT_FREE && !stream->stopped)
    pthread_cond_wait(&stream->changed, &stream->lock);
  bool stopped = stream->stopped;
  pthread_mutex_unlock(&stream->lock);
  return stopped ? NULL : slot;
}

static void *read_lines(void *context) {
  struct stream *stream = context;
  size_t number = 0;
  struct slot *slot;
  while ((slot = wait_free(stream)) && read_line(slot, &number)) {
    if (is_blank(slot)) continue;
    pthread_mutex_lock(&stream->lock);
    slot->state = SLOT_FILLED;
    stream->filled++;
    pthread_cond_broadcast(&stream->changed);
    pthread_mutex_unlock(&stream->lock);
  }
  pthread_mutex_lock(&stream->lock);
  stream->ended = true;
  pthread_cond_broadcast(&stream->changed);
  pthread_mutex_unlock(&stream->lock);
  return NULL;
}

/* ---- answering ---- */

static void too_long(struct slot *slot) {
  char line[200];
  int n =
      snprintf(line, sizeof line,
               "{\"id\":null,\"line\":%zu,\"errors\":[{\"code\":\"file-too-large\",\"column\":1,"
               "\"message\":\"the line is longer than %u bytes\",\"hint\":null}]}\n",
               slot->number, LINE_MAX_BYTES);
  slot->status = bytes_add(&slot->answer, line, (size_t)n) ? WM_INPUT_FAULTY : WM_INTERNAL;
}

static void answer(struct stream *stream, wm_case *player, struct slot *slot) {
  bool good = bytes_start(&slot->answer);
  if (good && slot->too_long) too_long(slot);
  else if (good)
    slot->status = wm_case_answer_line(player, slot->line.at, slot->line.n, slot->number,
                                       stream->whole, take_answer, &slot->answer);
  if (!good || !bytes_end(&slot->answer)) slot->status = WM_INTERNAL;
}

/* The oldest filled slot nobody has taken; NULL when there will be no more. */
static struct slot *take_filled(struct stream *stream) {
  struct slot *slot = NULL;
  pthread_mutex_lock(&stream->lock);
  while (stream->taken == stream->filled && !stream->ended && !stream->stopped)
    pthread_cond_wait(&stream->changed, &stream->lock);
  if (stream->taken < stream->filled && !stream->stopped)
    slot = &stream->slots[stream->taken++ % stream->n_slots];
  pthread_mutex_unlock(&stream->lock);
  return slot;
}

static void *answer_lines(void *context) {
  struct stream *stream = context;
  wm_case *player = NULL;
  struct slot *slot;
  bool made = wm_case_new(&player, stream->kb, NULL) == WM_OK;
  while ((slot = take_filled(stream))) {
    if (made) answer(stream, player, slot);
    else slot->status = WM_INTERNAL;
    pthread_mutex_lock(&stream->lock);
    slot->state = SLOT_ANSWERED;
    pthread_cond_broadcast(&stream->changed);
    pthread_mutex_unlock(&stream->lock);
  }
  wm_case_free(player);
  return NULL;
}

/* ---- writing ---- */

static struct slot *wait_answered(struct stream *stream) {
  struct slot *slot = &stream->slots[stream->written % stream->n_slots];
  pthread_mutex_lock(&stream->lock);
  while (slot->state != SLOT_ANSWERED && !(stream->ended && stream->written == stream->filled)) {
    /* Whoever waits for answers sees the last one at once. */
    pthread_mutex_unlock(&stream->lock);
    bool flushed = fflush(stdout) == 0;
    pthread_mutex_lock(&stream->lock);
    if (!flushed) break;
    if (slot->state != SLOT_ANSWERED && !(stream->ended && stream->written == stream->filled))
      pthread_cond_wait(&stream->changed, &stream->lock);
  }
  bool answered = slot->state == SLOT_ANSWERED;
  pthread_mutex_unlock(&stream->lock);
  return answered ? slot : NULL;
}

static void stop(struct stream *stream) {
  pthread_mutex_lock(&stream->lock);
  stream->stopped = true;
  pthread_cond_broadcast(&stream->changed);
  pthread_mutex_unlock(&stream->lock);
}

/* The worst status of all lines; ends early when nobody takes the answers. */
static enum wm_status write_answers(struct stream *stream) {
  enum wm_status worst = WM_OK;
  struct slot *slot;
  while ((slot = wait_answered(stream))) {
    bool good = slot->status != WM_INTERNAL &&
                fwrite(slot->answer.at, 1, slot->answer.n, stdout) == slot->answer.n;
    if (!good) return WM_INTERNAL;
    if (slot->status > worst) worst = slot->status;
    pthread_mutex_lock(&stream->lock);
    slot->state = SLOT_FREE;
    stream->written++;
    pthread_cond_broadcast(&stream->changed);
    pthread_mutex_unlock(&stream->lock);
  }
  return fflush(stdout) == 0 ? worst : WM_INTERNAL;
}

/* ---- all together ---- */

static enum wm_status run_stream(struct stream *stream, size_t jobs) {
  pthread_t reader, workers[JOBS_MAX];
  size_t started = 0;
  if (pthread_create(&reader, NULL, read_lines, stream) != 0) return WM_INTERNAL;
  while (started < jobs && pthread_create(&workers[started], NULL, answer_lines, stream) == 0)
    started++;
  enum wm_status status = started > 0 ? write_answers(stream) : WM_INTERNAL;
  stop(stream);
  for (size_t i = 0; i < started; i++) pthread_join(workers[i], NULL);
  /* The reader may sit in a read that never ends; the process ends with us. */
  if (status == WM_INTERNAL) pthread_detach(reader);
  else pthread_join(reader, NULL);
  return status;
}

static bool read_jobs(const struct options *options, size_t *jobs) {
  char *end;
  *jobs = 1;
  if (!options->jobs) return true;
  unsigned long n = strtoul(options->jobs, &end, 10);
  *jobs = n;
  if (*end == '\0' && n >= 1 && n <= JOBS_MAX) return true;
  fprintf(stderr, "whymiss stream: --jobs takes a number from 1 to %d, not '%s'\n", JOBS_MAX,
          options->jobs);
  return false;
}

enum wm_status cmd_stream(const struct options *options) {
  struct session session;
  size_t jobs;
  if (!read_jobs(options, &jobs)) return WM_USAGE;
  if (options->n_words > 0) {
    fprintf(stderr, "whymiss stream: cases come on standard input, not '%s'\n",
            options->words[0].text);
    return WM_USAGE;
  }
  signal(SIGPIPE, SIG_IGN); /* a taker that is gone is a failed write, not a death */
  if (!session_open(&session, options)) return session_close(&session);
  static struct stream stream = {.lock = PTHREAD_MUTEX_INITIALIZER,
                                 .changed = PTHREAD_COND_INITIALIZER};
  stream.kb = session.kb;
  stream.whole = options->whole;
  stream.n_slots = jobs * SLOTS_A_JOB;
  enum wm_status status = run_stream(&stream, jobs);
  if (status == WM_INTERNAL) {
    fprintf(stderr, "whymiss stream: no memory, or nobody takes the output\n");
    _Exit(WM_INTERNAL); /* the reader may still hold slots */
  }
  session_note(&session, status == WM_INPUT_FAULTY ? WM_FINDINGS : status);
  return session_close(&session);
}
