#include "model/packet.h"

#include "base/text.h"

#include <string.h>

const char *safety_word_print(SafetyWord word) {
  static const char *const words[] = {[SAFETY_DANGER] = "DANGER",
                                      [SAFETY_WARNING] = "WARNING",
                                      [SAFETY_CAUTION] = "CAUTION",
                                      [SAFETY_NOTICE] = "NOTICE"};
  return words[word];
}

static size_t number_of(const char *text, const char *mark, int *number) {
  size_t head = strlen(mark), at = head;
  if (strncmp(text, mark, head) != 0) return 0;
  *number = 0;
  for (; is_digit(text[at]) && *number < 100000; at++) *number = *number * 10 + (text[at] - '0');
  return at == head || text[at] != '}' ? 0 : at + 1;
}

size_t reference_at(const char *text, Reference *to) {
  size_t length = number_of(text, PACKET_STEP_REF, &to->number);
  to->figure = length == 0;
  return length ? length : number_of(text, PACKET_FIGURE_REF, &to->number);
}

const char *references_said(Arena *arena, const char *text) {
  if (!strchr(text, '{')) return text;
  Text out = text_new(arena);
  for (const char *at = text; *at;) {
    Reference to = {0};
    size_t length = *at == '{' ? reference_at(at, &to) : 0;
    if (length)
      text_addf(&out, "%s %d", to.figure ? "figure" : "step", to.number);
    else
      text_add_n(&out, at, 1);
    at += length ? length : 1;
  }
  return text_done(&out);
}
