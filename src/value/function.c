#include "value/function.h"

#include "base/decimal.h"
#include "base/text.h"
#include "trade/adjuster.h"
#include "trade/circle.h"
#include "trade/crank.h"
#include "trade/fit.h"
#include "trade/joint.h"
#include "trade/thread.h"
#include "trade/valve.h"
#include "trade/volume.h"
#include "trade/wrench.h"

#include <math.h>

static double least_of(const double *a, size_t n) {
  double least = n > 0 ? a[0] : NAN;
  for (size_t i = 1; i < n; i++) least = fmin(least, a[i]);
  return least;
}

static double most_of(const double *a, size_t n) {
  double most = n > 0 ? a[0] : NAN;
  for (size_t i = 1; i < n; i++) most = fmax(most, a[i]);
  return most;
}

static double sum_of(const double *a, size_t n) {
  double sum = 0;
  for (size_t i = 0; i < n; i++) sum += a[i];
  return sum;
}

static double from_tdc(double position, Origin origin) {
  return origin == ORIGIN_BDC ? position + TRADE_PI : position;
}

#define FUNCTION(id, name, signature, what, least, most, smooth, expression)                       \
  static double call_##id(const double *a, size_t n, Origin origin) {                              \
    (void)a;                                                                                       \
    (void)n;                                                                                       \
    (void)origin;                                                                                  \
    return expression;                                                                             \
  }
#include "value/functions.def"
#undef FUNCTION

enum {
#define FUNCTION(id, name, signature, what, least, most, smooth, expression) FUNCTION_##id,
#include "value/functions.def"
#undef FUNCTION
  FUNCTION_COUNT
};

static const Function functions[] = {
#define FUNCTION(id, name, signature, what, least, most, smooth, expression)                       \
  {name, signature, what, least, most, FUNCTION_##id},
#include "value/functions.def"
#undef FUNCTION
};

static const struct {
  FunctionCall *call;
  bool smooth;
} workings[] = {
#define FUNCTION(id, name, signature, what, least, most, smooth, expression) {call_##id, smooth},
#include "value/functions.def"
#undef FUNCTION
};

const Function *function_find(const char *name) {
  for (size_t i = 0; i < FUNCTION_COUNT; i++) {
    if (text_is(functions[i].name, name)) return &functions[i];
  }
  return NULL;
}

const Function *function_at(size_t index) {
  return index < FUNCTION_COUNT ? &functions[index] : NULL;
}

FunctionCall *function_call(const Function *function) {
  return workings[function->id].call;
}

bool function_is_smooth(const Function *function) {
  return workings[function->id].smooth;
}

bool function_is_of_positions(const Function *function) {
  return function->id >= FUNCTION_READ_LEAST && function->id <= FUNCTION_READ_SPREAD;
}

const Function *function_of_positions(const Function *over) {
  for (int id = FUNCTION_READ_LEAST; id <= FUNCTION_READ_SPREAD; id++)
    if (text_is(functions[id].name, over->name)) return &functions[id];
  return NULL;
}

bool function_is_over(const Function *function) {
  return text_starts(function->signature, "set, ");
}
