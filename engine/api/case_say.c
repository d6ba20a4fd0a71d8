/* What the player says: kept as text, understood anew by each run, since what is given otherwise,
 * the hand and the club decide what the words mean and which of them are needed. */
#include <string.h>

#include "api/handles.h"
#include "model/value.h"
#include "render/said.h"
#include "say/say.h"

/* ---- keeping ---- */

/* The text after what was said before, a line apart. */
static const struct source *joined(wm_case *player, const char *text, const char *where) {
  struct text all;
  text_init(&all, player->texts);
  if (player->said) text_format(&all, "%s\n", player->said->bytes);
  text_add(&all, text);
  const char *bytes = text_done(&all);
  const char *name = player->said ? player->said->name : where ? where : "words";
  return bytes ? source_copy(player->texts, name, bytes, all.n) : NULL;
}

static bool is_blank(const char *text) {
  return text[strspn(text, " \t\r\n")] == '\0';
}

enum wm_status wm_case_say(wm_case *player, const char *text, const char *where, wm_diags *diags) {
  struct report report;
  if (!player || !text) return WM_USAGE;
  if (!report_open(&report, diags, case_allocator(player))) return WM_INTERNAL;
  case_changed(player);
  const struct source *source = is_blank(text) ? player->said : joined(player, text, where);
  char limit[NUMBER_ROOM];
  number_print(limit, SAY_BYTES_MAX);
  if (!source && !is_blank(text)) report.list.no_memory = true;
  else if (source && source->n > SAY_BYTES_MAX)
    DIAG(&report.list, SAID_TOO_LONG, (struct span){0}, limit);
  else player->said = source;
  return report_close(&report, WM_OK, WM_INPUT_FAULTY);
}

/* ---- giving ---- */

static void give(wm_case *player, const struct value *value) {
  player->from_words[value->evidence] = run_give(player->run, value);
}

/* The hand the words tell counts when no other was given. False: understand again with that hand.
 */
static bool hand_settled(wm_case *player, struct diags *diags, const struct understanding *said) {
  static const char *const hands[] = {"right", "left"};
  if (!said->says_hand || said->hand == player->run->hand) return true;
  if (!player->hand_given) {
    player->run->hand = said->hand;
    return false;
  }
  DIAG(diags, SAID_HAND, said->hand_at, hands[said->hand], hands[player->run->hand]);
  return true;
}

static size_t club_given(const wm_case *player) {
  size_t club = player->kb->model->club_evidence;
  if (club == NO_INDEX || !player->run->is_given[club]) return NO_INDEX;
  return player->run->values[club].choice;
}

static bool understand(wm_case *player, struct diags *diags, struct understanding *said) {
  return say_understand(player->answers, diags, player->kb->model, player->said, player->run->hand,
                        club_given(player), said);
}

/* The text itself is evidence too: of the first evidence of kind text. */
static void give_text(wm_case *player) {
  const struct model *model = player->kb->model;
  size_t i = 0;
  while (i < model->n_evidence && model->evidence[i].kind != EVIDENCE_TEXT) i++;
  if (i == model->n_evidence) return;
  struct value value = {.evidence = i, .choice = NO_INDEX, .sure = 1};
  value.text = value.typed = player->said->bytes;
  value.at = (struct span){.source = player->said, 1, 1, 1, 1};
  give(player, &value);
}

/* What was given otherwise stands; the piece of the words is marked as known. */
static void give_pieces(wm_case *player, struct understanding *said) {
  struct say_piece *pieces = arena_new_array(player->answers, struct say_piece, said->n_pieces + 1);
  if (!pieces) return;
  for (size_t i = 0; i < said->n_pieces; i++) {
    pieces[i] = said->pieces[i];
    if (pieces[i].use != SAY_USED) continue;
    if (player->run->is_given[pieces[i].evidence]) pieces[i].use = SAY_KNOWN;
    else give(player, &pieces[i].value);
  }
  said->pieces = pieces;
}

bool case_understand(wm_case *player, struct diags *diags) {
  if (!player->said) return true;
  struct understanding *said = arena_new_object(player->answers, struct understanding);
  if (!said || !understand(player, diags, said)) return false;
  if (!hand_settled(player, diags, said) && !understand(player, diags, said)) return false;
  give_pieces(player, said);
  give_text(player);
  player->run->said = said;
  return !arena_failed(player->answers);
}

void case_forget_words(wm_case *player) {
  player->run->said = NULL;
  for (size_t i = 0; i < player->kb->model->n_evidence; i++)
    if (player->from_words[i]) run_take_back(player->run, i);
  memset(player->from_words, 0, player->kb->model->n_evidence * sizeof *player->from_words);
}

/* ---- telling ---- */

static const char *quoted(wm_case *player, struct say_span words) {
  return arena_copy(player->answers, player->said->bytes + words.start, words.end - words.start);
}

static struct wm_said public_piece(wm_case *player, const struct say_piece *piece) {
  const struct model *model = player->kb->model;
  struct text shown;
  text_init(&shown, player->answers);
  wording_said(&shown, player->run, piece);
  return (struct wm_said){.words = quoted(player, piece->words),
                          .start = piece->words.start,
                          .end = piece->words.end,
                          .phrase = model->phrases[piece->phrase].name,
                          .evidence = model->evidence[piece->evidence].name,
                          .shown = text_done(&shown),
                          .sure = piece->sure,
                          .use = say_use_word(piece->use),
                          .reason = piece->use == SAY_USED ? NULL : say_use_reason(piece->use),
                          .because =
                              piece->because.end > 0 ? quoted(player, piece->because) : NULL};
}

const struct wm_said *wm_case_said(wm_case *player, size_t *n) {
  size_t none;
  if (!n) n = &none;
  *n = 0;
  if (!player || !player->run->judged) return NULL;
  if (!player->results.said) {
    size_t count = player->run->said ? player->run->said->n_pieces : 0;
    struct wm_said *list = arena_new_array(player->answers, struct wm_said, count + 1);
    for (size_t i = 0; list && i < count; i++)
      list[i] = public_piece(player, &player->run->said->pieces[i]);
    player->results.said = arena_failed(player->answers) ? NULL : list;
    player->results.n_said = count;
  }
  *n = player->results.said ? player->results.n_said : 0;
  return player->results.said;
}
