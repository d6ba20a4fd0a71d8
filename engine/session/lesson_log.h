/* A player's lessons as plain YAML: one list in one file, newest last.
 * Reads a log's text and writes the text of one more lesson; files, locks and names of files are
 * api/'s. What was read borrows the source and lives in the arena. Any thread. */
#ifndef WM_SESSION_LESSON_LOG_H
#define WM_SESSION_LESSON_LOG_H

#include "run/run.h"

/* The number behind `format:`; a log of a higher one is refused, because it may hold what would be
 * lost. */
#define LESSON_LOG_FORMAT 1

struct lesson_value {
  const char *name; /* of the evidence, as it was called then */
  const char *text; /* the value as it was given */
  unsigned shots;   /* it is the mean of */
};
struct lesson {
  const char *date; /* YYYY-MM-DD, or with THH:MM */
  enum hand hand;
  const struct lesson_value *values; /* in the order written */
  size_t n_values;
  const char *leading, *drill, *verdict, *note, *knowledge; /* NULL: none */
  const char
      *stop; /* the finding whose red flag forbade a drill; then leading and drill are none */
  double certainty; /* of the leading cause; NaN: none */
};
struct lesson_log {
  const char *player;
  const struct lesson *lessons;
  size_t n;
};

/* Reads and checks a whole log; false after a diagnostic. */
bool lesson_log_read(struct arena *arena, const struct source *source, struct diags *diags,
                     struct lesson_log *log);
/* What a finished run has to remember: its evidence, leading cause, drill and knowledge. */
bool lesson_of_run(struct arena *arena, const struct run *run, struct lesson *lesson);
/* The first lines of a new log. */
void lesson_log_start(struct text *out, const char *player);
/* The lines of one more lesson. Control characters of a note become blanks. */
void lesson_log_add(struct text *out, const struct lesson *lesson);

/* A name a log may have: lower case letters, digits and single hyphens, at most 40. */
bool lesson_log_is_player(const char *player);
/* A date as in struct lesson, and in the calendar. */
bool lesson_log_is_date(const char *date);

#endif
