/* What no mean may hide: a single shot beside which pain, a place that is not safe, or whatever
 * else raises a red flag is written stops the whole session. Each shot's own answers are judged
 * alone, by the rules. Which words of a remark raise one is api/'s to find out; it tells it here.
 * Everything lives in the arena of the shots; one thread. */
#ifndef WM_SESSION_ALARM_H
#define WM_SESSION_ALARM_H

#include "run/run.h"
#include "session/intake.h"

struct alarm {
  size_t claim;      /* the red flag, or NO_INDEX: none */
  uint32_t line;     /* of the table; 0: given for all shots */
  const char *words; /* what stands there: "pain yes", "my back hurts"; "" for all shots */
};

/* By evidence: whether a red flag can rest on it. NULL: no memory. */
const bool *safety_evidence(struct arena *arena, const struct network *network);
/* The first of the shots from `from` on that raises a red flag with what holds for all (player).
 * A number counts at its extremes. False: no memory. */
bool alarm_of_shots(struct alarm *alarm, const struct wm_allocator *allocator,
                    const struct intake *intake, const struct run *player, size_t from);

/* Gives a run what holds for all shots. */
void player_give(struct run *run, const struct run *player);

#endif
