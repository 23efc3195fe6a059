/* Lookup by text. Never iterated: what has an order lives in a VEC beside it. */
#ifndef SHEAF_BASE_MAP_H
#define SHEAF_BASE_MAP_H

#include "base/arena.h"

typedef struct Map Map;

Map *map_new(Arena *arena);
/* The key is copied. An existing key gets the new value. */
void map_put(Map *map, const char *key, void *value);
void *map_find(const Map *map, const char *key); /* NULL: not there */

#endif
