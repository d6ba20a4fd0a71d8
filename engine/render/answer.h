/* The default answer of a diagnosis: as one screen of text, in a few lines, as JSON.
 * Says what run/ found; the only judgement made here is which of the few kinds of answer it is.
 * Writes into the caller's text, temporaries go into its arena. The run is only read and must have
 * been chained. One thread at a time for a text. */
#ifndef WM_RENDER_ANSWER_H
#define WM_RENDER_ANSWER_H

#include "render/json.h"
#include "run/run.h"

/* Rows of the screen the answer is fitted to, one left for the prompt; and its columns. */
#define ANSWER_ROWS 39
#define ANSWER_COLUMNS 79

/* What kind of answer it is. */
enum verdict {
  VERDICT_RED_FLAG,    /* stop: no drill */
  VERDICT_NO_EVIDENCE, /* nothing was given */
  VERDICT_LEADING,     /* one cause stands out */
  VERDICT_UNDECIDED,   /* something is wrong, and no cause stands out yet */
  VERDICT_SOUND,       /* something was found good, and nothing wrong */
  VERDICT_SILENT       /* no rule had anything to say about what was given */
};
enum verdict answer_verdict(const struct run *run);
/* "red_flag", "no_evidence", "leading", "undecided", "sound", "silent". */
const char *verdict_word(enum verdict verdict);

/* 80 x 40 where the texts allow it; lower sections are shortened, and say so, before anything a
 * player must know is left out. emphasis: headings in bold by terminal codes. */
void answer_text(struct text *out, const struct run *run, bool emphasis);
/* Three to five lines, not wrapped. */
void answer_brief(struct text *out, const struct run *run, bool emphasis);
/* One object, docs/schemas/diagnosis.schema.json. */
void answer_json(struct json *json, const struct run *run);
/* "checks": what to find out next, worded for the player of the run. */
void json_checks(struct json *json, const struct run *run, const struct next_check *checks,
                 size_t n);

/* A known number, or choice, as the player of the run's hand sees it. */
double reading_number(const struct run *run, size_t evidence);
size_t reading_choice(const struct run *run, size_t evidence);

#endif
