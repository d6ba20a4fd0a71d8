/* Reading goes in two steps. The bytes are looked through first, so that libyaml sees only
 * printable UTF-8 with line feeds as line ends (its lines and ours then agree) and no directives
 * (its check of them takes quadratic time). Then events become nodes; libyaml itself nests without
 * limit, so reading stops at the depth cap. */
#include "input/node.h"

#include <string.h>
#include <yaml.h>

#include "base/names.h"
#include "diag/glyph.h"

#define ENCODING_ERRORS_MAX 5 /* of one file: a file that is no text would fill the whole list */
#define SEARCH_MAX 16         /* keys of a mapping that are compared one by one */
#define DESCRIBED_MAX 40      /* bytes of a scalar shown in a message */

struct reader {
  yaml_parser_t parser;
  yaml_event_t event; /* the latest */
  bool has_event;
  bool stopped; /* nothing more can be read */
  struct arena *arena;
  const struct source *source;
  struct diags *diags;
  struct span end; /* where the text ends */
  size_t nodes;
};

/* A mapping while it is read. */
struct map_state {
  struct node *map;
  struct node *last;
  struct names *names; /* key to ordinal, once there are many */
};

static void out_of_memory(struct diags *diags) {
  DIAG(diags, NO_MEMORY, (struct span){0}, NULL);
}

static const char *number_word(struct arena *arena, size_t number) {
  struct text text;
  text_init(&text, arena);
  text_format(&text, "%zu", number);
  const char *word = text_done(&text);
  return word != NULL ? word : "";
}

/* ---- the bytes ---- */

static const char *hidden_kind(uint32_t code) {
  if (code < 0x20 || (code >= 0x7F && code < 0xA0)) return "control character";
  if (code == 0x2028 || code == 0x2029) return "line separator";
  if (code == 0x200B || code == 0x2060 || code == 0xFEFF) return "invisible character";
  if (code >= 0xFDD0) return "non-character";
  return "text-reordering character";
}

static void refuse_character(struct diags *diags, struct span at, const char *how, uint32_t code,
                             char byte) {
  struct text word;
  text_init(&word, diags->arena);
  if (code == GLYPH_BAD) text_format(&word, "the byte %02X", (unsigned)(unsigned char)byte);
  else text_format(&word, "the %s%s U+%04X", how, hidden_kind(code), (unsigned)code);
  const char *done = text_done(&word);
  if (done != NULL) DIAG(diags, YAML_ENCODING, at, done);
  else out_of_memory(diags);
}

static bool is_refused(uint32_t code, const char *bytes, size_t n) {
  if (code == '\t' || code == '\n') return false;
  if (code == '\r') return n < 2 || bytes[1] != '\n';
  return glyph_hidden(code);
}

/* False when a diagnostic was added. */
static bool check_bytes(struct reader *reader, const char *bytes, size_t n) {
  struct span at = {reader->source, 1, 1, 1, 2};
  int refused = 0;
  for (size_t i = 0; i < n && refused < ENCODING_ERRORS_MAX;) {
    uint32_t code;
    size_t length = glyph_read(bytes + i, n - i, &code);
    at.end_line = at.line;
    at.end_column = at.column + 1;
    if (is_refused(code, bytes + i, n - i)) {
      refuse_character(reader->diags, at, "", code, bytes[i]);
      refused++;
    } else if (code == '%' && at.column == 1) {
      DIAG(reader->diags, YAML_ALIAS, at, "directives (a line that starts with %)");
      refused++;
    }
    if (code == '\n') at.line++;
    at.column = code == '\n' ? 1 : at.column + 1;
    i += length;
  }
  reader->end = at;
  return refused == 0;
}

/* ---- positions and events ---- */

/* The only place where libyaml's marks, which count from 0, become ours. libyaml ends a text
 * without a last line feed on a line that is not there. */
static struct span span_of(const struct reader *reader, yaml_mark_t start, yaml_mark_t end) {
  struct span at = {reader->source, (uint32_t)start.line + 1, (uint32_t)start.column + 1,
                    (uint32_t)end.line + 1, (uint32_t)end.column + 1};
  if (at.line > reader->end.line) {
    at.line = reader->end.line;
    at.column = reader->end.column;
  }
  if (at.end_line > reader->end.line) {
    at.end_line = reader->end.line;
    at.end_column = reader->end.column;
  }
  return at;
}

static struct span event_span(const struct reader *reader) {
  return span_of(reader, reader->event.start_mark, reader->event.end_mark);
}

static void no_memory(struct reader *reader) {
  out_of_memory(reader->diags);
  reader->stopped = true;
}

/* What most often lies behind libyaml's words, or NULL. */
static const char *syntax_hint(const char *problem, char faulty) {
  static const struct {
    const char *problem, *hint;
  } rows[] = {
      {"mapping values are not allowed",
       "a text that holds ': ' stands in quotes or behind >-; else look at the indentation"},
      {"did not find expected key",
       "look at the indentation; a text that begins with { or [ stands in quotes or behind >-"},
      {"did not find expected '-' indicator",
       "look at the indentation; an entry of a list begins with a dash"},
      {"could not find expected ':'", "a key is followed by a colon and a space"},
      {"found unexpected end of stream", "a quote was opened and not closed"},
      {"tab character", "indent with spaces, not tabs"},
      {"did not find expected comment or line break",
       "a comparison is written {above: 4}; a text behind > or | starts on the next line"},
  };
  if (strstr(problem, "cannot start any token") != NULL)
    return faulty == '\t' ? "indent with spaces, not tabs"
           : faulty == '>'
               ? "a comparison is written {above: 4}; a text that begins with > stands in quotes"
               : "put the text in quotes";
  for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
    if (strstr(problem, rows[i].problem) != NULL) return rows[i].hint;
  return NULL;
}

/* The byte at a place whose line is ASCII up to there, which is all that the hint needs. */
static char byte_at(const struct span *at) {
  size_t n = 0;
  const char *line = source_line(at->source, at->line, &n);
  return line != NULL && at->column <= n ? line[at->column - 1] : '\0';
}

static void report_syntax(struct reader *reader) {
  const yaml_parser_t *parser = &reader->parser;
  reader->stopped = true;
  if (parser->error == YAML_MEMORY_ERROR) {
    no_memory(reader);
    return;
  }
  struct span at = span_of(reader, parser->problem_mark, parser->problem_mark);
  struct span context = span_of(reader, parser->context_mark, parser->context_mark);
  const char *problem = parser->problem != NULL ? parser->problem : "the reader gave up";
  struct diag *diag = DIAG(reader->diags, YAML_SYNTAX, at, problem);
  const char *hint = syntax_hint(problem, byte_at(&at));
  if (hint != NULL) diag_hint(reader->diags, diag, hint);
  if (parser->context != NULL && span_compare(&at, &context) != 0)
    diag_note(reader->diags, diag, context, parser->context);
}

static bool next_event(struct reader *reader) {
  if (reader->has_event) yaml_event_delete(&reader->event);
  reader->has_event = false;
  if (reader->stopped) return false;
  if (!yaml_parser_parse(&reader->parser, &reader->event)) {
    report_syntax(reader);
    return false;
  }
  reader->has_event = true;
  return true;
}

/* ---- what is refused of a node ---- */

static void refuse(struct reader *reader, size_t length, const char *what) {
  DIAG(reader->diags, YAML_ALIAS, span_part(event_span(reader), 0, length), what);
}

static void refuse_names(struct reader *reader, const yaml_char_t *anchor, const yaml_char_t *tag) {
  if (anchor != NULL) refuse(reader, 1 + strlen((const char *)anchor), "anchors (&)");
  else if (tag != NULL) refuse(reader, 1, "tags (!)");
}

static void check_names(struct reader *reader) {
  const yaml_event_t *event = &reader->event;
  if (event->type == YAML_ALIAS_EVENT)
    refuse(reader, 1 + strlen((const char *)event->data.alias.anchor), "aliases (*)");
  else if (event->type == YAML_SCALAR_EVENT)
    refuse_names(reader, event->data.scalar.anchor, event->data.scalar.tag);
  else if (event->type == YAML_SEQUENCE_START_EVENT)
    refuse_names(reader, event->data.sequence_start.anchor, event->data.sequence_start.tag);
  else if (event->type == YAML_MAPPING_START_EVENT)
    refuse_names(reader, event->data.mapping_start.anchor, event->data.mapping_start.tag);
}

/* An escape in double quotes can make what the bytes were searched for. */
static void check_escapes(struct reader *reader, const char *text, size_t n) {
  for (size_t i = 0; i < n;) {
    uint32_t code;
    size_t length = glyph_read(text + i, n - i, &code);
    if (code != '\n' && code != '\t' && glyph_hidden(code)) {
      refuse_character(reader->diags, event_span(reader), "escaped ", code, text[i]);
      return;
    }
    i += length;
  }
}

/* ---- nodes ---- */

static struct node *node_new(struct reader *reader, enum node_kind kind) {
  if (++reader->nodes > NODE_COUNT_MAX) {
    DIAG(reader->diags, YAML_VALUES, event_span(reader),
         number_word(reader->arena, NODE_COUNT_MAX));
    reader->stopped = true;
    return NULL;
  }
  struct node *node = arena_new_object(reader->arena, struct node);
  if (node == NULL) {
    no_memory(reader);
    return NULL;
  }
  node->kind = kind;
  node->at = event_span(reader);
  return node;
}

static struct node *read_scalar(struct reader *reader) {
  struct node *node = node_new(reader, NODE_SCALAR);
  if (node == NULL) return NULL;
  bool alias = reader->event.type == YAML_ALIAS_EVENT; /* refused already; read on as if empty */
  const char *text = alias ? "" : (const char *)reader->event.data.scalar.value;
  node->n = alias ? 0 : reader->event.data.scalar.length;
  if (!alias) {
    yaml_scalar_style_t style = reader->event.data.scalar.style;
    node->quoted = style != YAML_PLAIN_SCALAR_STYLE;
    if (style == YAML_DOUBLE_QUOTED_SCALAR_STYLE) check_escapes(reader, text, node->n);
  }
  node->text = arena_copy(reader->arena, text, node->n);
  if (node->text == NULL) no_memory(reader);
  return node;
}

/* libyaml ends a block collection where the next thing starts; a reader would say: with its last
 * child. */
static void end_collection(struct reader *reader, struct node *node, const struct node *last) {
  struct span end = event_span(reader);
  bool visible = end.line != end.end_line || end.column != end.end_column;
  if (!visible && last != NULL) end = last->at;
  node->at.end_line = end.end_line;
  node->at.end_column = end.end_column;
}

static void append(struct node *parent, struct node **last, struct node *child) {
  if (*last != NULL) (*last)->next = child;
  else parent->first = child;
  *last = child;
  parent->n++;
}

static struct node *read_node(struct reader *reader, int depth);

static struct node *read_list(struct reader *reader, int depth) {
  struct node *list = node_new(reader, NODE_LIST);
  struct node *last = NULL;
  while (list != NULL && next_event(reader)) {
    if (reader->event.type == YAML_SEQUENCE_END_EVENT) {
      end_collection(reader, list, last);
      break;
    }
    struct node *child = read_node(reader, depth + 1);
    if (child != NULL) append(list, &last, child);
  }
  return list;
}

static struct node *nth_child(const struct node *map, size_t n) {
  struct node *child = map->first;
  while (n-- > 0) child = child->next;
  return child;
}

/* Notes the keys read so far, once they are too many to be compared one by one. */
static bool index_keys(struct reader *reader, struct map_state *state) {
  uint32_t ordinal = 0;
  state->names = names_new(reader->arena);
  if (state->names == NULL) return false;
  for (const struct node *child = state->map->first; child != NULL; child = child->next)
    if (names_add(state->names, child->key, strlen(child->key), ordinal++) == NAMES_NONE)
      return false;
  return true;
}

/* The ordinal of the child that has the key already; the mapping's count when none has; NAMES_NONE:
 * no memory. */
static uint32_t ordinal_of(struct reader *reader, struct map_state *state, const char *key) {
  uint32_t count = (uint32_t)state->map->n;
  if (count < SEARCH_MAX) {
    uint32_t ordinal = 0;
    for (const struct node *child = state->map->first; child != NULL; child = child->next) {
      if (strcmp(child->key, key) == 0) return ordinal;
      ordinal++;
    }
    return count;
  }
  if (state->names == NULL && !index_keys(reader, state)) return NAMES_NONE;
  return names_add(state->names, key, strlen(key), count);
}

static void report_duplicate(struct reader *reader, const struct node *map, uint32_t ordinal,
                             const struct node *key) {
  struct diag *diag = DIAG(reader->diags, YAML_DUPLICATE_KEY, key->at, key->text);
  if (diag != NULL)
    diag_note(reader->diags, diag, nth_child(map, ordinal)->key_at, "it stands here first");
}

static void report_key(struct reader *reader, const struct node *key) {
  const char *what = node_describe(reader->arena, key);
  if (what != NULL) DIAG(reader->diags, YAML_KEY, key->at, what);
  else no_memory(reader);
}

static void add_value(struct reader *reader, struct map_state *state, const struct node *key,
                      struct node *value) {
  if (key->kind != NODE_SCALAR || key->n == 0) {
    report_key(reader, key);
    return;
  }
  uint32_t ordinal = ordinal_of(reader, state, key->text);
  if (ordinal == NAMES_NONE) {
    no_memory(reader);
    return;
  }
  if (ordinal < state->map->n) {
    report_duplicate(reader, state->map, ordinal, key);
    return;
  }
  value->key = key->text;
  value->key_at = key->at;
  append(state->map, &state->last, value);
}

static struct node *read_map(struct reader *reader, int depth) {
  struct map_state state = {.map = node_new(reader, NODE_MAP)};
  const struct node *last = NULL; /* the latest value, also one that was refused */
  while (state.map != NULL && next_event(reader)) {
    if (reader->event.type == YAML_MAPPING_END_EVENT) {
      end_collection(reader, state.map, last);
      break;
    }
    struct node *key = read_node(reader, depth + 1);
    struct node *value = key != NULL && next_event(reader) ? read_node(reader, depth + 1) : NULL;
    if (value == NULL || reader->stopped) break;
    add_value(reader, &state, key, value);
    last = value;
  }
  return state.map;
}

/* The node that the latest event starts; the latest event is then its last. NULL when reading has
 * stopped. */
static struct node *read_node(struct reader *reader, int depth) {
  yaml_event_type_t type = reader->event.type;
  check_names(reader);
  if (type == YAML_SCALAR_EVENT || type == YAML_ALIAS_EVENT) return read_scalar(reader);
  if (depth > NODE_DEPTH_MAX) {
    DIAG(reader->diags, YAML_DEPTH, span_part(event_span(reader), 0, 1),
         number_word(reader->arena, NODE_DEPTH_MAX));
    reader->stopped = true;
    return NULL;
  }
  return type == YAML_SEQUENCE_START_EVENT ? read_list(reader, depth) : read_map(reader, depth);
}

static bool is_nothing(const struct node *node) {
  return node->kind == NODE_SCALAR && node->n == 0 && !node->quoted;
}

static struct node *read_stream(struct reader *reader) {
  struct node *root = NULL;
  while (next_event(reader) && reader->event.type != YAML_STREAM_END_EVENT) {
    switch (reader->event.type) {
    case YAML_STREAM_START_EVENT:
    case YAML_DOCUMENT_END_EVENT: break;
    case YAML_DOCUMENT_START_EVENT:
      if (root == NULL) break;
      DIAG(reader->diags, YAML_DOCUMENTS, event_span(reader), NULL);
      reader->stopped = true;
      break;
    default: root = read_node(reader, 1);
    }
  }
  if (!reader->stopped && root == NULL) root = node_new(reader, NODE_LIST);
  if (root != NULL && is_nothing(root)) root->kind = NODE_LIST;
  return root;
}

static struct node *read_yaml(struct reader *reader, const char *bytes, size_t n) {
  if (!yaml_parser_initialize(&reader->parser)) {
    out_of_memory(reader->diags);
    return NULL;
  }
  yaml_parser_set_encoding(&reader->parser, YAML_UTF8_ENCODING);
  yaml_parser_set_input_string(&reader->parser, (const unsigned char *)bytes, n);
  struct node *root = read_stream(reader);
  if (reader->has_event) yaml_event_delete(&reader->event);
  yaml_parser_delete(&reader->parser);
  return root;
}

struct node *node_read(struct arena *arena, const struct source *source, struct diags *diags) {
  struct reader reader = {.arena = arena, .source = source, .diags = diags};
  const char *bytes = source->bytes;
  size_t n = source->n;
  size_t errors = diags->errors;
  if (n > NODE_BYTES_MAX) {
    struct span whole = {source, 0, 0, 0, 0};
    DIAG(diags, FILE_TOO_LARGE, whole, source->name, number_word(arena, NODE_BYTES_MAX));
    return NULL;
  }
  if (n >= 3 &&
      memcmp(bytes, "\xEF\xBB\xBF", 3) == 0) { /* a byte order mark says nothing in UTF-8 */
    bytes += 3;
    n -= 3;
  }
  if (!check_bytes(&reader, bytes, n)) return NULL;
  struct node *root = read_yaml(&reader, bytes, n);
  return diags->errors == errors && !diags->no_memory ? root : NULL;
}

/* ---- looking at a tree ---- */

const struct node *node_get(const struct node *map, const char *key) {
  if (map == NULL || map->kind != NODE_MAP) return NULL;
  for (const struct node *child = map->first; child != NULL; child = child->next)
    if (strcmp(child->key, key) == 0) return child;
  return NULL;
}

bool node_is(const struct node *scalar, const char *text) {
  return scalar != NULL && scalar->kind == NODE_SCALAR && strcmp(scalar->text, text) == 0;
}

const char *node_describe(struct arena *arena, const struct node *node) {
  if (node->kind == NODE_LIST) return "a list";
  if (node->kind == NODE_MAP) return "a mapping";
  if (is_nothing(node)) return "nothing";
  struct text text;
  text_init(&text, arena);
  size_t n = node->n;
  if (n > DESCRIBED_MAX) {
    n = DESCRIBED_MAX;
    while (((unsigned char)node->text[n] & 0xC0) == 0x80) n--; /* not inside a character */
  }
  text_add_char(&text, '\'');
  text_add_bytes(&text, node->text, n);
  text_add(&text, n < node->n ? "...'" : "'");
  return text_done(&text);
}

const char *node_reader_version(void) {
  return yaml_get_version_string();
}
