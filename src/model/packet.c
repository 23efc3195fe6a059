#include "model/packet.h"

const char *safety_word_print(SafetyWord word) {
  static const char *const words[] = {[SAFETY_DANGER] = "DANGER",
                                      [SAFETY_WARNING] = "WARNING",
                                      [SAFETY_CAUTION] = "CAUTION",
                                      [SAFETY_NOTICE] = "NOTICE"};
  return words[word];
}
