#include "plan/axis.h"

#include <math.h>

static void too_many(Planner *planner, const TableAxis *decl, double lines, size_t most) {
  Finding *finding =
      finding_add(planner->run, RULE_TOO_LONG, decl->at,
                  "the table would have %.0f lines this way; at most %zu fit", lines, most);
  finding_way_out(planner->run, finding, "take a wider step or a shorter range");
}

/* SI value of one of the keys. position: counted as the quantity is; else a difference. */
static bool need_number(Planner *planner, const Axis *axis, const Expr *expr, const char *key,
                        bool position, double *si) {
  if (expr->kind == EXPR_BAD) return false; /* reported */
  if (!expr_si(expr, si)) {
    Finding *finding = finding_add(planner->run, RULE_MISSING_KEY, axis->decl->at,
                                   "a side by a quantity needs '%s'", key);
    finding_way_out(planner->run, finding, "give 'from', 'to' and 'step', each with its unit");
    return false;
  }
  Dim dim = axis->quantity->decl->unit->dim;
  if (!position) dim.origin = ORIGIN_NONE;
  return literal_need(planner->run, expr->at, &expr->literal, dim, key);
}

static bool by_quantity(Planner *planner, const PlanStep *step, const Instance *at, size_t most,
                        Axis *axis) {
  const TableAxis *decl = axis->decl;
  Name name = name_split(planner->arena, decl->quantity.s);
  QuantityList list = {0};
  pick_quantities(planner, &name, at, "final", &list);
  if (list.n != 1) {
    if (!quantities_named(planner, name.base)) {
      tell_unknown(planner, step->procedure, &decl->quantity, "quantity", &planner->quantity_names);
    } else {
      Finding *finding = finding_add(planner->run, RULE_UNKNOWN_NAME, decl->quantity.at,
                                     "which '%s' the table is about is not said", name.base);
      finding_way_out(planner->run, finding, "name the member in brackets, or the step's for_each");
    }
    return false;
  }
  axis->quantity = list.at[0];
  if (!axis->quantity->decl->unit || !axis->quantity->value) return false; /* reported */
  axis->label = axis->quantity->label;
  axis->unit = axis->quantity->decl->unit;
  axis->places = quantity_places(axis->quantity);
  double from = 0, to = 0, by = 0;
  if (!need_number(planner, axis, &decl->from, "from", true, &from) ||
      !need_number(planner, axis, &decl->to, "to", true, &to) ||
      !need_number(planner, axis, &decl->step, "step", false, &by))
    return false;
  if (!(by > 0) || !isfinite((to - from) / by)) {
    finding_add(planner->run, RULE_BAD_NUMBER, decl->step.at, "the step must be above nothing");
    return false;
  }
  double lines = floor((to - from) / by + 1e-6) + 1;
  if (lines < 1) {
    finding_add(planner->run, RULE_BAND_REVERSED, decl->from.at, "'from' lies above 'to'");
    return false;
  }
  axis->cut = lines > (double)most;
  if (axis->cut) too_many(planner, decl, lines, most);
  axis->bin = by / 2;
  if (decl->bin.kind != EXPR_NONE &&
      !need_number(planner, axis, &decl->bin, "bin", false, &axis->bin))
    return false;
  for (double i = 0; i < lines && i < (double)most; i++) {
    AxisLine line = {.by_value = true, .si = from + i * by};
    line.name = number_print(planner->arena, line.si, axis->unit, axis->places);
    vec_push(planner->arena, &axis->lines, line);
  }
  return true;
}

/* The fact named, as the part's sheet writes it; else what the part is called. */
static const char *part_name(Planner *planner, const Entry *part, const char *fact) {
  for (size_t i = 0; fact && i < part->is.part.values.n; i++) {
    const ValueDecl *value = part->is.part.values.at[i];
    if (!text_is(value->name, fact) || value->choices.n == 0) continue;
    const Expr *expr = &value->choices.at[0].value;
    if (expr->kind == EXPR_LITERAL && expr->literal.fraction)
      return literal_print(planner->arena, &expr->literal);
    if (expr->kind == EXPR_LITERAL)
      return quantity_print(planner->arena, expr->literal.nominal, expr->literal.unit,
                            expr->literal.places);
  }
  return part->name.s ? part->name.s : part->id;
}

/* The fact named as a number; 0 where the part has none. */
static double part_size(const Entry *part, const char *fact) {
  for (size_t i = 0; fact && i < part->is.part.values.n; i++) {
    const ValueDecl *value = part->is.part.values.at[i];
    if (!text_is(value->name, fact) || value->choices.n == 0) continue;
    const Expr *expr = &value->choices.at[0].value;
    if (expr->kind == EXPR_LITERAL) return expr->literal.nominal;
  }
  return 0;
}

/* A table is read from small to large, however the build lists the parts. */
static void by_size(RefList *parts, const char *fact) {
  for (size_t i = 1; fact && i < parts->n; i++) {
    for (size_t j = i; j > 0; j--) {
      Ref *low = &parts->at[j - 1], *high = &parts->at[j];
      bool both = low->entry && high->entry && low->entry->kind == ENTRY_PART &&
                  high->entry->kind == ENTRY_PART;
      if (!both || part_size(low->entry, fact) <= part_size(high->entry, fact)) break;
      Ref swap = *low;
      *low = *high;
      *high = swap;
    }
  }
}

/* Those the table names; else those the build chose from; else the engine's own. */
static void find_offered(Planner *planner, const TableAxis *decl, const Role *role, RefList *out) {
  const BuildEntry *build = planner->job->build;
  *out = decl->parts;
  for (size_t i = 0; out->n == 0 && i < build->parts.n; i++) {
    const PartChoice *choice = &build->parts.at[i];
    for (size_t o = 0; text_is(choice->role, role->name) && o < choice->offered.n; o++) {
      const Entry *part = choice->offered.at[o].entry;
      if (part && part_fills(part, role->name))
        vec_push(planner->arena, out, choice->offered.at[o]);
    }
  }
  if (out->n > 0 || !role->part) return;
  Ref own = {role->part->id, role->at, (Entry *)role->part};
  vec_push(planner->arena, out, own);
}

static bool by_parts(Planner *planner, const PlanStep *step, size_t most, Axis *axis) {
  const TableAxis *decl = axis->decl;
  const Role *role = job_role(planner->job, decl->role.s);
  if (!role) {
    Words names = {0};
    for (size_t i = 0; i < planner->job->roles.n; i++)
      vec_push(planner->arena, &names, planner->job->roles.at[i]->name);
    tell_unknown(planner, step->procedure, &decl->role, "role", &names);
    return false;
  }
  axis->label = role->label;
  RefList offered = {0};
  RefList listed = {0};
  find_offered(planner, decl, role, &listed);
  for (size_t i = 0; i < listed.n; i++) vec_push(planner->arena, &offered, listed.at[i]);
  by_size(&offered, decl->fact.s);
  if (offered.n > most) too_many(planner, decl, (double)offered.n, most);
  for (size_t i = 0; i < offered.n && i < most; i++) {
    const Entry *part = offered.at[i].entry;
    if (!part || part->kind != ENTRY_PART) continue;
    AxisLine line = {.name = part_name(planner, part, decl->fact.s)};
    /* a part that cannot stand there was reported */
    if (!planner->job->candidate(planner->job, planner->run, role, part, &line.pins)) continue;
    vec_push(planner->arena, &axis->lines, line);
    vec_push(planner->arena, &axis->parts, offered.at[i]);
  }
  return axis->lines.n > 0;
}

bool axis_build(Planner *planner, const PlanStep *step, const Instance *at, const TableAxis *decl,
                size_t most, Axis *axis) {
  axis->decl = decl;
  axis->unit = unit_of_number();
  axis->label = "";
  if (decl->quantity.s) return by_quantity(planner, step, at, most, axis);
  if (decl->role.s) return by_parts(planner, step, most, axis);
  AxisLine line = {.name = ""};
  vec_push(planner->arena, &axis->lines, line);
  return true;
}

void axis_pin(Planner *planner, const Axis *axis, size_t line, int edge, Overrides *pins) {
  const AxisLine *it = &axis->lines.at[line];
  if (it->by_value) {
    Override pin = {axis->quantity->value, it->si + edge * axis->bin};
    vec_push(planner->arena, pins, pin);
    return;
  }
  for (size_t i = 0; i < it->pins.n; i++) vec_push(planner->arena, pins, it->pins.at[i]);
}
