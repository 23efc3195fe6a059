/* Growing arrays in an arena: VEC(T) is a struct of the items and their count. */
#ifndef SHEAF_BASE_VEC_H
#define SHEAF_BASE_VEC_H

#include "base/arena.h"

#include <stddef.h>

#define VEC(T)                                                                                     \
  struct {                                                                                         \
    T *at;                                                                                         \
    size_t n, room;                                                                                \
  }

/* Grown storage for one more item; called by vec_push only. */
void *vec_room(Arena *arena, void *at, size_t n, size_t *room, size_t item_size);

/* Appends a copy of item. Earlier pointers into the array go stale. */
#define vec_push(arena, vec, item)                                                                 \
  ((void)((vec)->n < (vec)->room ||                                                                \
          ((vec)->at = vec_room((arena), (vec)->at, (vec)->n, &(vec)->room, sizeof *(vec)->at))),  \
   (vec)->at[(vec)->n++] = (item))

typedef VEC(const char *) Words;

/* Items of an array that is declared with its size. */
#define COUNT_OF(array) (sizeof(array) / sizeof *(array))

#endif
