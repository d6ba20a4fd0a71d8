/* A session: what a player is known by, a table of shots, and a block for each club.
 * Give what holds for all shots to the player's run, read one table, diagnose. Owns its shots,
 * blocks and their runs; borrows the network and the player's run, which must outlive it. One
 * thread. */
#ifndef WM_SESSION_SESSION_H
#define WM_SESSION_SESSION_H

#include "session/alarm.h"
#include "session/block.h"

struct session {
  const struct network *network;
  const struct wm_allocator *allocator;
  struct arena *arena; /* shots, flights, blocks */
  struct run *player;  /* evidence that holds for all shots, and the hand */
  bool hand_given;     /* the hand holds whatever the table says; else the table may tell it */
  bool keeps_remarks;  /* somebody will read session->intake.remarks */
  struct alarm alarm;  /* stops everything; its claim NO_INDEX: none */
  ARRAY(struct unit_choice) units;
  const struct window *window; /* NULL: the knowledge has none */
  double within;               /* half width asked for, deg; 0: the window's */
  struct shots shots;
  struct intake intake;
  char delimiter;
  struct flights flights;
  struct block *blocks; /* in the order clubs first appear */
  size_t n_blocks;
};

/* NULL: no memory. allocator must outlive it; NULL: malloc and free. */
struct session *session_new(const struct wm_allocator *allocator, struct run *player);
void session_free(struct session *session);

/* The window of this name; false: there is none. */
bool session_use_window(struct session *session, const char *name);
/* Reads the table; false after an error in diags. Units, hand and club are those given before. */
bool session_read(struct session *session, const char *name, table_fetch *fetch, void *context,
                  struct diags *diags);
/* Takes a table of that name as one without shots; false: no memory. */
bool session_leave(struct session *session, const char *name, struct diags *diags);
/* Reads the table row by row and tells of each shot as it comes, flights included, until `shot`
 * answers false; what follows is not read then. False after an error in diags. */
typedef bool session_shot(void *context, size_t shot);
bool session_follow(struct session *session, const char *name, table_fetch *fetch, void *context,
                    session_shot *shot, void *shot_context, struct diags *diags);
/* Looks for an alarm in what holds for all shots, and in those from `from` on. False: no memory. */
bool session_watch(struct session *session, size_t from);
/* Sorts, groups and diagnoses, under the alarm if there is one. False: no memory. */
bool session_diagnose(struct session *session);

#endif
