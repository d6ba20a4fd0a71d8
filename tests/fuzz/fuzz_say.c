/* Any bytes as what a player says, against the shipped vocabulary and phrases; the first byte picks
 * hand and club. Pieces lie within the text and in order, a value is in its range, an evidence is
 * used once, and the same bytes say the same again. */
#include <stdlib.h>
#include <string.h>

#include "api/handles.h"
#include "say/say.h"

/* So long a text takes some milliseconds; more would leave little time to fuzz. */
#define BYTES_MAX 400

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n);

static void require(bool holds) {
  if (!holds) abort();
}

static const struct model *shipped(void) {
  static const struct model *model;
  static const char *const directories[] = {"kb/evidence", "kb/phrases"};
  if (model) return model;
  struct arena *arena = arena_new(NULL);
  struct diags diags;
  struct file_list list = {.bytes = 0};
  diags_init(&diags, arena);
  for (size_t i = 0; i < sizeof directories / sizeof directories[0]; i++)
    files_collect(arena, &list, directories[i], 0, &diags);
  static const char *const files[] = {"kb/clubs.yaml", "kb/sources.yaml"};
  for (size_t i = 0; i < sizeof files / sizeof files[0]; i++) {
    struct model_file *file = array_push(arena, &list.files);
    require(file != NULL);
    *file = (struct model_file){source_read(arena, files[i], &diags), 0};
  }
  model = model_read(arena, list.files.at, list.files.n, &diags);
  require(model != NULL);
  return model;
}

static void check_piece(const struct understanding *said, size_t i) {
  const struct say_piece *piece = &said->pieces[i];
  const struct evidence *evidence = &shipped()->evidence[piece->evidence];
  require(piece->words.start < piece->words.end && piece->words.end <= said->n);
  require(i == 0 || said->pieces[i - 1].words.start <= piece->words.start);
  require(piece->because.start <= piece->because.end && piece->because.end <= said->n);
  if (piece->use != SAY_USED) return;
  require(piece->sure > 0 && piece->sure <= 1 && piece->value.typed != NULL);
  if (evidence->kind == EVIDENCE_NUMBER)
    require(piece->value.number >= evidence->low && piece->value.number <= evidence->high &&
            piece->value.error > 0);
  else require(piece->value.choice < evidence->n_choices && piece->value.sure > 0);
  for (size_t k = 0; k < i; k++)
    require(said->pieces[k].use != SAY_USED || said->pieces[k].evidence != piece->evidence);
}

static void check_same(const struct understanding *a, const struct understanding *b) {
  require(a->n_pieces == b->n_pieces && a->says_hand == b->says_hand);
  for (size_t i = 0; i < a->n_pieces; i++)
    require(a->pieces[i].phrase == b->pieces[i].phrase && a->pieces[i].use == b->pieces[i].use &&
            a->pieces[i].value.number == b->pieces[i].value.number);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t n) {
  const struct model *model = shipped();
  if (n == 0) return 0;
  size_t rest = n - 1 < BYTES_MAX ? n - 1 : BYTES_MAX;
  enum hand hand = bytes[0] & 1 ? HAND_LEFT : HAND_RIGHT;
  size_t club = bytes[0] >> 1 < model->n_clubs ? bytes[0] >> 1 : NO_INDEX;
  struct arena *arena = arena_new(NULL);
  struct source source = {
      .name = "words", .bytes = arena_copy(arena, (const char *)bytes + 1, rest), .n = rest};
  struct diags diags;
  struct understanding first, again;
  diags_init(&diags, arena);
  require(say_understand(arena, &diags, model, &source, hand, club, &first));
  require(say_understand(arena, &diags, model, &source, hand, club, &again));
  require(diags.errors == 0);
  for (size_t i = 0; i < first.n_pieces; i++) check_piece(&first, i);
  check_same(&first, &again);
  arena_free(arena);
  return 0;
}
