/* Words that the views why, why not, contrast and what-if share. Each adds to the text without
 * ending the line, unless said. */
#ifndef WM_RENDER_WHY_PARTS_H
#define WM_RENDER_WHY_PARTS_H

#include "explain/explain.h"

/* Rules of one kind shown before the rest is only counted. */
#define WHY_RULES_SHOWN 5

/* "cause shaft_steepens: the shaft steepens on the way down", as a line. */
void why_head(struct text *out, const struct run *run, struct subject subject);
/* An empty line and a heading. */
void why_heading(struct text *out, const char *heading);
/* The because-text, then "(rule name, file:line:column; source)". */
void why_rule(struct text *out, const struct run *run, size_t rule);
/* A contribution as a paragraph: its value in the margin, then the rule. */
void why_support(struct text *out, const struct run *run, double value, size_t rule);
/* A clause and what its reading is: "club path more than 2.5 deg left: it is 5.0 deg left +/- 1.0".
 */
void why_clause(struct text *out, const struct run *run, const struct condition *condition);
/* How far a clause is from holding: "misses by 1.5 deg, 1.5 standard errors"; or what is to be
 * asked. */
void why_shortfall(struct text *out, const struct run *run, const struct shortfall *shortfall);
/* The clauses that miss, each as a line: "-" when judged, "?" when not known. */
void why_obstacles(struct text *out, const struct run *run, const struct shortfalls *shortfalls,
                   size_t margin);
/* The rule and the clauses that keep it from firing, as lines. */
void why_not_fired(struct text *out, const struct run *run, size_t rule, double strength);
/* A heading and the tree of what the subject rests on; nothing when it rests on nothing. */
void why_tree(struct text *out, const struct run *run, struct subject subject);
/* "3 rules", "1 rule" */
void why_count(struct text *out, size_t n, const char *word);
/* The place in the ranking, or NO_INDEX. */
size_t why_cause_place(const struct run *run, size_t claim);
size_t why_drill_place(const struct run *run, size_t claim);

#endif
