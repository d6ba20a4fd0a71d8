/* The knowledge, read and resolved: vocabulary, rules, drills, worked cases.
 * Names are indices into sorted arrays, numbers are in the unit of their evidence, texts are cut
 * into parts. Nothing here is evaluated. A model lives in one arena and is immutable once
 * model_read has returned it, so threads may share it. */
#ifndef WM_MODEL_MODEL_H
#define WM_MODEL_MODEL_H

#include <stdbool.h>

#include "base/names.h"
#include "diag/diag.h"
#include "golf/units.h"
#include "input/node.h"
#include "input/pattern.h"

#define NO_INDEX SIZE_MAX

struct formula;
struct phrase;

/* A text cut into parts, so that sides can be mirrored and values put in. */
enum wording_kind { WORDING_TEXT, WORDING_LEFT, WORDING_RIGHT, WORDING_VALUE };
struct wording_part {
  enum wording_kind kind;
  const char *text; /* WORDING_TEXT; as written otherwise */
  size_t evidence;  /* WORDING_VALUE */
};
struct wording {
  const struct wording_part *parts;
  size_t n; /* 0: not given */
};

enum source_kind { SOURCE_NONE, SOURCE_PRACTICE, SOURCE_MEMORY, SOURCE_PUBLISHED };
struct source_ref {
  enum source_kind kind;
  size_t index; /* of model.references, when published */
};

/* ---- evidence ---- */
enum evidence_kind {
  EVIDENCE_NUMBER,
  EVIDENCE_CHOICE,
  EVIDENCE_YES_NO,
  EVIDENCE_TEXT,
  EVIDENCE_CLUB
};
enum effort { EFFORT_KNOW, EFFORT_LOOK, EFFORT_VIDEO, EFFORT_MEASURE };

struct choice {
  const char *name;
  struct wording title;
  size_t mirror; /* the choice it is for a left-handed player; itself when it has no side */
};
struct number_word {
  const char *name;
  double value, error;
  bool sided; /* names left or right: it is what the giver sees. Else ("slice") it means the same to
                 both hands */
};
enum club_field { CLUB_NONE, CLUB_FAMILY, CLUB_LOFT, CLUB_LENGTH, CLUB_LIE, CLUB_HEAD_MASS };

struct evidence {
  const char *name, *title;
  struct wording about, ask; /* ask empty: it is never asked for */
  enum evidence_kind kind;
  bool unclear;                 /* its kind was told faulty; while reading only */
  const struct golf_unit *unit; /* numbers */
  double low, high;             /* plausible range, numbers */
  double error, spread;         /* one reading, shot to shot; numbers */
  int decimals;
  bool mirrored;            /* numbers: the sign changes for a left-handed player */
  const char *minus, *plus; /* words for below and above zero, or NULL */
  const struct number_word *words;
  size_t n_words;
  const struct choice *choices; /* choice, yes_no (no, yes), club */
  size_t n_choices;
  const struct formula *const *formulas;
  size_t n_formulas;
  enum club_field from_club;
  enum effort effort;
  struct source_ref source;
  struct span at;
};

/* ---- what has a certainty ---- */
/* A claim is whatever rules give a certainty to: a finding, a cause, or the advice for a drill. */
enum claim_kind { CLAIM_FINDING, CLAIM_CAUSE, CLAIM_DRILL };

struct drill_effect {
  size_t cause; /* claim index */
  double effect;
};
struct drill_object {
  const char *object;
  double ahead, out, height, length; /* cm; ahead toward the target, out away from the player */
  double angle; /* deg to the target line, + turns the far end away from the player */
};
struct drill {
  bool external;
  const struct drill_effect *changes;
  size_t n_changes;
  struct wording aim, setup, dose, seen, drop_when, spoils, fallback;
  const struct drill_object *objects;
  size_t n_objects;
  const struct condition *works; /* one comparison on an evidence; NULL when only `seen` is given */
  unsigned hits, of, drop_shots;
  const struct condition *needs; /* or NULL */
  const struct wording *cautions;
  size_t n_cautions;
};
struct claim {
  enum claim_kind kind;
  const char *name;
  struct wording title, about;
  struct wording red_flag;   /* findings */
  bool good;                 /* findings */
  const char *area;          /* causes */
  struct wording tell_apart; /* causes */
  const struct drill *drill; /* drills */
  struct source_ref source;
  struct span at;
};

/* ---- conditions and rules ---- */
enum condition_kind {
  CONDITION_ABOVE,
  CONDITION_BELOW,
  CONDITION_BETWEEN,
  CONDITION_OUTSIDE,
  CONDITION_NEAR,
  CONDITION_IS,
  CONDITION_ONE_OF,
  CONDITION_MATCHES,
  CONDITION_KNOWN,
  CONDITION_BELIEVED,
  CONDITION_FORMULA,
  CONDITION_ALL,
  CONDITION_ANY,
  CONDITION_NONE
};
struct condition {
  enum condition_kind kind;
  size_t evidence;       /* the evidence read, or NO_INDEX */
  size_t claim;          /* believed: the claim read, or NO_INDEX */
  double low, high;      /* numbers: the interval meant; +-infinity where open. believed: low is the
                            threshold. formula: low is 0 */
  const size_t *choices; /* is, one_of: sorted */
  size_t n_choices;
  bool wanted; /* known: yes or no */
  const struct pattern *pattern;
  const struct formula *formula;
  const struct condition *clauses; /* all, any, none: in canonical order */
  size_t n_clauses;
  const char *printed; /* the canonical form: equal text, equal condition */
  struct span at;
};
struct conclusion {
  size_t claim;
  double strength;
  struct span at;
};
enum rule_kind { RULE_GEOMETRY, RULE_CAUSE_EFFECT, RULE_EXPERIENCE, RULE_CONVENTION };
struct rule {
  const char *name;
  const struct condition *when;
  const struct conclusion *then; /* sorted by claim */
  size_t n_then;
  const size_t *removes; /* drills (claim indices), sorted */
  size_t n_removes;
  struct wording because, learner;
  enum rule_kind kind;
  struct source_ref source;
  const char *group; /* or NULL */
  struct span at;
};

/* ---- clubs, sources, cases ---- */
struct club {
  const char *name, *title, *family;
  double loft, length, lie, head_mass; /* deg, m, deg, g */
  struct source_ref source;
  struct span at;
};
struct reference {
  const char *name, *title, *status, *about;
  struct span at;
};
/* A value of an evidence as somebody gave it, in the unit of the evidence and in the frame of the
 * giver's hand. */
struct value {
  size_t evidence;
  double number, error; /* numbers; error of one reading */
  bool handless;     /* the number came from a word without a side: it is in a right-handed player's
                        frame whatever the hand */
  unsigned shots;    /* how many shots a number stands for; 0: not said, as many as the case says */
  double spread;     /* from shot to shot as observed; 0: the usual one of the evidence */
  size_t choice;     /* choice, yes_no, club */
  double sure;       /* 0 to 1: how sure a choice is */
  const char *text;  /* text evidence */
  const char *typed; /* as written */
  struct span at;
};
enum hand { HAND_RIGHT, HAND_LEFT };
struct worked_case {
  const char *name;
  enum hand hand;
  const struct value *values; /* sorted by evidence */
  size_t n_values;
  bool expects_leading, expects_drill;
  size_t leading, drill; /* claim index, NO_INDEX: none is expected */
  const size_t *believed, *not_believed;
  size_t n_believed, n_not_believed;
  const char *because;
  struct span at;
};
/* ---- tables of shots ---- */
/* What a column of a table holds: an evidence, or one of these. */
enum column_means { COLUMN_EVIDENCE, COLUMN_IGNORE, COLUMN_SHOT, COLUMN_SIDE };
struct column {
  const char *name, *written; /* written: the pattern as it stands */
  const struct pattern
      *pattern; /* matches a whole header cell; of rows: a row's first filled cell */
  bool rows;    /* such a row is no shot and is passed over */
  enum column_means means;
  size_t evidence;              /* number, choice, yes_no or club; else NO_INDEX */
  const struct golf_unit *unit; /* meant when a table names none; NULL: it must name one */
  struct span at;
};

/* How a shot is sorted: each quantity is the first formula that is known for it, in degrees as a
 * right-handed player sees them. */
struct sorting {
  const struct formula *const *of;
  size_t n_of;
  double within; /* the middle class: no further than this from 0 */
};
/* Flights in the order start class * 3 + curve class, classes left 0, straight 1, right 2. */
#define FLIGHTS 9
struct scatter { /* an evidence that is the standard deviation of another over a block */
  size_t evidence, of;
};
struct window {
  const char *name, *title;
  struct sorting start, curve, finish; /* a shot that finishes outside is a miss */
  struct wording flights[FLIGHTS];
  const size_t (*ellipses)[2]; /* pairs of number evidence */
  size_t n_ellipses;
  const struct scatter *scatters;
  size_t n_scatters;
  size_t both_ways; /* yes/no evidence: misses to both sides; or NO_INDEX */
  struct source_ref source;
  struct span at;
};
/* A finding of check that an entry says is meant. */
struct acceptance {
  enum diag_code code;
  const char *reason;
  struct span at;    /* of the code */
  struct span entry; /* the name of the entry */
};
struct override {
  const char *kind, *name;
  struct span old_at, new_at;
};

struct model {
  struct arena *arena;
  const struct evidence *evidence; /* sorted by name, as are all arrays below */
  size_t n_evidence;
  size_t club_evidence;       /* the evidence of kind club, or NO_INDEX */
  const struct claim *claims; /* findings, then causes, then drills; each part sorted by name */
  size_t n_claims, first_cause, first_drill;
  const struct rule *rules;
  size_t n_rules;
  const struct club *clubs;
  size_t n_clubs;
  const struct reference *references;
  size_t n_references;
  const struct worked_case *cases;
  size_t n_cases;
  const struct column *columns;
  size_t n_columns;
  const struct window *windows;
  size_t n_windows;
  const struct phrase *phrases; /* what players say: model/phrase.h */
  size_t n_phrases;
  const struct acceptance *acceptances;
  size_t n_acceptances;
  const struct override *overrides;
  size_t n_overrides;
  const char *const *roots; /* the directories laid over the lowest layer, from below */
  size_t n_roots;
  struct names *evidence_names; /* also the other names understood */
  struct names *claim_names, *rule_names, *club_names, *reference_names;
};

/* The newest version of the rule language this program reads. It goes up when a file that an older
 * program would misread becomes possible. */
#define RULE_FORMAT 1

/* One file of knowledge, and the layer (0 the lowest) it belongs to. */
struct model_file {
  struct source *source;
  unsigned layer;
};

/* Reads all files, reports every fault, and returns the model; NULL when there was any error. The
 * sources must live as long as the model. Cases are read too. */
struct model *model_read(struct arena *arena, const struct model_file *files, size_t n_files,
                         struct diags *diags);

/* Index by name (other names included for evidence and clubs), or NO_INDEX. */
size_t model_find_evidence(const struct model *model, const char *name);
size_t model_find_claim(const struct model *model, const char *name);
size_t model_find_rule(const struct model *model, const char *name);
/* Adds "did you mean" from all evidence (claim) names. */
void model_nearest_evidence(const struct model *model, struct diags *diags, struct diag *diag,
                            const char *word);

const char *claim_kind_word(enum claim_kind kind);
const char *evidence_kind_word(enum evidence_kind kind);
const char *rule_kind_word(enum rule_kind kind);
const char *effort_word(enum effort effort);
/* The word of the table that stands for a strength of that size ("points"), or NULL. */
const char *strength_word(double strength);
/* The words of the table from the weakest on; NULL past the end. */
const char *strength_word_at(size_t i);
/* "practice", "memory", the key of the source, or "no source". */
const char *source_word(const struct model *model, struct source_ref source);

#endif
