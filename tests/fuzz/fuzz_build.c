/* Whole builds with their library: every run ends, a value that could not be
 * worked out has a finding, and what is refused is not printed. */
#include "fuzz/fuzz.h"
#include "fuzz/lines.h"
#include "fuzz/pack.h"

#include "compile.h"
#include "compose/compose.h"
#include "draw/listing.h"
#include "draw/pdf.h"

/* One in so many packets is drawn: drawing takes longest. */
#define DRAWN 8

static bool is_poison(const Job *job, NodeId node) {
  return node == 0 || graph_evaluate(job->graph, node, NULL).state == VALUE_POISON;
}

/* A value that could not be worked out, or NULL. */
static const char *find_poison(const Job *job) {
  for (size_t i = 0; i < job->quantities.n; i++) {
    const Quantity *quantity = job->quantities.at[i];
    if (quantity->outcome == OUTCOME_POISON || is_poison(job, quantity->value))
      return quantity->key;
  }
  for (size_t i = 0; i < job->facts.n; i++)
    if (is_poison(job, job->facts.at[i].node)) return job->facts.at[i].name;
  for (size_t i = 0; i < job->needs.n; i++)
    if (is_poison(job, job->needs.at[i].truth)) return "a condition of use";
  return NULL;
}

static void print_all(Run *run, const Request *request, Compiled *compiled, size_t size) {
  compile_packet(run, request, compiled);
  if (findings_refuse(run->findings)) return;
  PROMISE(compiled->pages->list.n > 0, "nothing refused, and no page");
  Text text = text_new(run->arena);
  compose_text(&text, compiled->packet);
  draw_listing(run, compiled->pages);
  if (size % DRAWN != 0) return;
  Drawing drawing = draw_pdf(run, compiled->pages);
  PROMISE(drawing.trouble == NULL, "%s", drawing.trouble);
}

static void compile_pack(Run *run, const char *text, size_t size) {
  Pack pack = pack_read(run->arena, text, size);
  LoadSource source = pack_source(run, &pack);
  Request request = {.build = PACK_BUILD};
  if (pack_has(&pack, PACK_READINGS)) request.readings = PACK_READINGS;
  if (pack_has(&pack, PACK_SINCE)) request.since = PACK_SINCE;
  Compiled compiled = compile_check_from(run, &source, &request);
  if (!compiled.job) {
    PROMISE(findings_refuse(run->findings), "no job, and nothing refused");
    return;
  }
  const char *poison = find_poison(compiled.job);
  PROMISE(!poison || findings_refuse(run->findings), "\"%s\" has no value and no finding", poison);
  Text out = text_new(run->arena);
  Words all = {0};
  compose_table(&out, compiled.job);
  compose_show(&out, compiled.job, &all);
  compose_order(&out, compiled.plan);
  if (!findings_refuse(run->findings)) print_all(run, &request, &compiled, size);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
  return fuzz_in_arena(compile_pack, data, size);
}

size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t most);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t most, unsigned seed);

/* Half of the time whole lines and words are changed, so that more than the reader is tried. */
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t most, unsigned seed) {
  if (seed % 2 == 0) return LLVMFuzzerMutate(data, size, most);
  return lines_mutate(data, size, most, seed / 2);
}
