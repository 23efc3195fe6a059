#include "base/vec.h"

#include <stdint.h>
#include <string.h>

#define LARGE_ITEM 64 /* bytes: most arrays of such hold a few */

void *vec_room(Arena *arena, void *at, size_t n, size_t *room, size_t item_size) {
  if (n < *room) return at;
  size_t first = item_size < LARGE_ITEM ? 8 : 2;
  size_t wanted = *room < first ? first : *room * 2;
  /* Past the arena's bound the request is refused there, whatever its size. */
  size_t bytes = wanted > ARENA_MOST / item_size ? SIZE_MAX : wanted * item_size;
  if (n > 0 && arena_extend(arena, at, *room * item_size, bytes)) {
    *room = wanted;
    return at;
  }
  void *grown = arena_room(arena, bytes);
  if (n > 0) memcpy(grown, at, n * item_size);
  *room = wanted;
  return grown;
}
