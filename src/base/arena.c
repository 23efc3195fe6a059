#include "base/arena.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Under the address sanitizer what was not handed out stays poisoned, with a
 * gap behind each piece, so that running past a piece is noticed. */
#if defined(__has_feature)
#if __has_feature(address_sanitizer)
#define ARENA_GUARDED 1
#endif
#endif
#if defined(__SANITIZE_ADDRESS__) && !defined(ARENA_GUARDED)
#define ARENA_GUARDED 1
#endif
#ifdef ARENA_GUARDED
#include <sanitizer/asan_interface.h>
#define GUARD_CLOSE(at, size) ASAN_POISON_MEMORY_REGION(at, size)
#define GUARD_OPEN(at, size)  ASAN_UNPOISON_MEMORY_REGION(at, size)
#define GUARD_GAP             ((size_t)16)
#else
#define GUARD_CLOSE(at, size) ((void)0)
#define GUARD_OPEN(at, size)  ((void)0)
#define GUARD_GAP             ((size_t)0)
#endif

#define BLOCK_SIZE ((size_t)64 * 1024)
#define ALIGNMENT  _Alignof(max_align_t)

typedef struct Block Block;
struct Block {
  Block *next;
  size_t size, used;
  max_align_t bytes[];
};

struct Arena {
  Block *newest;
  size_t total;      /* bytes asked of the system */
  size_t fail_after; /* 0: never */
  ArenaExhausted *exhausted;
  void *context;
};

static void print_and_exit(void *context) {
  (void)context;
  fputs("sheaf: out of memory\n", stderr);
  exit(2);
}

_Noreturn void arena_give_up(Arena *arena) {
  if (arena)
    arena->exhausted(arena->context);
  else
    print_and_exit(NULL);
  abort(); /* a handler must not return */
}

Arena *arena_new(void) {
  Arena *arena = calloc(1, sizeof *arena);
  if (!arena) arena_give_up(NULL);
  arena->exhausted = print_and_exit;
  return arena;
}

void arena_free(Arena *arena) {
  if (!arena) return;
  Block *block = arena->newest;
  while (block) {
    Block *next = block->next;
    GUARD_OPEN(block->bytes, block->size);
    free(block);
    block = next;
  }
  free(arena);
}

void arena_on_exhausted(Arena *arena, ArenaExhausted *handler, void *context) {
  arena->exhausted = handler ? handler : print_and_exit;
  arena->context = context;
}

void arena_fail_after(Arena *arena, size_t nth) {
  arena->fail_after = nth;
}

static Block *block_add(Arena *arena, size_t size) {
  size_t whole = sizeof(Block) + size;
  if (whole > ARENA_MOST - arena->total) arena_give_up(arena);
  Block *block = malloc(whole);
  if (!block) arena_give_up(arena);
  arena->total += whole;
  block->size = size;
  block->used = 0;
  GUARD_CLOSE(block->bytes, size);
  /* A block for one big piece goes behind the newest, which still has room. */
  if (size > BLOCK_SIZE && arena->newest) {
    block->next = arena->newest->next;
    arena->newest->next = block;
  } else {
    block->next = arena->newest;
    arena->newest = block;
  }
  return block;
}

/* What a piece takes of its block. */
static size_t rounded(size_t size) {
  return (size + GUARD_GAP + ALIGNMENT - 1) / ALIGNMENT * ALIGNMENT;
}

static Block *block_for(Arena *arena, size_t size) {
  if (size > ARENA_MOST) arena_give_up(arena);
  size_t taken = rounded(size);
  return block_add(arena, taken > BLOCK_SIZE ? taken : BLOCK_SIZE);
}

void *arena_room(Arena *arena, size_t size) {
  if (arena->fail_after > 0 && --arena->fail_after == 0) arena_give_up(arena);
  if (size == 0) size = 1;
  size_t taken = rounded(size);
  Block *block = arena->newest;
  if (!block || size > BLOCK_SIZE || block->size - block->used < taken)
    block = block_for(arena, size);
  void *at = (char *)block->bytes + block->used;
  block->used += taken;
  GUARD_OPEN(at, size);
  return at;
}

void *arena_alloc(Arena *arena, size_t size) {
  return memset(arena_room(arena, size), 0, size > 0 ? size : 1);
}

bool arena_extend(Arena *arena, void *at, size_t size, size_t wanted) {
  Block *block = arena->newest;
  /* Guarded, a piece always moves, so that a pointer gone stale is noticed. */
  if (GUARD_GAP > 0 || !block || arena->fail_after > 0) return false;
  size_t taken = rounded(size), more = wanted > ARENA_MOST ? ARENA_MOST : rounded(wanted);
  if ((char *)block->bytes + block->used - taken != at) return false;
  if (block->size - block->used < more - taken) return false;
  block->used += more - taken;
  return true;
}

void *arena_copy(Arena *arena, const void *from, size_t size) {
  void *to = arena_room(arena, size);
  if (size > 0) memcpy(to, from, size);
  return to;
}

char *arena_text(Arena *arena, const char *from, size_t length) {
  if (length == SIZE_MAX) arena_give_up(arena);
  char *to = arena_room(arena, length + 1);
  if (length > 0) memcpy(to, from, length);
  to[length] = '\0';
  return to;
}

const char *arena_vprintf(Arena *arena, const char *format, va_list values) {
  char few[256]; /* as long as most are, so that they are formatted once */
  va_list again;
  va_copy(again, values);
  int length = vsnprintf(few, sizeof few, format, again);
  va_end(again);
  if (length < 0) arena_give_up(arena);
  char *to = arena_room(arena, (size_t)length + 1);
  if ((size_t)length < sizeof few)
    memcpy(to, few, (size_t)length + 1);
  else
    vsnprintf(to, (size_t)length + 1, format, values);
  return to;
}

const char *arena_printf(Arena *arena, const char *format, ...) {
  va_list values;
  va_start(values, format);
  const char *text = arena_vprintf(arena, format, values);
  va_end(values);
  return text;
}
