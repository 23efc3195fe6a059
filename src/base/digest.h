/* SHA-256 over several pieces, as hexadecimal. */
#ifndef SHEAF_BASE_DIGEST_H
#define SHEAF_BASE_DIGEST_H

#include "base/arena.h"

#include <stddef.h>

typedef struct Digest Digest;

Digest *digest_new(Arena *arena);
/* Pieces are framed by their length: ("ab","c") and ("a","bc") differ. */
void digest_add(Digest *digest, const void *bytes, size_t length);
/* The same so far; goes on by itself. */
Digest *digest_copy(const Digest *digest);
const char *digest_hex(Digest *digest); /* 64 characters; ends the digest */

#endif
