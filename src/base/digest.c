#include "base/digest.h"

#include <stdint.h>
#include <sys/types.h>

#include <sha2.h>

struct Digest {
  Arena *arena;
  SHA2_CTX state;
};

Digest *digest_new(Arena *arena) {
  Digest *digest = ARENA_NEW(arena, Digest);
  digest->arena = arena;
  SHA256Init(&digest->state);
  return digest;
}

void digest_add(Digest *digest, const void *bytes, size_t length) {
  uint8_t frame[8];
  for (size_t i = 0; i < 8; i++) frame[i] = (uint8_t)((uint64_t)length >> (8 * i));
  SHA256Update(&digest->state, frame, sizeof frame);
  if (length > 0) SHA256Update(&digest->state, bytes, length);
}

Digest *digest_copy(const Digest *digest) {
  return arena_copy(digest->arena, digest, sizeof *digest);
}

const char *digest_hex(Digest *digest) {
  uint8_t sum[SHA256_DIGEST_LENGTH];
  SHA256Final(sum, &digest->state);
  char *hex = arena_alloc(digest->arena, 2 * sizeof sum + 1);
  for (size_t i = 0; i < sizeof sum; i++) {
    hex[2 * i] = "0123456789abcdef"[sum[i] >> 4];
    hex[2 * i + 1] = "0123456789abcdef"[sum[i] & 15];
  }
  return hex;
}
