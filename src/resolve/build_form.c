/* What a build has to say beyond its parts: reasons, and whose parts they are. */
#include "resolve/context.h"

static void check_limits(Resolver *r, const LimitDecls *limits) {
  for (size_t i = 0; i < limits->n; i++) {
    for (size_t j = 0; j < limits->at[i]->choices.n; j++) {
      const LimitChoice *choice = &limits->at[i]->choices.at[j];
      if (choice->why.s || choice->min.kind == EXPR_BAD || choice->max.kind == EXPR_BAD) continue;
      Finding *finding =
          finding_add(r->run, RULE_MISSING_KEY, choice->at,
                      "the build's limits of %s do not say why", limits->at[i]->name);
      finding_subject(finding, limits->at[i]->name);
      finding_way_out(r->run, finding, "write {allowed: LOW to HIGH, why: the reason}");
    }
  }
}

static void check_joints(Resolver *r, const BuildEntry *build) {
  for (size_t i = 0; i < build->joints.n; i++) {
    const JointDecl *joint = build->joints.at[i];
    if (joint->why.s) continue;
    Finding *finding =
        finding_add(r->run, RULE_MISSING_KEY, joint->at,
                    "the build's way of tightening %s does not say why", joint->name);
    finding_subject(finding, joint->name);
    finding_way_out(r->run, finding, "add why: the reason");
  }
}

static void check_customer_parts(Resolver *r, const BuildEntry *build) {
  Words names = job_role_names(r->arena, r->job);
  for (size_t i = 0; i < build->supplied_by_customer.n; i++) {
    const Said *said = &build->supplied_by_customer.at[i];
    if (!said->s || text_has(&names, said->s)) continue;
    Finding *finding =
        finding_add(r->run, RULE_UNKNOWN_NAME, said->at,
                    "the customer is said to have brought the %s; the engine has no place of "
                    "that name",
                    said->s);
    resolve_suggest(r->run, finding, said->s, &names);
  }
}

void resolve_build_form(Resolver *r) {
  check_limits(r, &r->job->build->limits);
  check_joints(r, r->job->build);
  check_customer_parts(r, r->job->build);
}
