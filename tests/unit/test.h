/* What every unit test needs; cmocka.h wants the four headers before it. */
#ifndef SHEAF_TESTS_UNIT_TEST_H
#define SHEAF_TESTS_UNIT_TEST_H

#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include "base/arena.h"
#include "diag/finding.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

/* actual within relative * |expected| + absolute of expected. cmocka's own
 * check is for float and lets NaN pass; here NaN never does. */
#define assert_close(actual, expected, relative, absolute)                                         \
  assert_close_at((actual), (expected), (relative), (absolute), __FILE__, __LINE__)

static inline void assert_close_at(double actual, double expected, double relative, double absolute,
                                   const char *file, int line) {
  double allowed = relative * fabs(expected) + absolute;
  if (isfinite(expected) && fabs(actual - expected) <= allowed) return;
  print_error("%.17g is not within %.3g of %.17g\n", actual, allowed, expected);
  _fail(file, line);
}

/* A fresh arena and no findings; give it back with run_free. */
static inline Run run_new(void) {
  Arena *arena = arena_new();
  return (Run){arena, findings_new(arena)};
}

static inline void run_free(Run *run) {
  arena_free(run->arena);
}

/* How many findings of that rule there are. */
static inline size_t run_count(const Run *run, Rule rule) {
  size_t count = 0;
  for (size_t i = 0; i < run->findings->list.n; i++) {
    count += run->findings->list.at[i]->rule == rule;
  }
  return count;
}

/* Exactly one finding, and of that rule. */
#define assert_only_finding(run, which)                                                            \
  do {                                                                                             \
    assert_int_equal((run)->findings->list.n, 1);                                                  \
    assert_int_equal((run)->findings->list.at[0]->rule, which);                                    \
  } while (0)

#endif
