#include "session/session.h"

#include <math.h>
#include <string.h>

/* ---- life ---- */

struct session *session_new(const struct wm_allocator *allocator, struct run *player) {
  struct arena *arena = arena_new(allocator);
  struct session *session = arena ? arena_new_object(arena, struct session) : NULL;
  const struct network *network = player->network;
  if (!session) {
    arena_free(arena);
    return NULL;
  }
  session->network = network;
  session->allocator = allocator;
  session->arena = arena;
  session->player = player;
  session->shots.arena = arena;
  session->shots.model = network->model;
  session->alarm.claim = NO_INDEX;
  if (!session_use_window(session, "usual") && network->model->n_windows > 0)
    session->window = &network->model->windows[0];
  return session;
}

void session_free(struct session *session) {
  if (!session) return;
  for (size_t i = 0; i < session->n_blocks; i++) block_free(&session->blocks[i]);
  arena_free(session->arena);
}

bool session_use_window(struct session *session, const char *name) {
  const struct model *model = session->network->model;
  for (size_t i = 0; i < model->n_windows; i++)
    if (strcmp(model->windows[i].name, name) == 0) {
      session->window = &model->windows[i];
      return true;
    }
  return false;
}

/* ---- reading ---- */

/* An evidence that was given for all shots cannot also be a column; the club may, for rows without
 * one. */
static void check_twice(struct session *session) {
  const struct run *player = session->player;
  for (size_t i = 0; i < session->intake.n_columns; i++) {
    const struct intake_column *column = &session->intake.columns[i];
    if (column->use != USE_READINGS || !player->is_given[column->evidence]) continue;
    DIAG(session->intake.diags, TWICE_GIVEN, column->at,
         session->network->model->evidence[column->evidence].name);
  }
}

static size_t club_given(const struct session *session) {
  size_t evidence = session->network->model->club_evidence;
  return evidence != NO_INDEX && session->player->is_given[evidence]
             ? session->player->values[evidence].choice
             : NO_INDEX;
}

/* The table, and an intake ready for its rows; NULL: no memory. */
static struct table *start_reading(struct session *session, const char *name, table_fetch *fetch,
                                   void *context, struct diags *diags) {
  struct table *table = table_open(session->arena, fetch, context);
  if (!table || !intake_start(&session->intake, &session->shots, name, diags)) {
    diags->no_memory = true;
    return NULL;
  }
  session->intake.hand = session->player->hand;
  session->intake.hand_given = session->hand_given;
  session->intake.keeps_remarks = session->keeps_remarks;
  session->intake.is_safety = safety_evidence(session->arena, session->network);
  session->intake.units = session->units.at;
  session->intake.n_units = session->units.n;
  session->intake.club = club_given(session);
  if (!session->intake.is_safety) diags->no_memory = true;
  return session->intake.is_safety ? table : NULL;
}

/* The hand that the table tells. False: no memory. */
static bool take_hand(struct session *session) {
  if (session->player->hand == session->intake.hand) return true;
  session->player->hand = session->intake.hand;
  return run_chain(session->player, NULL);
}

bool session_read(struct session *session, const char *name, table_fetch *fetch, void *context,
                  struct diags *diags) {
  struct table *table = start_reading(session, name, fetch, context, diags);
  if (!table) return false;
  bool read = intake_table(&session->intake, table);
  session->delimiter = table_delimiter(table);
  if (read) check_twice(session);
  if (!take_hand(session)) diags->no_memory = true;
  return read && diags->errors == 0 && !diags->no_memory;
}

bool session_leave(struct session *session, const char *name, struct diags *diags) {
  if (intake_start(&session->intake, &session->shots, name, diags)) return true;
  diags->no_memory = true;
  return false;
}

/* ---- shots as they come ---- */

/* Flights of all shots so far, so that the last can be looked at. */
static bool make_flights(struct session *session);

bool session_follow(struct session *session, const char *name, table_fetch *fetch, void *context,
                    session_shot *shot, void *shot_context, struct diags *diags) {
  struct table *table = start_reading(session, name, fetch, context, diags);
  struct row row;
  enum table_answer answer = TABLE_END;
  bool go_on = true;
  if (!table) return false;
  if (!run_chain(session->player, NULL)) {
    diags->no_memory = true;
    return false;
  }
  while (go_on && (answer = table_next(table, &row)) == TABLE_ROW) {
    size_t n = shots_count(&session->shots);
    session->delimiter = table_delimiter(table);
    if (!intake_row(&session->intake, &row, session->delimiter) || diags->errors > 0) return false;
    if (shots_count(&session->shots) == n) continue;
    if (!take_hand(session) || (session->window && !make_flights(session))) {
      diags->no_memory = true;
      return false;
    }
    go_on = shot(shot_context, n);
  }
  if (go_on && answer != TABLE_END) intake_fault(&session->intake, answer, &row);
  if (!intake_end(&session->intake)) return false;
  check_twice(session);
  return diags->errors == 0;
}

/* ---- blocks ---- */

/* Numbers given for all shots, in the right-handed frame. */
static double *constants_of(const struct session *session) {
  const struct model *model = session->network->model;
  const struct run *player = session->player;
  double *numbers = arena_new_array(session->arena, double, model->n_evidence + 1);
  for (size_t i = 0; numbers && i < model->n_evidence; i++) {
    bool number = model->evidence[i].kind == EVIDENCE_NUMBER && player->is_given[i];
    numbers[i] = number ? player->readings[i].number : NAN;
  }
  return numbers;
}

static bool make_flights(struct session *session) {
  double *constants = constants_of(session);
  return constants && flights_make(&session->flights, &session->shots, session->player->hand,
                                   session->window, session->within, constants);
}

bool session_watch(struct session *session, size_t from) {
  if (session->alarm.claim == NO_INDEX && session->player->red_flag != NO_INDEX)
    session->alarm = (struct alarm){session->player->red_flag, 0, ""};
  return session->alarm.claim != NO_INDEX ||
         alarm_of_shots(&session->alarm, session->allocator, &session->intake, session->player,
                        from);
}

/* By club + 1, so that 0 is "no club": how many shots, and which block. */
struct tally {
  size_t n, block;
};

static struct tally *count_clubs(struct session *session, size_t n_clubs) {
  struct tally *tallies = arena_new_array(session->arena, struct tally, n_clubs + 1);
  for (size_t i = 0; tallies && i < shots_count(&session->shots); i++) {
    size_t club = session->shots.clubs.at[i];
    struct tally *tally = &tallies[club == NO_INDEX ? 0 : club + 1];
    if (tally->n++ == 0) tally->block = session->n_blocks++;
  }
  return tallies;
}

struct part {
  size_t club, n;
  size_t *shots;
};

static struct part *split_clubs(struct session *session, const struct tally *tallies,
                                size_t n_clubs) {
  struct part *parts = arena_new_array(session->arena, struct part, session->n_blocks + 1);
  for (size_t i = 0; parts && i <= n_clubs; i++) {
    if (tallies[i].n == 0) continue;
    struct part *part = &parts[tallies[i].block];
    part->club = i == 0 ? NO_INDEX : i - 1;
    part->shots = arena_new_array(session->arena, size_t, tallies[i].n);
    if (!part->shots) return NULL;
  }
  for (size_t i = 0; parts && i < shots_count(&session->shots); i++) {
    size_t club = session->shots.clubs.at[i];
    struct part *part = &parts[tallies[club == NO_INDEX ? 0 : club + 1].block];
    part->shots[part->n++] = i;
  }
  return parts;
}

/* A red flag that only a block as a whole raises stops the others too. */
static void spread_alarm(struct session *session) {
  for (size_t i = 0; i < session->n_blocks && session->alarm.claim == NO_INDEX; i++)
    if (session->blocks[i].red_flag != NO_INDEX)
      session->alarm = (struct alarm){session->blocks[i].red_flag, 0, ""};
  for (size_t i = 0; i < session->n_blocks && session->alarm.claim != NO_INDEX; i++) {
    session->blocks[i].red_flag = session->alarm.claim;
    session->blocks[i].test = (struct test_block){.kind = TEST_NONE};
    session->blocks[i].test_figure = NO_INDEX;
  }
}

bool session_diagnose(struct session *session) {
  size_t n_clubs = session->network->model->n_clubs;
  if (!run_chain(session->player, NULL) || !session_watch(session, 0)) return false;
  if (session->window && !make_flights(session)) return false;
  struct tally *tallies = count_clubs(session, n_clubs);
  struct part *parts = tallies ? split_clubs(session, tallies, n_clubs) : NULL;
  size_t n = session->n_blocks;
  session->n_blocks = 0;
  session->blocks = parts ? arena_new_array(session->arena, struct block, n + 1) : NULL;
  if (!session->blocks) return false;
  struct block_maker maker = {.network = session->network,
                              .allocator = session->allocator,
                              .shots = &session->shots,
                              .flights = session->window ? &session->flights : NULL,
                              .hand = session->player->hand,
                              .player = session->player,
                              .red_flag = session->alarm.claim};
  for (size_t i = 0; i < n; i++) {
    session->n_blocks++;
    if (!block_make(&session->blocks[i], &maker, parts[i].club, parts[i].shots, parts[i].n))
      return false;
  }
  spread_alarm(session);
  return true;
}
