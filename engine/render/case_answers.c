#include "render/case_answers.h"

#include <inttypes.h>
#include <math.h>

#include "base/names.h"
#include "render/wording.h"
#include "render/wording_parts.h"

static const char *name_or_none(const struct run *run, size_t claim) {
  return claim == NO_INDEX ? "none" : run->network->model->claims[claim].name;
}

static const char *standing_of(const struct run *run, size_t claim) {
  for (size_t i = 0; i < run->n_causes; i++)
    if (run->causes[i].claim == claim) return standing_word(run->causes[i].standing);
  return "";
}

static void add_claim(struct text *out, const struct run *run, size_t claim) {
  const struct claim *about = &run->network->model->claims[claim];
  if (round(100 * run->certainty[claim]) == 0) return;
  bool advice = about->kind == CLAIM_DRILL;
  text_format(out, "  %s %s ", advice ? "advice" : claim_kind_word(about->kind), about->name);
  wording_certainty(out, run->certainty[claim]);
  if (about->kind == CLAIM_CAUSE) text_format(out, " %s", standing_of(run, claim));
  text_add_char(out, '\n');
}

static void add_drill(struct text *out, const struct run *run, const struct ranked_drill *drill) {
  static const char *const removals[] = {"", " removed by a rule", " removed by its needs"};
  text_format(out, "  drill %s ", name_or_none(run, drill->claim));
  wording_certainty(out, drill->value);
  text_format(out, "%s\n", removals[drill->removal]);
}

void case_answer(struct text *out, const struct run *run, const struct worked_case *worked) {
  text_format(out, "case %s: leading %s, drill %s\n", worked->name,
              name_or_none(run, run_leading(run)), name_or_none(run, run_drill(run)));
  if (run->red_flag != NO_INDEX)
    text_format(out, "  red flag %s\n", name_or_none(run, run->red_flag));
  for (size_t i = 0; i < run->network->model->n_claims; i++) add_claim(out, run, i);
  for (size_t i = 0; i < run->n_drills; i++) add_drill(out, run, &run->drills[i]);
}

void case_answer_brief(struct text *out, const struct run *run, const struct worked_case *worked) {
  struct text whole = wording_beside(out);
  size_t leading = run_leading(run), drill = run_drill(run);
  case_answer(&whole, run, worked);
  if (run->red_flag != NO_INDEX)
    text_format(out, "red flag %s, ", name_or_none(run, run->red_flag));
  text_format(out, "leading %s", name_or_none(run, leading));
  if (leading != NO_INDEX) {
    text_add_char(out, ' ');
    wording_certainty(out, run->certainty[leading]);
  }
  text_format(out, ", drill %s", name_or_none(run, drill));
  if (drill != NO_INDEX) {
    text_add_char(out, ' ');
    wording_certainty(out, run->drills[0].value);
  }
  text_format(out, ", all %016" PRIx64,
              digest_bytes(DIGEST_START, whole.at ? whole.at : "", whole.n));
  if (whole.failed) out->failed = true;
}
