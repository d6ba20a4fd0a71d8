#include "base/text.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#define FIRST_ROOM 64

void text_init(struct text *text, struct arena *arena) {
  *text = (struct text){.arena = arena};
}

/* Makes room for n more bytes and the NUL. */
static bool make_room(struct text *text, size_t n) {
  if (text->failed) return false;
  if (n < text->room - text->n && text->room != 0) return true;
  size_t room = text->room != 0 ? text->room : FIRST_ROOM;
  while (room - text->n <= n && room <= SIZE_MAX / 2) room *= 2;
  char *at = room - text->n > n ? arena_take(text->arena, room) : NULL;
  if (at == NULL) {
    text->failed = true;
    return false;
  }
  if (text->n != 0) memcpy(at, text->at, text->n);
  text->at = at;
  text->room = room;
  return true;
}

void text_add_bytes(struct text *text, const char *bytes, size_t n) {
  if (!make_room(text, n)) return;
  if (n != 0) memcpy(text->at + text->n, bytes, n);
  text->n += n;
  text->at[text->n] = '\0';
}

void text_add(struct text *text, const char *string) {
  text_add_bytes(text, string, strlen(string));
}

void text_add_char(struct text *text, char c) {
  text_add_bytes(text, &c, 1);
}

void text_format(struct text *text, const char *format, ...) {
  va_list arguments;
  va_start(arguments, format);
  int n = vsnprintf(NULL, 0, format, arguments);
  va_end(arguments);
  if (n < 0) text->failed = true;
  if (n < 0 || !make_room(text, (size_t)n)) return;
  va_start(arguments, format);
  vsnprintf(text->at + text->n, (size_t)n + 1, format, arguments);
  va_end(arguments);
  text->n += (size_t)n;
}

const char *text_done(const struct text *text) {
  if (text->failed) return NULL;
  return text->at != NULL ? text->at : "";
}
