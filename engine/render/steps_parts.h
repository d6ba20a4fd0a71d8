/* Parts of JSON that the views of a case share. Each writes keys into the object that is open, or
 * one key and its value. A chain, where one is given, adds "step": the number of the step told of;
 * NULL: none. Strings are copied into the text. */
#ifndef WM_RENDER_STEPS_PARTS_H
#define WM_RENDER_STEPS_PARTS_H

#include "explain/explain.h"
#include "render/json.h"

void steps_key_text(struct json *json, const char *key, const struct text *text);
void steps_key_wording(struct json *json, const char *key, const struct run *run,
                       const struct wording *wording);
/* "place": {file, line, column} */
void steps_key_place(struct json *json, struct span at);
/* The belief, or null when not known. */
void steps_key_judgement(struct json *json, const char *key, const struct judgement *judged);
/* Keys of a reading: evidence, title, state, shown, value, error, unit ... */
void steps_reading_json(struct json *json, const struct run *run, size_t evidence);
/* Keys of a rule: rule, place, layer, state, premise, conclusions ... */
void steps_rule_json(struct json *json, const struct run *run, const struct chain *chain,
                     size_t rule);
/* Keys of a claim: its kind and name, title, state, certainty. */
void steps_claim_json(struct json *json, const struct run *run, size_t claim);
/* "contributions": those that fired. */
void steps_key_supports(struct json *json, const struct run *run, const struct chain *chain,
                        size_t claim);
/* Keys of a ranked drill. */
void steps_drill_json(struct json *json, const struct run *run, const struct chain *chain,
                      const struct ranked_drill *ranked);

#endif
