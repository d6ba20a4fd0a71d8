/* What show.c and show_json.c share: who reads and who concludes an entry. Lists are in the arena
 * given, sorted by name. */
#ifndef WM_RENDER_SHOW_PARTS_H
#define WM_RENDER_SHOW_PARTS_H

#include "explain/explain.h"

struct entries {
  const struct subject *list;
  size_t n;
};
/* Rules, evidence (by formula or club) and drills (needs, measure) that read the evidence or claim,
 * or use the club or source. */
struct entries show_readers(struct arena *arena, const struct network *network,
                            struct subject subject);
/* Drills that change the cause. */
struct entries show_drills_for(struct arena *arena, const struct model *model, size_t cause);
double show_effect(const struct drill *drill, size_t cause);

#endif
