#include "plan/reach.h"

typedef struct Stop {
  bool marked, cuts, known;
  unsigned seen; /* the last question that came by */
  NodeIds inputs;
} Stop;

struct Reach {
  Arena *arena;
  const Graph *graph;
  VEC(Stop) stops; /* by node */
  unsigned question;
};

Reach *reach_new(Arena *arena, const Graph *graph) {
  Reach *reach = ARENA_NEW(arena, Reach);
  reach->arena = arena;
  reach->graph = graph;
  return reach;
}

static Stop *stop_at(Reach *reach, NodeId node) {
  while (reach->stops.n <= node) {
    Stop none = {0};
    vec_push(reach->arena, &reach->stops, none);
  }
  return &reach->stops.at[node];
}

void reach_mark(Reach *reach, NodeId node, bool cuts) {
  stop_at(reach, node)->marked = true;
  stop_at(reach, node)->cuts = cuts;
}

static NodeIds inputs_of(Reach *reach, NodeId node) {
  Stop *stop = stop_at(reach, node);
  if (stop->known) return stop->inputs;
  stop->known = true;
  graph_inputs(reach->graph, reach->arena, node, &stop->inputs);
  return stop->inputs;
}

void reach_under(Reach *reach, const Quantity *quantity, bool through, NodeIds *out) {
  const Allowed *allowed = &quantity->allowed;
  NodeId from[4] = {quantity->value, allowed->has_min ? allowed->min : 0,
                    allowed->has_target ? allowed->target : 0, allowed->has_max ? allowed->max : 0};
  NodeIds stack = {0};
  reach->question++;
  for (size_t i = 0; i < 4; i++) {
    if (from[i]) vec_push(reach->arena, &stack, from[i]);
  }
  while (stack.n > 0) {
    NodeId node = stack.at[--stack.n];
    Stop *stop = stop_at(reach, node);
    if (stop->seen == reach->question) continue;
    stop->seen = reach->question;
    if (stop->marked && node != quantity->value) {
      if (through || stop->cuts) vec_push(reach->arena, out, node);
      if (!through && stop->cuts) continue;
    }
    NodeIds inputs = inputs_of(reach, node);
    for (size_t i = 0; i < inputs.n; i++) vec_push(reach->arena, &stack, inputs.at[i]);
  }
}

bool quantity_is_judged(const Quantity *quantity) {
  return quantity->allowed.said && (quantity->allowed.has_min || quantity->allowed.has_max) &&
         !quantity->decl->report.s;
}
