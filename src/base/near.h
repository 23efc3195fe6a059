/* The word somebody probably meant. */
#ifndef SHEAF_BASE_NEAR_H
#define SHEAF_BASE_NEAR_H

#include "base/vec.h"

/* The candidate nearest to word by insertions, deletions, replacements and
 * swaps of neighbours, at most a third of its length (at least 1) away; the
 * first of equals; NULL when none is near. */
const char *near_word(const char *word, const Words *candidates);

#endif
