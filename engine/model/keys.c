/* The tables. The order within a set is the order in which messages and schemas name the keys. */
#include "model/keys.h"

#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

#define MUST(name, shape, about)                                                                   \
  { name, true, shape, WORDS_NONE, about }
#define MAY(name, shape, about)                                                                    \
  { name, false, shape, WORDS_NONE, about }
#define MUST_WORD(name, words, about)                                                              \
  { name, true, SHAPE_WORD, words, about }
#define MAY_WORD(name, words, about)                                                               \
  { name, false, SHAPE_WORD, words, about }

/* ---- words ---- */

static const char *const yes_no[] = {"no", "yes"};
static const char *const statuses[] = {"seen", "2nd", "memory", "derived"};
static const char *const families[] = {"driver", "wood", "hybrid", "iron", "wedge"};
static const char *const evidence_kinds[] = {"number", "choice", "yes_no", "text", "club"};
static const char *const club_fields[] = {"family", "loft", "length", "lie", "head_mass"};
static const char *const efforts[] = {"know", "look", "video", "measure"};
static const char *const areas[] = {"grip",      "aim",        "ball_position", "posture",
                                    "backswing", "transition", "downswing",     "release",
                                    "strike",    "tempo",      "equipment",     "turf",
                                    "wind",      "intent",     "body"};
static const char *const tasks[] = {"external", "body"};
static const char *const rule_kinds[] = {"geometry", "cause_effect", "experience", "convention"};
static const char *const hands[] = {"right", "left"};
static const char *const turns[] = {"denied", "past",   "other",   "wish",    "well",
                                    "theirs", "mine",   "instead", "nothing", "break",
                                    "unsure", "seldom", "mostly",  "scale"};
static const char *const reaches[] = {"after", "before", "clause"};

const struct words *words_of(enum word_list list) {
  static const struct words lists[WORD_LISTS] = {
      [WORDS_YES_NO] = {"answer", yes_no, COUNT(yes_no)},
      [WORDS_STATUS] = {"status", statuses, COUNT(statuses)},
      [WORDS_FAMILY] = {"family", families, COUNT(families)},
      [WORDS_EVIDENCE_KIND] = {"kind", evidence_kinds, COUNT(evidence_kinds)},
      [WORDS_CLUB_FIELD] = {"field of a club", club_fields, COUNT(club_fields)},
      [WORDS_EFFORT] = {"effort", efforts, COUNT(efforts)},
      [WORDS_AREA] = {"area", areas, COUNT(areas)},
      [WORDS_TASK] = {"task", tasks, COUNT(tasks)},
      [WORDS_RULE_KIND] = {"kind", rule_kinds, COUNT(rule_kinds)},
      [WORDS_HAND] = {"hand", hands, COUNT(hands)},
      [WORDS_TURN] = {"turn", turns, COUNT(turns)},
      [WORDS_REACH] = {"reach", reaches, COUNT(reaches)},
  };
  return &lists[list];
}

/* ---- keys of entries ---- */

#define SOURCE MAY("source", SHAPE_SOURCE, "where it is from: key of a source, practice or memory")
#define REPLACES MAY("replaces", SHAPE_TEXT, "its own name: it replaces the entry beneath it")
#define ACCEPT MAY("accept", SHAPE_ACCEPT, "findings of check that are meant so, each with why")
#define LAST SOURCE, REPLACES, ACCEPT

static const struct key source_keys[] = {
    MUST("source", SHAPE_HYPHEN_NAME, "name of the source, such as wood-2018"),
    MUST("title", SHAPE_TEXT, "authors, title, where and when it was published"),
    MUST_WORD("status", WORDS_STATUS, "seen: read itself; 2nd: quoted by another; memory; derived"),
    MAY("about", SHAPE_TEXT, "what is taken from it"),
    REPLACES,
    ACCEPT,
};
static const struct key club_keys[] = {
    MUST("club", SHAPE_NAME, "name of the club, such as 7i"),
    MUST("title", SHAPE_TEXT, "the words a screen uses"),
    MAY("also", SHAPE_TEXTS, "other names understood"),
    MUST_WORD("family", WORDS_FAMILY, "what sort of club it is"),
    MUST("loft", SHAPE_QUANTITY, "static loft, deg"),
    MUST("length", SHAPE_QUANTITY, "length of the club, m"),
    MUST("lie", SHAPE_QUANTITY, "lie angle, deg"),
    MAY("about", SHAPE_TEXT, "one sentence for the learner"),
    MUST("head_mass", SHAPE_QUANTITY, "mass of the head, g"),
    LAST,
};

/* asked: whether ask and effort must always be there. */
#define EVIDENCE_KEYS(asked)                                                                       \
  MUST("evidence", SHAPE_NAME, "name of the evidence"),                                            \
      MUST("title", SHAPE_TEXT, "the words a screen uses"),                                        \
      MUST("about", SHAPE_TEXT, "one sentence for the learner"),                                   \
      MUST_WORD("kind", WORDS_EVIDENCE_KIND, "what its value is"),                                 \
      MAY("also", SHAPE_TEXTS, "other names understood"),                                          \
      {"ask", asked, SHAPE_TEXT, WORDS_NONE, "the question that gets it"},                         \
      {"effort", asked, SHAPE_WORD, WORDS_EFFORT, "what it takes to get it"}, LAST
#define FROM_CLUB                                                                                  \
  MAY_WORD("from_club", WORDS_CLUB_FIELD, "filled from this field of the club given")

static const struct key number_keys[] = {
    EVIDENCE_KEYS(false),
    MUST("unit", SHAPE_UNIT, "the unit used inside rules"),
    MUST("range", SHAPE_RANGE, "[low, high]: plausible values; another is refused"),
    MUST("error", SHAPE_NOT_NEGATIVE, "one standard deviation of one reading, in the unit"),
    MUST("spread", SHAPE_NOT_NEGATIVE, "usual shot-to-shot standard deviation of one player"),
    MAY("decimals", SHAPE_DECIMALS, "digits shown after the point (1)"),
    MAY("sides", SHAPE_PAIR, "words for below and above zero; [left, right] is mirrored"),
    MAY("words", SHAPE_TEXT_MAP, "what a word of the player is worth: value +/- error"),
    MAY("formula", SHAPE_FORMULA,
        "fills it when it is not given: the first whose inputs are known"),
    FROM_CLUB,
};
static const struct key choice_keys[] = {
    EVIDENCE_KEYS(false),
    MUST("values", SHAPE_CHOICES, "the allowed words, each with the words a screen uses"),
    FROM_CLUB,
};
static const struct key other_keys[] = {EVIDENCE_KEYS(true)};

static const struct key finding_keys[] = {
    MUST("finding", SHAPE_NAME, "name of the finding"),
    MUST("title", SHAPE_TEXT, "the words a screen uses"),
    MUST("about", SHAPE_TEXT, "one sentence for the learner"),
    MAY("red_flag", SHAPE_TEXT, "said instead of any drill when it is believed"),
    MAY_WORD("good", WORDS_YES_NO, "yes: something is as it should be"),
    LAST,
};
static const struct key cause_keys[] = {
    MUST("cause", SHAPE_NAME, "name of the cause"),
    MUST("title", SHAPE_TEXT, "the words a screen uses"),
    MUST("about", SHAPE_TEXT, "one or two sentences for the learner"),
    MUST_WORD("area", WORDS_AREA, "where in the swing, or outside it"),
    MAY("tell_apart", SHAPE_TEXT, "what tells it from its look-alikes"),
    LAST,
};
static const struct key drill_keys[] = {
    MUST("drill", SHAPE_NAME, "name of the drill"),
    MUST("title", SHAPE_TEXT, "the words a screen uses"),
    MAY("about", SHAPE_TEXT, "one sentence for the learner"),
    MUST_WORD("task", WORDS_TASK, "external: something outside the body; body: a thought about it"),
    MUST("changes", SHAPE_CHANGES, "cause: effect, how well the drill changes it"),
    MUST("aim", SHAPE_TEXT, "which numbers move, which way, about how much"),
    MUST("setup", SHAPE_TEXT, "what to lay out and do"),
    MAY("objects", SHAPE_OBJECTS, "where the things lie"),
    MUST("dose", SHAPE_TEXT, "how many, how fast"),
    MUST("works", SHAPE_WORKS, "the number that says it worked, in hits of so many shots"),
    MUST("drop", SHAPE_DROP, "after how many shots, and on which sign, to change the drill"),
    MAY("needs", SHAPE_CONDITION, "known to be false removes the drill"),
    MUST("cautions", SHAPE_CAUTIONS, "what to look out for; at least one"),
    MAY("spoils", SHAPE_TEXT, "what it can make worse"),
    MAY("fallback", SHAPE_TEXT, "words for the body, as the last choice"),
    LAST,
};
static const struct key rule_keys[] = {
    MUST("rule", SHAPE_HYPHEN_NAME, "name of the rule"),
    MUST("when", SHAPE_CONDITION, "the condition"),
    MAY("then", SHAPE_THEN, "finding, cause or drill: strength, for (+) or against (-)"),
    MAY("removes", SHAPE_DRILLS, "drills taken out when the rule fires"),
    MUST("because", SHAPE_TEXT, "why, in one sentence"),
    MAY("learner", SHAPE_TEXT, "a longer wording for the junior coach"),
    MUST_WORD("kind", WORDS_RULE_KIND, "what the rule rests on"),
    SOURCE,
    MAY("group", SHAPE_TEXT, "only the strongest of a group counts for a conclusion"),
    REPLACES,
    ACCEPT,
};
static const struct key case_keys[] = {
    MUST("case", SHAPE_HYPHEN_NAME, "name of the worked case"),
    MAY_WORD("handed", WORDS_HAND, "the hand the player plays with (right)"),
    MAY("shots", SHAPE_MANY, "how many shots each number stands for (1)"),
    MUST("evidence", SHAPE_VALUES, "evidence: value"),
    MAY("expect", SHAPE_EXPECT, "what the answer must be"),
    MAY("because", SHAPE_TEXT, "why this is the answer"),
    REPLACES,
    ACCEPT,
};
static const struct key column_keys[] = {
    MUST("column", SHAPE_NAME, "name of the column"),
    MAY("header", SHAPE_TEXT, "PCRE2 pattern of what it may be called"),
    MAY("rows", SHAPE_TEXT, "instead of header: rows whose first filled cell matches are no shots"),
    MAY("means", SHAPE_MEANS, "an evidence, or shot, side, ignore"),
    MAY("unit", SHAPE_UNIT, "meant when the table names none"),
    MAY("about", SHAPE_TEXT, "a remark"),
    REPLACES,
    ACCEPT,
};
static const struct key window_keys[] = {
    MUST("window", SHAPE_NAME, "name of the window"),
    MUST("title", SHAPE_TEXT, "the words a screen uses"),
    MAY("about", SHAPE_TEXT, "a remark"),
    MUST("start", SHAPE_SORTING, "where the ball starts"),
    MUST("curve", SHAPE_SORTING, "how it curves"),
    MUST("finish", SHAPE_SORTING, "where it finishes; further out is a miss"),
    MUST("flights", SHAPE_FLIGHTS, "the words for the nine flights"),
    MAY("ellipses", SHAPE_ELLIPSES, "pairs of number evidence whose spread is told together"),
    MAY("scatter", SHAPE_SCATTER, "evidence: the one it is the standard deviation of"),
    MAY("both_ways", SHAPE_YES_NO_EVIDENCE, "evidence filled with whether misses go both ways"),
    MUST("source", SHAPE_SOURCE, "where it is from: key of a source, practice or memory"),
    REPLACES,
    ACCEPT,
};

#define PHRASE MUST("phrase", SHAPE_NAME, "name of the phrase")
#define SAYS                                                                                       \
  MUST("says", SHAPE_TEXT, "PCRE2 pattern of what is said"),                                       \
      MAY("unless", SHAPE_TEXT, "not when this pattern stands nearby")
#define SURE MAY("sure", SHAPE_SHARE, "how sure the words make us, 0 to 1 (0.8)")
#define SUCH_AS MAY("such_as", SHAPE_TEXT_OR_TEXTS, "examples; check tells those not understood")

static const struct key phrase_means_keys[] = {
    PHRASE,
    SAYS,
    MAY_WORD("firm", WORDS_YES_NO, "yes: a circumstance that no denial touches"),
    MAY_WORD("whole", WORDS_YES_NO, "yes: no club is heard within it"),
    MAY("means", SHAPE_MEANINGS, "evidence: value"),
    MAY("denied", SHAPE_MEANINGS, "what it means when it is denied"),
    SURE,
    SUCH_AS,
    LAST,
};
static const struct key phrase_turns_keys[] = {
    PHRASE,
    SAYS,
    MUST_WORD("turns", WORDS_TURN, "what the words do to the rest"),
    MAY_WORD("reach", WORDS_REACH, "how far, within the clause (after)"),
    MAY("by", SHAPE_FACTOR, "the factor of scale, unsure, seldom"),
    LAST,
};
static const struct key phrase_hand_keys[] = {
    PHRASE,  SAYS, MUST_WORD("hand", WORDS_HAND, "the words tell the hand the player plays with"),
    SUCH_AS, LAST,
};
static const struct key phrase_both_keys[] = {
    PHRASE,
    MUST("when_both", SHAPE_BOTH, "one evidence with two values, both said"),
    MUST("means", SHAPE_MEANINGS, "evidence: value"),
    SURE,
    SUCH_AS,
    LAST,
};
static const struct key phrase_part_keys[] = {
    PHRASE,
    MUST("part", SHAPE_PART, "a piece of patterns, or values with their patterns"),
    LAST,
};
static const struct key phrase_spelling_keys[] = {
    PHRASE,
    MUST("spelt", SHAPE_TEXT_MAP, "word: a pattern of its misspellings"),
    LAST,
};
static const struct key phrase_near_keys[] = {
    PHRASE,
    MUST("near", SHAPE_TEXTS, "words understood with one wrong letter"),
    MAY("known", SHAPE_TEXTS, "words left as they are"),
    LAST,
};

static const struct key format_keys[] = {
    MUST("format", SHAPE_VERSION, "version of the rule format; the first entry of its file"),
};

/* ---- keys inside entries ---- */

static const struct key object_keys[] = {
    MUST("object", SHAPE_TEXT, "the thing: ball, stick, ..."),
    MAY("ahead", SHAPE_QUANTITY, "ahead of the ball, toward the target +, cm"),
    MAY("out", SHAPE_QUANTITY, "away from the player +, cm"),
    MAY("angle", SHAPE_QUANTITY, "of a long thing to the target line, far end away +, deg"),
    MAY("height", SHAPE_QUANTITY, "above the ground, cm"),
    MAY("length", SHAPE_QUANTITY, "how long it is, cm"),
};
static const struct key works_keys[] = {
    MUST("hits", SHAPE_COUNT, "how many shots must do it"),
    MUST("of", SHAPE_COUNT, "of how many"),
    MAY("seen", SHAPE_TEXT, "what shows it without a device"),
};
static const struct key drop_keys[] = {
    MUST("shots", SHAPE_COUNT, "after how many shots"),
    MUST("when", SHAPE_TEXT, "on which sign"),
};
static const struct key expect_keys[] = {
    MAY("leading", SHAPE_EXPECTED_CAUSE, "the leading cause, or none"),
    MAY("drill", SHAPE_EXPECTED_DRILL, "the drill to do now, or none"),
    MAY("believed", SHAPE_FINDINGS_CAUSES, "findings and causes that must be believed"),
    MAY("not_believed", SHAPE_FINDINGS_CAUSES, "findings and causes that must not be"),
};
static const struct key value_keys[] = {
    MUST("value", SHAPE_TEXT, "the value"),
    MAY("error", SHAPE_QUANTITY, "of a number: one standard deviation of one reading"),
    MAY("shots", SHAPE_MANY, "of a number: how many shots it stands for"),
    MAY("sure", SHAPE_SHARE, "of a choice: how sure it is, 0 to 1"),
};
static const struct key formula_keys[] = {
    MUST("is", SHAPE_TEXT, "the formula"),
    MAY("error", SHAPE_TEXT, "its own error: a number, or a formula"),
};
static const struct key sorting_keys[] = {
    MUST("of", SHAPE_FORMULA_TEXTS, "formulas, deg; the first that is known counts"),
    MUST("within", SHAPE_QUANTITY, "how far from 0 is still straight, deg"),
};
#define FLIGHT(name, about) MUST(name, SHAPE_TEXT, about)
static const struct key flights_keys[] = {
    FLIGHT("left_left", "starts left, curves left"),
    FLIGHT("left_straight", "starts left, no curve"),
    FLIGHT("left_right", "starts left, curves right"),
    FLIGHT("straight_left", "starts straight, curves left"),
    FLIGHT("straight_straight", "starts straight, no curve"),
    FLIGHT("straight_right", "starts straight, curves right"),
    FLIGHT("right_left", "starts right, curves left"),
    FLIGHT("right_straight", "starts right, no curve"),
    FLIGHT("right_right", "starts right, curves right"),
};
static const struct key believed_keys[] = {
    MUST("believed", SHAPE_BELIEVED, "yes, or a certainty from 0.2 to 0.95"),
};
#define KNOWN MAY_WORD("known", WORDS_YES_NO, "whether it was given or could be derived")
static const struct key number_comparison_keys[] = {
    MAY("above", SHAPE_QUANTITY, "the true value is above"),
    MAY("below", SHAPE_QUANTITY, "the true value is below"),
    MAY("between", SHAPE_INTERVAL, "[low, high]: it is inside"),
    MAY("outside", SHAPE_INTERVAL, "[low, high]: it is outside"),
    MAY("near", SHAPE_QUANTITY, "it is within `within` of this"),
    MAY("within", SHAPE_QUANTITY, "with near: how far off"),
    KNOWN,
};
static const struct key choice_comparison_keys[] = {
    MAY("is", SHAPE_TEXT, "it is this word"),
    MAY("one_of", SHAPE_TEXTS, "it is one of these words"),
    KNOWN,
};
static const struct key text_comparison_keys[] = {
    MAY("matches", SHAPE_TEXT, "a PCRE2 pattern matches"),
    KNOWN,
};

/* ---- sets ---- */

#define SET(name, keys)                                                                            \
  { name, keys, COUNT(keys), NULL, NULL }
#define ASKED "ask effort|from_club"

const struct keys *keys_of(enum key_set set) {
  static const struct keys sets[KEY_SETS] = {
      [KEYS_SOURCE] = SET("source", source_keys),
      [KEYS_CLUB] = SET("club", club_keys),
      [KEYS_NUMBER] = {"evidence_number", number_keys, COUNT(number_keys), "number",
                       ASKED "|formula"},
      [KEYS_CHOICE] = {"evidence_choice", choice_keys, COUNT(choice_keys), "choice", ASKED},
      [KEYS_YES_NO] = {"evidence_yes_no", other_keys, COUNT(other_keys), "yes_no", NULL},
      [KEYS_TEXT] = {"evidence_text", other_keys, COUNT(other_keys), "text", NULL},
      [KEYS_CLUB_EVIDENCE] = {"evidence_club", other_keys, COUNT(other_keys), "club", NULL},
      [KEYS_FINDING] = SET("finding", finding_keys),
      [KEYS_CAUSE] = SET("cause", cause_keys),
      [KEYS_DRILL] = SET("drill", drill_keys),
      [KEYS_RULE] = {"rule", rule_keys, COUNT(rule_keys), NULL, "then|removes"},
      [KEYS_CASE] = SET("case", case_keys),
      [KEYS_COLUMN] = {"column", column_keys, COUNT(column_keys), NULL, "header means|rows"},
      [KEYS_WINDOW] = SET("window", window_keys),
      [KEYS_PHRASE_MEANS] = {"phrase_means", phrase_means_keys, COUNT(phrase_means_keys), NULL,
                             "means|denied"},
      [KEYS_PHRASE_TURNS] = SET("phrase_turns", phrase_turns_keys),
      [KEYS_PHRASE_HAND] = SET("phrase_hand", phrase_hand_keys),
      [KEYS_PHRASE_BOTH] = SET("phrase_both", phrase_both_keys),
      [KEYS_PHRASE_PART] = SET("phrase_part", phrase_part_keys),
      [KEYS_PHRASE_SPELLING] = SET("phrase_spelling", phrase_spelling_keys),
      [KEYS_PHRASE_NEAR] = SET("phrase_near", phrase_near_keys),
      [KEYS_FORMAT] = SET("format", format_keys),
      [KEYS_OBJECT] = SET("object", object_keys),
      [KEYS_WORKS] = SET("works", works_keys),
      [KEYS_DROP] = SET("drop", drop_keys),
      [KEYS_EXPECT] = SET("expect", expect_keys),
      [KEYS_VALUE] = SET("value", value_keys),
      [KEYS_FORMULA] = SET("formula", formula_keys),
      [KEYS_SORTING] = SET("sorting", sorting_keys),
      [KEYS_FLIGHTS] = SET("flights", flights_keys),
      [KEYS_BELIEVED] = SET("believed", believed_keys),
      [KEYS_NUMBER_COMPARISON] = SET("number_comparison", number_comparison_keys),
      [KEYS_CHOICE_COMPARISON] = SET("choice_comparison", choice_comparison_keys),
      [KEYS_TEXT_COMPARISON] = SET("text_comparison", text_comparison_keys),
  };
  return &sets[set];
}

bool keys_have(enum key_set set, const char *name) {
  const struct keys *keys = keys_of(set);
  for (size_t i = 0; i < keys->n; i++)
    if (strcmp(keys->at[i].name, name) == 0) return true;
  return false;
}
