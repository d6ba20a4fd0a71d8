/* Figures: every number the table has, then start and curve where they are worked out. */
#include <math.h>

#include "model/formula.h"
#include "session/block_parts.h"

static bool is_mirrored(const struct block_maker *maker, size_t evidence) {
  return maker->hand == HAND_LEFT && maker->shots->model->evidence[evidence].mirrored;
}

/* ---- figures ---- */

struct list {
  struct figure *at;
  size_t n;
};

static bool add_figure(struct list *list, const struct block_maker *maker, struct figure figure,
                       double *readings, size_t n) {
  double own = maker->shots->model->evidence[figure.evidence].error;
  figure.readings = readings;
  if (!summarise(maker->shots->arena, readings, n, &figure.summary)) return false;
  figure.error = hypot(own, figure.summary.error);
  figure.moves = fmax(figure.error, figure.summary.detectable);
  if (figure.summary.n > 0) list->at[list->n++] = figure;
  return true;
}

static bool add_column(struct list *list, const struct block *block,
                       const struct block_maker *maker, size_t column) {
  const struct shots *shots = maker->shots;
  const struct shot_column *of = &shots->columns[column];
  const struct evidence *evidence = &shots->model->evidence[of->evidence];
  if (evidence->kind != EVIDENCE_NUMBER) return true;
  double *readings = arena_new_array(shots->arena, double, block->n + 1);
  if (!readings) return false;
  for (size_t i = 0; i < block->n; i++) readings[i] = shots_reading(shots, column, block->shots[i]);
  struct figure figure = {.evidence = of->evidence, .unit = of->unit ? of->unit : evidence->unit};
  return add_figure(list, maker, figure, readings, block->n);
}

/* The evidence that a sorting looks at first, or NO_INDEX when that is a formula. */
static size_t plain_evidence(const struct sorting *sorting, const struct model *model) {
  if (sorting->n_of == 0 || sorting->of[0]->n_inputs != 1) return NO_INDEX;
  size_t evidence = sorting->of[0]->inputs[0];
  double two = 2; /* the formula is the evidence itself */
  return formula_value(sorting->of[0], &two) == 2 &&
                 model->evidence[evidence].unit->dimension == GOLF_DIMENSION_ANGLE
             ? evidence
             : NO_INDEX;
}

/* start or curve, which flights holds in the right-handed frame. */
static bool add_derived(struct list *list, const struct block *block,
                        const struct block_maker *maker, bool curve) {
  const struct shots *shots = maker->shots;
  const struct window *window = maker->flights->window;
  size_t evidence = plain_evidence(curve ? &window->curve : &window->start, shots->model);
  if (evidence == NO_INDEX || shots_column(shots, evidence)) return true;
  double *readings = arena_new_array(shots->arena, double, block->n + 1);
  if (!readings) return false;
  for (size_t i = 0; i < block->n; i++) {
    const struct flight *flight = &maker->flights->at[block->shots[i]];
    readings[i] = curve ? flight->curve : flight->start;
    if (is_mirrored(maker, evidence)) readings[i] = 0 - readings[i];
  }
  struct figure figure = {
      .evidence = evidence, .unit = shots->model->evidence[evidence].unit, .derived = true};
  return add_figure(list, maker, figure, readings, block->n);
}

/* ---- regions and outliers ---- */

static size_t index_of(const struct block *block, size_t evidence) {
  const struct figure *figure = block_figure(block, evidence);
  return figure ? (size_t)(figure - block->figures) : NO_INDEX;
}

static bool measure_regions(struct block *block, const struct block_maker *maker) {
  const struct window *window = maker->flights ? maker->flights->window : NULL;
  size_t room = window ? window->n_ellipses : 0;
  struct region *regions = arena_new_array(maker->shots->arena, struct region, room + 1);
  if (!regions) return false;
  for (size_t i = 0; i < room; i++) {
    struct region *region = &regions[block->n_regions];
    region->x = index_of(block, window->ellipses[i][0]);
    region->y = index_of(block, window->ellipses[i][1]);
    if (region->x == NO_INDEX || region->y == NO_INDEX) continue;
    block->n_regions +=
        ellipse_of(block->figures[region->x].readings, block->figures[region->y].readings, block->n,
                   SHARE_LEVEL, &region->ellipse);
  }
  block->regions = regions;
  return true;
}

static bool find_outliers(struct block *block, const struct block_maker *maker) {
  size_t room = 0;
  for (size_t i = 0; i < block->n_figures; i++) room += block->figures[i].summary.n_outliers;
  struct outlier *outliers = arena_new_array(maker->shots->arena, struct outlier, room + 1);
  if (!outliers) return false;
  for (size_t i = 0; i < block->n_figures; i++)
    for (size_t k = 0; k < block->n; k++)
      if (is_outlier(&block->figures[i].summary, block->figures[i].readings[k]))
        outliers[block->n_outliers++] = (struct outlier){i, block->shots[k]};
  block->outliers = outliers;
  return true;
}

bool block_measure(struct block *block, const struct block_maker *maker) {
  struct list list = {
      .at = arena_new_array(maker->shots->arena, struct figure, maker->shots->n_columns + 2)};
  if (!list.at) return false;
  for (size_t i = 0; i < maker->shots->n_columns; i++)
    if (!add_column(&list, block, maker, i)) return false;
  for (int curve = 0; curve < 2 && maker->flights; curve++)
    if (!add_derived(&list, block, maker, curve == 1)) return false;
  block->figures = list.at;
  block->n_figures = list.n;
  return measure_regions(block, maker) && find_outliers(block, maker);
}

const struct figure *block_figure(const struct block *block, size_t evidence) {
  for (size_t i = 0; i < block->n_figures; i++)
    if (block->figures[i].evidence == evidence) return &block->figures[i];
  return NULL;
}
