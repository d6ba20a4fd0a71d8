/* The same case on another knowledge base: evidence, words and claims found again by name.
 * What the other base does not know is left out and counted. Lives in the arena given; borrows both
 * models. One thread. */
#ifndef WM_WORKSHOP_TRANSLATE_H
#define WM_WORKSHOP_TRANSLATE_H

#include "model/model.h"

struct translation {
  const struct model *from, *to;
  size_t *evidence, *claims; /* by index in `from`: index in `to`, or NO_INDEX */
};

/* False: no memory. */
bool translation_make(struct translation *translation, struct arena *arena,
                      const struct model *from, const struct model *to);
/* False: the other base has no such evidence or word. */
bool translate_value(const struct translation *translation, const struct value *value,
                     struct value *out);
/* Fills *out; *impossible: it expects what the other base cannot conclude. False: no memory. */
bool translate_case(struct arena *arena, const struct translation *translation,
                    const struct worked_case *worked, struct worked_case *out, bool *impossible);

#endif
