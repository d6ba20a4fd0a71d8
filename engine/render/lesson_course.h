/* A player's lesson log over time, as text and as JSON: each lesson, then the numbers that were
 * taken more than once with the same club, and whether they moved by more than noise. Reads values
 * with today's vocabulary; what it no longer knows is shown as it was written. Decides nothing
 * else. One thread at a time. */
#ifndef WM_RENDER_LESSON_COURSE_H
#define WM_RENDER_LESSON_COURSE_H

#include "render/json.h"
#include "session/lesson_log.h"

void lesson_course_text(struct text *out, const struct model *model, const struct lesson_log *log);
/* One object, docs/schemas/log.schema.json. */
void lesson_course_json(struct json *json, const struct network *network,
                        const struct lesson_log *log);

#endif
