#include "base/vec.h"

#include <stdint.h>
#include <string.h>

void *vec_room(Arena *arena, void *at, size_t n, size_t *room, size_t item_size) {
  if (n < *room) return at;
  size_t wanted = *room < 8 ? 8 : *room * 2;
  /* Past the arena's bound the request is refused there, whatever its size. */
  size_t bytes = wanted > ARENA_MOST / item_size ? SIZE_MAX : wanted * item_size;
  void *grown = arena_alloc(arena, bytes);
  if (n > 0) memcpy(grown, at, n * item_size);
  *room = wanted;
  return grown;
}
