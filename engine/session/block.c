#include "session/block.h"

#include "session/block_parts.h"

bool block_make(struct block *block, const struct block_maker *maker, size_t club,
                const size_t *shots, size_t n) {
  *block = (struct block){.club = club,
                          .shots = shots,
                          .n = n,
                          .leading = NO_INDEX,
                          .one_cause = NO_INDEX,
                          .red_flag = maker->red_flag,
                          .test_figure = NO_INDEX};
  return block_measure(block, maker) && block_sort(block, maker) && block_diagnose(block, maker) &&
         block_rank(block, maker) && block_find_hinges(block, maker);
}

void block_free(struct block *block) {
  for (size_t i = 0; i < block->n_groups; i++) run_free(block->groups[i].run);
  run_free(block->in_window.run);
  run_free(block->whole.run);
}
