/* A block of shots before, one after: did the number that was to move come where it should, did
 * anything else get worse, what was gained at the same club speed, and what follows from it. Reads
 * two sessions that were diagnosed; the plan is the one made on the shots before. Decides nothing
 * about words. Lives in the arena given, borrows the sessions; one thread. Numbers are in the units
 * of their evidence and in the frame of the player's hand. */
#ifndef WM_SESSION_RETEST_H
#define WM_SESSION_RETEST_H

#include "session/retest_change.h"
#include "session/session.h"

/* What the shots after are tested for. A reading of a test by counting is 1 or 0. */
struct target {
  struct test_block plan; /* TEST_NONE: nothing to test */
  bool asked;             /* named by the user, not taken from the plan */
  size_t evidence;        /* NO_INDEX: misses */
  double spread;          /* TEST_MEAN: from shot to shot, as the plan takes it */
};

/* What a look at the shots so far says. While shots come one by one, every look could stop too
 * early by chance. So before the planned count "worked" needs a mean that chance brings in fewer
 * than LOOK_LUCK of cases (a rule of Haybittle 1971 and Peto 1976; memory), and at the planned
 * count it is the plan's own test. By the sum of the chances, false "it worked" stays below
 * TEST_LUCK + LOOK_LUCK x looks, 0.07 at most. Counts are only decided before the end when nothing
 * that can still come would change them, which adds no luck at all. Giving up early adds none
 * either. */
#define LOOK_LUCK 0.001
#define LOOK_SHOTS_MIN 3
/* Given up when a drill that works would still pass more rarely than this. */
#define LOOK_HOPE 0.1

enum look_answer { LOOK_GO_ON, LOOK_WORKED, LOOK_GIVE_UP, LOOK_END };
struct look {
  size_t shots;   /* with the number known */
  double mean;    /* of the readings: mean of the figure, or share that count */
  size_t counted; /* tests by counting */
  double reach;   /* TEST_MEAN: where the mean would have to be now to stop */
  double chance;  /* that no change at all brings at least this; NaN below LOOK_SHOTS_MIN */
  double hope;    /* chance to pass yet, when the drill does what it is for */
  enum look_answer answer;
};
/* readings: of the target, by shot, NaN not known and left out. */
struct look target_look(const struct target *target, const double *readings, size_t n);
/* The reading of the target in a shot of a session; flights must hold it. */
double target_reading(const struct target *target, const struct session *session, size_t shot);
/* The target of the plan of this block, of any test by itself, or of a goal: the mean of the
 * evidence must come from where it is to the goal. */
struct target target_of_plan(const struct block *block);
struct target target_of_test(struct test_block plan);
struct target target_of_goal(const struct session *session, const struct block *block,
                             size_t evidence, double goal);

enum retest_verdict { VERDICT_KEEP, VERDICT_PROGRESS, VERDICT_CHANGE_DRILL, VERDICT_TOO_EARLY };
enum verdict_reason {
  REASON_REACHED,      /* keep: it moved by more than chance does, and is where it should be */
  REASON_ON_THE_WAY,   /* progress: it moved, and is not there yet */
  REASON_AT_A_COST,    /* progress: it moved, and something else got worse */
  REASON_BACKWARDS,    /* change: it moved the wrong way by more than noise */
  REASON_NOT_MOVED,    /* change: the planned shots did not show it */
  REASON_GIVEN_UP,     /* change: before the planned shots there was no hope left */
  REASON_WEAK_TEST,    /* too early: the right way, in a test that shows little */
  REASON_FEW_SHOTS,    /* too early: fewer shots than planned */
  REASON_NO_TARGET,    /* too early: no plan, or nothing measured that it should move */
  REASON_THERE_BEFORE, /* too early: the number asked for was at its goal already */
  REASON_NOT_MEASURED, /* too early: the table after does not hold it */
  REASON_OTHER_SPEED,  /* too early: the club was much faster or slower, and the number is not
                          brought to one speed */
  REASON_SAME_SHOTS    /* too early: both tables hold the same shots */
};

/* Club speeds further apart than this share, and than noise, are no like for like (practice). */
#define SPEED_APART 0.05

/* Which way a figure is better. */
enum sense { SENSE_NONE, SENSE_MORE, SENSE_NEAR_ZERO };

struct compared {
  const struct figure *before, *after;
  enum sense sense;
  bool adjusted;             /* at_speed differs from change */
  struct change change;      /* as read */
  struct change at_speed;    /* at the club speed of the shots before, where it is known */
  struct change spread;      /* of distances from the median */
  double ratio, ratio_error; /* sd after / before, and its error (normal theory, derived) */
  bool moved, spread_moved;  /* all figures looked at together */
  bool worse, wilder;
};

struct club_retest {
  const struct block *before, *after;
  struct compared *figures; /* in both tables */
  size_t n_figures;
  size_t speed; /* figure of the club speed, or NO_INDEX */
  struct target target;
  struct look look; /* at all shots after */
  bool moved, reached, backwards;
  bool speed_apart; /* SPEED_APART */
  bool more_misses;
  size_t n_worse; /* figures worse or wilder, besides the target; and more_misses */
  enum retest_verdict verdict;
  enum verdict_reason reason;
};

struct retest {
  struct arena *arena;
  const struct session *before, *after;
  size_t asked; /* evidence of the goal, or NO_INDEX */
  double goal;
  const struct look *stopped; /* by which a stream of shots ended, or NULL */
  const struct alarm *alarm;  /* of either session: then there are no verdicts; or NULL */
  bool identical;             /* both tables hold the same shots */
  struct club_retest *clubs;  /* in both tables */
  size_t n_clubs;
};

/* How carry goes with club speed at the same strike: with its power 1.2 +/- 0.2. The default flight
 * model gives 1.0 for a usual driver and 1.3 for a usual 7 iron (derived); ball speed goes with
 * the power 1. */
#define CARRY_POWER 1.2
#define CARRY_POWER_ERROR 0.2

/* The pair of blocks to compare for a block before: of the same club; or the only ones, when a
 * table names no club. NULL: none. */
const struct block *retest_partner(const struct session *before, const struct session *after,
                                   const struct block *block);
/* The alarm of either session, or NULL. */
const struct alarm *retest_alarm(const struct session *before, const struct session *after);
/* Compares all clubs that both have, unless there is an alarm. False: no memory. */
bool retest_make(struct retest *retest);

#endif
