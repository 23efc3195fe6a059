/* Memory that lives as long as one compile and is given back in one go. */
#ifndef SHEAF_BASE_ARENA_H
#define SHEAF_BASE_ARENA_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

/* Which arguments are the format and its first value: the compiler holds them together. */
#if defined(__GNUC__)
#define SHEAF_PRINTF(text, first) __attribute__((format(printf, text, first)))
#else
#define SHEAF_PRINTF(text, first)
#endif

typedef struct Arena Arena;

Arena *arena_new(void);
void arena_free(Arena *arena);

/* Zeroed memory, aligned for any type. Never NULL: when memory or the arena's
 * bound (ARENA_MOST bytes) runs out, the handler set below is called and must not return; the
 * default prints one line and exits with status 2. */
void *arena_alloc(Arena *arena, size_t size);
void *arena_room(Arena *arena,
                 size_t size); /* the same, but not zeroed: for what is written at once */
/* Makes the piece that was handed out last longer where it stands; false: it is not the last, or
 * there is no room behind it. */
bool arena_extend(Arena *arena, void *at, size_t size, size_t wanted);
void *arena_copy(Arena *arena, const void *from, size_t size);
char *arena_text(Arena *arena, const char *from, size_t length); /* adds the NUL */
SHEAF_PRINTF(2, 3)
const char *arena_printf(Arena *arena, const char *format, ...);
SHEAF_PRINTF(2, 0)
const char *arena_vprintf(Arena *arena, const char *format, va_list values);

#define ARENA_MOST ((size_t)400 * 1024 * 1024)

typedef void ArenaExhausted(void *context);
void arena_on_exhausted(Arena *arena, ArenaExhausted *handler, void *context);
/* For memory that does not come from an arena and has run out as well; arena NULL: the default. */
_Noreturn void arena_give_up(Arena *arena);
/* Makes the nth allocation from now on fail; 0 switches off. For fault tests. */
void arena_fail_after(Arena *arena, size_t nth);

#define ARENA_NEW(arena, T)      ((T *)arena_alloc((arena), sizeof(T)))
#define ARENA_NEW_N(arena, T, n) ((T *)arena_alloc((arena), sizeof(T) * (n)))

#endif
