/* The text of a lesson log. An entry is only ever added behind what stands there, so what the file
 * held before, comments too, stays to the byte. */
#include "session/lesson_log.h"

#include <math.h>
#include <string.h>

#define PLAYER_MAX 40

bool lesson_log_is_player(const char *player) {
  size_t n = strlen(player);
  if (n == 0 || n > PLAYER_MAX || player[0] == '-' || player[n - 1] == '-') return false;
  for (size_t i = 0; i < n; i++) {
    bool word = (player[i] >= 'a' && player[i] <= 'z') || (player[i] >= '0' && player[i] <= '9');
    if (!word && !(player[i] == '-' && player[i - 1] != '-')) return false;
  }
  return true;
}

static int digits_at(const char *text, size_t at, size_t n) {
  int number = 0;
  for (size_t i = at; i < at + n; i++) number = 10 * number + (text[i] - '0');
  return number;
}

static bool is_in_calendar(const char *date, bool has_time) {
  static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  int year = digits_at(date, 0, 4), month = digits_at(date, 5, 2), day = digits_at(date, 8, 2);
  bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  if (month < 1 || month > 12 || day < 1) return false;
  if (day > days[month - 1] + (leap && month == 2)) return false;
  return !has_time || (digits_at(date, 11, 2) < 24 && digits_at(date, 14, 2) < 60);
}

bool lesson_log_is_date(const char *date) {
  static const char day[] = "dddd-dd-dd", minute[] = "dddd-dd-ddTdd:dd";
  size_t n = strlen(date);
  const char *shape = n == strlen(day) ? day : n == strlen(minute) ? minute : NULL;
  for (size_t i = 0; shape && i < n; i++) {
    bool digit = date[i] >= '0' && date[i] <= '9';
    if (shape[i] == 'd' ? !digit : date[i] != shape[i]) return false;
  }
  return shape != NULL && is_in_calendar(date, shape == minute);
}

/* ---- reading ---- */

struct log_reader {
  struct arena *arena;
  struct diags *diags;
};

static void wrong(struct log_reader *reader, const struct node *node, const char *what,
                  const char *wanted) {
  DIAG(reader->diags, WRONG_SHAPE, node->at, what, wanted, node_describe(reader->arena, node));
}

static const char *string_of(struct log_reader *reader, const struct node *map, const char *key) {
  const struct node *node = node_get(map, key);
  if (!node) return NULL;
  if (node->kind == NODE_SCALAR) return node->text;
  wrong(reader, node, key, "a text");
  return NULL;
}

static double number_of(struct log_reader *reader, const struct node *map, const char *key,
                        double fallback) {
  double number = fallback;
  const struct node *node = node_get(map, key);
  if (!node) return fallback;
  size_t used = node->kind == NODE_SCALAR ? number_read(node->text, node->n, &number) : 0;
  if (used > 0 && used == node->n) return number;
  wrong(reader, node, key, "a number");
  return fallback;
}

static void check_keys(struct log_reader *reader, const struct node *map, const char *what,
                       const char *const *keys, size_t n) {
  struct text known;
  text_init(&known, reader->arena);
  for (size_t i = 0; i < n; i++) text_format(&known, "%s%s", i > 0 ? ", " : "", keys[i]);
  for (const struct node *value = map->first; value; value = value->next) {
    size_t i = 0;
    while (i < n && strcmp(keys[i], value->key) != 0) i++;
    if (i < n) continue;
    struct diag *diag = DIAG(reader->diags, UNKNOWN_KEY, value->key_at, what, value->key,
                             text_done(&known) ? text_done(&known) : "");
    diag_nearest(reader->diags, diag, value->key, keys, n);
  }
}

static unsigned shots_of(struct log_reader *reader, const struct node *map) {
  double shots = number_of(reader, map, "shots", 1);
  return shots >= 1 && shots <= 10000 ? (unsigned)shots : 1;
}

static bool read_value(struct log_reader *reader, const struct node *node,
                       struct lesson_value *value) {
  *value = (struct lesson_value){.name = node->key, .shots = 1};
  if (node->kind == NODE_SCALAR) {
    value->text = node->text;
  } else if (node->kind == NODE_MAP) {
    value->text = string_of(reader, node, "value");
    value->shots = shots_of(reader, node);
  }
  if (value->text) return true;
  wrong(reader, node, node->key, "a value");
  return false;
}

static void read_values(struct log_reader *reader, const struct node *map, struct lesson *lesson) {
  if (!map) return;
  if (map->kind != NODE_MAP) {
    wrong(reader, map, "evidence", "a mapping: evidence to value");
    return;
  }
  struct lesson_value *values = arena_new_array(reader->arena, struct lesson_value, map->n + 1);
  size_t n = 0;
  for (const struct node *node = map->first; values && node; node = node->next)
    n += read_value(reader, node, &values[n]);
  lesson->values = values;
  lesson->n_values = n;
}

static void read_lesson(struct log_reader *reader, const struct node *map, struct lesson *lesson) {
  static const char *const keys[] = {"lesson", "handed",    "knowledge", "evidence", "leading",
                                     "drill",  "certainty", "verdict",   "note",     "stop"};
  check_keys(reader, map, "a lesson", keys, sizeof keys / sizeof keys[0]);
  const char *hand = string_of(reader, map, "handed");
  *lesson = (struct lesson){.date = string_of(reader, map, "lesson"),
                            .hand = hand && strcmp(hand, "left") == 0 ? HAND_LEFT : HAND_RIGHT,
                            .leading = string_of(reader, map, "leading"),
                            .drill = string_of(reader, map, "drill"),
                            .verdict = string_of(reader, map, "verdict"),
                            .note = string_of(reader, map, "note"),
                            .stop = string_of(reader, map, "stop"),
                            .knowledge = string_of(reader, map, "knowledge"),
                            .certainty = number_of(reader, map, "certainty", NAN)};
  read_values(reader, node_get(map, "evidence"), lesson);
  if (lesson->date && !lesson_log_is_date(lesson->date))
    wrong(reader, map->first, "lesson", "a date, such as 2026-05-30");
}

/* The first entry names the player and the format. */
static bool read_head(struct log_reader *reader, const struct node *list, struct lesson_log *log) {
  static const char *const keys[] = {"log", "format"};
  const struct node *head = list->kind == NODE_LIST ? list->first : NULL;
  if (!head || head->kind != NODE_MAP || !node_get(head, "log") || !node_get(head, "format")) {
    DIAG(reader->diags, LOG_HEAD, list->at, "");
    return false;
  }
  check_keys(reader, head, "the head of a log", keys, 2);
  log->player = string_of(reader, head, "log");
  const struct node *format = node_get(head, "format");
  double number = number_of(reader, head, "format", 0);
  if (number > LESSON_LOG_FORMAT) {
    struct text known;
    text_init(&known, reader->arena);
    text_format(&known, "%d", LESSON_LOG_FORMAT);
    DIAG(reader->diags, LOG_FORMAT, format->at, format->text, text_done(&known));
  }
  return true;
}

bool lesson_log_read(struct arena *arena, const struct source *source, struct diags *diags,
                     struct lesson_log *log) {
  struct log_reader reader = {arena, diags};
  size_t before = diags->errors;
  const struct node *list = node_read(arena, source, diags);
  *log = (struct lesson_log){0};
  if (!list || !read_head(&reader, list, log)) return false;
  struct lesson *lessons = arena_new_array(arena, struct lesson, list->n);
  for (const struct node *map = list->first->next; lessons && map; map = map->next) {
    if (map->kind != NODE_MAP || !node_get(map, "lesson"))
      wrong(&reader, map, "an entry", "a lesson");
    else read_lesson(&reader, map, &lessons[log->n++]);
  }
  log->lessons = lessons;
  return lessons && diags->errors == before && !diags->no_memory;
}

/* ---- writing ---- */

/* In double quotes: the only style of YAML in which any text can stand. */
static void add_quoted(struct text *out, const char *string) {
  text_add(out, "\"");
  for (; *string; string++) {
    unsigned char byte = (unsigned char)*string;
    if (byte == '"' || byte == '\\') text_add(out, "\\");
    text_add_char(out, byte < ' ' || byte == 0x7f ? ' ' : *string);
  }
  text_add(out, "\"");
}

static void add_field(struct text *out, const char *key, const char *string) {
  if (!string) return;
  text_format(out, "  %s: ", key);
  add_quoted(out, string);
  text_add(out, "\n");
}

void lesson_log_start(struct text *out, const char *player) {
  text_format(out,
              "# Lessons of one player, newest last. Plain text: read it, keep it, delete it.\n"
              "- log: %s\n  format: %d\n",
              player, LESSON_LOG_FORMAT);
}

static void add_value(struct text *out, const struct lesson_value *value) {
  text_format(out, "    %s: ", value->name);
  if (value->shots > 1) {
    text_add(out, "{value: ");
    add_quoted(out, value->text);
    text_format(out, ", shots: %u}\n", value->shots);
    return;
  }
  add_quoted(out, value->text);
  text_add(out, "\n");
}

void lesson_log_add(struct text *out, const struct lesson *lesson) {
  text_format(out, "- lesson: %s\n  handed: %s\n", lesson->date,
              lesson->hand == HAND_LEFT ? "left" : "right");
  add_field(out, "knowledge", lesson->knowledge);
  if (lesson->n_values > 0) text_add(out, "  evidence:\n");
  for (size_t i = 0; i < lesson->n_values; i++) add_value(out, &lesson->values[i]);
  add_field(out, "leading", lesson->leading);
  if (!isnan(lesson->certainty)) {
    text_add(out, "  certainty: ");
    text_fixed(out, lesson->certainty, 4);
    text_add(out, "\n");
  }
  add_field(out, "drill", lesson->drill);
  add_field(out, "stop", lesson->stop);
  add_field(out, "verdict", lesson->verdict);
  add_field(out, "note", lesson->note);
}

/* ---- from a run ---- */

static bool is_word_of(const struct evidence *evidence, const char *typed) {
  for (size_t i = 0; i < evidence->n_words; i++)
    if (strcmp(evidence->words[i].name, typed) == 0) return true;
  return false;
}

/* As the player gave it: a word stays a word, a number gets the error it was taken with. */
static const char *text_of_value(struct arena *arena, const struct evidence *evidence,
                                 const struct value *value) {
  struct text text;
  if (evidence->kind == EVIDENCE_TEXT) return value->text;
  if (evidence->kind != EVIDENCE_NUMBER) return evidence->choices[value->choice].name;
  if (value->typed && is_word_of(evidence, value->typed)) return value->typed;
  text_init(&text, arena);
  text_number(&text, value->number);
  text_add(&text, " +/- ");
  text_number(&text, value->error);
  if (evidence->unit->dimension != GOLF_DIMENSION_NONE)
    text_format(&text, " %s", evidence->unit->name);
  return text_done(&text);
}

static void add_outcome(struct arena *arena, const struct run *run, struct lesson *lesson) {
  const struct model *model = run->network->model;
  bool stopped = run->red_flag != NO_INDEX;
  size_t leading = stopped ? NO_INDEX : run_leading(run), drill = run_drill(run);
  struct text digest;
  text_init(&digest, arena);
  text_format(&digest, "%016llx", (unsigned long long)run->network->digest);
  lesson->knowledge = text_done(&digest);
  lesson->certainty = leading == NO_INDEX ? NAN : run->certainty[leading];
  if (leading != NO_INDEX) lesson->leading = model->claims[leading].name;
  if (stopped) lesson->stop = model->claims[run->red_flag].name;
  if (drill != NO_INDEX) lesson->drill = model->claims[drill].name;
}

bool lesson_of_run(struct arena *arena, const struct run *run, struct lesson *lesson) {
  const struct model *model = run->network->model;
  struct lesson_value *values = arena_new_array(arena, struct lesson_value, model->n_evidence + 1);
  *lesson = (struct lesson){.hand = run->hand, .values = values, .certainty = NAN};
  if (!values) return false;
  for (size_t i = 0; i < model->n_evidence; i++) {
    if (!run->is_given[i]) continue;
    const struct value *value = &run->values[i];
    unsigned shots = value->shots > 1 ? value->shots : run->shots;
    values[lesson->n_values++] = (struct lesson_value){
        model->evidence[i].name, text_of_value(arena, &model->evidence[i], value),
        model->evidence[i].kind == EVIDENCE_NUMBER ? shots : 1};
  }
  add_outcome(arena, run, lesson);
  return !arena_failed(arena);
}
