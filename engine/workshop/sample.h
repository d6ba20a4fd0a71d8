/* Plausible impacts, drawn with a seed: the same on every machine.
 * A club, a delivery around what is usual for its loft, an impact by golf/, the readings some
 * equipment gives of it, and now and then a thing seen or told besides. Only evidence the knowledge
 * has is given. Spreads are practice, meant to cover what players do, not to count how often.
 * Right-handed, one shot. Lives in the arena given; one thread. */
#ifndef WM_WORKSHOP_SAMPLE_H
#define WM_WORKSHOP_SAMPLE_H

#include <stdint.h>

#include "golf/launch.h"
#include "model/model.h"

/* Where an impact lies, in plain words; each from 0 to 2. */
struct region {
  unsigned path;   /* left, straight, right */
  unsigned face;   /* closed to the path, square to it, open */
  unsigned strike; /* heel, middle, toe */
};
#define REGIONS 27
size_t region_index(struct region region);
struct region region_at(size_t index);
/* "path left", "face open to it", "struck on the toe" */
const char *region_path_words(struct region region);
const char *region_face_words(struct region region);
const char *region_strike_words(struct region region);

struct sampler {
  const struct model *model;
  uint64_t state;
  struct value *values; /* room for one of each evidence */
  size_t n;             /* how many the latest draw gave, sorted by evidence */
  bool *given;
  bool bare; /* set by the caller: all the impact's numbers, and nothing besides */
  /* Of the latest draw: */
  struct region region;
  struct golf_impact impact;
  struct golf_launch launch;
  size_t club; /* of the model, if it has any */
};

/* False: no memory. */
bool sampler_make(struct sampler *sampler, struct arena *arena, const struct model *model,
                  uint64_t seed);
/* Whether the knowledge has any of the impact's numbers. */
bool sampler_is_fit(const struct sampler *sampler);
/* Draws the next. */
void sampler_next(struct sampler *sampler);

#endif
