/* What the fuzz targets share: memory that may run out, and a promise that fails loudly. */
#ifndef SHEAF_TESTS_FUZZ_H
#define SHEAF_TESTS_FUZZ_H

#include "base/text.h"
#include "diag/finding.h"
#include "diag/render.h"

#include <setjmp.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The fuzzer's own entry points; it declares none of them in C. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* Stops at once, so that the input is kept. */
#define PROMISE(holds, ...)                                                                        \
  do {                                                                                             \
    if (holds) break;                                                                              \
    fprintf(stderr, "%s:%d: broken promise: %s\n", __FILE__, __LINE__, #holds);                    \
    fprintf(stderr, __VA_ARGS__);                                                                  \
    fputc('\n', stderr);                                                                           \
    abort();                                                                                       \
  } while (0)

static inline void fuzz_exhausted(void *context) {
  longjmp(*(jmp_buf *)context, 1);
}

/* Runs body in memory of its own, and shows its findings as the program would.
 * Running out of memory ends the body, as it ends the program. */
static inline int fuzz_in_arena(void (*body)(Run *run, const char *text, size_t size),
                                const uint8_t *data, size_t size) {
  jmp_buf out_of_memory;
  Arena *arena = arena_new();
  arena_on_exhausted(arena, fuzz_exhausted, &out_of_memory);
  if (setjmp(out_of_memory) == 0) {
    Run run = {arena, findings_new(arena)};
    body(&run, arena_text(arena, (const char *)data, size), size);
    findings_sort(run.findings);
    Text shown = text_new(arena);
    render_findings(&shown, run.findings, 200);
    render_findings_json(&shown, run.findings);
  }
  arena_free(arena);
  return 0;
}

#endif
