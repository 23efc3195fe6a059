/* Which box of a packet a line of readings means. */
#include "resolve/readings_box.h"

#include "base/near.h"
#include "base/text.h"

#define WORDS_SHOWN 12

/* The words that lead to a box: its members, outermost first, then its occasion and its
 * position, in either order; an occasion of "final" may be left out. */
typedef struct Led {
  size_t members; /* of the words given */
  bool occasion, position;
} Led;

static size_t depth_of(const Instance *instance) {
  size_t depth = 0;
  for (; instance && instance->parent; instance = instance->parent) depth++;
  return depth;
}

static const char *member_at(const Instance *instance, size_t index) {
  size_t depth = depth_of(instance);
  while (--depth > index) instance = instance->parent;
  return instance->member;
}

/* Do the first n words lead on to the box? */
static bool leads(const PlanBox *box, const SaidList *path, size_t n, Led *led) {
  const Quantity *quantity = box->quantity;
  size_t depth = depth_of(quantity->instance);
  *led = (Led){0};
  for (size_t i = 0; i < n; i++) {
    const char *word = path->at[i].s;
    if (i < depth) {
      if (!text_is(member_at(quantity->instance, i), word)) return false;
      led->members++;
    } else if (!led->position && text_is(word, box->position)) {
      led->position = true;
    } else if (!led->occasion && text_is(word, quantity->occasion)) {
      led->occasion = true;
    } else {
      return false;
    }
  }
  return true;
}

static bool arrives(const PlanBox *box, const ReadingLine *line, bool *occasion) {
  Led led;
  if (!text_is(box->quantity->name, line->quantity.s)) return false;
  if (!leads(box, &line->path, line->path.n, &led)) return false;
  *occasion = led.occasion;
  return led.members == depth_of(box->quantity->instance) &&
         led.position == (box->position != NULL);
}

static void add_word(Arena *arena, Words *words, const char *word) {
  if (word && !text_has(words, word)) vec_push(arena, words, word);
}

/* What may stand behind the first n words. */
static void next_words(Arena *arena, const Plan *plan, const ReadingLine *line, size_t n,
                       Words *out) {
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const PlanBox *box = plan->boxes.at[i];
    Led led;
    if (!text_is(box->quantity->name, line->quantity.s) || !leads(box, &line->path, n, &led))
      continue;
    if (led.members < depth_of(box->quantity->instance)) {
      add_word(arena, out, member_at(box->quantity->instance, led.members));
      continue;
    }
    if (!led.position) add_word(arena, out, box->position);
    if (!led.occasion && !text_is(box->quantity->occasion, "final"))
      add_word(arena, out, box->quantity->occasion);
  }
}

static bool any_leads(const Plan *plan, const ReadingLine *line, size_t n) {
  Led led;
  for (size_t i = 0; i < plan->boxes.n; i++)
    if (text_is(plan->boxes.at[i]->quantity->name, line->quantity.s) &&
        leads(plan->boxes.at[i], &line->path, n, &led))
      return true;
  return false;
}

/* "deck_height, left" */
static const char *said_so_far(Arena *arena, const ReadingLine *line, size_t n) {
  Text out = text_new(arena);
  text_add(&out, line->quantity.s);
  for (size_t i = 0; i < n; i++) text_addf(&out, ", %s", line->path.at[i].s);
  return text_done(&out);
}

/* "left, right", or "left, right and so on" */
static const char *listed(Arena *arena, const Words *words) {
  Text out = text_new(arena);
  for (size_t i = 0; i < words->n && i < WORDS_SHOWN; i++)
    text_addf(&out, "%s%s", i ? ", " : "", words->at[i]);
  if (words->n > WORDS_SHOWN) text_add(&out, " and so on");
  return text_done(&out);
}

static void no_quantity(Run *run, const Job *job, const Plan *plan, const ReadingLine *line) {
  Words known = {0};
  for (size_t i = 0; i < plan->boxes.n; i++)
    add_word(run->arena, &known, plan->boxes.at[i]->quantity->name);
  Finding *finding = finding_add(run, RULE_UNKNOWN_BOX, line->quantity.at,
                                 "the packet has no box for %s", line->quantity.s);
  const char *near = near_word(line->quantity.s, &known);
  for (size_t i = 0; i < job->quantities.n; i++) {
    if (!text_is(job->quantities.at[i]->name, line->quantity.s)) continue;
    finding_way_out(run, finding,
                    "it is worked out, not read in this work; enter what it is worked out from");
    return;
  }
  if (near)
    finding_way_out(run, finding, "did you mean \"%s\"?", near);
  else
    finding_way_out(run, finding, "`sheaf readings BUILD FILE` writes every box there is");
}

/* One finding a wrong word, however many readings stand below it: sorting drops what is equal. */
static void no_such(Run *run, const Job *job, const Plan *plan, const ReadingLine *line) {
  size_t n = 0;
  if (!any_leads(plan, line, 0)) {
    no_quantity(run, job, plan, line);
    return;
  }
  while (n < line->path.n && any_leads(plan, line, n + 1)) n++;
  Words next = {0};
  next_words(run->arena, plan, line, n, &next);
  const char *so_far = said_so_far(run->arena, line, n);
  if (n == line->path.n) {
    Finding *finding =
        finding_add(run, RULE_UNKNOWN_BOX, line->at, "%s is read at more than one place", so_far);
    finding_way_out(run, finding, "say which: {%s: ...}; there is %s", next.at[0],
                    listed(run->arena, &next));
    return;
  }
  const Said *word = &line->path.at[n];
  Finding *finding =
      finding_add(run, RULE_UNKNOWN_BOX, word->at, "%s has no box called %s", so_far, word->s);
  const char *near = near_word(word->s, &next);
  if (near)
    finding_way_out(run, finding, "did you mean \"%s\"?", near);
  else if (next.n)
    finding_way_out(run, finding, "there is %s", listed(run->arena, &next));
  else
    finding_way_out(run, finding, "write the reading at once: %s: ...",
                    n ? line->path.at[n - 1].s : line->quantity.s);
}

static const PlanBox *by_number(Run *run, const Plan *plan, const ReadingLine *line) {
  for (size_t i = 0; i < plan->boxes.n; i++)
    if (plan->boxes.at[i]->number == line->box) return plan->boxes.at[i];
  Finding *finding =
      finding_add(run, RULE_UNKNOWN_BOX, line->at, "the packet has no box %d", line->box);
  finding_way_out(run, finding, "its boxes are numbered 1 to %zu", plan->boxes.n);
  return NULL;
}

const PlanBox *need_box(Run *run, const Job *job, const Plan *plan, const ReadingLine *line) {
  if (line->box) return by_number(run, plan, line);
  const PlanBox *found = NULL, *other = NULL;
  bool found_final = false;
  for (size_t i = 0; i < plan->boxes.n; i++) {
    const PlanBox *box = plan->boxes.at[i];
    bool occasion = false;
    if (!arrives(box, line, &occasion)) continue;
    bool is_final = occasion || text_is(box->quantity->occasion, "final");
    if (found && found_final && !is_final) continue; /* not said, not meant */
    other = found && found_final == is_final ? found : NULL;
    found = box;
    found_final = is_final;
  }
  if (!found) no_such(run, job, plan, line);
  if (!other) return found;
  Finding *finding =
      finding_add(run, RULE_UNKNOWN_BOX, line->at, "boxes %d and %d are both called that",
                  other->number, found->number);
  finding_way_out(run, finding, "enter them under \"boxes\", by their numbers");
  return NULL;
}
