/* Texts of steps and blocks with the names in { } filled in. */
#include "plan/work.h"

#include "base/near.h"

#include <string.h>

/* Bounds what one text may ask for. */
#define MOST_NAMES 40

typedef struct Filler {
  Planner *planner;
  const Entry *procedure;
  const Said *text;
  const Instance *at;
  const PlanStep *step; /* whose text it is; NULL: a title */
} Filler;

static const char *quantity_text(const Filler *filler, const Quantity *quantity,
                                 const char *field) {
  Arena *arena = filler->planner->arena;
  if (!quantity->decl->unit) return "(not known)"; /* reported */
  if (!field) {
    filler->planner->job->need(filler->planner->job, filler->planner->run, quantity);
    return predicted_print(arena, quantity);
  }
  const Allowed *allowed = &quantity->allowed;
  const Evaluation *now = NULL;
  if (text_is(field, "min") && allowed->has_min) now = &allowed->min_now;
  if (text_is(field, "target") && allowed->has_target) now = &allowed->target_now;
  if (text_is(field, "max") && allowed->has_max) now = &allowed->max_now;
  if (!now) return NULL;
  if (now->state != VALUE_KNOWN) return "(not known before it is measured)";
  return quantity_print(arena, now->si, quantity->decl->unit, quantity_places(quantity));
}

static const char *fact_print(const Filler *filler, const FactValue *fact) {
  const Expr *value = &fact->choice->value;
  Arena *arena = filler->planner->arena;
  if (value->kind == EXPR_LITERAL) return literal_print(arena, &value->literal);
  Evaluation now = graph_evaluate(filler->planner->job->graph, fact->node, NULL);
  if (now.state != VALUE_KNOWN) return "(not known)";
  Dim dim = graph_dim(filler->planner->job->graph, fact->node);
  const Unit *unit = dim_same(dim, DIM_LENGTH) ? unit_find("mm") : NULL;
  return unit ? quantity_print(arena, now.si, unit, 2)
              : quantity_print(arena, now.si, unit_of_number(), -1);
}

/* Of a step for several members the value they all have; NULL: they differ, or none is given. */
static const char *fact_text(const Filler *filler, const Role *role, const char *field) {
  const Job *job = filler->planner->job;
  const FactValue *own = job_fact(job, role->name, field, filler->at);
  if (own) return fact_print(filler, own);
  const char *common = NULL;
  for (size_t i = 0; i < job->facts.n; i++) {
    const FactValue *fact = &job->facts.at[i];
    if (fact->role != role || !text_is(fact->name, field) ||
        !instance_within(fact->instance, filler->at))
      continue;
    const char *text = fact_print(filler, fact);
    if (common && !text_is(text, common)) return NULL;
    common = text;
  }
  return common;
}

static const char *joint_text(const Filler *filler, const JobJoint *joint, const char *field) {
  if (!field) return joint->label;
  const JointFigures *figures = &joint->figures;
  if (!text_is(field, "torque") || !(figures->torque > 0)) return NULL;
  return both_units_print(filler->planner->arena, figures->torque, figures->torque_unit,
                          figures->torque_places);
}

/* "{cylinder}": the member the step is at. */
static const char *member_text(const Filler *filler, const char *set) {
  for (const Instance *at = filler->at; at; at = at->parent) {
    if (at->set && text_is(at->set->name, set)) return at->member;
  }
  return NULL;
}

/* "{the head}": "the front cylinder head" where each cylinder has one, else "the cylinder head". */
static const char *place_text(const Filler *filler, const char *name) {
  const Role *role = job_role(filler->planner->job, name);
  if (!role) return NULL;
  const char *members = "";
  for (const Instance *at = role->per ? instance_in(filler->at, role->per) : NULL; at && at->set;
       at = at->parent)
    members = arena_printf(filler->planner->arena, "%s %s", at->member, members);
  const char *label = role->label;
  char first = label[0];
  if (first >= 'A' && first <= 'Z') first = (char)(first - 'A' + 'a');
  return arena_printf(filler->planner->arena, "the %s%c%s", members, first, label + 1);
}

static const PlanStep *step_called(const Filler *filler, const char *id) {
  const Plan *plan = filler->planner->plan;
  const PlanStep *found = NULL;
  for (size_t i = 0; i < plan->steps.n; i++) {
    PlanStep *step = plan->steps.at[i];
    if (!text_is(step->id, id)) continue;
    if (!found ||
        (is_related(step->instance, filler->at) && !is_related(found->instance, filler->at)))
      found = step;
  }
  return found;
}

/* "{step:fit_head}" becomes the mark that the packet turns into number and page. */
static const char *step_text(const Filler *filler, const char *id) {
  const PlanStep *found = step_called(filler, id);
  return found ? arena_printf(filler->planner->arena, "{step:%d}", found->number) : NULL;
}

/* "{figure}": the step's own; "{figure:find_places}": of another step. A joint brings its
 * pattern. */
static const char *figure_text(const Filler *filler, const char *id) {
  const PlanStep *step = id ? step_called(filler, id) : filler->step;
  if (!step || (step->decl->figures.n == 0 && step->decl->tighten.n == 0)) return NULL;
  return arena_printf(filler->planner->arena, PLAN_FIGURE_OF "%d}", step->number);
}

/* Of several members the value they all have; NULL: they differ, or there is none. */
static const char *common_text(const Filler *filler, const QuantityList *quantities,
                               const char *field) {
  const char *common = NULL;
  for (size_t i = 0; i < quantities->n; i++) {
    const char *text = quantity_text(filler, quantities->at[i], field);
    if (!text || (common && !text_is(text, common))) return NULL;
    common = text;
  }
  return common;
}

/* NULL: nobody declares it. */
static const char *name_text(const Filler *filler, const char *token) {
  if (text_starts(token, "step:")) return step_text(filler, token + 5);
  if (text_starts(token, "figure:")) return figure_text(filler, token + 7);
  if (text_is(token, "figure") && filler->step) return figure_text(filler, NULL);
  if (text_starts(token, "the ")) return place_text(filler, token + 4);
  Arena *arena = filler->planner->arena;
  const char *dot = strrchr(token, '.');
  const char *bracket = strchr(token, ']');
  if (dot && bracket && dot < bracket) dot = NULL; /* [left.intake] */
  const char *field = dot ? dot + 1 : NULL;
  Name name = name_split(arena, dot ? arena_text(arena, token, (size_t)(dot - token)) : token);
  const char *member = field ? NULL : member_text(filler, name.base);
  if (member) return member;
  const Role *role = job_role(filler->planner->job, name.base);
  if (role && field) return fact_text(filler, role, field);
  if (role && role->none) return arena_printf(arena, "no %s", role->label);
  if (role) return role->part && role->part->name.s ? role->part->name.s : role->label;
  QuantityList quantities = {0};
  pick_quantities(filler->planner, &name, filler->at, "final", &quantities);
  if (quantities.n > 0) return common_text(filler, &quantities, field);
  JointList joints = {0};
  pick_joints(filler->planner, &name, filler->at, &joints);
  return joints.n > 0 ? joint_text(filler, joints.at[0], field) : NULL;
}

/* Where the name stands, if the text is written on one line as it is. */
static Place token_place(const Filler *filler, const char *token) {
  Place whole = filler->text->at;
  const char *text = filler->text->s;
  const char *there = strstr(text, arena_printf(filler->planner->arena, "{%s}", token));
  int quotes = whole.width - (int)utf8_count(text); /* 0, or one on each side */
  if (!there || (quotes != 0 && quotes != 2)) return whole;
  const char *before = arena_text(filler->planner->arena, text, (size_t)(there + 1 - text));
  return place_inside(whole, (int)utf8_count(before) + quotes / 2, (int)utf8_count(token));
}

/* A set is there, and the step is not done for its members. */
static bool tell_memberless(const Filler *filler, const char *token) {
  const Set *set = job_set(filler->planner->job, token);
  if (!set) return false;
  Finding *finding =
      finding_add(filler->planner->run, RULE_UNKNOWN_NAME, token_place(filler, token),
                  "{%s} stands for no %s: this is not done once for each %s", token, token, token);
  finding_way_out(filler->planner->run, finding, "write for_each: %s, or name the %s in words",
                  token, token);
  return true;
}

/* "{step:x}", "{figure:x}": no step of this build is called so, or it shows no figure. */
static bool tell_reference(const Filler *filler, const char *token) {
  Planner *planner = filler->planner;
  if (!strchr(token, ':')) return false;
  if (!tell_once(planner, arena_printf(planner->arena, "%s/%s", filler->procedure->id, token)))
    return true;
  Words names = {0};
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    const PlanStep *step = planner->plan->steps.at[i];
    vec_push(planner->arena, &names, arena_printf(planner->arena, "step:%s", step->id));
    if (step->decl->figures.n || step->decl->tighten.n)
      vec_push(planner->arena, &names, arena_printf(planner->arena, "figure:%s", step->id));
  }
  const char *near = near_word(token, &names);
  bool figure = text_starts(token, "figure:") && step_called(filler, token + 7);
  Finding *finding = finding_add(planner->run, RULE_UNKNOWN_NAME, token_place(filler, token),
                                 figure ? "the step that '%s' names shows no figure"
                                        : "no step of this build is what '%s' names",
                                 token);
  if (figure)
    finding_way_out(planner->run, finding, "give that step 'figures', or write {step:%s}",
                    token + 7);
  else if (near)
    finding_way_out(planner->run, finding, "did you mean '%s'?", near);
  else
    finding_way_out(planner->run, finding,
                    "name a step by its id, or name the procedure that has it in the build");
  return true;
}

/* The value is there, and not the same for all members the step is done for. */
static void tell_apart(const Filler *filler, const char *token) {
  Finding *finding =
      finding_add(filler->planner->run, RULE_UNKNOWN_NAME, token_place(filler, token),
                  "{%s} is not the same for all that this step is done for", token);
  finding_way_out(filler->planner->run, finding, "write for_each, so that each has a step");
}

static void tell_token(const Filler *filler, const char *token) {
  Planner *planner = filler->planner;
  if (tell_memberless(filler, token) || tell_reference(filler, token)) return;
  Words names = job_set_names(planner->arena, planner->job);
  const char *dot = strchr(token, '.');
  for (size_t i = 0; i < planner->job->roles.n; i++)
    vec_push(planner->arena, &names,
             arena_printf(planner->arena, "%s%s", planner->job->roles.at[i]->name, dot ? dot : ""));
  for (size_t i = 0; dot && i < planner->job->facts.n; i++) {
    const FactValue *fact = &planner->job->facts.at[i];
    const char *name =
        fact->role ? arena_printf(planner->arena, "%s.%s", fact->role->name, fact->name) : "";
    if (text_is(name, token)) {
      tell_apart(filler, token);
      return;
    }
    if (fact->role) vec_push(planner->arena, &names, name);
  }
  for (size_t i = 0; i < planner->quantity_names.n; i++)
    vec_push(planner->arena, &names, planner->quantity_names.at[i]);
  for (size_t i = 0; i < planner->joint_names.n; i++)
    vec_push(planner->arena, &names, planner->joint_names.at[i]);
  Said said = {token, token_place(filler, token)};
  vec_push(planner->arena, &names, "figure");
  tell_unknown(planner, filler->procedure, &said, "value or name", &names);
}

static const char *fill(const Filler *filler) {
  Planner *planner = filler->planner;
  const Said *text = filler->text;
  if (!text->s || !strchr(text->s, '{')) return text->s;
  Text filled = text_new(planner->arena);
  const char *from = text->s;
  for (int names = 0; names < MOST_NAMES; names++) {
    const char *open = strchr(from, '{');
    const char *close = open ? strchr(open, '}') : NULL;
    if (!close) break;
    text_add_n(&filled, from, (size_t)(open - from));
    const char *token = arena_text(planner->arena, open + 1, (size_t)(close - open - 1));
    const char *value = name_text(filler, token);
    if (!value) tell_token(filler, token);
    text_add(&filled, value ? value : token);
    from = close + 1;
  }
  text_add(&filled, from);
  return text_done(&filled);
}

const char *fill_text(Planner *planner, const Entry *procedure, const Said *text,
                      const Instance *at) {
  return fill(&(Filler){planner, procedure, text, at, NULL});
}

static const char *fill_step(Planner *planner, const PlanStep *step, const Said *text) {
  return fill(&(Filler){planner, step->procedure, text, step->instance, step});
}

/* Lines of lettered boxes; letters left out go on from the last one. */
static void fill_work(Planner *planner, PlanStep *step) {
  char next = 'A';
  for (size_t i = 0; i < step->decl->work.n; i++) {
    const WorkLine *line = &step->decl->work.at[i];
    const char *letter = line->letter.s;
    if (!letter) letter = arena_printf(planner->arena, "%c", next);
    if (letter[0] >= 'A' && letter[0] < 'Z') next = (char)(letter[0] + 1);
    vec_push(planner->arena, &step->work_letters, letter);
    const char *text = fill_text(planner, step->procedure, &line->text, step->instance);
    vec_push(planner->arena, &step->work_lines, text ? text : "");
  }
}

void texts_fill(Planner *planner) {
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    PlanStep *step = planner->plan->steps.at[i];
    const char *text = fill_step(planner, step, &step->decl->text);
    step->text = text ? text : "";
    fill_work(planner, step);
    if (step->decl->note.s) {
      vec_push(planner->arena, &step->notes, fill_step(planner, step, &step->decl->note));
    }
  }
  for (size_t i = 0; i < planner->plan->blocks.n; i++) {
    PlanBlock *block = &planner->plan->blocks.at[i];
    const char *title = fill_text(planner, block->procedure, &block->decl->title, block->instance);
    block->title = title ? title : block->decl->id.s ? block->decl->id.s : "";
  }
}
