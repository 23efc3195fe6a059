/* Loose parts and the openings into which they fall. */
#include "plan/work.h"

#include <string.h>

static bool names_swallowed(const OpeningDecl *decl, const char *part) {
  for (size_t i = 0; i < decl->swallows.n; i++)
    if (text_is(decl->swallows.at[i].s, part)) return true;
  return false;
}

const char *opening_swallows(Arena *arena, const OpeningDecl *decl, const StepDecl *step) {
  bool all = names_swallowed(decl, "all");
  for (size_t i = 0; i < step->handles.n; i++)
    if (all || names_swallowed(decl, step->handles.at[i].s)) return step->handles.at[i].s;
  const SaidList *lists[] = {&step->fits, &step->trial, &step->old, &step->removes};
  for (size_t l = 0; l < sizeof lists / sizeof *lists; l++) {
    for (size_t i = 0; i < lists[l]->n; i++) {
      const char *role = name_split(arena, lists[l]->at[i].s).base;
      size_t n = strlen(role);
      const char *one = n > 1 && role[n - 1] == 's' ? arena_text(arena, role, n - 1) : role;
      if (names_swallowed(decl, role) || names_swallowed(decl, one)) return one;
    }
  }
  return NULL;
}
