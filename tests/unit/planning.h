/* A small engine in memory and the work on it: what the tests of plan share. */
#ifndef SHEAF_TESTS_UNIT_PLANNING_H
#define SHEAF_TESTS_UNIT_PLANNING_H

#include "unit/resolving.h"

#include "plan/plan_job.h"

#define BENCH_SOURCE "source: {maker: Bench, sheet: bench sheet, edition: A}\n"

/* A twin with rings; its stack is one number over another, so that shares are easy. */
static const Shelf bench_twin[] = {
    {"build.yaml", "kind: build\nname: Bench twin\njob: J-1\ndate: 2026-01-05\nengine: twin\n"
                   "shop: shop\nchoices: {use: road}\n"
                   "procedures: [first]\n"},
    {"lib/specs/engines/twin.yaml", "kind: engine\nname: Twin\n" BENCH_SOURCE "sets:\n"
                                    "  cylinder: {members: [left, right]}\n"
                                    "  ring: {within: cylinder, members: [top, second]}\n"
                                    "  stud: {members: [a, b]}\n"
                                    "roles:\n"
                                    "  barrel: {label: Barrel, part: barrel_1}\n"
                                    "  gasket: {label: Head gasket, part: gasket_06}\n"
                                    "choices: {use: [road, track]}\n"
                                    "relations: [stack]\n"},
    {"lib/specs/parts/barrel_1.yaml",
     "kind: part\nname: Plain barrel\nrole: barrel\n" BENCH_SOURCE
     "values: {bore: 83.400 +-0.005 mm}\n"
     "notes: {wipe: No solvent on the plating.}\n"
     "joints:\n"
     "  nuts:\n"
     "    {label: Barrel nuts, thread: M8, class: \"8.8\", count: 4, reuse: any,\n"
     "     places: {1: [0 mm, 0 mm], 2: [9 mm, 0 mm], 3: [9 mm, 9 mm], 4: [0 mm, 9 mm]},\n"
     "     lubricant: oil, threadlock: none, torque: 18 N.m, adapter: 50 mm,\n"
     "     passes: [{to: 9 N.m}, {to: final}], order: [1, 3, 2, 4]}\n"},
    {"lib/specs/parts/gasket_06.yaml",
     "kind: part\nname: Gasket 0.6\nrole: gasket\n" BENCH_SOURCE "values: {thickness: 0.60 mm}\n"},
    {"lib/specs/parts/gasket_08.yaml",
     "kind: part\nname: Gasket 0.8\nrole: gasket\n" BENCH_SOURCE "values: {thickness: 0.80 mm}\n"},
    {"lib/specs/relations/stack.yaml",
     "kind: relation\nname: Stack\nsource: common practice\nquantities:\n"
     "  deck: {label: Deck, per: cylinder, unit: mm, formula: \"= 0.4 mm\"}\n"
     "  squish: {label: Squish, per: cylinder, unit: mm, formula: \"= deck + gasket.thickness\",\n"
     "    parties: [barrel]}\n"
     "  gap: {label: Ring gap, per: ring, unit: mm}\n"
     "  bore: {label: Bore, unit: mm, places: 3, formula: \"= barrel.bore\"}\n"},
    {"lib/specs/fasteners/strength/8.8.yaml",
     "kind: strength\nname: Class 8.8\nsource: {maker: ISO, sheet: ISO 898-1}\n"
     "bands: [{up_to: 16 mm, proof: 580 MPa, yield: 640 MPa, tensile: 800 MPa}]\n"},
    {"lib/specs/fasteners/lubricants/oil.yaml",
     "kind: lubricant\nname: Oil\nsource: common practice\nk: 0.13 to 0.17\n"
     "thread_friction: 0.10 to 0.14\nhead_friction: 0.10 to 0.14\n"},
    {"lib/specs/shop/shop.yaml",
     "kind: shop\nname: Shop\naddress: [Yard]\n"
     "gauges:\n"
     "  coarse: {label: Rule, measures: depth, range: 0 to 300 mm, resolution: 0.5 mm}\n"
     "  depth: {label: Depth gauge, id: G1, measures: depth, range: 0 to 25 mm,\n"
     "    resolution: 0.01 mm, uncertainty: 0.01 mm, due: 2025-12-31}\n"
     "  fine: {label: Fine depth gauge, measures: depth, range: 10 to 25 mm,\n"
     "    resolution: 0.001 mm}\n"
     "  feeler: {label: Feelers, measures: gap, range: 0.03 to 1 mm, resolution: 0.05 mm}\n"
     "  go: {label: Go gauge, measures: gap, range: 0.03 to 1 mm, reading: go}\n"
     "  inch: {label: Inch dial, measures: runout, range: 0 to 1 in, resolution: 0.001 in}\n"
     "wrenches:\n"
     "  small: {label: Small wrench, id: W1, range: 2 to 10 N.m, length: 200 mm}\n"
     "  large: {label: Large wrench, id: W2, range: 5 to 50 N.m, length: 250 mm}\n"},
};

/* The engine with the work given, and up to a few files in place of the usual ones. */
static inline Plan *plan_with(Run *run, const char *work, const Shelf *more, size_t more_n) {
  Shelf shelves[12] = {
      {"lib/templates/procedures/first.yaml", arena_printf(run->arena,
                                                           "kind: procedure\nname: First\n"
                                                           "source: common practice\nblocks:\n%s",
                                                           work)}};
  for (size_t i = 0; i < more_n; i++) shelves[i + 1] = more[i];
  Job *job = shelves_resolve(run, (Shelves){bench_twin, shelves, COUNT_OF(bench_twin), more_n + 1});
  assert_non_null(job);
  return plan_job(run, job);
}

/* "a; b, left; b, right": the ids of the steps in their order. */
static inline const char *order_of(Run *run, const Plan *plan) {
  Text text = text_new(run->arena);
  for (size_t i = 0; i < plan->steps.n; i++) {
    const char *key = strchr(plan->steps.at[i]->key, '.') + 1;
    text_addf(&text, "%s%s", i ? "; " : "", key);
  }
  return text_done(&text);
}

static inline const PlanStep *step_called(const Plan *plan, const char *key) {
  for (size_t i = 0; i < plan->steps.n; i++)
    if (text_is(strchr(plan->steps.at[i]->key, '.') + 1, key)) return plan->steps.at[i];
  fail_msg("no step %s", key);
  return NULL;
}

#endif
