/* Formulas: a recursive-descent reader and a tree walk.
 *   formula    = sum [ ('<' | '>') sum ]
 *   sum        = product { ('+' | '-') product }
 *   product    = unary { ('*' | '/') unary }
 *   unary      = '-' unary | primary
 *   primary    = number | name | name '(' sum { ',' sum } ')' | '(' sum ')'
 * Depth and length are limited, so hostile text cannot exhaust the stack: a sum of n terms is a
 * tree n deep. */
#include "model/formula.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "golf/degrees.h"
#include "golf/formula.h"
#include "model/reader.h"

#define FORMULA_DEPTH_MAX 64
#define FORMULA_OPERANDS_MAX 500
#define FORMULA_ARITY_MAX 8

enum formula_node_kind {
  FORMULA_NUMBER,
  FORMULA_INPUT,
  FORMULA_NEGATE,
  FORMULA_ADD,
  FORMULA_SUBTRACT,
  FORMULA_MULTIPLY,
  FORMULA_DIVIDE,
  FORMULA_CALL
};

/* The house's own functions; the trade's come from golf/formula.h in the same shape. */
struct formula_function {
  const char *name;
  int arity;
  const char *arguments;
  double (*call)(const double *x);
};

struct formula_node {
  enum formula_node_kind kind;
  double number;
  size_t input; /* evidence index while reading, then the place in formula->inputs */
  double (*call)(const double *x);
  const char *name;
  int arity;
  const struct formula_node *args[FORMULA_ARITY_MAX];
};

static double call_min(const double *x) {
  return fmin(x[0], x[1]);
}
static double call_max(const double *x) {
  return fmax(x[0], x[1]);
}
static double call_abs(const double *x) {
  return fabs(x[0]);
}
static double call_sqrt(const double *x) {
  return sqrt(x[0]);
}
static double call_hypot(const double *x) {
  return hypot(x[0], x[1]);
}
static double call_sin(const double *x) {
  return sin(radians(x[0]));
}
static double call_cos(const double *x) {
  return cos(radians(x[0]));
}
static double call_tan(const double *x) {
  return tan(radians(x[0]));
}
static double call_asin(const double *x) {
  return degrees(asin(x[0]));
}
static double call_acos(const double *x) {
  return degrees(acos(x[0]));
}
static double call_atan(const double *x) {
  return degrees(atan(x[0]));
}
static double call_atan2(const double *x) {
  return degrees(atan2(x[0], x[1]));
}

static const struct formula_function own_functions[] = {
    {"min", 2, "a b", call_min}, {"max", 2, "a b", call_max},     {"abs", 1, "a", call_abs},
    {"sqrt", 1, "a", call_sqrt}, {"sin", 1, "deg", call_sin},     {"cos", 1, "deg", call_cos},
    {"tan", 1, "deg", call_tan}, {"asin", 1, "a", call_asin},     {"acos", 1, "a", call_acos},
    {"atan", 1, "a", call_atan}, {"atan2", 2, "y x", call_atan2}, {"hypot", 2, "a b", call_hypot},
};

struct parser {
  struct arena *arena;
  struct diags *diags;
  const struct model *model;
  const char *text;
  const char *rest;
  struct span at;
  bool failed;
  unsigned depth, operands;
  size_t inputs[FORMULA_INPUTS_MAX];
  size_t n_inputs;
};

static struct span place(const struct parser *parser, const char *start, size_t n) {
  return reader_place(parser->at, parser->text, (size_t)(start - parser->text), n);
}

static const struct formula_node *fail(struct parser *parser, const char *where, size_t n,
                                       const char *problem) {
  if (!parser->failed) DIAG(parser->diags, FORMULA_SYNTAX, place(parser, where, n), problem);
  parser->failed = true;
  return NULL;
}

static void skip_blanks(struct parser *parser) {
  while (*parser->rest == ' ' || *parser->rest == '\n' || *parser->rest == '\t') parser->rest++;
}

static bool take(struct parser *parser, char c) {
  skip_blanks(parser);
  if (*parser->rest != c) return false;
  parser->rest++;
  return true;
}

static struct formula_node *new_node(struct parser *parser, enum formula_node_kind kind) {
  struct formula_node *node = arena_new_object(parser->arena, struct formula_node);
  if (node == NULL) parser->failed = true;
  else node->kind = kind;
  return node;
}

static const struct formula_node *new_pair(struct parser *parser, enum formula_node_kind kind,
                                           const struct formula_node *left,
                                           const struct formula_node *right) {
  if (left == NULL || right == NULL) return NULL;
  struct formula_node *node = new_node(parser, kind);
  if (node) {
    node->args[0] = left;
    node->args[1] = right;
    node->arity = 2;
  }
  return node;
}

static const struct formula_node *parse_sum(struct parser *parser);

static bool find_function(const char *name, size_t n, struct formula_function *found) {
  for (size_t i = 0; i < sizeof own_functions / sizeof own_functions[0]; i++) {
    if (strlen(own_functions[i].name) == n && memcmp(own_functions[i].name, name, n) == 0) {
      *found = own_functions[i];
      return true;
    }
  }
  const struct golf_function *golf = golf_function_find(name, n);
  if (golf == NULL) return false;
  *found = (struct formula_function){golf->name, golf->arity, golf->arguments, golf->call};
  return true;
}

static void unknown_name(struct parser *parser, const char *name, size_t n) {
  parser->failed = true;
  const char *word = arena_copy(parser->arena, name, n);
  struct diag *diag = word ? DIAG(parser->diags, FORMULA_NAME, place(parser, name, n), word) : NULL;
  if (diag == NULL) return;
  size_t golf_n = 0, n_names = 0;
  const struct golf_function *golf = golf_function_table(&golf_n);
  size_t own_n = sizeof own_functions / sizeof own_functions[0];
  const char **names =
      arena_new_array(parser->arena, const char *, parser->model->n_evidence + golf_n + own_n);
  if (names == NULL) return;
  for (size_t i = 0; i < parser->model->n_evidence; i++)
    names[n_names++] = parser->model->evidence[i].name;
  for (size_t i = 0; i < golf_n; i++) names[n_names++] = golf[i].name;
  for (size_t i = 0; i < own_n; i++) names[n_names++] = own_functions[i].name;
  diag_nearest(parser->diags, diag, word, names, n_names);
}

static void wrong_arity(struct parser *parser, const struct formula_function *function,
                        const char *name, size_t n, int given) {
  struct text wanted, got;
  text_init(&wanted, parser->arena);
  text_init(&got, parser->arena);
  text_format(&wanted, "%d %s (", function->arity, function->arity == 1 ? "value" : "values");
  for (const char *c = function->arguments; *c; c++)
    if (*c == ' ') text_add(&wanted, ", ");
    else text_add_char(&wanted, *c);
  text_add(&wanted, ")");
  text_format(&got, "%d", given);
  if (!parser->failed && text_done(&wanted) && text_done(&got))
    DIAG(parser->diags, FORMULA_ARITY, place(parser, name, n), function->name, text_done(&wanted),
         text_done(&got));
  parser->failed = true;
}

static const struct formula_node *parse_call(struct parser *parser, const char *name, size_t n) {
  struct formula_function function;
  const struct formula_node *args[FORMULA_ARITY_MAX] = {NULL};
  int given = 0;
  if (!find_function(name, n, &function)) {
    if (names_find(parser->model->evidence_names, name, n) != NAMES_NONE)
      return fail(parser, name, n, "this is an evidence, not a function; write '*' to multiply");
    unknown_name(parser, name, n);
    return NULL;
  }
  do {
    const struct formula_node *arg = parse_sum(parser);
    if (arg == NULL) return NULL;
    if (given < FORMULA_ARITY_MAX) args[given] = arg;
    given++;
  } while (take(parser, ','));
  if (!take(parser, ')')) return fail(parser, parser->rest, 1, "a ')' is missing");
  if (given != function.arity) {
    wrong_arity(parser, &function, name, n, given);
    return NULL;
  }
  struct formula_node *node = new_node(parser, FORMULA_CALL);
  if (node == NULL) return NULL;
  node->call = function.call;
  node->name = function.name;
  node->arity = given;
  memcpy(node->args, args, sizeof args);
  return node;
}

static bool add_input(struct parser *parser, size_t evidence) {
  for (size_t i = 0; i < parser->n_inputs; i++)
    if (parser->inputs[i] == evidence) return true;
  if (parser->n_inputs == FORMULA_INPUTS_MAX) return false;
  parser->inputs[parser->n_inputs++] = evidence;
  return true;
}

static bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

static const struct formula_node *parse_name(struct parser *parser) {
  struct formula_function function;
  const char *name = parser->rest;
  while (is_letter(*parser->rest) || is_digit(*parser->rest) || *parser->rest == '_')
    parser->rest++;
  size_t n = (size_t)(parser->rest - name);
  if (take(parser, '(')) return parse_call(parser, name, n);
  uint32_t evidence = names_find(parser->model->evidence_names, name, n);
  if (evidence == NAMES_NONE) {
    if (find_function(name, n, &function))
      return fail(parser, name, n, "a function takes its values in parentheses");
    unknown_name(parser, name, n);
    return NULL;
  }
  const struct evidence *read = &parser->model->evidence[evidence];
  if (read->kind != EVIDENCE_NUMBER) {
    DIAG(parser->diags, FORMULA_KIND, place(parser, name, n), read->name,
         evidence_kind_word(read->kind));
    parser->failed = true;
    return NULL;
  }
  if (!add_input(parser, evidence)) return fail(parser, name, n, "it reads more than 16 evidences");
  struct formula_node *node = new_node(parser, FORMULA_INPUT);
  if (node) {
    node->input = evidence;
    node->name = read->name;
  }
  return node;
}

static const struct formula_node *parse_primary(struct parser *parser) {
  skip_blanks(parser);
  if (take(parser, '(')) {
    const struct formula_node *inner = parse_sum(parser);
    if (inner && !take(parser, ')')) return fail(parser, parser->rest, 1, "a ')' is missing");
    return inner;
  }
  if (is_letter(*parser->rest)) return parse_name(parser);
  double number;
  size_t used = number_read(parser->rest, strlen(parser->rest), &number);
  if (used == 0 || *parser->rest == '+' || !isfinite(number))
    return fail(parser, parser->rest, 1, "a number, a name or '(' is needed here");
  struct formula_node *node = new_node(parser, FORMULA_NUMBER);
  if (node) node->number = number;
  parser->rest += used;
  return node;
}

static const struct formula_node *parse_unary(struct parser *parser) {
  if (++parser->depth > FORMULA_DEPTH_MAX)
    return fail(parser, parser->rest, 1, "it is nested too deeply");
  if (++parser->operands > FORMULA_OPERANDS_MAX)
    return fail(parser, parser->rest, 1, "it is too long; make an evidence of a part of it");
  const struct formula_node *node = NULL;
  if (take(parser, '-')) {
    const struct formula_node *inner = parse_unary(parser);
    struct formula_node *negated = inner ? new_node(parser, FORMULA_NEGATE) : NULL;
    if (negated) {
      negated->args[0] = inner;
      negated->arity = 1;
    }
    node = negated;
  } else {
    node = parse_primary(parser);
  }
  parser->depth--;
  return node;
}

static const struct formula_node *parse_product(struct parser *parser) {
  const struct formula_node *left = parse_unary(parser);
  while (left) {
    if (take(parser, '*')) left = new_pair(parser, FORMULA_MULTIPLY, left, parse_unary(parser));
    else if (take(parser, '/')) left = new_pair(parser, FORMULA_DIVIDE, left, parse_unary(parser));
    else break;
  }
  return left;
}

static const struct formula_node *parse_sum(struct parser *parser) {
  const struct formula_node *left = parse_product(parser);
  while (left) {
    if (take(parser, '+')) left = new_pair(parser, FORMULA_ADD, left, parse_product(parser));
    else if (take(parser, '-'))
      left = new_pair(parser, FORMULA_SUBTRACT, left, parse_product(parser));
    else break;
  }
  return left;
}

/* What is wrong with what follows a whole formula. */
static const char *rest_problem(char c) {
  if (c == '<' || c == '>') return "this is a second comparison; write two conditions";
  if (c == ')') return "a ')' without its '('";
  if (is_letter(c) || is_digit(c) || c == '(' || c == '.')
    return "an operator (+ - * /) is missing in front of this";
  return "this sign has no meaning here; there are + - * / ( ) , < >";
}

static const struct formula_node *parse_formula(struct parser *parser, bool comparison) {
  const struct formula_node *left = parse_sum(parser);
  if (left == NULL) return NULL;
  const char *sign = (skip_blanks(parser), parser->rest);
  bool compares = *sign == '<' || *sign == '>';
  if (!compares && *sign != '\0' && *sign != '=') return fail(parser, sign, 1, rest_problem(*sign));
  if (compares != comparison) {
    DIAG(parser->diags, FORMULA_COMPARISON, place(parser, sign, 1),
         comparison ? "a condition needs a comparison with '<' or '>'"
                    : "a comparison has no place in a value");
    parser->failed = true;
    return NULL;
  }
  if (compares) {
    parser->rest++;
    if (*parser->rest == '=')
      return fail(parser, parser->rest, 1, "write '<' or '>' alone: no reading is exactly there");
    const struct formula_node *right = parse_sum(parser);
    left = *sign == '>' ? new_pair(parser, FORMULA_SUBTRACT, left, right)
                        : new_pair(parser, FORMULA_SUBTRACT, right, left);
  }
  skip_blanks(parser);
  if (left && *parser->rest != '\0')
    return fail(parser, parser->rest, 1, rest_problem(*parser->rest));
  return left;
}

static int compare_indices(const void *left, const void *right) {
  const size_t *a = left, *b = right;
  return *a < *b ? -1 : *a > *b;
}

/* Turns evidence indices in the tree into places in the sorted inputs. The nodes were made here, so
 * they may be changed. */
static void place_inputs(const struct formula_node *node, const struct formula *formula) {
  if (node->kind == FORMULA_INPUT) {
    size_t place = 0;
    while (formula->inputs[place] != node->input) place++;
    ((struct formula_node *)node)->input = place;
  }
  for (int i = 0; i < node->arity; i++) place_inputs(node->args[i], formula);
}

static void print_node(struct text *out, const struct formula_node *node) {
  static const char *const signs[] = {[FORMULA_ADD] = " + ",
                                      [FORMULA_SUBTRACT] = " - ",
                                      [FORMULA_MULTIPLY] = " * ",
                                      [FORMULA_DIVIDE] = " / "};
  switch (node->kind) {
  case FORMULA_NUMBER: text_number(out, node->number); return;
  case FORMULA_INPUT: text_add(out, node->name); return;
  case FORMULA_NEGATE:
    text_add(out, "-");
    print_node(out, node->args[0]);
    return;
  case FORMULA_CALL:
    text_add(out, node->name);
    text_add(out, "(");
    for (int i = 0; i < node->arity; i++) {
      text_add(out, i ? ", " : "");
      print_node(out, node->args[i]);
    }
    text_add(out, ")");
    return;
  default:
    text_add(out, "(");
    print_node(out, node->args[0]);
    text_add(out, signs[node->kind]);
    print_node(out, node->args[1]);
    text_add(out, ")");
  }
}

struct formula *formula_read(struct arena *arena, struct diags *diags, const struct model *model,
                             const char *text, struct span at, bool comparison) {
  struct parser parser = {
      .arena = arena, .diags = diags, .model = model, .text = text, .rest = text, .at = at};
  const struct formula_node *root = parse_formula(&parser, comparison);
  struct formula *formula = root && !parser.failed ? arena_new_object(arena, struct formula) : NULL;
  if (formula == NULL) return NULL;
  formula->text = text;
  formula->root = root;
  formula->comparison = comparison;
  formula->at = at;
  formula->n_inputs = parser.n_inputs;
  formula->inputs = arena_new_array(arena, size_t, parser.n_inputs + 1);
  if (formula->inputs == NULL) return NULL;
  memcpy(formula->inputs, parser.inputs, parser.n_inputs * sizeof *parser.inputs);
  qsort(formula->inputs, formula->n_inputs, sizeof *formula->inputs, compare_indices);
  place_inputs(root, formula);
  struct text printed;
  text_init(&printed, arena);
  print_node(&printed, root);
  text_add(&printed, comparison ? " > 0" : "");
  formula->printed = text_done(&printed);
  return formula->printed ? formula : NULL;
}

static double node_value(const struct formula_node *node, const double *inputs) {
  double x[FORMULA_ARITY_MAX] = {0};
  if (node->kind == FORMULA_NUMBER) return node->number;
  if (node->kind == FORMULA_INPUT) return inputs[node->input];
  for (int i = 0; i < node->arity; i++) x[i] = node_value(node->args[i], inputs);
  switch (node->kind) {
  case FORMULA_NEGATE: return -x[0];
  case FORMULA_ADD: return x[0] + x[1];
  case FORMULA_SUBTRACT: return x[0] - x[1];
  case FORMULA_MULTIPLY: return x[0] * x[1];
  case FORMULA_DIVIDE: return x[0] / x[1];
  default: return node->call(x);
  }
}

double formula_value(const struct formula *formula, const double *inputs) {
  return node_value(formula->root, inputs);
}
