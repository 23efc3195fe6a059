/* Parts that meet must agree on what they meet by. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"

#include <math.h>

/* A part that names an interface, or the sheet that describes a joint of that name: the thread of
 * a joint meets what other parts call by the joint's name. */
typedef struct Side {
  const Entry *entry;
  const char *label;
  const Mate *mate;
} Side;
typedef VEC(Side) Sides;

static const char *mate_print(Run *run, const Mate *mate) {
  if (mate->is_word) return mate->word.s;
  return literal_print(run->arena, &mate->value.literal);
}

/* How far two sizes may lie apart and be one: a tenth of a micrometre; in two units half
 * the last digit of each, so that "83.4 mm" and "3.2835 in" are one bore. */
static double slack_between(const Literal *x, const Literal *y) {
  const double least = 1e-7;
  return x->unit == y->unit ? least
                            : fmax(least, fmin(literal_half_digit(x), literal_half_digit(y)));
}

/* "M10 x 1.25" and "M10x1.25" are one thread. */
static bool threads_of(const Mate *a, const Mate *b, Thread *x, Thread *y) {
  return a->is_word && b->is_word && thread_parse(a->word.s, x) && thread_parse(b->word.s, y);
}

static bool threads_agree(const Mate *a, const Mate *b) {
  Thread x, y;
  return threads_of(a, b, &x, &y) && thread_same(&x, &y);
}

/* Do two declarations allow a common size? */
static bool mates_agree(const Mate *a, const Mate *b) {
  if (a->is_word != b->is_word) return false;
  if (a->is_word) return text_is(a->word.s, b->word.s) || threads_agree(a, b);
  if (a->value.kind != EXPR_LITERAL || b->value.kind != EXPR_LITERAL) return true;
  const Literal *x = &a->value.literal, *y = &b->value.literal;
  if (x->shape == LITERAL_NONE || y->shape == LITERAL_NONE) return true;
  if (!dim_same(x->unit->dim, y->unit->dim)) return false;
  double slack = slack_between(x, y);
  bool x_exact = x->shape == LITERAL_EXACT, y_exact = y->shape == LITERAL_EXACT;
  double x_low = x_exact ? x->nominal : x->low, x_high = x_exact ? x->nominal : x->high;
  double y_low = y_exact ? y->nominal : y->low, y_high = y_exact ? y->nominal : y->high;
  return x_low <= y_high + slack && y_low <= x_high + slack;
}

/* All parts that name one interface. */
typedef struct Meeting {
  const char *name;
  Sides sides;
} Meeting;

static size_t quarrels(const Meeting *meeting, size_t one) {
  size_t n = 0;
  for (size_t i = 0; i < meeting->sides.n; i++)
    if (!mates_agree(meeting->sides.at[i].mate, meeting->sides.at[one].mate)) n++;
  return n;
}

static void tell(Run *run, const Meeting *meeting, size_t odd) {
  const Side *side = &meeting->sides.at[odd];
  const char *clash = NULL;
  Finding *finding = NULL;
  Text others = text_new(run->arena);
  for (size_t i = 0; i < meeting->sides.n; i++) {
    const Side *other = &meeting->sides.at[i];
    if (mates_agree(other->mate, side->mate)) continue;
    if (!finding) {
      finding = finding_add(run, RULE_MATES_DIFFER, side->mate->at, "%s: %s says %s, %s says %s",
                            meeting->name, side->entry->name.s, mate_print(run, side->mate),
                            other->entry->name.s, mate_print(run, other->mate));
      finding_subject(finding, meeting->name);
      Thread x, y;
      if (threads_of(side->mate, other->mate, &x, &y)) clash = thread_clash(run, &x, &y);
    }
    finding_note(run, finding, other->mate->at, "%s says %s, from %s", other->entry->name.s,
                 mate_print(run, other->mate), source_print(run->arena, other->entry, NULL));
    text_addf(&others, "%s%s", others.n ? ", " : "", other->label);
  }
  if (clash)
    finding_way_out(run, finding, "%s; look at both threads, then mend the sheet that is wrong",
                    clash);
  else
    finding_way_out(run, finding, "choose a %s that is made for the others: %s", side->label,
                    text_done(&others));
}

/* The part that differs from most others is the one to be told of; then, without it, the next. */
static void judge(Run *run, Meeting *meeting) {
  while (meeting->sides.n > 1) {
    size_t odd = 0, most = 0;
    for (size_t i = 0; i < meeting->sides.n; i++) {
      size_t n = quarrels(meeting, i);
      if (n < most || n == 0) continue;
      most = n;
      odd = i;
    }
    if (most == 0) return;
    tell(run, meeting, odd);
    for (size_t i = odd; i + 1 < meeting->sides.n; i++)
      meeting->sides.at[i] = meeting->sides.at[i + 1];
    meeting->sides.n--;
  }
}

/* The joint of that name has a thread: its sheet is one more side. */
static void add_joint(Run *run, const Job *job, Meeting *meeting) {
  for (size_t i = 0; i < job->joints.n; i++) {
    const JobJoint *joint = job->joints.at[i];
    if (!text_is(joint->name, meeting->name) || !joint->figures.thread_known) continue;
    Mate *mate = ARENA_NEW(run->arena, Mate);
    *mate = (Mate){.name = joint->name,
                   .at = joint->hardware->thread.at,
                   .is_word = true,
                   .word = joint->hardware->thread};
    Side side = {joint->hardware_entry, joint->label, mate};
    vec_push(run->arena, &meeting->sides, side);
    return; /* members of a joint are alike */
  }
}

void check_mates(Run *run, const Job *job) {
  VEC(Meeting) meetings = {0};
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *role = job->roles.at[i];
    for (size_t j = 0; role->part && j < role->part->is.part.mates.n; j++) {
      Side side = {role->part, role->label, &role->part->is.part.mates.at[j]};
      size_t at = 0;
      while (at < meetings.n && !text_is(meetings.at[at].name, side.mate->name)) at++;
      Meeting fresh = {.name = side.mate->name};
      if (at == meetings.n) vec_push(run->arena, &meetings, fresh);
      vec_push(run->arena, &meetings.at[at].sides, side);
    }
  }
  for (size_t i = 0; i < meetings.n; i++) {
    add_joint(run, job, &meetings.at[i]);
    judge(run, &meetings.at[i]);
  }
}
