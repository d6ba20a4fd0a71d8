/* Shots, one below the other, as a table gave them: a column for each evidence, a row for each
 * shot. Numbers are in the unit of their evidence and in the frame of the player's hand (+ right as
 * the player sees it). Grows row by row; everything is in one arena. Reading tables is intake.h's.
 * One owner; whoever only reads may share it. */
#ifndef WM_SESSION_SHOTS_H
#define WM_SESSION_SHOTS_H

#include "base/array.h"
#include "model/model.h"

#define SHOTS_MAX 1000000

struct shot_column {
  size_t evidence;
  const struct golf_unit *unit; /* the table's own, for showing; NULL for choices */
  ARRAY(double) readings;       /* by shot; choices as their index; NaN: not known */
};

struct shots {
  struct arena *arena;
  const struct model *model;
  struct shot_column *columns;
  size_t n_columns;
  ARRAY(size_t) clubs;   /* by shot: index in the model, or NO_INDEX */
  ARRAY(uint32_t) lines; /* by shot: line of the table */
};

/* How many shots there are. */
size_t shots_count(const struct shots *shots);
/* Adds a shot without readings, to be filled by shots_set; false: no memory. */
bool shots_add(struct shots *shots, size_t club, uint32_t line);
/* Sets a reading of the last shot. */
void shots_set(struct shots *shots, size_t column, double reading);
/* The column of an evidence, or NULL. */
const struct shot_column *shots_column(const struct shots *shots, size_t evidence);
double shots_reading(const struct shots *shots, size_t column, size_t shot);

#endif
