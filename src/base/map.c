#include "base/map.h"

#include "base/text.h"

#include <stddef.h>
#include <stdint.h>
#include <string.h>

typedef struct Slot {
  const char *key; /* NULL: free */
  void *value;
} Slot;

struct Map {
  Arena *arena;
  Slot *slots;
  size_t n, room; /* room is a power of two, at most three quarters full */
};

static uint64_t mix(uint64_t hash, uint64_t word) {
  hash = (hash ^ word) * 0x9E3779B97F4A7C15u; /* 2^64 by the golden ratio */
  return hash ^ hash >> 32;
}

/* Eight bytes at a time. Nobody goes through a map, so that no order depends on it. */
static uint64_t hash_text(const char *text) {
  size_t n = strlen(text);
  uint64_t word = 0, hash = n;
  for (; n >= sizeof word; n -= sizeof word, text += sizeof word) {
    memcpy(&word, text, sizeof word);
    hash = mix(hash, word);
  }
  word = 0;
  memcpy(&word, text, n);
  return mix(hash, word);
}

static Slot *find_slot(Slot *slots, size_t room, const char *key) {
  size_t i = (size_t)hash_text(key) & (room - 1);
  while (slots[i].key && !text_is(slots[i].key, key)) i = (i + 1) & (room - 1);
  return &slots[i];
}

Map *map_new(Arena *arena) {
  Map *map = ARENA_NEW(arena, Map);
  map->arena = arena;
  map->room = 16;
  map->slots = ARENA_NEW_N(arena, Slot, map->room);
  return map;
}

static void grow(Map *map) {
  size_t room = map->room * 2;
  Slot *slots = ARENA_NEW_N(map->arena, Slot, room);
  for (size_t i = 0; i < map->room; i++) {
    if (map->slots[i].key) *find_slot(slots, room, map->slots[i].key) = map->slots[i];
  }
  map->slots = slots;
  map->room = room;
}

void map_put(Map *map, const char *key, void *value) {
  Slot *slot = find_slot(map->slots, map->room, key);
  if (slot->key) {
    slot->value = value;
    return;
  }
  if ((map->n + 1) * 4 > map->room * 3) {
    grow(map);
    slot = find_slot(map->slots, map->room, key);
  }
  slot->key = arena_text(map->arena, key, strlen(key));
  slot->value = value;
  map->n++;
}

void *map_find(const Map *map, const char *key) {
  return find_slot(map->slots, map->room, key)->value;
}
