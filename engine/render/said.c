#include "render/said.h"

#include <math.h>
#include <string.h>

#include "render/wording.h"
#include "render/wording_parts.h"

/* ---- one piece ---- */

/* A number's word as the player of the run's hand sees it. */
static void add_number(struct text *out, const struct evidence *evidence, const struct value *value,
                       const char *word) {
  bool sided = evidence->minus && value->number != 0;
  if (sided) text_add(out, value->number < 0 ? evidence->minus : evidence->plus);
  else wording_escape(out, word, strlen(word));
}

static bool has_value(const struct say_piece *piece) {
  return piece->word || piece->value.typed;
}

void wording_said(struct text *out, const struct run *run, const struct say_piece *piece) {
  const struct model *model = run->network->model;
  const struct evidence *evidence = &model->evidence[piece->evidence];
  const struct value *value = &piece->value;
  if (!has_value(piece)) return;
  if (evidence->kind != EVIDENCE_NUMBER) {
    struct value seen = run->hand == HAND_LEFT ? value_mirror(model, *value) : *value;
    wording_choice(out, model, evidence, seen.choice, run->hand);
  } else if (piece->word) {
    add_number(out, evidence, value, piece->word);
  } else {
    wording_escape(out, value->typed, strlen(value->typed));
  }
}

static void add_quoted(struct text *out, const struct run *run, struct say_span words) {
  text_add_char(out, '"');
  wording_escape(out, run->said->text + words.start, words.end - words.start);
  text_add_char(out, '"');
}

static bool same_words(const struct say_piece *a, const struct say_piece *b) {
  return a->words.start == b->words.start && a->words.end == b->words.end;
}

/* ---- text ---- */

bool said_tells(const struct run *run, size_t evidence) {
  if (!run->said) return false;
  for (size_t i = 0; i < run->said->n_pieces; i++)
    if (run->said->pieces[i].use == SAY_USED && run->said->pieces[i].evidence == evidence)
      return true;
  const struct reading *reading = &run->readings[evidence];
  return reading->given && reading->given->text == run->said->text;
}

/* "pull hook": start direction: left, ...; curve: ... */
static void add_used(struct page *page, struct text *list) {
  const struct understanding *said = page->run->said;
  const struct say_piece *last = NULL;
  for (size_t i = 0; i < said->n_pieces; i++) {
    const struct say_piece *piece = &said->pieces[i];
    if (piece->use != SAY_USED) continue;
    bool goes_on = last && same_words(last, piece);
    text_add(list, !last ? "" : goes_on ? ", " : "; ");
    if (!goes_on) {
      add_quoted(list, page->run, piece->words);
      text_add(list, ": ");
    }
    const struct evidence *evidence = &page->model->evidence[piece->evidence];
    if (evidence->kind != EVIDENCE_CLUB) text_format(list, "%s ", evidence->title);
    wording_reading(list, page->run, piece->evidence);
    last = piece;
  }
}

/* What was heard without use; what says the same again is not worth a word. */
static void add_unused(struct page *page, struct text *list) {
  const struct understanding *said = page->run->said;
  const struct say_piece *last = NULL;
  for (size_t i = 0; i < said->n_pieces; i++) {
    const struct say_piece *piece = &said->pieces[i];
    if (piece->use == SAY_USED || piece->use == SAY_AGAIN || piece->use == SAY_BOTH) continue;
    if (last && same_words(last, piece)) continue;
    text_add(list, last ? "; " : "");
    add_quoted(list, page->run, piece->words);
    text_format(list, " (%s)", say_use_reason(piece->use));
    last = piece;
  }
}

void said_paragraphs(struct page *page) {
  if (!page->run->said) return;
  struct text used = page_text(page), unused = page_text(page);
  add_used(page, &used);
  add_unused(page, &unused);
  if (used.n == 0)
    text_add(&used, "nothing in them is understood; say it in other words, or name=value");
  page_paragraph(page, "Words", page_text_done(page, &used));
  if (unused.n > 0) page_paragraph(page, "Not used", page_text_done(page, &unused));
}

/* ---- JSON ---- */

static void key_span(struct json *json, const char *key, const struct run *run,
                     struct say_span words) {
  struct text text;
  text_init(&text, json->out->arena);
  text_add_bytes(&text, run->said->text + words.start, words.end - words.start);
  json_key_string(json, key, words.end > 0 ? text_done(&text) : NULL);
  if (words.end > 0 && !text_done(&text)) json->out->failed = true;
}

static void add_piece(struct json *json, const struct run *run, const struct say_piece *piece) {
  const struct model *model = run->network->model;
  struct text value;
  text_init(&value, json->out->arena);
  wording_said(&value, run, piece);
  json_object(json);
  key_span(json, "said", run, piece->words);
  json_key_count(json, "start", piece->words.start);
  json_key_count(json, "end", piece->words.end);
  json_key_string(json, "phrase", model->phrases[piece->phrase].name);
  json_key_string(json, "evidence", model->evidence[piece->evidence].name);
  json_key_string(json, "value", has_value(piece) ? text_done(&value) : NULL);
  json_key_number(json, "sure", piece->sure);
  json_key_string(json, "use", say_use_word(piece->use));
  json_key_string(json, "reason", piece->use == SAY_USED ? NULL : say_use_reason(piece->use));
  key_span(json, "because", run, piece->because);
  json_end(json);
  if (value.failed) json->out->failed = true;
}

void said_json(struct json *json, const struct run *run) {
  if (!run->said) {
    json_key_string(json, "words", NULL);
    return;
  }
  json_key_object(json, "words");
  json_key_string(json, "text", run->said->text);
  json_key_list(json, "pieces");
  for (size_t i = 0; i < run->said->n_pieces; i++) add_piece(json, run, &run->said->pieces[i]);
  json_end(json);
  json_end(json);
}
