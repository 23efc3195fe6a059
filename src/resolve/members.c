/* Which of the values a sheet gives by member, and under conditions, is meant. */
#include "resolve/context.h"

const Instance *bind_owner(const Resolver *r, const Set *set, const Words *said, const Instance *at,
                           size_t *used) {
  const Set *chain[64];
  size_t n = 0;
  for (const Set *s = set; s && n < 64; s = s->within) chain[n++] = s;
  const Instance *found = r->job->instances.at[0];
  *used = 0;
  while (n-- > 0) {
    const Instance *next = NULL;
    if (*used < said->n && text_has(&chain[n]->members, said->at[*used])) {
      next = instance_child(r->job, found, chain[n], said->at[(*used)++]);
    } else {
      next = instance_in(at, chain[n]);
      if (next && next->parent != found) next = NULL;
    }
    if (!next) return NULL;
    found = next;
  }
  return found;
}

static bool on_the_way(const Instance *from, const char *member) {
  for (const Instance *at = from; at && at->parent; at = at->parent)
    if (text_is(at->member, member)) return true;
  return false;
}

bool members_match(const Words *member, const Words *said, const Instance *owner,
                   const Instance *at) {
  for (size_t i = 0; i < said->n; i++)
    if (!text_has(member, said->at[i])) return false;
  for (size_t i = 0; i < member->n; i++) {
    const char *word = member->at[i];
    if (!text_has(said, word) && !on_the_way(owner, word) && !on_the_way(at, word)) return false;
  }
  return true;
}

/* A condition that asks for the very value it belongs to would never end. */
static Truth choice_truth(Resolver *r, const ValueChoice *choice, const Instance *owner) {
  if (!choice->when) return TRUTH_YES;
  const char *label = arena_printf(r->arena, "if %s", formula_print(r->arena, choice->when));
  if (!circle_enter(r, choice, label, choice->when->at, NULL)) return TRUTH_POISON;
  Truth truth = when_truth(r, choice->when, owner);
  circle_leave(r);
  return truth;
}

/* The most members first; of equals the first whose condition holds. */
Found value_pick(Resolver *r, const ValueChoice *choices, size_t n, const Words *said,
                 const Instance *owner, const Instance *at, const ValueChoice **out) {
  size_t longest = 0;
  bool any = false;
  *out = NULL;
  for (size_t i = 0; i < n; i++) {
    if (!members_match(&choices[i].member, said, owner, at)) continue;
    any = true;
    if (choices[i].member.n > longest) longest = choices[i].member.n;
  }
  if (!any) return n ? FOUND_OTHER_MEMBER : FOUND_NONE;
  for (size_t members = longest + 1; members-- > 0;) {
    for (size_t i = 0; i < n; i++) {
      if (choices[i].member.n != members || !members_match(&choices[i].member, said, owner, at))
        continue;
      Truth truth = choice_truth(r, &choices[i], owner);
      if (truth == TRUTH_POISON) return FOUND_POISON;
      if (truth != TRUTH_YES) continue;
      *out = &choices[i];
      return FOUND;
    }
  }
  return FOUND_ONLY_WITH;
}
