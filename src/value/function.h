/* What a function of a formula takes, gives and computes. */
#ifndef SHEAF_VALUE_FUNCTION_H
#define SHEAF_VALUE_FUNCTION_H

#include "value/graph.h"

/* SI in and out; origin: of the first position among the arguments. */
typedef double FunctionCall(const double *a, size_t n, Origin origin);

FunctionCall *function_call(const Function *function);
/* False: the tolerance of an argument may be turned around, cut or stepped. */
bool function_is_smooth(const Function *function);
/* largest, smallest, sum, mean, spread: over the members of a set. */
bool function_is_over(const Function *function);
/* least, most, spread: over the positions one quantity was read at. */
bool function_is_of_positions(const Function *function);
/* The one of the same name as a function over a set; NULL: none. */
const Function *function_of_positions(const Function *over);

/* Whether arguments of these dimensions fit, and what comes out. When not:
 * index of the first that does not, and what is wanted there in words. For
 * functions over a set args are the members. */
bool function_types(Arena *arena, const Function *function, const Dim *args, size_t n, Dim *result,
                    size_t *wrong, const char **wanted);

#endif
