/* Edits of rules in words, and the mutants no case notices. An edit is told as the text that stands
 * in the file and the text that would stand there, in the language of the rules. Writes into the
 * caller's text; the network is the one before the edit. */
#ifndef WM_RENDER_EDITS_H
#define WM_RENDER_EDITS_H

#include "render/json.h"
#include "workshop/mutate.h"

/* A condition as it is written in a rule: "path: {below: -2.5}". */
void edit_condition(struct text *out, const struct model *model, const struct condition *condition);
/* Where the edit would be made. */
struct span edit_place(const struct network *network, const struct edit *edit);
/* What stands there, and what would; the new text of a new rule takes several lines. */
void edit_old_text(struct text *out, const struct network *network, const struct edit *edit);
void edit_new_text(struct text *out, const struct network *network, const struct edit *edit);
/* "rule 'a'" or "drill 'b'": what is edited. */
void edit_subject(struct text *out, const struct network *network, const struct edit *edit);

void mutants_text(struct text *out, const struct network *network, const struct mutants *mutants,
                  enum notice notice);
void mutants_json(struct json *json, const struct network *network, const struct mutants *mutants,
                  enum notice notice);

#endif
