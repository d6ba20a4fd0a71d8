/* Scores what is understood of a set of sentences (its form: tests/say/dev.yaml) against what was
 * expected. say_score FILE [--verbose | --figures] Prints each sentence with a fault (with
 * --verbose every sentence, with --figures none), then one line of figures: "N sentences: R of I
 * items right (P %), F sentences with a false item (Q % without)" Exit status 2 when the file
 * cannot be read; faults do not change the exit status. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "model/reader.h"
#include "say/say.h"
#include "support/knowledge.h"

static struct knowledge knowledge;
static bool verbose, only_figures;

struct score {
  size_t sentences, items, right, with_false;
};

static void fail(const char *what, const char *word) {
  fprintf(stderr, "say_score: %s '%s'\n", what, word);
  exit(2);
}

/* A list or map where one word is wanted. */
static void fail_unless_word(const struct node *wanted, const char *evidence) {
  if (wanted->kind == NODE_SCALAR) return;
  fprintf(stderr, "say_score: line %u: '%s' takes one word here, not a list or map\n",
          (unsigned)wanted->at.line, evidence);
  exit(2);
}

/* ---- one expectation ---- */

static const struct number_word *word_of(const struct evidence *evidence, const char *name) {
  for (size_t i = 0; i < evidence->n_words; i++)
    if (strcmp(evidence->words[i].name, name) == 0) return &evidence->words[i];
  return NULL;
}

static bool is_nearest(const struct evidence *evidence, const struct number_word *word,
                       double number) {
  for (size_t i = 0; i < evidence->n_words; i++)
    if (fabs(evidence->words[i].value - number) < fabs(word->value - number)) return false;
  return true;
}

static int sign(double number) {
  return (number > 0) - (number < 0);
}

static double read_number(const struct evidence *evidence, const struct node *node) {
  double number = 0;
  if (!node || node->kind != NODE_SCALAR ||
      !value_read_number(&knowledge.diags, evidence, node->text, node->n, node->at, false, &number))
    fail("no number for", evidence->name);
  return number;
}

/* Values in the player's own frame, as typed. */
static bool agrees_number(size_t evidence, const struct value *value, enum hand hand,
                          const struct node *wanted) {
  const struct evidence *about = &knowledge.model->evidence[evidence];
  if (wanted->kind == NODE_MAP)
    return fabs(value->number - read_number(about, node_get(wanted, "value"))) <=
           read_number(about, node_get(wanted, "within"));
  fail_unless_word(wanted, about->name);
  if (node_is(wanted, "+") || node_is(wanted, "-"))
    return sign(value->number) == (wanted->text[0] == '-' ? -1 : 1);
  const struct number_word *word = word_of(about, wanted->text);
  if (!word) fail(about->name, wanted->text);
  if (!about->minus) return is_nearest(about, word, value->number);
  struct value typed;
  if (!value_read(knowledge.arena, &knowledge.diags, knowledge.model, evidence, wanted->text,
                  wanted->at, &typed))
    fail(about->name, wanted->text);
  /* A word such as slice means the player's own. */
  if (typed.handless && hand == HAND_LEFT) typed.number = -typed.number;
  if (word->value == 0) return fabs(value->number) <= word->error;
  return sign(value->number) == sign(typed.number);
}

static bool agrees(size_t evidence, const struct value *value, enum hand hand,
                   const struct node *wanted) {
  const struct evidence *about = &knowledge.model->evidence[evidence];
  if (about->kind == EVIDENCE_NUMBER) return agrees_number(evidence, value, hand, wanted);
  const struct node *one = wanted->kind == NODE_LIST ? wanted->first : wanted;
  for (; one; one = wanted->kind == NODE_LIST ? one->next : NULL) {
    struct value typed;
    fail_unless_word(one, about->name);
    if (!value_read(knowledge.arena, &knowledge.diags, knowledge.model, evidence, one->text,
                    one->at, &typed))
      fail(about->name, one->text);
    if (typed.choice == value->choice) return true;
  }
  return false;
}

/* ---- one sentence ---- */

static const struct say_piece *used_piece(const struct understanding *said, size_t evidence) {
  for (size_t i = 0; i < said->n_pieces; i++)
    if (said->pieces[i].use == SAY_USED && said->pieces[i].evidence == evidence)
      return &said->pieces[i];
  return NULL;
}

static bool is_allowed(const struct node *allow, const char *name) {
  for (const struct node *one = allow ? allow->first : NULL; one; one = one->next)
    if (node_is(one, name)) return true;
  return false;
}

static void print_value(const struct say_piece *piece) {
  const struct evidence *about = &knowledge.model->evidence[piece->evidence];
  if (about->kind == EVIDENCE_NUMBER)
    printf("%.3g +/- %.2g", piece->value.number, piece->value.error);
  else if (piece->value.choice < about->n_choices)
    printf("%s", about->choices[piece->value.choice].name);
}

static void print_pieces(const struct understanding *said) {
  for (size_t i = 0; i < said->n_pieces; i++) {
    const struct say_piece *piece = &said->pieces[i];
    printf("      %-10s %s = ", say_use_word(piece->use),
           knowledge.model->evidence[piece->evidence].name);
    print_value(piece);
    printf("  <- \"%.*s\" (%s)\n", (int)(piece->words.end - piece->words.start),
           said->text + piece->words.start, knowledge.model->phrases[piece->phrase].name);
  }
}

static enum hand hand_of(const struct node *entry) {
  const struct node *handed = node_get(entry, "handed");
  return handed && node_is(handed, "left") ? HAND_LEFT : HAND_RIGHT;
}

static void understand(const struct node *entry, struct understanding *said) {
  const struct node *say = node_get(entry, "say");
  struct source *source = arena_new_object(knowledge.arena, struct source);
  if (!say || say->kind != NODE_SCALAR) fail("an entry without", "say");
  *source = (struct source){.name = "say", .bytes = say->text, .n = say->n};
  if (!say_understand(knowledge.arena, &knowledge.diags, knowledge.model, source, hand_of(entry),
                      NO_INDEX, said))
    fail("no memory for", say->text);
}

/* Counts the expected items; false items that are right by name but not by value are counted too.
 */
static size_t count_items(const struct node *entry, const struct understanding *said,
                          struct score *score, struct text *faults) {
  const struct node *expect = node_get(entry, "expect");
  size_t wrong = 0;
  for (const struct node *one = expect ? expect->first : NULL; one; one = one->next) {
    size_t evidence = model_find_evidence(knowledge.model, one->key);
    if (evidence == NO_INDEX) fail("no evidence", one->key);
    const struct say_piece *piece = used_piece(said, evidence);
    bool right = piece && agrees(evidence, &piece->value, hand_of(entry), one);
    score->items++;
    score->right += right;
    wrong += piece && !right;
    if (!right) text_format(faults, " %s:%s", piece ? "wrong" : "missing", one->key);
  }
  return wrong;
}

static size_t count_false(const struct node *entry, const struct understanding *said,
                          struct text *faults) {
  const struct node *expect = node_get(entry, "expect"), *allow = node_get(entry, "allow");
  size_t n = 0;
  for (size_t i = 0; i < said->n_pieces; i++) {
    const char *name = knowledge.model->evidence[said->pieces[i].evidence].name;
    if (said->pieces[i].use != SAY_USED || is_allowed(allow, name) ||
        (expect && node_get(expect, name)))
      continue;
    n++;
    text_format(faults, " false:%s", name);
  }
  return n;
}

static void score_entry(const struct node *entry, struct score *score) {
  struct understanding said;
  struct text faults;
  text_init(&faults, knowledge.arena);
  understand(entry, &said);
  size_t n_false = count_items(entry, &said, score, &faults) + count_false(entry, &said, &faults);
  score->sentences++;
  score->with_false += n_false > 0;
  const char *told = text_done(&faults);
  if (only_figures || (!verbose && (!told || !*told))) return;
  printf("%u: \"%s\"%s\n", (unsigned)entry->at.line, said.text, told);
  print_pieces(&said);
}

static struct source *read_source(const char *path) {
  FILE *file = fopen(path, "rb");
  struct source *source = arena_new_object(knowledge.arena, struct source);
  if (!file) fail("cannot read", path);
  char *bytes = arena_take(knowledge.arena, 1 << 20);
  *source =
      (struct source){.name = path, .bytes = bytes, .n = fread(bytes, 1, (1 << 20) - 1, file)};
  fclose(file);
  return source;
}

int main(int argc, char **argv) {
  struct score score = {0};
  if (argc < 2 || !knowledge_load_shipped(&knowledge, 0)) {
    if (argc > 1) knowledge_print(&knowledge);
    return 2;
  }
  verbose = argc > 2 && strcmp(argv[2], "--verbose") == 0;
  only_figures = argc > 2 && strcmp(argv[2], "--figures") == 0;
  const struct node *list = node_read(knowledge.arena, read_source(argv[1]), &knowledge.diags);
  if (!list || list->kind != NODE_LIST) {
    knowledge_print(&knowledge);
    fail("no list of sentences in", argv[1]);
  }
  for (const struct node *entry = list->first; entry; entry = entry->next)
    score_entry(entry, &score);
  printf(
      "%zu sentences: %zu of %zu items right (%.1f %%), %zu sentences with a false item (%.1f %% "
      "without)\n",
      score.sentences, score.right, score.items,
      score.items ? 100.0 * (double)score.right / (double)score.items : 100, score.with_false,
      score.sentences
          ? 100.0 * (double)(score.sentences - score.with_false) / (double)score.sentences
          : 100);
  knowledge_free(&knowledge);
  return 0;
}
