/* The word somebody probably meant. */
#ifndef SHEAF_BASE_NEAR_H
#define SHEAF_BASE_NEAR_H

#include "base/vec.h"

#include <stdbool.h>

/* The candidate nearest to word by insertions, deletions, replacements and
 * swaps of neighbours, at most a third of its length (at least 1) away; the
 * first of equals; another word of the trade for the same, as intake for inlet; NULL when
 * none is near. */
const char *near_word(const char *word, const Words *candidates);
/* Is word a slip of the pen for what was meant? Close enough to be read on as that: one edit in
 * a word of three to five characters, two in a longer one, a letter typed twice in any; numbers
 * are never slips, for gasket_05 and gasket_06 are two things. */
bool near_slip(const char *word, const char *meant);

#endif
