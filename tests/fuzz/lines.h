/* Changes of a text as people make them: a line gone, twice or elsewhere, a word
 * or a number put in another's place. */
#ifndef SHEAF_TESTS_FUZZ_LINES_H
#define SHEAF_TESTS_FUZZ_LINES_H

#include <stddef.h>
#include <stdint.h>

/* Answers the new size, at most most. */
size_t lines_mutate(uint8_t *data, size_t size, size_t most, unsigned seed);

#endif
