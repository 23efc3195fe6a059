/* What is being worked out, to find what asks for itself. */
#include "resolve/context.h"

static void circle(Resolver *r, size_t first, const char *label, Place at) {
  Text path = text_new(r->arena);
  for (size_t i = first; i < r->frames.n; i++) text_addf(&path, "%s -> ", r->frames.at[i].label);
  text_add(&path, label);
  Finding *finding = finding_add(r->run, RULE_FORMULA_CIRCLE, at, "%s", text_done(&path));
  for (size_t i = first + 1; i < r->frames.n; i++)
    finding_note(r->run, finding, r->frames.at[i].at, "%s asks for %s here",
                 r->frames.at[i - 1].label, r->frames.at[i].label);
  finding_note(r->run, finding, at, "%s asks for %s here", r->frames.at[r->frames.n - 1].label,
               label);
  finding_way_out(r->run, finding, "state one of them, or work it out from something else");
}

bool circle_enter(Resolver *r, const void *what, const char *label, Place at, Lacks *lacks) {
  for (size_t i = 0; i < r->frames.n; i++) {
    if (r->frames.at[i].what != what) continue;
    circle(r, i, label, at);
    return false;
  }
  if (r->frames.n >= RESOLVE_DEEPEST) {
    finding_add(r->run, RULE_TOO_BIG, at, "%s hangs on more than %d values, one below the other",
                label, RESOLVE_DEEPEST);
    return false;
  }
  Frame frame = {what, label, at, lacks};
  vec_push(r->arena, &r->frames, frame);
  return true;
}

void circle_leave(Resolver *r) {
  r->frames.n--;
}
