/* A small knowledge base for the tests of session/, and a table fed from memory. Test code only. */
#ifndef TESTS_SESSION_SMALL_H
#define TESTS_SESSION_SMALL_H

#include <string.h>

#include "session/session.h"
#include "support/cases.h"
#include "support/knowledge.h"

static inline bool small_load(struct knowledge *knowledge) {
  static const char *const directories[] = {"tests/session/small", NULL};
  return knowledge_load(knowledge, directories, 0);
}

struct small_feed {
  const char *at;
};

/* Seven bytes a time, so that pieces never match rows. */
static inline long small_fetch(void *context, char *bytes, size_t room) {
  struct small_feed *feed = context;
  size_t n = strlen(feed->at);
  if (n > 7) n = 7;
  if (n > room) n = room;
  memcpy(bytes, feed->at, n);
  feed->at += n;
  return (long)n;
}

#endif
