/* Sources, clubs, evidence, findings and causes from their entries. */
#include <math.h>
#include <string.h>

#include "model/reader.h"

static bool check_name(struct reader *reader, const char *name, struct span at) {
  if (reader_is_name(name, false)) return true;
  DIAG(reader->diags, BAD_NAME, at, name, "digits and _");
  return false;
}

static void report_taken(struct reader *reader, const struct node *name, const struct entry *by) {
  struct text words;
  text_init(&words, reader->arena);
  text_format(&words, "%s '%s'", entry_kind_word(by->kind), by->name);
  if (text_done(&words) == NULL) return;
  struct diag *diag = DIAG(reader->diags, DUPLICATE_NAME, name->at, name->text, text_done(&words));
  diag_note(reader->diags, diag, by->at, "it stands here");
}

/* What else has the name; NULL: nothing, and it now stands for the entry. */
static const struct entry *other_holder(struct reader *reader, struct names *names,
                                        const struct node *name, const struct entry *entry,
                                        size_t index) {
  bool evidence = entry->kind == ENTRY_EVIDENCE;
  uint32_t held = names_add(names, name->text, name->n, (uint32_t)index);
  if (held != index && held != NAMES_NONE) return &reader->kinds[entry->kind].at[held];
  uint32_t mark = evidence ? names_find(reader->everything, name->text, name->n) : NAMES_NONE;
  if (mark == NAMES_NONE || mark >> 24 == ENTRY_EVIDENCE) return NULL;
  return &reader->kinds[mark >> 24].at[mark & 0xffffff];
}

/* The other names understood; one that is taken is reported. */
static void add_other_names(struct reader *reader, struct names *names, const struct entry *entry,
                            size_t index) {
  const struct node *also = node_get(entry->node, "also");
  if (!reader_is_list(reader, also, "a list of names")) return;
  for (const struct node *name = also->first; name; name = name->next) {
    if (reader_string(reader, name) == NULL || !check_name(reader, name->text, name->at)) continue;
    const struct entry *other = other_holder(reader, names, name, entry, index);
    if (other) report_taken(reader, name, other);
  }
}

/* Own names before other names, so that an entry's own name always stands for it. */
static void add_names(struct reader *reader, struct names *names, enum entry_kind kind) {
  struct entries entries = reader->kinds[kind];
  for (size_t i = 0; i < entries.n; i++)
    names_add(names, entries.at[i].name, strlen(entries.at[i].name), (uint32_t)i);
  for (size_t i = 0; i < entries.n; i++) add_other_names(reader, names, &entries.at[i], i);
}

/* ---- sources ---- */

static struct reference read_reference(struct reader *reader, const struct entry *entry) {
  reader_check_keys(reader, entry->node, "source", KEYS_SOURCE);
  size_t status = reader_listed(reader, reader_key(reader, entry, "status", true), WORDS_STATUS);
  return (struct reference){
      .name = entry->name,
      .title = reader_string(reader, reader_key(reader, entry, "title", true)),
      .status = status == NO_INDEX ? "" : words_of(WORDS_STATUS)->at[status],
      .about = reader_string(reader, node_get(entry->node, "about")),
      .at = entry->at,
  };
}

void read_references(struct reader *reader) {
  struct entries entries = reader->kinds[ENTRY_SOURCE];
  struct reference *references = arena_new_array(reader->arena, struct reference, entries.n);
  if (references == NULL) return;
  for (size_t i = 0; i < entries.n; i++) {
    references[i] = read_reference(reader, &entries.at[i]);
    names_add(reader->model->reference_names, entries.at[i].name, strlen(entries.at[i].name),
              (uint32_t)i);
  }
  reader->model->references = references;
  reader->model->n_references = entries.n;
}

/* ---- clubs ---- */

/* A quantity that must be above zero. */
static double club_quantity(struct reader *reader, const struct entry *entry, const char *key,
                            enum golf_unit_index unit) {
  double number = 0;
  const struct node *node = reader_key(reader, entry, key, true);
  const char *text = reader_string(reader, node);
  if (text &&
      value_read_quantity(reader->diags, key, golf_unit_at(unit), text, node->n, node->at,
                          &number) &&
      number <= 0)
    DIAG(reader->diags, BAD_NUMBER, node->at, text, " above zero");
  return number;
}

static struct club read_club(struct reader *reader, const struct entry *entry) {
  reader_check_keys(reader, entry->node, "club", KEYS_CLUB);
  size_t family = reader_listed(reader, reader_key(reader, entry, "family", true), WORDS_FAMILY);
  return (struct club){
      .name = entry->name,
      .title = reader_title(reader, entry),
      .family = family == NO_INDEX ? "" : words_of(WORDS_FAMILY)->at[family],
      .loft = club_quantity(reader, entry, "loft", GOLF_UNIT_DEG),
      .length = club_quantity(reader, entry, "length", GOLF_UNIT_M),
      .lie = club_quantity(reader, entry, "lie", GOLF_UNIT_DEG),
      .head_mass = club_quantity(reader, entry, "head_mass", GOLF_UNIT_G),
      .source = reader_source(reader, entry),
      .at = entry->at,
  };
}

void read_clubs(struct reader *reader) {
  struct entries entries = reader->kinds[ENTRY_CLUB];
  struct club *clubs = arena_new_array(reader->arena, struct club, entries.n);
  if (clubs == NULL) return;
  add_names(reader, reader->model->club_names, ENTRY_CLUB);
  for (size_t i = 0; i < entries.n; i++) clubs[i] = read_club(reader, &entries.at[i]);
  reader->model->clubs = clubs;
  reader->model->n_clubs = entries.n;
}

/* ---- evidence ---- */

/* A key of another kind would be lost silently, so each kind has its own list. */
static void check_evidence_keys(struct reader *reader, const struct entry *entry,
                                enum evidence_kind kind) {
  static const struct {
    const char *what;
    enum key_set keys;
  } kinds[] = {
      [EVIDENCE_NUMBER] = {"evidence of kind number", KEYS_NUMBER},
      [EVIDENCE_CHOICE] = {"evidence of kind choice", KEYS_CHOICE},
      [EVIDENCE_YES_NO] = {"evidence of kind yes_no", KEYS_YES_NO},
      [EVIDENCE_TEXT] = {"evidence of kind text", KEYS_TEXT},
      [EVIDENCE_CLUB] = {"evidence of kind club", KEYS_CLUB_EVIDENCE},
  };
  reader_check_keys(reader, entry->node, kinds[kind].what, kinds[kind].keys);
}

static void read_range(struct reader *reader, const struct entry *entry,
                       struct evidence *evidence) {
  const struct node *range = reader_key(reader, entry, "range", true);
  if (!reader_is_list(reader, range, "two numbers: [low, high]")) return;
  if (range->n != 2) {
    reader_wrong_shape(reader, range, "two numbers: [low, high]");
    return;
  }
  const struct node *low = range->first, *high = low->next;
  bool read = reader_number(reader, low, &evidence->low);
  read = reader_number(reader, high, &evidence->high) && read;
  if (read && evidence->low >= evidence->high)
    DIAG(reader->diags, BAD_RANGE, range->at, low->text, high->text);
}

static double read_not_negative(struct reader *reader, const struct entry *entry, const char *key) {
  double number = 0;
  const struct node *node = reader_key(reader, entry, key, true);
  if (reader_number(reader, node, &number) && number < 0)
    DIAG(reader->diags, BAD_ERROR, node->at, node->text);
  return number;
}

static void read_sides(struct reader *reader, const struct entry *entry,
                       struct evidence *evidence) {
  const struct node *sides = node_get(entry->node, "sides");
  if (!reader_is_list(reader, sides, "two words: [below zero, above zero]")) return;
  if (sides->n != 2) {
    reader_wrong_shape(reader, sides, "two words: [below zero, above zero]");
    return;
  }
  evidence->minus = reader_string(reader, sides->first);
  evidence->plus = reader_string(reader, sides->first->next);
  evidence->mirrored = evidence->minus && evidence->plus && strcmp(evidence->minus, "left") == 0 &&
                       strcmp(evidence->plus, "right") == 0;
}

/* The name with its side word exchanged ("aims_left" -> "aims_right"), or NULL when it has none. */
static const char *side_counterpart(struct arena *arena, const char *name) {
  static const char *const sides[] = {"left", "right"};
  for (size_t side = 0; side < 2; side++) {
    for (const char *found = strstr(name, sides[side]); found;
         found = strstr(found + 1, sides[side])) {
      size_t n = strlen(sides[side]);
      bool whole = (found == name || found[-1] == '_') && (found[n] == '\0' || found[n] == '_');
      if (!whole) continue;
      struct text text;
      text_init(&text, arena);
      text_add_bytes(&text, name, (size_t)(found - name));
      text_add(&text, sides[1 - side]);
      text_add(&text, found + n);
      return text_done(&text);
    }
  }
  return NULL;
}

/* The words of a number, each worth a value with its error, such as "left: -4 +/- 2". */
static void read_number_words(struct reader *reader, const struct entry *entry,
                              struct evidence *evidence) {
  const struct node *map = node_get(entry->node, "words");
  if (!reader_is_map(reader, map, "a mapping: word to value +/- error")) return;
  struct number_word *words = arena_new_array(reader->arena, struct number_word, map->n);
  size_t n = 0;
  for (const struct node *word = map->first; words && word; word = word->next) {
    struct value value;
    if (!check_name(reader, word->key, word->key_at) || reader_string(reader, word) == NULL)
      continue;
    struct model one = {.evidence = evidence, .n_evidence = 1};
    bool sided = side_counterpart(reader->arena, word->key) != NULL;
    if (value_read(reader->arena, reader->diags, &one, 0, word->text, word->at, &value))
      words[n++] = (struct number_word){word->key, value.number, value.error, sided};
  }
  evidence->words = words;
  evidence->n_words = n;
}

static void read_number_evidence(struct reader *reader, const struct entry *entry,
                                 struct evidence *evidence) {
  const struct node *unit = reader_key(reader, entry, "unit", true);
  const char *word = reader_string(reader, unit);
  evidence->unit = golf_unit_at(GOLF_UNIT_NONE);
  if (word) {
    const struct golf_unit *found = golf_unit_find(word, unit->n);
    if (found) evidence->unit = found;
    else value_report_unit(reader->diags, NULL, word, unit->at);
  }
  double decimals = 1;
  const struct node *node = node_get(entry->node, "decimals");
  if (reader_number(reader, node, &decimals) &&
      !(decimals >= 0 && decimals <= 6 && decimals == floor(decimals)))
    DIAG(reader->diags, BAD_NUMBER, node->at, node->text, " of decimals, from 0 to 6");
  evidence->decimals = decimals >= 0 && decimals <= 6 ? (int)decimals : 1;
  read_range(reader, entry, evidence);
  evidence->error = read_not_negative(reader, entry, "error");
  evidence->spread = read_not_negative(reader, entry, "spread");
  read_sides(reader, entry, evidence);
  read_number_words(reader, entry, evidence);
}

static void mirror_choices(struct reader *reader, const struct node *values, struct choice *choices,
                           size_t n) {
  const struct node *value = values->first;
  for (size_t i = 0; i < n; i++, value = value->next) {
    const char *other = side_counterpart(reader->arena, choices[i].name);
    choices[i].mirror = i;
    for (size_t k = 0; other && k < n; k++)
      if (strcmp(choices[k].name, other) == 0) choices[i].mirror = k;
    if (other && choices[i].mirror == i)
      DIAG(reader->diags, NO_COUNTERPART, value->key_at, choices[i].name, other);
  }
}

static void read_choice_evidence(struct reader *reader, const struct entry *entry,
                                 struct evidence *evidence) {
  const struct node *values = reader_key(reader, entry, "values", true);
  if (!reader_is_map(reader, values, "a mapping: word to the words a screen uses")) return;
  struct choice *choices = arena_new_array(reader->arena, struct choice, values->n);
  size_t n = 0;
  if (values->n == 0) reader_wrong_shape(reader, values, "at least one word");
  for (const struct node *value = values->first; choices && value; value = value->next) {
    check_name(reader, value->key, value->key_at);
    choices[n++] = (struct choice){value->key, reader_wording(reader, value), 0};
  }
  if (choices) mirror_choices(reader, values, choices, n);
  evidence->choices = choices;
  evidence->n_choices = n;
}

static struct wording plain_wording(struct reader *reader, const char *text) {
  struct wording_part *part = arena_new_object(reader->arena, struct wording_part);
  if (part == NULL || text == NULL) return (struct wording){NULL, 0};
  *part = (struct wording_part){WORDING_TEXT, text, NO_INDEX};
  return (struct wording){part, 1};
}

static void fill_choices(struct reader *reader, struct evidence *evidence, const char *const *names,
                         const char *const *titles, size_t n) {
  struct choice *choices = arena_new_array(reader->arena, struct choice, n);
  for (size_t i = 0; choices && i < n; i++)
    choices[i] = (struct choice){names[i], plain_wording(reader, titles[i]), i};
  evidence->choices = choices;
  evidence->n_choices = choices ? n : 0;
}

static void read_club_evidence(struct reader *reader, const struct entry *entry,
                               struct evidence *evidence, size_t index) {
  struct model *model = reader->model;
  const char **names = arena_new_array(reader->arena, const char *, model->n_clubs * 2 + 1);
  if (names == NULL) return;
  for (size_t i = 0; i < model->n_clubs; i++) {
    names[i] = model->clubs[i].name;
    names[model->n_clubs + i] = model->clubs[i].title;
  }
  fill_choices(reader, evidence, names, names + model->n_clubs, model->n_clubs);
  if (model->club_evidence == NO_INDEX) model->club_evidence = index;
  else
    DIAG(reader->diags, TWO_CLUBS, entry->at, entry->name,
         model->evidence[model->club_evidence].name);
}

static void read_kind(struct reader *reader, const struct entry *entry, struct evidence *evidence,
                      size_t index) {
  size_t kind = reader_listed(reader, reader_key(reader, entry, "kind", true), WORDS_EVIDENCE_KIND);
  evidence->unit = golf_unit_at(GOLF_UNIT_NONE);
  evidence->kind = kind == NO_INDEX ? EVIDENCE_TEXT : (enum evidence_kind)kind;
  evidence->unclear = kind == NO_INDEX;
  if (kind != NO_INDEX) check_evidence_keys(reader, entry, evidence->kind);
  if (evidence->kind == EVIDENCE_NUMBER) read_number_evidence(reader, entry, evidence);
  else if (evidence->kind == EVIDENCE_CHOICE) read_choice_evidence(reader, entry, evidence);
  else if (evidence->kind == EVIDENCE_YES_NO)
    fill_choices(reader, evidence, words_of(WORDS_YES_NO)->at, words_of(WORDS_YES_NO)->at, 2);
  else if (evidence->kind == EVIDENCE_CLUB) read_club_evidence(reader, entry, evidence, index);
}

/* A club's family is a word, its other fields are quantities. */
static void check_from_club(struct reader *reader, const struct entry *entry,
                            const struct evidence *evidence) {
  const struct node *node = node_get(entry->node, "from_club");
  bool word = evidence->from_club == CLUB_FAMILY;
  if (evidence->from_club == CLUB_NONE ||
      (evidence->kind != EVIDENCE_NUMBER && evidence->kind != EVIDENCE_CHOICE))
    return;
  if (word != (evidence->kind == EVIDENCE_CHOICE)) {
    DIAG(reader->diags, WRONG_KIND, node->at, entry->name, evidence_kind_word(evidence->kind),
         word ? "the family of a club is a choice of words" : "that of a club is a number");
    return;
  }
  const struct golf_unit *unit = value_club_unit(evidence->from_club);
  if (!word && !golf_unit_convertible(unit, evidence->unit))
    value_report_misfit(reader->diags, entry->name, evidence->unit, unit, node->at);
}

static void read_evidence_entry(struct reader *reader, const struct entry *entry,
                                struct evidence *evidence, size_t index) {
  evidence->name = entry->name;
  evidence->at = entry->at;
  evidence->title = reader_title(reader, entry);
  size_t field = reader_listed(reader, node_get(entry->node, "from_club"), WORDS_CLUB_FIELD);
  evidence->from_club = field == NO_INDEX ? CLUB_NONE : (enum club_field)(CLUB_FAMILY + field);
  bool filled = node_get(entry->node, "formula") || evidence->from_club != CLUB_NONE;
  size_t effort = reader_listed(reader, reader_key(reader, entry, "effort", !filled), WORDS_EFFORT);
  evidence->effort = effort == NO_INDEX ? EFFORT_MEASURE : (enum effort)effort;
  evidence->source = reader_source(reader, entry);
  read_kind(reader, entry, evidence, index);
  check_from_club(reader, entry, evidence);
}

static struct formula *read_formula_text(struct reader *reader, const struct node *node) {
  const char *text = reader_string(reader, node);
  return text ? formula_read(reader->arena, reader->diags, reader->model, text, node->at, false)
              : NULL;
}

static bool is_number(const struct node *node) {
  double ignored;
  return node->kind == NODE_SCALAR && number_read(node->text, node->n, &ignored) == node->n;
}

/* The error a formula has of its own, beside that of what it reads: a number, or a formula of it.
 */
static void read_own_error(struct reader *reader, const struct node *error,
                           struct formula *formula) {
  double own = 0;
  if (error == NULL) return;
  if (!is_number(error)) {
    formula->doubt = read_formula_text(reader, error);
    return;
  }
  if (reader_number(reader, error, &own) && own < 0) {
    DIAG(reader->diags, BAD_ERROR, error->at, error->text);
    own = 0;
  }
  formula->error = own;
}

/* A text, or {is: text, error: number or text}. */
static const struct formula *read_formula(struct reader *reader, const struct entry *entry,
                                          const struct node *node) {
  const struct node *is = node, *error = NULL;
  if (node->kind == NODE_MAP) {
    reader_check_keys(reader, node, "a formula", KEYS_FORMULA);
    is = node_get(node, "is");
    error = node_get(node, "error");
    if (is == NULL)
      DIAG(reader->diags, MISSING_KEY, node->at, "a formula of evidence", entry->name, "is");
  }
  struct formula *formula = read_formula_text(reader, is);
  if (formula) read_own_error(reader, error, formula);
  return formula;
}

static void read_formulas(struct reader *reader, const struct entry *entry,
                          struct evidence *evidence) {
  const struct node *node = node_get(entry->node, "formula");
  if (node == NULL) return;
  if (node->kind == NODE_LIST && node->n == 0)
    reader_wrong_shape(reader, node, "a formula or a list of them");
  size_t n = node->kind == NODE_LIST ? node->n : 1, kept = 0;
  const struct formula **formulas = arena_new_array(reader->arena, const struct formula *, n);
  const struct node *one = node->kind == NODE_LIST ? node->first : node;
  if (evidence->kind != EVIDENCE_NUMBER) /* told: it has no such key */
    return;
  for (; formulas && kept < n && one; one = node->kind == NODE_LIST ? one->next : NULL) {
    const struct formula *formula = read_formula(reader, entry, one);
    if (formula) formulas[kept++] = formula;
  }
  evidence->formulas = formulas;
  evidence->n_formulas = kept;
}

/* Texts and formulas name other evidence, so they are read once all of it is known. */
static void read_evidence_texts(struct reader *reader, const struct entry *entry,
                                struct evidence *evidence) {
  bool filled = node_get(entry->node, "formula") || evidence->from_club != CLUB_NONE;
  evidence->about = reader_wording_key(reader, entry, "about", true);
  evidence->ask = reader_wording_key(reader, entry, "ask", !filled);
  read_formulas(reader, entry, evidence);
}

void read_evidence(struct reader *reader) {
  struct model *model = reader->model;
  struct entries entries = reader->kinds[ENTRY_EVIDENCE];
  struct evidence *evidence = arena_new_array(reader->arena, struct evidence, entries.n);
  if (evidence == NULL) return;
  model->evidence = evidence;
  model->n_evidence = entries.n;
  for (size_t i = 0; i < entries.n; i++) evidence[i].name = entries.at[i].name;
  add_names(reader, model->evidence_names, ENTRY_EVIDENCE);
  for (size_t i = 0; i < entries.n; i++)
    read_evidence_entry(reader, &entries.at[i], &evidence[i], i);
  for (size_t i = 0; i < entries.n; i++) read_evidence_texts(reader, &entries.at[i], &evidence[i]);
}

/* ---- findings and causes (drills: drill.c) ---- */

static void read_finding(struct reader *reader, const struct entry *entry, struct claim *claim) {
  reader_check_keys(reader, entry->node, "finding", KEYS_FINDING);
  claim->red_flag = reader_wording_key(reader, entry, "red_flag", false);
  claim->good = reader_yes_no(reader, node_get(entry->node, "good"), false);
}

static void read_cause(struct reader *reader, const struct entry *entry, struct claim *claim) {
  reader_check_keys(reader, entry->node, "cause", KEYS_CAUSE);
  size_t area = reader_listed(reader, reader_key(reader, entry, "area", true), WORDS_AREA);
  claim->area = area == NO_INDEX ? "" : words_of(WORDS_AREA)->at[area];
  claim->tell_apart = reader_wording_key(reader, entry, "tell_apart", false);
}

static void read_claim(struct reader *reader, const struct entry *entry, struct claim *claim) {
  claim->at = entry->at;
  claim->title = reader_wording_key(reader, entry, "title", true);
  claim->about = reader_wording_key(reader, entry, "about", claim->kind != CLAIM_DRILL);
  claim->source = reader_source(reader, entry);
  if (claim->kind == CLAIM_FINDING) read_finding(reader, entry, claim);
  else if (claim->kind == CLAIM_CAUSE) read_cause(reader, entry, claim);
}

void read_claims(struct reader *reader) {
  struct model *model = reader->model;
  size_t n_findings = reader->kinds[ENTRY_FINDING].n, n_causes = reader->kinds[ENTRY_CAUSE].n;
  size_t n = n_findings + n_causes + reader->kinds[ENTRY_DRILL].n, at = 0;
  struct claim *claims = arena_new_array(reader->arena, struct claim, n);
  if (claims == NULL) return;
  model->claims = claims;
  model->first_cause = n_findings;
  model->first_drill = n_findings + n_causes;
  for (size_t kind = ENTRY_FINDING; kind <= ENTRY_DRILL; kind++) {
    for (size_t i = 0; i < reader->kinds[kind].n; i++, at++) {
      const struct entry *entry = &reader->kinds[kind].at[i];
      claims[at].kind = (enum claim_kind)(kind - ENTRY_FINDING);
      claims[at].name = entry->name;
      names_add(model->claim_names, entry->name, strlen(entry->name), (uint32_t)at);
      read_claim(reader, entry, &claims[at]);
    }
  }
  model->n_claims = n;
}
