/* Who limits a quantity: every record that speaks, and the one that holds. */
#include "resolve/context.h"

#include <math.h>

/* What could be said of a quantity but is not: conditions that do not hold. */
typedef struct Silent {
  const Entry *entry;
  const LimitChoice *choice;
} Silent;

/* One sheet that limits something. */
typedef struct Record {
  const Entry *entry;
  const LimitDecls *limits;
  Rank rank;
  VEC(const Role *) roles; /* of a part: all that it fills */
} Record;
typedef VEC(Record) Records;

typedef struct Gathering {
  Resolver *r;
  Quantity *quantity;
  LimitVoices voices;
  VEC(Silent) silent;
  bool poison;
} Gathering;

const Settle *settle_find(const Resolver *r, const char *name) {
  for (size_t i = 0; i < r->job->build->settle.n; i++)
    if (text_is(r->job->build->settle.at[i].name, name)) return &r->job->build->settle.at[i];
  return NULL;
}

static bool names_role(const Formula *formula, const char *role) {
  if (formula->kind == FORMULA_NAME && formula->field && text_is(formula->name, role)) return true;
  for (size_t i = 0; i < formula->args; i++)
    if (names_role(formula->arg[i], role)) return true;
  return false;
}

/* Parties as declared; where none are, the parts whose facts the formula names. */
static bool is_party(const QuantityDecl *decl, const Role *role) {
  for (size_t i = 0; i < decl->parties.n; i++)
    if (text_is(decl->parties.at[i].s, role->name)) return true;
  for (size_t i = 0; i < decl->formula.n && !decl->parties.n; i++) {
    const Formula *formula = decl->formula.at[i].value.formula;
    if (formula && names_role(formula, role->name)) return true;
  }
  return false;
}

static Rank rank_in(const QuantityDecl *decl, const Role *role) {
  const SaidList *kit = &role->part->is.part.speaks_for;
  for (size_t i = 0; i < kit->n; i++)
    if (text_is(kit->at[i].s, decl->name)) return RANK_KIT;
  return is_party(decl, role) ? RANK_PARTY : RANK_ENGINE;
}

/* A part that fills several roles speaks in the highest of them. */
static Rank rank_of(const QuantityDecl *decl, const Record *record) {
  Rank rank = record->rank;
  for (size_t i = 0; i < record->roles.n; i++) {
    Rank here = rank_in(decl, record->roles.at[i]);
    if (i == 0 || here > rank) rank = here;
  }
  return rank;
}

static int more_places(int places, const Expr *expr) {
  if (places < 0 || expr->kind == EXPR_FORMULA) return -1;
  if (expr->kind != EXPR_LITERAL || expr->literal.places < places) return places;
  return expr->literal.places;
}

/* One end of a limit: its node, and its number if it can be had. */
static bool end_of(Gathering *g, const Expr *expr, const char *which, NodeId *node, double *si,
                   LimitVoice *voice) {
  Resolver *r = g->r;
  const char *what = arena_printf(r->arena, "the %s of %s", which, g->quantity->name);
  if (expr->kind == EXPR_NONE) return false;
  *node = bind_expr(r, expr, g->quantity->instance, what, &g->quantity->decl->unit->dim, what);
  Evaluation now = graph_evaluate(r->graph, *node, NULL);
  if (now.state == VALUE_POISON) g->poison = true;
  if (now.state == VALUE_KNOWN)
    *si = now.si;
  else
    voice->known = false;
  return true;
}

static void hear(Gathering *g, const Record *record, const LimitChoice *choice) {
  Rank rank = rank_of(g->quantity->decl, record);
  LimitVoice voice = {
      .choice = choice, .known = true, .low = -INFINITY, .high = INFINITY, .aim = NAN};
  voice.voice = (Voice){record->entry, choice->page.s, rank, choice->at, ""};
  voice.has_min = end_of(g, &choice->min, "lower limit", &voice.min, &voice.low, &voice);
  voice.has_target = end_of(g, &choice->target, "target", &voice.target, &voice.aim, &voice);
  voice.has_max = end_of(g, &choice->max, "upper limit", &voice.max, &voice.high, &voice);
  if (choice->min.kind == EXPR_LITERAL) {
    voice.low_half = literal_half_digit(&choice->min.literal);
    voice.low_unit = choice->min.literal.unit;
  }
  if (choice->max.kind == EXPR_LITERAL) {
    voice.high_half = literal_half_digit(&choice->max.literal);
    voice.high_unit = choice->max.literal.unit;
  }
  voice.places =
      more_places(more_places(more_places(0, &choice->min), &choice->target), &choice->max);
  voice.voice.says = limit_says(g->r->arena, &voice, g->quantity->decl->unit);
  /* highest rank first, those of one rank in the order heard */
  size_t at = g->voices.n;
  vec_push(g->r->arena, &g->voices, voice);
  for (; at > 0 && g->voices.at[at - 1].voice.rank < rank; at--)
    g->voices.at[at] = g->voices.at[at - 1];
  g->voices.at[at] = voice;
}

static bool speaks_here(const Gathering *g, const LimitChoice *choice) {
  const char *occasion = choice->occasion.s ? choice->occasion.s : "final";
  return text_is(occasion, g->quantity->occasion) &&
         members_match(&choice->member, &(Words){0}, g->quantity->instance, g->quantity->instance);
}

/* The most members first, then the first whose condition holds. */
static void ask(Gathering *g, const Record *record) {
  for (size_t i = 0; i < record->limits->n; i++) {
    const LimitDecl *decl = record->limits->at[i];
    const LimitChoice *best = NULL;
    if (!text_is(decl->name, g->quantity->name)) continue;
    for (size_t j = 0; j < decl->choices.n; j++) {
      const LimitChoice *choice = &decl->choices.at[j];
      if (!speaks_here(g, choice) || (best && choice->member.n <= best->member.n)) continue;
      Truth truth = when_truth(g->r, choice->when, g->quantity->instance);
      Silent silent = {record->entry, choice};
      if (truth == TRUTH_POISON)
        g->poison = true;
      else if (truth == TRUTH_YES)
        best = choice;
      else
        vec_push(g->r->arena, &g->silent, silent);
    }
    if (best) hear(g, record, best);
  }
}

static void add_record(Resolver *r, Records *records, const Entry *entry, Rank rank,
                       const LimitDecls *limits, const Role *role) {
  if (limits->n == 0) return;
  for (size_t i = 0; role && i < records->n; i++) {
    if (records->at[i].roles.n == 0 || records->at[i].entry != entry) continue;
    vec_push(r->arena, &records->at[i].roles, role);
    return;
  }
  Record record = {.entry = entry, .limits = limits, .rank = rank};
  if (role) vec_push(r->arena, &record.roles, role);
  vec_push(r->arena, records, record);
}

/* In the order in which they are heard. */
static Records all_records(Resolver *r) {
  Records records = {0};
  const Job *job = r->job;
  add_record(r, &records, job->build_entry, RANK_BUILD, &job->build->limits, NULL);
  for (size_t i = 0; i < job->roles.n; i++) {
    const Role *role = job->roles.at[i];
    if (role->part)
      add_record(r, &records, role->part, RANK_ENGINE, &role->part->is.part.limits, role);
  }
  add_record(r, &records, job->engine_entry, RANK_ENGINE, &job->engine->limits, NULL);
  for (size_t i = 0; i < job->engine->practice.n; i++) {
    const Entry *practice = job->engine->practice.at[i].entry;
    if (practice && practice->kind == ENTRY_PRACTICE)
      add_record(r, &records, practice, RANK_PRACTICE, &practice->is.practice.limits, NULL);
  }
  return records;
}

static void only_with(Gathering *g) {
  Resolver *r = g->r;
  const Silent *first = &g->silent.at[0];
  Text text = text_new(r->arena);
  for (size_t i = 0; i < g->silent.n; i++)
    text_addf(&text, "%s%s", i ? ", or " : "",
              formula_print(r->arena, g->silent.at[i].choice->when));
  Finding *finding = finding_add(r->run, RULE_NO_VALUE, first->choice->at,
                                 "limits of %s: the sheet gives this only with %s",
                                 g->quantity->name, text_done(&text));
  finding_subject(finding, g->quantity->name);
  finding_way_out(r->run, finding,
                  "choose the combination the sheet is for, or give limits of your own in the "
                  "build, with the reason");
}

/* Formulas of limits may come out reversed; written ones were looked at by load. */
static bool stands_right(Gathering *g, const LimitVoice *winner) {
  const Unit *unit = g->quantity->decl->unit;
  const LimitChoice *choice = winner->choice;
  bool worked_out = choice->min.kind == EXPR_FORMULA || choice->max.kind == EXPR_FORMULA ||
                    choice->target.kind == EXPR_FORMULA || winner->voice.rank == RANK_BUILD;
  if (!worked_out || !winner->known) return true;
  double slack = 1e-9 * (1e-6 + fabs(winner->low) + fabs(winner->high));
  if (winner->has_min && winner->has_max && winner->low > winner->high + slack) {
    Finding *finding =
        finding_add(g->r->run, RULE_BAND_REVERSED, winner->voice.at,
                    "%s: the lower limit comes to %s, the upper to %s", g->quantity->name,
                    quantity_print(g->r->arena, winner->low, unit, -1),
                    quantity_print(g->r->arena, winner->high, unit, -1));
    finding_subject(finding, g->quantity->name);
    finding_way_out(g->r->run, finding, "check both against the sheet");
    return false;
  }
  if (winner->has_target && ((winner->has_min && winner->aim < winner->low - slack) ||
                             (winner->has_max && winner->aim > winner->high + slack))) {
    Finding *finding = finding_add(
        g->r->run, RULE_TARGET_OUTSIDE, choice->target.at, "%s: the target %s lies outside %s",
        g->quantity->name, quantity_print(g->r->arena, winner->aim, unit, -1), winner->voice.says);
    finding_subject(finding, g->quantity->name);
    finding_way_out(g->r->run, finding, "move the target inside the limits");
  }
  return true;
}

static void limit(Resolver *r, const Records *records, Quantity *quantity) {
  Gathering g = {.r = r, .quantity = quantity};
  LimitVoice winner;
  Allowed *allowed = &quantity->allowed;
  if (!quantity->decl->unit) return;
  for (size_t i = 0; i < records->n; i++) ask(&g, &records->at[i]);
  allowed->occasion = quantity->occasion;
  if (!g.voices.n) {
    if (g.silent.n) only_with(&g);
    if (g.poison || g.silent.n) allowed->said = allowed->has_min = true; /* min 0: poison */
    return;
  }
  allowed->said = true;
  if (!limits_rank(r, quantity, &g.voices, &winner, &allowed->losers) ||
      !stands_right(&g, &winner)) {
    winner = (LimitVoice){.voice = g.voices.at[0].voice, .has_min = true};
  }
  allowed->winner = winner.voice;
  allowed->has_min = winner.has_min;
  allowed->has_target = winner.has_target;
  allowed->has_max = winner.has_max;
  allowed->min = winner.min;
  allowed->target = winner.target;
  allowed->max = winner.max;
  allowed->worked_out = winner.places < 0;
}

/* A limit for a member that the quantity does not have would hold nowhere. */
static void check_members(Resolver *r, const LimitDecl *decl) {
  const Set *set = NULL;
  Words members = {0};
  for (size_t i = 0; i < r->job->quantities.n && !set; i++)
    if (text_is(r->job->quantities.at[i]->name, decl->name))
      set = r->job->quantities.at[i]->instance->set;
  for (; set; set = set->within)
    for (size_t i = 0; i < set->members.n; i++) vec_push(r->arena, &members, set->members.at[i]);
  for (size_t i = 0; i < decl->choices.n; i++)
    for (size_t j = 0; j < decl->choices.at[i].member.n; j++) {
      const char *member = decl->choices.at[i].member.at[j];
      if (text_has(&members, member)) continue;
      Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, decl->choices.at[i].at,
                                     "limits of %s are given for %s, which is no member of it",
                                     decl->name, member);
      resolve_suggest(r->run, finding, member, &members);
    }
}

static void check_names(Resolver *r, const Entry *entry, const LimitDecls *limits) {
  for (size_t i = 0; i < limits->n; i++) {
    if (quantity_is_declared(r, limits->at[i]->name)) {
      check_members(r, limits->at[i]);
      continue;
    }
    Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, limits->at[i]->at,
                                   "%s limits %s, which no relation of this engine declares",
                                   resolve_whose(r->arena, entry, NULL), limits->at[i]->name);
    Words names = job_quantity_names(r->arena, r->job);
    resolve_suggest(r->run, finding, limits->at[i]->name, &names);
    if (!finding->way_out)
      finding_way_out(r->run, finding,
                      "declare the quantity in a relation, so that it is worked "
                      "out or measured");
  }
}

void resolve_limits(Resolver *r) {
  check_names(r, r->job->build_entry, &r->job->build->limits);
  for (size_t i = 0; i < r->job->roles.n; i++)
    if (r->job->roles.at[i]->part)
      check_names(r, r->job->roles.at[i]->part, &r->job->roles.at[i]->part->is.part.limits);
  check_names(r, r->job->engine_entry, &r->job->engine->limits);
  for (size_t i = 0; i < r->job->engine->practice.n; i++) {
    const Entry *practice = r->job->engine->practice.at[i].entry;
    if (!practice || practice->kind != ENTRY_PRACTICE) continue;
    for (size_t j = 0; j < practice->is.practice.limits.n; j++)
      if (quantity_is_declared(r, practice->is.practice.limits.at[j]->name))
        check_members(r, practice->is.practice.limits.at[j]);
  }
  Records records = all_records(r);
  for (size_t i = 0; i < r->job->quantities.n; i++) limit(r, &records, r->job->quantities.at[i]);
}
