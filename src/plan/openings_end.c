/* Openings at the end of the work: what is left open, and where a step that was told could stand.
 */
#include "plan/openings.h"

static bool is_left(const OpeningTrack *track) {
  return track->now != OPENING_CLOSED && !track->doubt;
}

/* Other openings of the member that the same step has left as this one: told with it. */
static void left_with(OpeningPlay *play, size_t first, Words *labels, Words *names) {
  const OpeningTrack *track = &play->tracks.at[first];
  const Opening *opening = opening_at(play, (int)first);
  vec_push(play->planner->arena, labels, opening->label);
  vec_push(play->planner->arena, names, opening->decl->name);
  for (size_t i = first + 1; track->since >= 0 && i < play->tracks.n; i++) {
    OpeningTrack *other = &play->tracks.at[i];
    const Opening *its = opening_at(play, (int)i);
    if (!is_left(other) || other->since != track->since || other->now != track->now ||
        its->instance != opening->instance)
      continue;
    other->doubt = true;
    vec_push(play->planner->arena, labels, its->label);
    vec_push(play->planner->arena, names, its->decl->name);
  }
}

static void left_open(OpeningPlay *play) {
  Planner *planner = play->planner;
  for (size_t i = 0; i < play->tracks.n; i++) {
    const OpeningTrack *track = &play->tracks.at[i];
    if (!is_left(track)) continue;
    const Opening *opening = opening_at(play, (int)i);
    Words labels = {0}, names = {0};
    left_with(play, i, &labels, &names);
    const char *mark = arena_printf(planner->arena, "left/%s/%s/%d", opening->decl->name,
                                    step_mark(planner, track->since), (int)track->now);
    if (told_likewise(planner, mark, opening->instance)) continue;
    Finding *finding =
        finding_add(planner->run, RULE_LEFT_OPEN, opening_since_place(play, (int)i),
                    "%s %s %s, and no later step closes %s",
                    text_join(planner->arena, &labels, " and "), labels.n > 1 ? "are" : "is",
                    opening_since_print(play, (int)i), labels.n > 1 ? "them" : "it");
    told_by(planner, mark, finding);
    finding_subject(finding, opening->decl->name);
    if (track->since >= 0)
      finding_note(planner->run, finding, opening->decl->at, "the opening stands here");
    finding_way_out(planner->run, finding, "add 'closes: [%s]' to the step that closes %s%s",
                    text_join(planner->arena, &names, ", "), labels.n > 1 ? "them" : "it",
                    track->now == OPENING_COVERED ? ", uncovered before" : "");
  }
}

/* What a step waits for by name; what it is merely written after may change with it. */
static int waits_for(const PlanStep *step) {
  int latest = -1;
  for (size_t i = 0; i < step->reasons.n; i++) {
    const Reason *reason = &step->reasons.at[i];
    bool plain = reason->kind == REASON_WRITTEN || reason->kind == REASON_BLOCK;
    if (!plain && reason->step > latest) latest = reason->step;
  }
  return latest;
}

/* The earliest step right after which the opening is as wanted, no earlier than what
 * the step waits for by name; -1: before the first step, -2: nowhere. */
static int earliest(const OpeningPlay *play, const Pending *pending) {
  const Plan *plan = play->planner->plan;
  int from = waits_for(plan->steps.at[pending->step]);
  OpeningState now = opening_at(play, pending->opening)->starts;
  int since = -1;
  for (size_t i = 0; i <= plan->opening_trace.n; i++) {
    const OpeningEvent *event = i < plan->opening_trace.n ? &plan->opening_trace.at[i] : NULL;
    if (event && (event->opening != pending->opening || event->step == pending->step)) continue;
    int until = event ? event->step : (int)plan->steps.n;
    int place = from > since ? from : since;
    if ((now == pending->state) == pending->wants && place < until) return place;
    if (event) {
      now = event->becomes;
      since = event->step;
    }
  }
  return -2;
}

static void tell_ways_out(OpeningPlay *play) {
  Run *run = play->planner->run;
  for (size_t i = 0; i < play->pending.n; i++) {
    const Pending *it = &play->pending.at[i];
    int place = earliest(play, it);
    const char *state = it->wants ? opening_state_word(it->state) : "covered or closed";
    const char *where = "before step 1";
    if (place >= 0)
      where = arena_printf(run->arena, "right after %s", step_print(play->planner, place));
    if (it->also && place < 0)
      finding_way_out(run, it->finding, "%s", it->also);
    else if (it->also)
      finding_way_out(run, it->finding, "%s; the earliest place where it is %s is %s", it->also,
                      state, where);
    else if (place == -2)
      finding_way_out(run, it->finding,
                      "no step leaves it %s for this one: open it first with 'opens' or 'uncovers'",
                      state);
    else
      finding_way_out(run, it->finding, "the earliest place where it is %s is %s", state, where);
  }
}

void openings_end(OpeningPlay *play) {
  if (play->planner->plan->steps.n > 0) left_open(play);
  tell_ways_out(play);
}
