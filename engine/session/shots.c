#include "session/shots.h"

#include <math.h>

size_t shots_count(const struct shots *shots) {
  return shots->lines.n;
}

bool shots_add(struct shots *shots, size_t club, uint32_t line) {
  size_t *place = array_push(shots->arena, &shots->clubs);
  uint32_t *line_place = place ? array_push(shots->arena, &shots->lines) : NULL;
  if (!line_place) return false;
  *place = club;
  *line_place = line;
  for (size_t i = 0; i < shots->n_columns; i++) {
    double *reading = array_push(shots->arena, &shots->columns[i].readings);
    if (!reading) return false;
    *reading = NAN;
  }
  return true;
}

void shots_set(struct shots *shots, size_t column, double reading) {
  shots->columns[column].readings.at[shots->lines.n - 1] = reading;
}

const struct shot_column *shots_column(const struct shots *shots, size_t evidence) {
  for (size_t i = 0; i < shots->n_columns; i++)
    if (shots->columns[i].evidence == evidence) return &shots->columns[i];
  return NULL;
}

double shots_reading(const struct shots *shots, size_t column, size_t shot) {
  return shots->columns[column].readings.at[shot];
}
