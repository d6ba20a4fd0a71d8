/* One line of JSON in, one line of JSON out. A line is read with the YAML reader, of whose language
 * JSON is a part, so it gets the same guards and the same places; pairs of surrogates, which only
 * JSON writes, are joined before. */
#include <math.h>
#include <string.h>

#include "api/handles.h"
#include "render/answer_line.h"

static int hex_digit(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if ((c | 0x20) >= 'a' && (c | 0x20) <= 'f') return (c | 0x20) - 'a' + 10;
  return -1;
}

/* The four hexadecimal digits of "\uXXXX" at p, or -1. */
static long escape_at(const char *p, const char *end) {
  long code = 0;
  if (end - p < 6 || p[0] != '\\' || p[1] != 'u') return -1;
  for (int i = 2; i < 6; i++) {
    int digit = hex_digit(p[i]);
    if (digit < 0) return -1;
    code = code * 16 + digit;
  }
  return code;
}

/* Copies the line, joining "\uD83D\uDE00" to "\U0001F600" of the same character. */
static char *join_surrogates(struct arena *arena, const char *line, size_t n, size_t *length) {
  static const char digits[] = "0123456789ABCDEF";
  char *out = arena_take(arena, n + 1);
  const char *end = line + n;
  size_t at = 0;
  if (!out) return NULL;
  for (const char *p = line; p < end;) {
    long high = escape_at(p, end), low = high >= 0 ? escape_at(p + 6, end) : -1;
    if (high >= 0xD800 && high < 0xDC00 && low >= 0xDC00 && low < 0xE000) {
      unsigned long code =
          0x10000ul + (((unsigned long)high - 0xD800) << 10) + ((unsigned long)low - 0xDC00);
      out[at++] = '\\';
      out[at++] = 'U';
      for (int shift = 28; shift >= 0; shift -= 4) out[at++] = digits[code >> shift & 15];
      p += 12;
    } else if (*p == '\\' && p + 1 < end) {
      out[at++] = *p++; /* so that the second of two backslashes starts nothing */
      out[at++] = *p++;
    } else {
      out[at++] = *p++;
    }
  }
  out[at] = '\0';
  *length = at;
  return out;
}

/* What a line asks. */
struct question {
  wm_case *player;
  struct diags *diags;
  const struct node *id;
  const char *say;
};

static void check_keys(struct question *question, const struct node *map) {
  static const char *const keys[] = {"id", "handed", "shots", "evidence", "say"};
  const size_t n = sizeof keys / sizeof keys[0];
  for (const struct node *value = map->first; value; value = value->next) {
    size_t i = 0;
    while (i < n && strcmp(keys[i], value->key) != 0) i++;
    if (i < n) continue;
    struct diag *diag = DIAG(question->diags, UNKNOWN_KEY, value->key_at, "a line", value->key,
                             "id, handed, shots, evidence, say");
    diag_nearest(question->diags, diag, value->key, keys, n);
  }
}

static bool is_null(const struct node *node) {
  return node->kind == NODE_SCALAR && !node->quoted && node_is(node, "null");
}

static void read_hand(struct question *question, const struct node *node) {
  if (!node || is_null(node)) return;
  if (!node_is(node, "left") && !node_is(node, "right")) {
    DIAG(question->diags, BAD_HAND, node->at, node->kind == NODE_SCALAR ? node->text : "this");
    return;
  }
  question->player->run->hand = node_is(node, "left") ? HAND_LEFT : HAND_RIGHT;
  question->player->hand_given = true;
}

static void read_shots(struct question *question, const struct node *node) {
  double shots = 1;
  if (!node || is_null(node)) return;
  size_t used = node->kind == NODE_SCALAR ? number_read(node->text, node->n, &shots) : 0;
  if (used > 0 && used == node->n && shots >= 1 && shots <= 10000 && shots == floor(shots))
    question->player->run->shots = (unsigned)shots;
  else DIAG(question->diags, BAD_SHOTS, node->at, node->kind == NODE_SCALAR ? node->text : "this");
}

/* JSON says yes and no in its own words. */
static struct node in_our_words(const struct node *given) {
  struct node node = *given;
  if (node.kind != NODE_SCALAR || node.quoted) return node;
  if (node_is(given, "true")) node.text = "yes", node.n = 3;
  if (node_is(given, "false")) node.text = "no", node.n = 2;
  return node;
}

static void read_evidence(struct question *question, const struct node *node) {
  wm_case *player = question->player;
  const struct model *model = player->kb->model;
  size_t evidence = model_find_evidence(model, node->key);
  struct value value;
  if (is_null(node)) return;
  if (evidence == NO_INDEX) {
    struct diag *diag = DIAG(question->diags, UNKNOWN_NAME, node->key_at, "evidence", node->key);
    model_nearest_evidence(model, question->diags, diag, node->key);
    return;
  }
  struct node given = in_our_words(node);
  if (value_read_node(player->texts, question->diags, model, evidence, &given, &value) &&
      !run_give(player->run, &value))
    DIAG(question->diags, TWICE_GIVEN, node->key_at, model->evidence[evidence].name);
}

static void read_question(struct question *question, const struct node *map) {
  if (map->kind != NODE_MAP) {
    DIAG(question->diags, WRONG_SHAPE, map->at, "a line", "one object",
         node_describe(question->diags->arena, map));
    return;
  }
  const struct node *evidence = node_get(map, "evidence"), *say = node_get(map, "say");
  question->id = node_get(map, "id");
  check_keys(question, map);
  read_hand(question, node_get(map, "handed"));
  read_shots(question, node_get(map, "shots"));
  if (say && say->kind == NODE_SCALAR && !is_null(say)) question->say = say->text;
  if (evidence && is_null(evidence)) evidence = NULL;
  if (evidence && evidence->kind != NODE_MAP)
    DIAG(question->diags, WRONG_SHAPE, evidence->at, "evidence", "an object: name to value",
         node_describe(question->diags->arena, evidence));
  else if (evidence)
    for (const struct node *node = evidence->first; node; node = node->next)
      read_evidence(question, node);
}

static bool read_line(struct question *question, const char *line, size_t n, size_t number) {
  struct arena *arena = question->player->texts;
  struct source *source = arena_new_object(arena, struct source);
  if (!source) return false;
  source->name = "line";
  source->bytes = join_surrogates(arena, line, n, &source->n);
  source->first_line = (uint32_t)number;
  const struct node *map = source->bytes ? node_read(arena, source, question->diags) : NULL;
  if (map) read_question(question, map);
  return source->bytes != NULL;
}

/* The words go last: what is given in numbers wins over them. */
static bool answer(struct question *question) {
  wm_case *player = question->player;
  if (question->say && wm_case_say(player, question->say, "say", NULL) == WM_INTERNAL) return false;
  return wm_case_run(player, NULL) == WM_OK;
}

enum wm_status wm_case_answer_line(wm_case *player, const char *line, size_t n, size_t number,
                                   bool whole, wm_write write, void *context) {
  struct report report;
  struct text text;
  struct json json;
  if (!player || !line || !write) return WM_USAGE;
  if (!report_open(&report, NULL, case_allocator(player))) return WM_INTERNAL;
  wm_case_reset(player);
  struct question question = {.player = player, .diags = &report.list};
  text_init(&text, report.list.arena);
  json_start(&json, &text, false);
  bool good = read_line(&question, line, n, number) && !report.list.no_memory;
  bool asked = good && report.list.errors == 0;
  if (asked) good = answer(&question);
  diags_finish(&report.list);
  if (good && asked) answer_line(&json, player->run, question.id, number, whole);
  else if (good) error_line(&json, &report.list, question.id, number);
  enum wm_status status = good ? text_send(&text, write, context) : WM_INTERNAL;
  if (status == WM_OK && !asked) status = WM_INPUT_FAULTY;
  return report_close(&report, status, status);
}
