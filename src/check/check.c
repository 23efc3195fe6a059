#include "check/check.h"

#include "check/rules.h"

void check_job(Run *run, const Job *job, const Plan *plan) {
  check_mates(run, job);
  check_needs(run, job);
  check_forbids(run, job);
  check_outcomes(run, job, plan);
  check_offers(run, job, plan);
  check_bundle(run, job, plan);
  check_on_threads(run, job, plan);
  check_strength(run, job, plan);
  check_stretched(run, job);
  check_fellows(run, job);
  check_unjudged(run, job, plan);
  check_holes(run, job);
  check_engagement(run, job);
  check_passes(run, job);
  check_places(run, job, plan);
  check_wrenches(run, job, plan);
  check_sentences(run, plan);
  check_people(run, job, plan);
  check_readings(run, job, plan);
  check_concessions(run, job);
}
