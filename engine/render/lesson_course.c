/* The course over time. A change counts when it is larger than 1.96 standard errors of the
 * difference of the two means, each with the error of a reading and the usual spread from shot to
 * shot. */
#include "render/lesson_course.h"

#include <math.h>
#include <string.h>

#include "render/wording.h"

#define COLUMNS 79
#define INDENT 12
#define TWO_SIDED_95 1.96

/* One number at its first and at its last lesson with the same club and hand. */
struct movement {
  const struct evidence *evidence;
  const char *club;
  enum hand hand;
  const struct lesson *first, *last;
  double before, after, noise;
};

static const char *value_text(const struct lesson *lesson, const char *name) {
  for (size_t i = 0; i < lesson->n_values; i++)
    if (strcmp(lesson->values[i].name, name) == 0) return lesson->values[i].text;
  return NULL;
}

static const char *club_of(const struct model *model, const struct lesson *lesson) {
  const char *club = NULL;
  if (model->club_evidence != NO_INDEX)
    club = value_text(lesson, model->evidence[model->club_evidence].name);
  return club ? club : "";
}

/* The number of a lesson and the standard error of its mean; false: not given, or not read any
 * more. */
static bool number_of(struct arena *arena, const struct model *model, const struct lesson *lesson,
                      size_t evidence, double *number, double *error) {
  struct diags ignored;
  struct value value;
  diags_init(&ignored, arena);
  for (size_t i = 0; i < lesson->n_values; i++) {
    const struct lesson_value *given = &lesson->values[i];
    if (strcmp(given->name, model->evidence[evidence].name) != 0) continue;
    if (!value_read(arena, &ignored, model, evidence, given->text, (struct span){0}, &value))
      return false;
    *number = value.number;
    *error = hypot(value.error, model->evidence[evidence].spread / sqrt((double)given->shots));
    return true;
  }
  return false;
}

/* The first and last lesson like the one at `from` that give the number; false when it is the only
 * one, or not the first. */
static bool find_movement(struct arena *arena, const struct model *model,
                          const struct lesson_log *log, size_t from, size_t evidence,
                          struct movement *found) {
  const struct lesson *start = &log->lessons[from];
  double error = 0, last_error = 0, number;
  *found = (struct movement){.evidence = &model->evidence[evidence],
                             .club = club_of(model, start),
                             .hand = start->hand,
                             .first = start};
  if (!number_of(arena, model, start, evidence, &found->before, &error)) return false;
  for (size_t i = 0; i < log->n; i++) {
    const struct lesson *lesson = &log->lessons[i];
    bool alike = lesson->hand == found->hand && strcmp(club_of(model, lesson), found->club) == 0;
    if (!alike || i == from || !number_of(arena, model, lesson, evidence, &number, &last_error))
      continue;
    if (i < from) return false;
    found->last = lesson;
    found->after = number;
    found->noise = TWO_SIDED_95 * hypot(error, last_error);
  }
  return found->last != NULL;
}

static const char *direction_word(const struct movement *movement) {
  bool moved = fabs(movement->after - movement->before) > movement->noise;
  return moved ? "moved" : "not more than noise";
}

/* ---- text ---- */

static void add_line(struct text *out, const char *label, const char *words) {
  if (!words || !*words) return;
  text_format(out, "  %-*s", INDENT - 2, label);
  struct text escaped;
  text_init(&escaped, out->arena);
  wording_escape(&escaped, words, strlen(words));
  if (text_done(&escaped)) wording_wrap(out, text_done(&escaped), INDENT, INDENT, COLUMNS);
  text_add(out, "\n");
}

/* The title of a claim that still exists, else its name as it was. */
static const char *title_of(struct arena *arena, const struct model *model, const char *name,
                            enum hand hand) {
  size_t claim = name ? model_find_claim(model, name) : NO_INDEX;
  struct text text;
  if (claim == NO_INDEX) return name;
  text_init(&text, arena);
  wording_add_plain(&text, model, &model->claims[claim].title, hand);
  return text_done(&text);
}

static const char *cause_words(struct arena *arena, const struct model *model,
                               const struct lesson *lesson) {
  struct text text;
  if (lesson->stop) return NULL;
  if (!lesson->leading) return lesson->n_values > 0 ? "none stood out" : NULL;
  text_init(&text, arena);
  text_add(&text, title_of(arena, model, lesson->leading, lesson->hand));
  if (!isnan(lesson->certainty)) {
    text_add(&text, " (");
    wording_certainty(&text, lesson->certainty);
    text_add(&text, ")");
  }
  return text_done(&text);
}

/* What the red flag says today; of a finding that is no more, its name. */
static const char *stop_words(struct arena *arena, const struct model *model,
                              const struct lesson *lesson) {
  size_t claim = lesson->stop ? model_find_claim(model, lesson->stop) : NO_INDEX;
  struct text text;
  if (claim == NO_INDEX || model->claims[claim].red_flag.n == 0) return lesson->stop;
  text_init(&text, arena);
  wording_add_plain(&text, model, &model->claims[claim].red_flag, lesson->hand);
  return text_done(&text);
}

static const char *values_words(struct arena *arena, const struct model *model,
                                const struct lesson *lesson) {
  struct text text;
  text_init(&text, arena);
  for (size_t i = 0; i < lesson->n_values; i++) {
    size_t evidence = model_find_evidence(model, lesson->values[i].name);
    text_format(&text, "%s%s %s", i > 0 ? "; " : "",
                evidence == NO_INDEX ? lesson->values[i].name : model->evidence[evidence].title,
                lesson->values[i].text);
    if (lesson->values[i].shots > 1) text_format(&text, " (mean of %u)", lesson->values[i].shots);
  }
  return text_done(&text);
}

static void add_lesson(struct text *out, const struct model *model, const struct lesson *lesson) {
  text_format(out, "%s%s\n", lesson->date ? lesson->date : "no date",
              lesson->hand == HAND_LEFT ? "  left-handed" : "");
  add_line(out, "seen", values_words(out->arena, model, lesson));
  add_line(out, "STOP", stop_words(out->arena, model, lesson));
  add_line(out, "cause", cause_words(out->arena, model, lesson));
  add_line(out, "drill", title_of(out->arena, model, lesson->drill, lesson->hand));
  add_line(out, "verdict", lesson->verdict);
  add_line(out, "note", lesson->note);
}

static void add_number(struct text *out, const struct evidence *evidence, double number,
                       enum hand hand) {
  bool mirror = hand == HAND_LEFT && evidence->mirrored;
  wording_number(out, evidence, mirror ? -number : number, hand);
}

static void add_movement(struct text *out, const struct movement *movement) {
  struct text words;
  text_init(&words, out->arena);
  if (*movement->club) text_format(&words, "%s: ", movement->club);
  add_number(&words, movement->evidence, movement->before, movement->hand);
  text_add(&words, ", then ");
  add_number(&words, movement->evidence, movement->after, movement->hand);
  text_add(&words, ": by ");
  text_fixed(&words, fabs(movement->after - movement->before), movement->evidence->decimals);
  text_format(&words, ", %s (", direction_word(movement));
  text_fixed(&words, movement->noise, movement->evidence->decimals);
  text_add(&words, ")");
  text_format(out, "  %s\n", movement->evidence->title);
  if (!text_done(&words)) return;
  text_format(out, "%*s", INDENT, "");
  wording_wrap(out, text_done(&words), INDENT, INDENT, COLUMNS);
  text_add(out, "\n");
}

static void add_course(struct text *out, const struct model *model, const struct lesson_log *log) {
  bool any = false;
  for (size_t evidence = 0; evidence < model->n_evidence; evidence++) {
    if (model->evidence[evidence].kind != EVIDENCE_NUMBER) continue;
    for (size_t i = 0; i < log->n; i++) {
      struct movement movement;
      if (!find_movement(out->arena, model, log, i, evidence, &movement)) continue;
      if (!any) text_add(out, "\nThe course, first and last time with the same club\n");
      any = true;
      add_movement(out, &movement);
    }
  }
  if (any)
    text_add(out, "  In brackets: what two such readings may differ by from noise alone (95 %).\n");
}

void lesson_course_text(struct text *out, const struct model *model, const struct lesson_log *log) {
  text_format(out, "%s: %zu lesson%s\n", log->player, log->n, log->n == 1 ? "" : "s");
  for (size_t i = 0; i < log->n; i++) {
    text_add(out, "\n");
    add_lesson(out, model, &log->lessons[i]);
  }
  add_course(out, model, log);
}

/* ---- JSON ---- */

static void json_lesson(struct json *json, const struct lesson *lesson) {
  json_object(json);
  json_key_string(json, "date", lesson->date);
  json_key_string(json, "handed", lesson->hand == HAND_LEFT ? "left" : "right");
  json_key_string(json, "knowledge", lesson->knowledge);
  json_key_list(json, "evidence");
  for (size_t i = 0; i < lesson->n_values; i++) {
    json_object(json);
    json_key_string(json, "name", lesson->values[i].name);
    json_key_string(json, "value", lesson->values[i].text);
    json_key_count(json, "shots", lesson->values[i].shots);
    json_end(json);
  }
  json_end(json);
  json_key_string(json, "leading", lesson->leading);
  json_key_number(json, "certainty", lesson->certainty);
  json_key_string(json, "drill", lesson->drill);
  json_key_string(json, "stop", lesson->stop);
  json_key_string(json, "verdict", lesson->verdict);
  json_key_string(json, "note", lesson->note);
  json_end(json);
}

static void json_movement(struct json *json, const struct movement *movement) {
  json_object(json);
  json_key_string(json, "evidence", movement->evidence->name);
  json_key_string(json, "club", *movement->club ? movement->club : NULL);
  json_key_string(json, "from", movement->first->date);
  json_key_string(json, "to", movement->last->date);
  json_key_number(json, "before", movement->before);
  json_key_number(json, "after", movement->after);
  json_key_number(json, "noise", movement->noise);
  json_key_bool(json, "moved", fabs(movement->after - movement->before) > movement->noise);
  json_end(json);
}

void lesson_course_json(struct json *json, const struct network *network,
                        const struct lesson_log *log) {
  const struct model *model = network->model;
  json_head(json, "whymiss-log", network->digest);
  json_object(json);
  json_key_string(json, "player", log->player);
  json_key_list(json, "lessons");
  for (size_t i = 0; i < log->n; i++) json_lesson(json, &log->lessons[i]);
  json_end(json);
  json_key_list(json, "course");
  for (size_t evidence = 0; evidence < model->n_evidence; evidence++)
    for (size_t i = 0; i < log->n; i++) {
      struct movement movement;
      if (model->evidence[evidence].kind == EVIDENCE_NUMBER &&
          find_movement(json->out->arena, model, log, i, evidence, &movement))
        json_movement(json, &movement);
    }
  json_end(json);
  json_end(json);
}
