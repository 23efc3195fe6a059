/* Which box of a packet a reading stands in. */
#include "resolve/readings_box.h"

#include "base/near.h"
#include "base/text.h"

#include <string.h>

#define NAMES_SHOWN 8

static bool at_instance(const Instance *instance, const SaidList *path, size_t *used) {
  size_t depth = 0;
  for (const Instance *at = instance; at && at->parent; at = at->parent) depth++;
  if (path->n < depth) return false;
  *used = depth;
  for (const Instance *at = instance; at && at->parent; at = at->parent)
    if (!text_is(at->member, path->at[--depth].s)) return false;
  return true;
}

/* Members first, in order; then the occasion and the position. */
static bool is_called(const PlanBox *box, const ReadingLine *line, bool *occasion) {
  const Quantity *quantity = box->quantity;
  size_t used = 0;
  bool position = false;
  *occasion = false;
  if (!text_is(quantity->name, line->quantity)) return false;
  if (!at_instance(quantity->instance, &line->path, &used)) return false;
  for (size_t i = used; i < line->path.n; i++) {
    const char *word = line->path.at[i].s;
    if (!position && text_is(word, box->position))
      position = true;
    else if (!*occasion && text_is(word, quantity->occasion))
      *occasion = true;
    else
      return false;
  }
  return position == (box->position != NULL);
}

/* "left, front (box 38)" */
static const char *called(Arena *arena, const PlanBox *box) {
  Text out = text_new(arena);
  for (const char *c = box->quantity->instance->path; *c; c++)
    text_add_n(&out, *c == '.' ? " " : c, 1);
  if (!text_is(box->quantity->occasion, "final"))
    text_addf(&out, "%s%s", out.n ? ", " : "", box->quantity->occasion);
  if (box->position) text_addf(&out, "%s%s", out.n ? ", " : "", box->position);
  text_addf(&out, "%s%sbox %d%s", out.n ? " " : "", out.n ? "(" : "", box->number,
            out.n ? ")" : "");
  return text_done(&out);
}

static void no_such(Run *run, const Plan *plan, const ReadingLine *line) {
  Words known = {0};
  Text boxes = text_new(run->arena);
  size_t shown = 0;
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const PlanBox *box = plan->boxes.at[i];
    if (!text_has(&known, box->quantity->name)) vec_push(run->arena, &known, box->quantity->name);
    if (!text_is(box->quantity->name, line->quantity) || shown++ >= NAMES_SHOWN) continue;
    text_addf(&boxes, "%s%s", boxes.n ? "; " : "", called(run->arena, box));
  }
  Text path = text_new(run->arena);
  for (size_t i = 0; i < line->path.n; i++) text_addf(&path, ", %s", line->path.at[i].s);
  Finding *finding = finding_add(run, RULE_UNKNOWN_BOX, line->at, "the packet has no box for %s%s",
                                 line->quantity, text_done(&path));
  const char *near = near_word(line->quantity, &known);
  if (boxes.n)
    finding_way_out(run, finding, "there is %s%s", text_done(&boxes),
                    shown > NAMES_SHOWN ? " and more" : "");
  else if (near)
    finding_way_out(run, finding, "did you mean \"%s\"?", near);
  else
    finding_way_out(run, finding, "`sheaf readings BUILD FILE` writes every box there is");
}

static const PlanBox *by_number(Run *run, const Plan *plan, const ReadingLine *line) {
  for (size_t i = 0; i < plan->boxes.n; i++)
    if (plan->boxes.at[i]->number == line->box) return plan->boxes.at[i];
  Finding *finding =
      finding_add(run, RULE_UNKNOWN_BOX, line->at, "the packet has no box %d", line->box);
  finding_way_out(run, finding, "its boxes are numbered 1 to %zu", plan->boxes.n);
  return NULL;
}

const PlanBox *need_box(Run *run, const Plan *plan, const ReadingLine *line) {
  if (line->box) return by_number(run, plan, line);
  const PlanBox *found = NULL, *other = NULL;
  bool found_final = false;
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const PlanBox *box = plan->boxes.at[i];
    bool occasion = false;
    if (!is_called(box, line, &occasion)) continue;
    bool is_final = occasion || text_is(box->quantity->occasion, "final");
    if (found && found_final && !is_final) continue; /* not said, not meant */
    other = found && found_final == is_final ? found : NULL;
    found = box;
    found_final = is_final;
  }
  if (!found) no_such(run, plan, line);
  if (!other) return found;
  Finding *finding =
      finding_add(run, RULE_UNKNOWN_BOX, line->at, "boxes %d and %d are both called that",
                  other->number, found->number);
  finding_way_out(run, finding, "enter them under \"boxes\", by their numbers");
  return NULL;
}

bool same_quantity(const Quantity *a, const Quantity *b) {
  return text_is(a->name, b->name) && text_is(a->instance->path, b->instance->path) &&
         text_is(a->occasion, b->occasion);
}

static int earlier_like(const Plan *plan, const PlanBox *box) {
  int n = 0;
  for (size_t i = 0; i < plan->boxes.n && plan->boxes.at[i] != box; i++)
    n += same_quantity(plan->boxes.at[i]->quantity, box->quantity) &&
         text_is(plan->boxes.at[i]->position, box->position);
  return n;
}

const PlanBox *box_again(const Plan *was, const PlanBox *box, const Plan *is) {
  int n = earlier_like(was, box);
  for (size_t i = 0; i < is->boxes.n; i++) {
    const PlanBox *other = is->boxes.at[i];
    if (same_quantity(other->quantity, box->quantity) && text_is(other->position, box->position) &&
        n-- == 0)
      return other;
  }
  return NULL;
}

const PlanStep *box_step(const Plan *plan, const PlanBox *box) {
  for (size_t i = 0; i < plan->steps.n; i++)
    for (size_t j = 0; j < plan->steps.at[i]->boxes.n; j++)
      if (plan->steps.at[i]->boxes.at[j] == box) return plan->steps.at[i];
  return NULL;
}
