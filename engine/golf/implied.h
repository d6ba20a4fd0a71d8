/* What the numbers of one shot imply beyond themselves: what the club speed should give and what
 * was lost, the flight, and the same swing with the face square to the path or struck in the
 * middle. What was not given and no number tells is taken as usual for the club and marked, never
 * silently. Pure; the caller owns every struct; any thread may call it. Frame and units as
 * everywhere in golf/: m/s, deg, rpm, g, mm, m; right-handed. */
#ifndef WM_GOLF_IMPLIED_H
#define WM_GOLF_IMPLIED_H

#include "golf/flight.h"

enum golf_fact {
  GOLF_FACT_CLUB_SPEED,
  GOLF_FACT_FACE,
  GOLF_FACT_PATH,
  GOLF_FACT_DELIVERED_LOFT,
  GOLF_FACT_ATTACK,
  GOLF_FACT_HEAD_MASS,
  GOLF_FACT_STRIKE,
  GOLF_FACT_STRIKE_HEIGHT,
  GOLF_FACT_CLUB_LOFT,
  GOLF_FACT_BALL_SPEED,
  GOLF_FACT_LAUNCH,
  GOLF_FACT_START,
  GOLF_FACT_BACKSPIN,
  GOLF_FACT_AXIS_TILT,
  GOLF_FACT_TAIL_WIND,
  GOLF_FACT_CROSS_WIND,
  GOLF_FACTS
};

/* Values with the covariance that shared readings cause (row-major; its diagonal is the squared
 * standard errors). */
struct golf_facts {
  double value[GOLF_FACTS]; /* NaN: not known */
  double covariance[GOLF_FACTS * GOLF_FACTS];
  unsigned usual;   /* bit 1 << fact: taken as usual for the club */
  unsigned follows; /* bit 1 << fact: worked out from the others here */
};

const char *golf_fact_name(enum golf_fact fact);
double golf_fact_error(const struct golf_facts *facts, enum golf_fact fact);
/* No fact known but still air. */
struct golf_facts golf_facts_none(void);
/* A fact independent of all others. */
void golf_facts_set(struct golf_facts *facts, enum golf_fact fact, double value, double error);

/* Fills what is missing. As usual for the club, with their errors (practice): loft 3, attack 2 deg,
 * strike in the middle 10 and 6 mm, head mass 4 g. Then from these and the launch model: ball
 * speed (needs the club speed), launch, start and axis tilt (need face and path), backspin. Without
 * a club only what needs none is filled. */
void golf_facts_complete(struct golf_facts *facts);

enum golf_outcome {
  GOLF_OUTCOME_CARRY,               /* m */
  GOLF_OUTCOME_SIDE,                /* m right of the target line */
  GOLF_OUTCOME_CURVE,               /* m right of the start line */
  GOLF_OUTCOME_CURVE_ANGLE,         /* deg, curve seen from the tee */
  GOLF_OUTCOME_APEX,                /* m */
  GOLF_OUTCOME_LANDING_ANGLE,       /* deg below level */
  GOLF_OUTCOME_TIME,                /* s */
  GOLF_OUTCOME_LANDING_SPEED,       /* m/s */
  GOLF_OUTCOME_LANDING_SPIN,        /* rpm */
  GOLF_OUTCOME_EXPECTED_BALL_SPEED, /* m/s, what this club speed gives */
  GOLF_OUTCOME_EXPECTED_CARRY,      /* m */
  GOLF_OUTCOME_BALL_SPEED_SHORT,    /* m/s, expected less given; + is lost */
  GOLF_OUTCOME_CARRY_SHORT,         /* m that costs at the expected launch and spin */
  GOLF_OUTCOME_SQUARE_BALL_SPEED,   /* m/s gained with the path where the face looks */
  GOLF_OUTCOME_SQUARE_CARRY,        /* m gained */
  GOLF_OUTCOME_SQUARE_SIDE,         /* m right of the target line then */
  GOLF_OUTCOME_CENTRED_BALL_SPEED,  /* m/s gained with the strike in the middle */
  GOLF_OUTCOME_CENTRED_CARRY,       /* m gained */
  GOLF_OUTCOME_CENTRED_SIDE,        /* m right of the target line then */
  GOLF_OUTCOMES
};

struct golf_outcomes {
  double value[GOLF_OUTCOMES], error[GOLF_OUTCOMES]; /* NaN: not known; one standard error */
};

/* From completed facts. What facts do not tell is NaN; a strike taken as usual tells nothing of a
 * centred one. The errors hold the facts' (first order, and second where face to path or strike are
 * near 0) and the models' own: carry as in flight.h, curve 10 %, apex 6 %, landing angle 2 deg,
 * time and landing speed 3 %, landing spin 5 % (practice), 10 % of a change by squareness and 30 %
 * of one by the strike. Returns NULL, or the range that a flight misses. Cost: some 2 ms. */
const struct golf_range *golf_implied(const struct golf_facts *facts, enum golf_model model,
                                      const struct golf_air *air, struct golf_outcomes *out);

/* The shot of completed facts; without start and tilt it flies straight. NaN where not known. */
struct golf_shot golf_facts_shot(const struct golf_facts *facts);
/* Whether start and axis tilt are known, so that the side means something. */
int golf_facts_sideways(const struct golf_facts *facts);

#endif
