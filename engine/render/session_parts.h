/* What the writers of a session share. Internal to them. */
#ifndef WM_RENDER_SESSION_PARTS_H
#define WM_RENDER_SESSION_PARTS_H

#include "render/answer_parts.h"
#include "render/session.h"

/* A page of one block. */
struct session_page {
  struct page page; /* its run: what the drill's texts are filled from */
  const struct session *session;
  const struct block *block;
};

/* Causes and misses are told in a table with a column for each of so many groups at most. */
#define TABLE_GROUPS 6
#define TABLE_CAUSES 6

/* "the 7 iron", "no club named" */
const char *block_title(const struct session *session, const struct block *block);
/* What the shots of a group have in common, as the player sees it. */
void group_words(struct text *out, const struct session *session, const struct block *block,
                 const struct miss_group *group);
/* 'A' and on for groups that were diagnosed, '-' for the others. */
char group_letter(const struct block *block, size_t group);
/* A number of a figure (the player's frame, the evidence's unit) in the figure's unit, with side
 * word. */
void figure_quantity(struct text *out, const struct session *session, const struct figure *figure,
                     double number);
/* The run that causes of the whole were judged in. */
const struct run *block_run(const struct session *session, const struct block *block);
/* What the test block asks for, in words. */
void test_words(struct text *out, const struct session *session, const struct block *block);
/* Share as whole percent: "83 %". */
void add_percent(struct text *out, double share);

/* "STOP", why, and where it stands in the session's table. */
void write_stop(struct page *page, const struct session *session, const struct alarm *alarm);

/* The key "stop": an object, or null when there is no alarm. */
void json_stop(struct json *json, const struct session *session, const struct alarm *alarm);

/* The parts of the text. */
void write_understood(struct session_page *page);
void write_figures(struct session_page *page);
void write_misses(struct session_page *page);
void write_plan(struct session_page *page);
void write_questions(struct session_page *page);

#endif
