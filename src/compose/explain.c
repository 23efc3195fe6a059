/* How each value comes about. */
#include "compose/explain.h"
#include "compose/completed.h"
#include "compose/compose.h"

#include "base/decimal.h"
#include "base/near.h"
#include "model/job_words.h"

const char *outcome_word(const Job *job, const Quantity *quantity) {
  if (job->readings && quantity->outcome != OUTCOME_NOT_LIMITED &&
      quantity->outcome != OUTCOME_UNKNOWN && quantity_is_touched(job, quantity))
    return quantity_is_out(quantity) ? "OUT" : "in";
  switch (quantity->outcome) {
  case OUTCOME_NOT_LIMITED:
    return "";
  case OUTCOME_UNKNOWN:
    return "to be measured";
  case OUTCOME_PASS:
    return "fits";
  case OUTCOME_OVERLAP:
    return "fit by hand";
  case OUTCOME_DISJOINT:
    return "OUTSIDE";
  case OUTCOME_POISON:
    return "see findings";
  }
  return "";
}

const char *lacks_print(Arena *arena, const Quantity *quantity) {
  Text text = text_new(arena);
  if (quantity->predicted.state == VALUE_KNOWN) return "";
  for (size_t i = 0; i < quantity->lacks.n; i++)
    text_addf(&text, "%s%s", i ? " or " : "no sheet gives ", quantity->lacks.at[i]);
  return text_done(&text);
}

static void show_inputs(Text *out, const Job *job, const Quantity *quantity) {
  Arena *arena = out->arena;
  NodeIds inputs = {0};
  graph_inputs(job->graph, arena, quantity->value, &inputs);
  for (size_t i = 0; i < inputs.n; i++) {
    NodeId input = inputs.at[i];
    Evaluation now = graph_evaluate(job->graph, input, NULL);
    Place place = graph_place(job->graph, input);
    const Unit *unit = NULL;
    const char *note = NULL;
    for (size_t j = 0; j < job->quantities.n && !unit; j++)
      if (job->quantities.at[j]->value == input) unit = job->quantities.at[j]->decl->unit;
    for (size_t j = 0; j < job->facts.n && !unit; j++) {
      const FactValue *fact = &job->facts.at[j];
      if (fact->node != input || !fact->choice) continue;
      if (fact->choice->value.kind == EXPR_LITERAL) unit = fact->choice->value.literal.unit;
      note = fact->choice->note.s;
    }
    text_addf(out, "    %s = %s", graph_name(job->graph, input),
              now.state == VALUE_KNOWN && unit ? quantity_print(arena, now.si, unit, -1)
              : now.state == VALUE_KNOWN       ? "worked out"
                                               : "not known yet");
    if (note) text_addf(out, ", %s", note);
    if (place.source) text_addf(out, "   (%s:%d)", place.source->path, place.line);
    text_add(out, "\n");
  }
}

static void show_moves(Text *out, const Job *job, const Quantity *quantity) {
  const Range *range = &quantity->predicted;
  Arena *arena = out->arena;
  for (size_t i = 0; i < range->by_leaf.n && i < 5; i++)
    text_addf(out, "    %s moves it by +-%s\n", graph_name(job->graph, range->by_leaf.at[i].leaf),
              quantity_print(arena, range->by_leaf.at[i].half_width, quantity->decl->unit,
                             quantity_places(quantity) + 1));
}

void show_voice(Text *out, const char *what, const Voice *voice) {
  Arena *arena = out->arena;
  if (!voice->entry) return;
  text_addf(out, "    %s: %s, by %s (%s)\n", what, voice->says ? voice->says : "",
            rank_word(voice->rank), source_print(arena, voice->entry, voice->page));
  if (voice->at.source) text_addf(out, "      %s:%d\n", voice->at.source->path, voice->at.line);
}

/* "measured 0.22 mm (front), 0.23 mm (rear); 2 of 4" */
static void show_readings(Text *out, const Job *job, const Quantity *quantity) {
  Arena *arena = out->arena;
  if (!job->readings) return;
  Quantity parts = quantity_by_parts(job, quantity);
  const char *range = range_print(arena, &parts);
  text_addf(out, "  by the parts %s%s%s\n", predicted_print(arena, &parts),
            range ? ", worst found " : "", range ? range : "");
  for (size_t i = 0; i < quantity->readings.n; i++) {
    const Reading *reading = &quantity->readings.at[i];
    text_addf(out, "  %s %s%s%s%s", reading->box ? "measured" : "fitted",
              quantity_print(arena, reading->si, quantity->decl->unit, -1),
              reading->position ? ", " : "", reading->position ? reading->position : "",
              reading->all.n > 1 ? ", the median" : "");
    if (reading->box) text_addf(out, " (box %d)", reading->box);
    text_add(out, "\n");
  }
  if (quantity->readings.n && !quantity->read_complete)
    text_add(out, "  not all positions are read: the prediction stays\n");
}

static void show_quantity(Text *out, const Job *job, const Quantity *quantity) {
  Arena *arena = out->arena;
  const char *range = range_print(arena, quantity), *allowed = allowed_print(arena, quantity);
  text_addf(out, "%s (%s)\n", quantity->key, quantity->label);
  if (quantity->decl->note.s) text_addf(out, "  note: %s\n", quantity->decl->note.s);
  show_readings(out, job, quantity);
  text_addf(out, "  %s %s%s%s\n", job->readings ? "as it stands" : "predicted",
            predicted_print(arena, quantity), range ? ", worst found " : "", range ? range : "");
  const char *lacks = lacks_print(arena, quantity);
  if (*lacks) text_addf(out, "    %s; the build's facts may state it\n", lacks);
  if (range && quantity->predicted.rss == quantity->predicted.rss)
    text_addf(out, "  root-sum-square +-%s\n",
              quantity_print(arena, quantity->predicted.rss, quantity->decl->unit,
                             quantity_places(quantity) + 1));
  if (quantity->stated.entry) text_add(out, "  stated by the build\n");
  if (quantity->formula) {
    text_addf(out, "  = %s\n", formula_print(arena, quantity->formula));
    if (quantity->relation)
      text_addf(out, "    %s (%s)\n", quantity->relation->name.s,
                source_print(arena, quantity->relation, NULL));
    show_inputs(out, job, quantity);
  }
  show_moves(out, job, quantity);
  text_addf(out, "  allowed %s%s%s\n", allowed ? allowed : "anything: no sheet limits it",
            allowed && outcome_word(job, quantity)[0] ? ": " : "",
            allowed ? outcome_word(job, quantity) : "");
  show_voice(out, "holds", &quantity->allowed.winner);
  for (size_t i = 0; i < quantity->allowed.losers.n; i++)
    show_voice(out, "overruled", &quantity->allowed.losers.at[i]);
  text_add(out, "\n");
}

/* "deck_height" or "deck_height,left" */
static bool is_named(const Quantity *quantity, const char *word) {
  return text_is(quantity->name, word) || text_is(quantity->key, word);
}

const char *compose_show(Text *out, const Job *job, const Words *names) {
  for (size_t n = 0; n < names->n; n++) {
    bool found = false;
    Words known = {0};
    for (size_t i = 0; i < job->quantities.n; i++) {
      const Quantity *quantity = job->quantities.at[i];
      vec_push(out->arena, &known, quantity->name);
      if (!is_named(quantity, names->at[n])) continue;
      show_quantity(out, job, quantity);
      found = true;
    }
    for (size_t i = 0; i < job->joints.n; i++) {
      vec_push(out->arena, &known, job->joints.at[i]->name);
      if (!text_is(job->joints.at[i]->name, names->at[n])) continue;
      show_joint(out, job->joints.at[i]);
      found = true;
    }
    if (found) continue;
    const char *near = near_word(names->at[n], &known);
    return arena_printf(out->arena, "no value or joint is called %s%s%s%s", names->at[n],
                        near ? "; did you mean " : "", near ? near : "", near ? "?" : "");
  }
  for (size_t i = 0; !names->n && i < job->quantities.n; i++)
    show_quantity(out, job, job->quantities.at[i]);
  return NULL;
}

static const char *const reason_words[] = {
    [REASON_WRITTEN] = "written next to it",
    [REASON_AFTER] = "asked for by `after`",
    [REASON_BEFORE] = "asked for by `before`",
    [REASON_DECIDES] = "a decision waits for its measurement",
    [REASON_BLOCK] = "its block comes after",
};

void compose_order(Text *out, const Plan *plan) {
  for (size_t i = 0; i < plan->steps.n; i++) {
    const PlanStep *step = plan->steps.at[i];
    text_addf(out, "%3d %s: %s\n", step->number, step->key, step_says(out->arena, step));
    for (size_t j = 0; j < step->reasons.n; j++) {
      const Reason *reason = &step->reasons.at[j];
      text_addf(out, "      after %d: %s%s%s\n", plan->steps.at[reason->step]->number,
                reason_words[reason->kind], reason->why ? "; " : "",
                reason->why ? reason->why : "");
    }
  }
}
