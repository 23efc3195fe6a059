/* The rules of check, each over the whole job; check.c calls them in turn. */
#ifndef SHEAF_CHECK_RULES_H
#define SHEAF_CHECK_RULES_H

#include "model/plan.h"

/* Every part it lies between is the engine's own, and no step fits, tries or removes it. */
bool is_left_alone(const Job *job, const Plan *plan, const Quantity *quantity);
void check_outcomes(Run *run, const Job *job, const Plan *plan);
void check_offers(Run *run, const Job *job, const Plan *plan);
void check_mates(Run *run, const Job *job);
void check_needs(Run *run, const Job *job);
void check_forbids(Run *run, const Job *job);
void check_strength(Run *run, const Job *job, const Plan *plan);
void check_stretched(Run *run, const Job *job); /* by angle, to yield, by stretch */
void check_on_threads(Run *run, const Job *job, const Plan *plan); /* what is put there */
void check_fellows(Run *run, const Job *job);
void check_bundle(Run *run, const Job *job, const Plan *plan);
void check_passes(Run *run, const Job *job);
void check_places(Run *run, const Job *job, const Plan *plan);
void check_engagement(Run *run, const Job *job);
void check_unjudged(Run *run, const Job *job, const Plan *plan); /* nothing to hold it against */
void check_holes(Run *run, const Job *job); /* the thread a fastener goes into */
void check_wrenches(Run *run, const Job *job, const Plan *plan);
void check_sentences(Run *run, const Plan *plan);
void check_readings(Run *run, const Job *job, const Plan *plan); /* when there are any */
void check_people(Run *run, const Job *job, const Plan *plan);   /* two for a hold */
void check_concessions(Run *run, const Job *job);

#endif
