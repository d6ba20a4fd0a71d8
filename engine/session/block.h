/* A block: the shots of one club. Its figures, its misses in groups, each group diagnosed as the
 * player's tendency in it, what the groups have in common, and one plan. Decides what follows from
 * the shots; words are render/'s. Everything lives in the arena of the shots, the runs of the
 * groups in arenas of their own (block_free). Readings are in the frame of the player's hand,
 * flights in that of a right-handed player. */
#ifndef WM_SESSION_BLOCK_H
#define WM_SESSION_BLOCK_H

#include "run/run.h"
#include "session/distribution.h"
#include "session/flights.h"
#include "session/plan.h"

#define GROUP_SHOTS_MIN 3 /* below, a group is named and not diagnosed */
#define GROUP_SHOTS_FEW 8 /* below, it is told how little it says (villarrasa-2022: 7 to 10) */
#define SHARE_LEVEL 0.9   /* of the ranges of shares, and of ellipses */

/* One cause explains most of the misses, when ... (practice) */
#define ONE_CAUSE_MISSES 8   /* there are so many misses, */
#define ONE_CAUSE_SHARE 0.5  /* even the low end of the share it explains is above this, */
#define ONE_CAUSE_MARGIN 0.1 /* and the next cause explains so much less (share x certainty) */

struct figure {
  size_t evidence;              /* number */
  const struct golf_unit *unit; /* to show it in; that of the evidence when the table has none */
  bool derived;                 /* worked out shot by shot */
  const double *readings;       /* by shot of the block */
  struct summary summary;
  double error; /* of the mean: sqrt(error of a reading^2 + sd^2 / n); a device's own error does not
                   shrink by repeating. NaN below two readings */
  double moves; /* what a second mean must differ by to be no noise: the summary's detectable
                   change, at least the error */
};

struct region { /* where SHARE_LEVEL of the shots lie */
  size_t x, y;  /* figures */
  struct ellipse ellipse;
};

struct outlier {
  size_t figure, shot; /* shot: of the session */
};

/* Misses of one flight. Where start and curve are not known, finish is what they have in common. */
struct miss_group {
  enum side_class start, curve, finish;
  const size_t *shots; /* n, of the session */
  size_t n;
  struct share_range share; /* of the sorted shots, at SHARE_LEVEL */
  struct flight mean;       /* of those known */
  struct run *run;          /* chained; NULL: too few shots to be diagnosed */
};

struct cause_share {
  size_t claim;
  double score;            /* sum over groups of share of the misses x certainty above 0 */
  size_t explained;        /* misses of groups in which it is leading or likely */
  double on_whole;         /* its certainty for all shots, when that is what counts; else NaN */
  const double *certainty; /* by group; NaN: not diagnosed */
  double in_window;        /* its certainty among the shots that did not miss; NaN: too few */
};

struct hinge {     /* something seen by eye that is worth a second look: without it ... */
  size_t evidence; /* given for all shots */
  size_t instead;  /* ... this cause comes close to the first, or before it */
  double margin;   /* its score less that of the first, then */
};

struct planned_drill {
  size_t claim;
  double value; /* sum over groups of share of the misses x value there, less what it harms */
  bool removed; /* by what it needs and is known to lack, or by rules in groups that outweigh those
                   it helps */
  const struct run *removed_in; /* tells why; NULL: not removed anywhere */
};

struct doubt {
  const char *told, *formula; /* what cannot be correct together, and by which formula */
};

struct block {
  size_t club; /* of the model, or NO_INDEX */
  const size_t *shots;
  size_t n;
  const struct figure *figures;
  size_t n_figures;
  const struct region *regions;
  size_t n_regions;
  const struct outlier *outliers;
  size_t n_outliers;

  size_t n_sorted, n_missed; /* shots whose finish is known; those outside the window */
  size_t n_left;             /* of those missed, in the right-handed frame */
  struct share_range missed;
  struct miss_group *groups; /* the largest first; of equals by flight */
  size_t n_groups;
  struct miss_group whole; /* all shots; diagnosed only when it is what causes are ranked by: */
  bool on_whole;           /* no flight is known, or no group of misses is large enough */
  bool apart; /* on_whole, and the misses go both ways: their means would hide them, so the numbers
                 of the shots count for nothing */
  struct miss_group in_window;

  const struct cause_share *causes; /* the best first; score above 0 */
  size_t n_causes;
  size_t leading;   /* claim that leads, as in a run, where at least half the misses diagnosed are;
                       NO_INDEX: none stands out, or there are fewer than GROUP_SHOTS_MIN shots */
  size_t one_cause; /* claim that explains most of the misses, or NO_INDEX */
  struct share_range one_cause_share;
  const struct planned_drill *drills; /* the best first, the removed last */
  size_t n_drills;
  size_t red_flag;                 /* claim that forbids a drill, or NO_INDEX */
  const struct next_check *checks; /* of the player, not of the shots; most telling first */
  size_t n_checks;
  const struct hinge *hinges; /* what the answer hangs on; the most telling first */
  size_t n_hinges;
  const struct doubt *doubts; /* readings that cannot all be correct, each told once */
  size_t n_doubts;
  struct test_block test;
  size_t test_figure; /* TEST_MEAN, TEST_HITS; else NO_INDEX */
};

/* What blocks are made from. */
struct block_maker {
  const struct network *network;
  const struct wm_allocator *allocator; /* of the runs */
  const struct shots *shots;
  const struct flights *flights; /* NULL: the knowledge has no window */
  enum hand hand;
  const struct run *player; /* what was given for all shots */
  size_t red_flag;          /* claim that stops the session, or NO_INDEX */
};

/* Makes the block of these shots; false: no memory, and block_free is due all the same. */
bool block_make(struct block *block, const struct block_maker *maker, size_t club,
                const size_t *shots, size_t n);
void block_free(struct block *block);

/* The drill to do now, or NO_INDEX. */
size_t block_drill(const struct block *block);
/* The figure of an evidence, or NULL. */
const struct figure *block_figure(const struct block *block, size_t evidence);

#endif
