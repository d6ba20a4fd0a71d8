/* Seeded draws: splitmix64, the same on every machine. For check_*.c only. */
#ifndef WM_WORKSHOP_CHECK_RANDOM_H
#define WM_WORKSHOP_CHECK_RANDOM_H

#include <math.h>
#include <stdint.h>

static inline uint64_t random_bits(uint64_t *state) {
  uint64_t z = *state += UINT64_C(0x9E3779B97F4A7C15);
  z = (z ^ z >> 30) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ z >> 27) * UINT64_C(0x94D049BB133111EB);
  return z ^ z >> 31;
}

/* Uniform in (0, 1). */
static inline double random_between(uint64_t *state) {
  return ((double)(random_bits(state) >> 12) + 0.5) / 4503599627370496.0;
}

/* Normal, by Box and Muller, cut at three standard deviations. */
static inline double random_normal(uint64_t *state, double mean, double deviation) {
  double radius = sqrt(-2 * log(random_between(state)));
  double z = radius * cos(6.283185307179586 * random_between(state));
  return mean + deviation * fmax(-3, fmin(3, z));
}

#endif
