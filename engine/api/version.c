#include <stdio.h>

#include "api/handles.h"
#include "input/node.h"
#include "input/pattern.h"

const char *wm_version(void) {
  return "0.1.0";
}

const char *wm_nearest(const char *word, const char *const *names, size_t n) {
  return word && names ? nearest_name(word, names, n) : NULL;
}

void wm_library_versions(char *out, size_t room) {
  char pattern[64];
  if (!out || room == 0) return;
  pattern_version(pattern, sizeof pattern);
  snprintf(out, room, "libyaml %s, PCRE2 %s", node_reader_version(), pattern);
}
