/* Sources, clubs, evidence, findings and causes from their entries. */
#include <math.h>
#include <string.h>

#include "model/reader.h"

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

/* Adds name -> index, and the other names understood; a name taken twice is reported. */
static void add_names(struct reader *reader, struct names *names, const struct entry *entry,
                      size_t index)
{
  names_add(names, entry->name, strlen(entry->name), (uint32_t)index);
  const struct node *also = node_get(entry->node, "also");
  if (!reader_is_list(reader, also, "a list of names"))
    return;
  for (const struct node *name = also->first; name; name = name->next) {
    if (reader_string(reader, name) == NULL)
      continue;
    if (names_add(names, name->text, name->n, (uint32_t)index) != index)
      DIAG(reader->diags, DUPLICATE_NAME, name->at, entry_kind_word(entry->kind), name->text);
  }
}

/* ---- sources ---- */

static struct reference read_reference(struct reader *reader, const struct entry *entry)
{
  static const char *const keys[] = {"source", "title", "status", "about", "replaces", NULL};
  static const char *const statuses[] = {"seen", "2nd", "memory", "derived"};
  reader_check_keys(reader, entry->node, "source", keys);
  size_t status = reader_word(reader, reader_key(reader, entry, "status", true), "status", statuses,
                              COUNT(statuses));
  return (struct reference){
      .name = entry->name,
      .title = reader_string(reader, reader_key(reader, entry, "title", true)),
      .status = status == NO_INDEX ? "" : statuses[status],
      .about = reader_string(reader, node_get(entry->node, "about")),
      .at = entry->at,
  };
}

void read_references(struct reader *reader)
{
  struct entries entries = reader->kinds[ENTRY_SOURCE];
  struct reference *references = arena_new_array(reader->arena, struct reference, entries.n);
  if (references == NULL)
    return;
  for (size_t i = 0; i < entries.n; i++) {
    references[i] = read_reference(reader, &entries.at[i]);
    names_add(reader->model->reference_names, entries.at[i].name, strlen(entries.at[i].name),
              (uint32_t)i);
  }
  reader->model->references = references;
  reader->model->n_references = entries.n;
}

/* ---- clubs ---- */

static const char *const club_families[] = {"driver", "wood", "hybrid", "iron", "wedge"};

/* A quantity that must be above zero. */
static double club_quantity(struct reader *reader, const struct entry *entry, const char *key,
                            enum golf_unit_index unit)
{
  double number = 0;
  const struct node *node = reader_key(reader, entry, key, true);
  const char *text = reader_string(reader, node);
  if (text && value_read_quantity(reader->diags, key, golf_unit_at(unit), text, node->n, node->at,
                                  &number) &&
      number <= 0)
    DIAG(reader->diags, BAD_NUMBER, node->at, text, " above zero");
  return number;
}

static struct club read_club(struct reader *reader, const struct entry *entry)
{
  static const char *const keys[] = {"club", "title", "also",      "family", "loft",    "length",
                                     "lie",  "about", "head_mass", "source", "replaces", NULL};
  reader_check_keys(reader, entry->node, "club", keys);
  size_t family = reader_word(reader, reader_key(reader, entry, "family", true), "family",
                              club_families, COUNT(club_families));
  return (struct club){
      .name = entry->name,
      .title = reader_string(reader, reader_key(reader, entry, "title", true)),
      .family = family == NO_INDEX ? "" : club_families[family],
      .loft = club_quantity(reader, entry, "loft", GOLF_UNIT_DEG),
      .length = club_quantity(reader, entry, "length", GOLF_UNIT_M),
      .lie = club_quantity(reader, entry, "lie", GOLF_UNIT_DEG),
      .head_mass = club_quantity(reader, entry, "head_mass", GOLF_UNIT_G),
      .source = reader_source(reader, entry),
      .at = entry->at,
  };
}

void read_clubs(struct reader *reader)
{
  struct entries entries = reader->kinds[ENTRY_CLUB];
  struct club *clubs = arena_new_array(reader->arena, struct club, entries.n);
  if (clubs == NULL)
    return;
  for (size_t i = 0; i < entries.n; i++) {
    clubs[i] = read_club(reader, &entries.at[i]);
    add_names(reader, reader->model->club_names, &entries.at[i], i);
  }
  reader->model->clubs = clubs;
  reader->model->n_clubs = entries.n;
}

/* ---- evidence ---- */

static const char *const evidence_keys[] = {
    "evidence", "title", "about", "kind",    "unit",      "range", "error",  "spread", "decimals", "sides",
    "words",    "values", "formula", "from_club", "also", "ask",   "effort", "source", "replaces", NULL};

static void read_range(struct reader *reader, const struct entry *entry, struct evidence *evidence)
{
  const struct node *range = reader_key(reader, entry, "range", true);
  if (!reader_is_list(reader, range, "two numbers: [low, high]"))
    return;
  if (range->n != 2) {
    DIAG(reader->diags, WRONG_SHAPE, range->at, "range", "two numbers: [low, high]",
         node_describe(reader->arena, range));
    return;
  }
  const struct node *low = range->first, *high = low->next;
  if (!reader_number(reader, low, &evidence->low) || !reader_number(reader, high, &evidence->high))
    return;
  if (evidence->low >= evidence->high)
    DIAG(reader->diags, BAD_RANGE, range->at, low->text, high->text);
}

static double read_not_negative(struct reader *reader, const struct entry *entry, const char *key)
{
  double number = 0;
  const struct node *node = reader_key(reader, entry, key, true);
  if (reader_number(reader, node, &number) && number < 0)
    DIAG(reader->diags, BAD_ERROR, node->at, node->text);
  return number;
}

static void read_sides(struct reader *reader, const struct entry *entry, struct evidence *evidence)
{
  const struct node *sides = node_get(entry->node, "sides");
  if (!reader_is_list(reader, sides, "two words: [below zero, above zero]"))
    return;
  if (sides->n != 2) {
    DIAG(reader->diags, WRONG_SHAPE, sides->at, "sides", "two words: [below zero, above zero]",
         node_describe(reader->arena, sides));
    return;
  }
  evidence->minus = reader_string(reader, sides->first);
  evidence->plus = reader_string(reader, sides->first->next);
  evidence->mirrored = evidence->minus && evidence->plus && strcmp(evidence->minus, "left") == 0 &&
                       strcmp(evidence->plus, "right") == 0;
}

/* The words of a number, each worth a value with its error, such as "left: -4 +/- 2". */
static void read_number_words(struct reader *reader, const struct entry *entry,
                              struct evidence *evidence)
{
  const struct node *map = node_get(entry->node, "words");
  if (!reader_is_map(reader, map, "a mapping: word to value +/- error"))
    return;
  struct number_word *words = arena_new_array(reader->arena, struct number_word, map->n);
  size_t n = 0;
  for (const struct node *word = map->first; words && word; word = word->next) {
    struct value value;
    if (reader_string(reader, word) == NULL)
      continue;
    struct model one = {.evidence = evidence, .n_evidence = 1};
    if (value_read(reader->arena, reader->diags, &one, 0, word->text, word->at, &value))
      words[n++] = (struct number_word){word->key, value.number, value.error};
  }
  evidence->words = words;
  evidence->n_words = n;
}

static void read_number_evidence(struct reader *reader, const struct entry *entry,
                                 struct evidence *evidence)
{
  const struct node *unit = reader_key(reader, entry, "unit", true);
  const char *word = reader_string(reader, unit);
  evidence->unit = golf_unit_at(GOLF_UNIT_NONE);
  if (word) {
    const struct golf_unit *found = golf_unit_find(word, unit->n);
    if (found)
      evidence->unit = found;
    else
      DIAG(reader->diags, UNKNOWN_UNIT, unit->at, word, "listed in docs/rules.md");
  }
  double decimals = 1;
  const struct node *node = node_get(entry->node, "decimals");
  if (reader_number(reader, node, &decimals) &&
      !(decimals >= 0 && decimals <= 6 && decimals == floor(decimals)))
    DIAG(reader->diags, BAD_NUMBER, node->at, node->text, " of decimals, 0 to 6");
  evidence->decimals = decimals >= 0 && decimals <= 6 ? (int)decimals : 1;
  read_range(reader, entry, evidence);
  evidence->error = read_not_negative(reader, entry, "error");
  evidence->spread = read_not_negative(reader, entry, "spread");
  read_sides(reader, entry, evidence);
  read_number_words(reader, entry, evidence);
}

/* The name with its side word exchanged ("aims_left" -> "aims_right"), or NULL when it has none. */
static const char *side_counterpart(struct arena *arena, const char *name)
{
  static const char *const sides[] = {"left", "right"};
  for (size_t side = 0; side < 2; side++) {
    for (const char *found = strstr(name, sides[side]); found; found = strstr(found + 1, sides[side])) {
      size_t n = strlen(sides[side]);
      bool whole = (found == name || found[-1] == '_') && (found[n] == '\0' || found[n] == '_');
      if (!whole)
        continue;
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

static void mirror_choices(struct reader *reader, const struct node *values, struct choice *choices,
                           size_t n)
{
  const struct node *value = values->first;
  for (size_t i = 0; i < n; i++, value = value->next) {
    const char *other = side_counterpart(reader->arena, choices[i].name);
    choices[i].mirror = i;
    for (size_t k = 0; other && k < n; k++)
      if (strcmp(choices[k].name, other) == 0)
        choices[i].mirror = k;
    if (other && choices[i].mirror == i)
      DIAG(reader->diags, NO_COUNTERPART, value->key_at, choices[i].name, other);
  }
}

static void read_choice_evidence(struct reader *reader, const struct entry *entry,
                                 struct evidence *evidence)
{
  const struct node *values = reader_key(reader, entry, "values", true);
  if (!reader_is_map(reader, values, "a mapping: word to the words a screen uses"))
    return;
  struct choice *choices = arena_new_array(reader->arena, struct choice, values->n);
  size_t n = 0;
  for (const struct node *value = values->first; choices && value; value = value->next)
    choices[n++] = (struct choice){value->key, reader_wording(reader, value), 0};
  if (choices)
    mirror_choices(reader, values, choices, n);
  evidence->choices = choices;
  evidence->n_choices = n;
}

static struct wording plain_wording(struct reader *reader, const char *text)
{
  struct wording_part *part = arena_new_object(reader->arena, struct wording_part);
  if (part == NULL || text == NULL)
    return (struct wording){NULL, 0};
  *part = (struct wording_part){WORDING_TEXT, text, NO_INDEX};
  return (struct wording){part, 1};
}

static void fill_choices(struct reader *reader, struct evidence *evidence,
                         const char *const *names, const char *const *titles, size_t n)
{
  struct choice *choices = arena_new_array(reader->arena, struct choice, n);
  for (size_t i = 0; choices && i < n; i++)
    choices[i] = (struct choice){names[i], plain_wording(reader, titles[i]), i};
  evidence->choices = choices;
  evidence->n_choices = choices ? n : 0;
}

static void read_club_evidence(struct reader *reader, const struct entry *entry,
                               struct evidence *evidence, size_t index)
{
  struct model *model = reader->model;
  const char **names = arena_new_array(reader->arena, const char *, model->n_clubs * 2 + 1);
  if (names == NULL)
    return;
  for (size_t i = 0; i < model->n_clubs; i++) {
    names[i] = model->clubs[i].name;
    names[model->n_clubs + i] = model->clubs[i].title;
  }
  fill_choices(reader, evidence, names, names + model->n_clubs, model->n_clubs);
  if (model->club_evidence == NO_INDEX)
    model->club_evidence = index;
  else
    DIAG(reader->diags, TWO_CLUBS, entry->at, entry->name,
         model->evidence[model->club_evidence].name);
}

static void read_kind(struct reader *reader, const struct entry *entry, struct evidence *evidence,
                      size_t index)
{
  static const char *const kinds[] = {"number", "choice", "yes_no", "text", "club"};
  static const char *const yes_no[] = {"no", "yes"};
  size_t kind =
      reader_word(reader, reader_key(reader, entry, "kind", true), "kind", kinds, COUNT(kinds));
  evidence->unit = golf_unit_at(GOLF_UNIT_NONE);
  evidence->kind = kind == NO_INDEX ? EVIDENCE_TEXT : (enum evidence_kind)kind;
  if (evidence->kind == EVIDENCE_NUMBER)
    read_number_evidence(reader, entry, evidence);
  else if (evidence->kind == EVIDENCE_CHOICE)
    read_choice_evidence(reader, entry, evidence);
  else if (evidence->kind == EVIDENCE_YES_NO)
    fill_choices(reader, evidence, yes_no, yes_no, 2);
  else if (evidence->kind == EVIDENCE_CLUB)
    read_club_evidence(reader, entry, evidence, index);
}

static void read_evidence_entry(struct reader *reader, const struct entry *entry,
                                struct evidence *evidence, size_t index)
{
  static const char *const fields[] = {"none", "family", "loft", "length", "lie", "head_mass"};
  static const char *const efforts[] = {"know", "look", "video", "measure"};
  reader_check_keys(reader, entry->node, "evidence", evidence_keys);
  evidence->name = entry->name;
  evidence->at = entry->at;
  evidence->title = reader_string(reader, reader_key(reader, entry, "title", true));
  if (evidence->title == NULL)
    evidence->title = entry->name;
  size_t field = reader_word(reader, node_get(entry->node, "from_club"), "field of a club", fields,
                             COUNT(fields));
  evidence->from_club = field == NO_INDEX ? CLUB_NONE : (enum club_field)field;
  bool filled = node_get(entry->node, "formula") || evidence->from_club != CLUB_NONE;
  size_t effort = reader_word(reader, reader_key(reader, entry, "effort", !filled), "effort",
                              efforts, COUNT(efforts));
  evidence->effort = effort == NO_INDEX ? EFFORT_MEASURE : (enum effort)effort;
  evidence->source = reader_source(reader, entry);
  read_kind(reader, entry, evidence, index);
}

/* A text, or {is: text, error: number}: the error a formula has of its own, beside that of what it reads. */
static const struct formula *read_formula(struct reader *reader, const struct entry *entry,
                                          const struct node *node)
{
  static const char *const keys[] = {"is", "error", NULL};
  const struct node *is = node, *error = NULL;
  if (node->kind == NODE_MAP) {
    reader_check_keys(reader, node, "a formula", keys);
    is = node_get(node, "is");
    error = node_get(node, "error");
    if (is == NULL)
      DIAG(reader->diags, MISSING_KEY, node->at, "a formula of evidence", entry->name, "is");
  }
  const char *text = reader_string(reader, is);
  struct formula *formula =
      text ? formula_read(reader->arena, reader->diags, reader->model, text, is->at, false) : NULL;
  double own = 0;
  if (reader_number(reader, error, &own) && own < 0)
    DIAG(reader->diags, BAD_ERROR, error->at, error->text);
  if (formula)
    formula->error = own;
  return formula;
}

static void read_formulas(struct reader *reader, const struct entry *entry,
                          struct evidence *evidence)
{
  const struct node *node = node_get(entry->node, "formula");
  if (node == NULL)
    return;
  size_t n = node->kind == NODE_LIST ? node->n : 1, kept = 0;
  const struct formula **formulas = arena_new_array(reader->arena, const struct formula *, n);
  const struct node *one = node->kind == NODE_LIST ? node->first : node;
  if (evidence->kind != EVIDENCE_NUMBER) {
    DIAG(reader->diags, FORMULA_KIND, node->at, entry->name, evidence_kind_word(evidence->kind));
    return;
  }
  for (; formulas && kept < n && one; one = node->kind == NODE_LIST ? one->next : NULL) {
    const struct formula *formula = read_formula(reader, entry, one);
    if (formula)
      formulas[kept++] = formula;
  }
  evidence->formulas = formulas;
  evidence->n_formulas = kept;
}

/* Texts and formulas name other evidence, so they are read once all of it is known. */
static void read_evidence_texts(struct reader *reader, const struct entry *entry,
                                struct evidence *evidence)
{
  bool filled = node_get(entry->node, "formula") || evidence->from_club != CLUB_NONE;
  evidence->about = reader_wording_key(reader, entry, "about", true);
  evidence->ask = reader_wording_key(reader, entry, "ask", !filled);
  read_formulas(reader, entry, evidence);
}

void read_evidence(struct reader *reader)
{
  struct model *model = reader->model;
  struct entries entries = reader->kinds[ENTRY_EVIDENCE];
  struct evidence *evidence = arena_new_array(reader->arena, struct evidence, entries.n);
  if (evidence == NULL)
    return;
  model->evidence = evidence;
  model->n_evidence = entries.n;
  for (size_t i = 0; i < entries.n; i++) {
    evidence[i].name = entries.at[i].name;
    add_names(reader, model->evidence_names, &entries.at[i], i);
  }
  for (size_t i = 0; i < entries.n; i++)
    read_evidence_entry(reader, &entries.at[i], &evidence[i], i);
  for (size_t i = 0; i < entries.n; i++)
    read_evidence_texts(reader, &entries.at[i], &evidence[i]);
}

/* ---- findings and causes (drills: drill.c) ---- */

static const char *const areas[] = {"grip",      "aim",     "ball_position", "posture", "backswing",
                                    "transition", "downswing", "release",     "strike",  "tempo",
                                    "equipment", "turf",    "wind",          "intent",  "body"};

static void read_finding(struct reader *reader, const struct entry *entry, struct claim *claim)
{
  static const char *const keys[] = {"finding", "title",  "about",    "red_flag",
                                     "good",    "source", "replaces", NULL};
  reader_check_keys(reader, entry->node, "finding", keys);
  claim->red_flag = reader_wording_key(reader, entry, "red_flag", false);
  claim->good = reader_yes_no(reader, node_get(entry->node, "good"), false);
}

static void read_cause(struct reader *reader, const struct entry *entry, struct claim *claim)
{
  static const char *const keys[] = {"cause",  "title",    "about", "area", "tell_apart",
                                     "source", "replaces", NULL};
  reader_check_keys(reader, entry->node, "cause", keys);
  size_t area =
      reader_word(reader, reader_key(reader, entry, "area", true), "area", areas, COUNT(areas));
  claim->area = area == NO_INDEX ? "" : areas[area];
  claim->tell_apart = reader_wording_key(reader, entry, "tell_apart", false);
}

static void read_claim(struct reader *reader, const struct entry *entry, struct claim *claim)
{
  claim->at = entry->at;
  claim->title = reader_wording_key(reader, entry, "title", true);
  claim->about = reader_wording_key(reader, entry, "about", claim->kind != CLAIM_DRILL);
  claim->source = reader_source(reader, entry);
  if (claim->kind == CLAIM_FINDING)
    read_finding(reader, entry, claim);
  else if (claim->kind == CLAIM_CAUSE)
    read_cause(reader, entry, claim);
}

void read_claims(struct reader *reader)
{
  struct model *model = reader->model;
  size_t n_findings = reader->kinds[ENTRY_FINDING].n, n_causes = reader->kinds[ENTRY_CAUSE].n;
  size_t n = n_findings + n_causes + reader->kinds[ENTRY_DRILL].n, at = 0;
  struct claim *claims = arena_new_array(reader->arena, struct claim, n);
  if (claims == NULL)
    return;
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
