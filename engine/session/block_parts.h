/* The steps of making a block, in order. Internal to block. Each returns false without memory. */
#ifndef WM_SESSION_BLOCK_PARTS_H
#define WM_SESSION_BLOCK_PARTS_H

#include "session/block.h"

/* Figures, regions and outliers. */
bool block_measure(struct block *block, const struct block_maker *maker);
/* Groups without their runs. */
bool block_sort(struct block *block, const struct block_maker *maker);
/* A run of each group that is large enough, and of the shots in the window. */
bool block_diagnose(struct block *block, const struct block_maker *maker);
/* Causes, drills and the test block. */
bool block_rank(struct block *block, const struct block_maker *maker);
/* What the answer hangs on. */
bool block_find_hinges(struct block *block, const struct block_maker *maker);

/* Adds what the shots of a group say to a run: means with their errors, choices that most agree on.
 * A spread seen in few shots is not trusted alone: the usual one counts as GROUP_SPREAD_SHOTS
 * further shots. */
#define GROUP_SPREAD_SHOTS 5
bool group_give(struct run *run, const struct block *block, const struct block_maker *maker,
                const struct miss_group *group);

#endif
