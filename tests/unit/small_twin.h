/* A twin in a few lines: the library that the tests of resolve change. */
#ifndef SHEAF_TESTS_UNIT_SMALL_TWIN_H
#define SHEAF_TESTS_UNIT_SMALL_TWIN_H

#include "unit/resolving.h"

#define SOURCE_OF(maker) "source: {maker: " maker ", sheet: " maker " sheet, edition: A}\n"

static const Shelf small_twin[] = {
    {"build.yaml", "kind: build\n"
                   "name: Small twin\n"
                   "job: J-1\n"
                   "date: 2026-01-05\n"
                   "engine: twin\n"
                   "shop: bench\n"
                   "parts: {piston: piston_83, base_gasket: paper_04}\n"
                   "choices: {use: touring}\n"
                   "procedures: []\n"},
    {"lib/specs/engines/twin.yaml",
     "kind: engine\n"
     "name: Twin\n" SOURCE_OF(
         "Twinmaker") "sets:\n"
                      "  cylinder: {members: [left, right]}\n"
                      "  valve: {within: cylinder, members: [intake, exhaust]}\n"
                      "roles:\n"
                      "  crank: {part: crank_1}\n"
                      "  barrel: {part: barrel_83}\n"
                      "  piston: {per: cylinder}\n"
                      "  cam: {part: cam_1}\n"
                      "  base_gasket: {optional: optional, when_none: {thickness: 0 mm}}\n"
                      "choices: {use: [touring, racing]}\n"
                      "relations: [stack]\n"
                      "practice: [usual]\n"
                      "values: {pressure: 6.5 MPa}\n"},
    {"lib/specs/parts/crank_1.yaml", "kind: part\nname: Crank\nrole: crank\n" SOURCE_OF(
                                         "Twinmaker") "values: {throw: 39.80 +-0.02 mm}\n"},
    {"lib/specs/parts/barrel_83.yaml",
     "kind: part\nname: Barrel\nrole: barrel\n" SOURCE_OF(
         "Bore") "values: {bore: 83.400 mm, height: 127.20 +-0.03 mm}\n"},
    {"lib/specs/parts/piston_83.yaml", "kind: part\nname: Piston\nrole: piston\n" SOURCE_OF(
                                           "Orrest") "values: {diameter: 83.330 +-0.005 mm}\n"
                                                     "limits: {clearance: 0.065 to 0.080 mm}\n"},
    {"lib/specs/parts/cam_1.yaml",
     "kind: part\nname: Cam\nrole: cam\n" SOURCE_OF(
         "Lobe") "values: {lift: {intake: 9.5 mm, exhaust: 9.0 mm}}\n"},
    {"lib/specs/parts/paper_04.yaml",
     "kind: part\nname: Paper gasket\nrole: base_gasket\n" SOURCE_OF(
         "Paperworks") "values: {thickness: 0.40 +-0.02 mm}\n"},
    {"lib/specs/relations/stack.yaml",
     "kind: relation\n"
     "name: Stack\n"
     "source: common practice\n"
     "quantities:\n"
     "  stroke: {label: Q, unit: mm, formula: \"= 2 * crank.throw\"}\n"
     "  stack: {label: Q, unit: mm, formula: \"= barrel.height + base_gasket.thickness\"}\n"
     "  clearance: {label: Q, per: cylinder, unit: mm, places: 3, formula: \"= barrel.bore - "
     "piston.diameter\"}\n"
     "  half_clearance: {label: Q, per: cylinder, unit: mm, formula: \"= clearance / 2\"}\n"
     "  widest: {label: Q, unit: mm, formula: \"= largest(cylinder, clearance)\"}\n"
     "  valve_lift: {label: Q, per: valve, unit: mm, formula: \"= cam.lift\"}\n"
     "  intake_left: {label: Q, unit: mm, formula: \"= valve[left, intake].valve_lift\"}\n"
     "  gas_load: {label: Q, unit: N, formula: \"= engine.pressure * 0.01 m ^ 2\"}\n"
     "  rev_limit: {label: Q, unit: rpm, places: 0}\n"},
    {"lib/specs/practice/usual.yaml", "kind: practice\nname: Usual\nsource: common practice\n"
                                      "limits: {clearance: 0.040 to 0.120 mm}\n"},
    {"lib/specs/shop/bench.yaml",
     "kind: shop\nname: Bench\n"
     "wrenches:\n"
     "  w1: {label: Small, id: W1, range: 2 to 25 N.m, length: 200 mm}\n"
     "  w2: {label: Middle, id: W2, range: 10 to 60 N.m, length: 300 mm}\n"
     "  w3: {label: Large, id: W3, range: 40 to 200 N.m, length: 500 mm}\n"},
};

/* The twin with some of its files changed. */
static inline Job *twin_with(Run *run, const Shelf *more, size_t n) {
  Shelves shelves = {small_twin, more, sizeof small_twin / sizeof *small_twin, n};
  return shelves_resolve(run, shelves);
}
#define twin(run, ...)                                                                             \
  twin_with((run), (const Shelf[]){__VA_ARGS__},                                                   \
            sizeof((const Shelf[]){__VA_ARGS__}) / sizeof(Shelf))

static inline const Instance *job_instance(const Job *job, const char *path) {
  for (size_t i = 0; i < job->instances.n; i++)
    if (text_is(job->instances.at[i]->path, path)) return job->instances.at[i];
  return NULL;
}

static inline const Quantity *quantity_at(const Job *job, const char *name, const char *path) {
  const Instance *at = job_instance(job, path);
  assert_non_null(at);
  const Quantity *quantity = job_quantity(job, name, at, NULL);
  assert_non_null(quantity);
  return quantity;
}

#define BUILD                                                                                      \
  "kind: build\nname: Small twin\njob: J-1\ndate: 2026-01-05\nengine: twin\nshop: bench\n"
#define PARTS   "parts: {piston: piston_83, base_gasket: paper_04}\n"
#define TOURING "choices: {use: touring}\n"

#endif
