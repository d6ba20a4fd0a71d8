/* Whether the phrases understand their own examples. */
#include <string.h>

#include "say/say.h"
#include "workshop/check_parts.h"

static bool is_understood(const struct understanding *said, const struct model *model,
                          size_t phrase) {
  if (model->phrases[phrase].kind == PHRASE_HAND)
    return said->says_hand && said->hand == model->phrases[phrase].hand;
  for (size_t i = 0; i < said->n_pieces; i++)
    if (said->pieces[i].phrase == phrase && said->pieces[i].use == SAY_USED) return true;
  return false;
}

static void check_example(struct checker *checker, size_t index, const char *example) {
  const struct phrase *phrase = &checker->model->phrases[index];
  struct source source = {.name = phrase->name, .bytes = example, .n = strlen(example)};
  struct understanding said;
  if (!say_understand(checker->arena, NULL, checker->model, &source, HAND_RIGHT, NO_INDEX, &said))
    return;
  if (!is_understood(&said, checker->model, index))
    FIND(checker, PHRASE_EXAMPLE, phrase->at, phrase->at, phrase->name, example);
}

void check_phrases(struct checker *checker) {
  for (size_t i = 0; i < checker->model->n_phrases; i++)
    for (size_t k = 0; k < checker->model->phrases[i].n_such_as; k++)
      check_example(checker, i, checker->model->phrases[i].such_as[k]);
}
