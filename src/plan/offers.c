/* Procedures of the library that do what no step of this build does. */
#include "plan/work.h"

#define MOST_OFFERED 3

static bool does(const BlockDecl *block, const StepDecl *step, Offer offer, const char *what) {
  switch (offer) {
  case OFFER_STEP:
    return text_is(step->id.s, what) || text_is(block->id.s, what);
  case OFFER_MAKES:
    return said_names(&step->makes, what);
  case OFFER_FITS:
    return said_names(&step->fits, what);
  case OFFER_SEALS:
    return said_names(&step->seals, what);
  case OFFER_HOLD:
    return step->kind == STEP_HOLD && text_is(step->hold_kind.s, what);
  case OFFER_MEASURES:
    for (size_t i = 0; i < step->boxes.n; i++)
      if (text_is(step->boxes.at[i].quantity.s, what)) return true;
    return false;
  case OFFER_DECIDES:
    return step->table &&
           (text_is(step->table->row.role.s, what) || text_is(step->table->column.role.s, what));
  case OFFER_TIGHTENS:
    for (size_t i = 0; i < step->tighten.n; i++)
      if (text_is(step->tighten.at[i].joint.s, what)) return true;
    return false;
  }
  return false;
}

static bool procedure_does(const Entry *procedure, Offer offer, const char *what) {
  const ProcedureEntry *is = &procedure->is.procedure;
  for (size_t b = 0; b < is->blocks.n; b++) {
    const BlockDecl *block = is->blocks.at[b];
    for (size_t s = 0; s < block->steps.n; s++)
      if (does(block, block->steps.at[s], offer, what)) return true;
  }
  return false;
}

static bool is_named(const Planner *planner, const char *id) {
  const RefList *named = &planner->job->build->procedures;
  for (size_t i = 0; i < named->n; i++)
    if (text_is(named->at[i].id, id)) return true;
  return false;
}

/* All that the build does not name, read once. */
static const EntryList *procedures_left(Planner *planner) {
  if (planner->left) return planner->left;
  planner->left = ARENA_NEW(planner->arena, EntryList);
  const Library *library = planner->job->library;
  const Words *ids = library->ids ? library->ids(library->asked, ENTRY_PROCEDURE) : NULL;
  for (size_t i = 0; ids && i < ids->n; i++) {
    if (is_named(planner, ids->at[i])) continue;
    const Entry *procedure = library->look(library->asked, ENTRY_PROCEDURE, ids->at[i]);
    if (procedure) vec_push(planner->arena, planner->left, procedure);
  }
  return planner->left;
}

void offer_procedure(Planner *planner, Finding *finding, Offer offer, const char *what) {
  const EntryList *left = procedures_left(planner);
  Text names = text_new(planner->arena);
  size_t count = 0;
  for (size_t i = 0; i < left->n; i++) {
    if (!procedure_does(left->at[i], offer, what)) continue;
    if (count < MOST_OFFERED) text_addf(&names, "%s%s", count ? ", " : "", left->at[i]->id);
    count++;
  }
  if (count == 0) return;
  finding->way_out = arena_printf(
      planner->arena, "%s%sprocedures that have it: %s%s", finding->way_out ? finding->way_out : "",
      finding->way_out ? "; " : "", text_done(&names), count > MOST_OFFERED ? " and others" : "");
}
