/* Fasteners that are measured: free, tight, and what lies between. Each fastener is a member of
 * its joint, so that its lengths are values like any others: boxes, limits, readings. */
#include "resolve/joints.h"

/* What a joint asks to have measured of each of its fasteners. */
typedef struct Asked {
  const Expr *scrap;   /* longest free length; NULL: not given */
  const Expr *stretch; /* band; NULL: not tightened by it */
} Asked;

static Asked asked_of(const JobJoint *joint) {
  const Expr *scrap = &joint->hardware->scrap_length;
  const JointDecl *bundle = joint->bundle;
  bool stretch = bundle && text_is(bundle->method.s, "stretch");
  return (Asked){scrap->kind == EXPR_LITERAL ? scrap : NULL,
                 stretch && bundle->stretch.kind == EXPR_LITERAL ? &bundle->stretch : NULL};
}

static const char *length_name(Resolver *r, const JobJoint *joint, JointLength kind) {
  static const char *const tails[] = {
      [LENGTH_FREE] = "free_length", [LENGTH_TIGHT] = "tight_length", [LENGTH_STRETCH] = "stretch"};
  return arena_printf(r->arena, "%s_%s", joint->name, tails[kind]);
}

/* The fasteners of one joint as members below its own. */
static void members(Resolver *r, const Set *set, JobJoint *joint) {
  for (size_t i = 0; i < joint->place_names.n; i++) {
    if (r->job->instances.n >= RESOLVE_MEMBERS_MOST) return; /* then they stay unmeasured */
    const char *place = joint->place_names.at[i];
    const Instance *above = joint->instance;
    Instance *one = ARENA_NEW(r->arena, Instance);
    *one = (Instance){.id = (int)r->job->instances.n, .set = set, .parent = above, .member = place};
    one->path = above->set ? arena_printf(r->arena, "%s.%s", above->path, place) : place;
    one->label = above->set ? arena_printf(r->arena, "%s, fastener %s", above->label, place)
                            : arena_printf(r->arena, "fastener %s", place);
    vec_push(r->arena, &r->job->instances, one);
    vec_push(r->arena, &joint->fasteners, one);
  }
}

static Formula *name_node(Resolver *r, const JobJoint *joint, JointLength kind, Place at) {
  Formula *formula = ARENA_NEW(r->arena, Formula);
  formula->kind = FORMULA_NAME;
  formula->at = at;
  formula->name = length_name(r, joint, kind);
  return formula;
}

/* tight length - free length */
static Formula *difference(Resolver *r, const JobJoint *joint, Place at) {
  Formula *formula = ARENA_NEW(r->arena, Formula);
  formula->kind = FORMULA_SUBTRACT;
  formula->at = at;
  formula->arg[0] = name_node(r, joint, LENGTH_TIGHT, at);
  formula->arg[1] = name_node(r, joint, LENGTH_FREE, at);
  formula->args = 2;
  return formula;
}

static QuantityDecl *declare(Resolver *r, const JobJoint *joint, JointLength kind, Place at) {
  static const char *const labels[] = {
      [LENGTH_FREE] = "free length", [LENGTH_TIGHT] = "tight length", [LENGTH_STRETCH] = "stretch"};
  QuantityDecl *decl = ARENA_NEW(r->arena, QuantityDecl);
  decl->name = length_name(r, joint, kind);
  decl->at = at;
  decl->label = (Said){arena_printf(r->arena, "%s, %s", joint->label, labels[kind]), at};
  decl->unit = unit_find("mm");
  decl->places = (WholeNumber){.said = true, .n = 3, .at = at};
  decl->parties = joint->hardware->parties;
  if (kind != LENGTH_STRETCH) return decl;
  ValueChoice choice = {.at = at};
  choice.value = (Expr){.kind = EXPR_FORMULA, .at = at, .formula = difference(r, joint, at)};
  vec_push(r->arena, &decl->formula, choice);
  return decl;
}

static NodeId end_of(Resolver *r, double si, const char *name, Place at) {
  return graph_leaf(r->graph, name, at, DIM_LENGTH, si, si, si);
}

static void limit(Resolver *r, const JobJoint *joint, JointLength kind, Quantity *quantity) {
  const Asked asked = asked_of(joint);
  const Expr *expr = kind == LENGTH_FREE      ? asked.scrap
                     : kind == LENGTH_STRETCH ? asked.stretch
                                              : NULL;
  if (!expr || !expr->literal.unit) return;
  Allowed *allowed = &quantity->allowed;
  const char *says = literal_print(r->arena, &expr->literal);
  allowed->said = allowed->has_max = true;
  allowed->occasion = quantity->occasion;
  allowed->max = end_of(r, expr->literal.high, "longest", expr->at);
  allowed->winner = joint->winner;
  if (kind == LENGTH_STRETCH) {
    allowed->has_min = true;
    allowed->min = end_of(r, expr->literal.low, "least stretch", expr->at);
  } else {
    allowed->winner.entry = joint->hardware_entry;
    says = arena_printf(r->arena, "at most %s", says);
  }
  allowed->winner.at = expr->at;
  allowed->winner.says = says;
}

/* All fasteners of all joints of one name: members of a value follow each other. */
static void declare_all(Resolver *r, JobJoint *const *joints, size_t n, JointLength kind) {
  const QuantityDecl *decl = NULL;
  for (size_t j = 0; j < n; j++) {
    JobJoint *joint = joints[j];
    const Asked asked = asked_of(joint);
    if (kind == LENGTH_FREE ? !asked.stretch && !asked.scrap : !asked.stretch) continue;
    Place at = asked.stretch ? asked.stretch->at : asked.scrap->at;
    if (!decl) decl = declare(r, joint, kind, at);
    for (size_t i = 0; i < joint->fasteners.n; i++) {
      Quantity *quantity = quantity_declare(r, decl, joint->fasteners.at[i]);
      quantity->joint = joint;
      quantity->length = kind;
      limit(r, joint, kind, quantity);
      vec_push(r->arena, &joint->lengths, quantity);
    }
  }
}

/* A relation that declares such a value measures the fasteners in its own way. */
static bool is_taken(Resolver *r, const JobJoint *joint) {
  return quantity_is_declared(r, length_name(r, joint, LENGTH_FREE)) ||
         quantity_is_declared(r, length_name(r, joint, LENGTH_TIGHT)) ||
         quantity_is_declared(r, length_name(r, joint, LENGTH_STRETCH));
}

void joint_lengths(Resolver *r, JobJoint *const *joints, size_t n) {
  const Asked asked = n ? asked_of(joints[0]) : (Asked){0};
  if ((!asked.scrap && !asked.stretch) || is_taken(r, joints[0])) return;
  Set *set = ARENA_NEW(r->arena, Set);
  set->name = arena_printf(r->arena, "%s fastener", joints[0]->name);
  set->label = "fastener";
  set->within = joints[0]->instance->set;
  set->members = joints[0]->place_names;
  vec_push(r->arena, &r->job->sets, set);
  for (size_t j = 0; j < n; j++) members(r, set, joints[j]);
  for (JointLength kind = LENGTH_FREE; kind <= LENGTH_STRETCH; kind++)
    declare_all(r, joints, n, kind);
  for (size_t j = 0; j < n; j++) {
    for (size_t i = 0; i < joints[j]->lengths.n; i++) {
      const Quantity *quantity = joints[j]->lengths.at[i];
      bool circle = false;
      quantity_from(r, quantity->name, quantity->instance, quantity->decl->at, &circle);
    }
  }
}
