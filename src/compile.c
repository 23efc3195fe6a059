#include "compile.h"

#include "check/check.h"
#include "compose/compose.h"
#include "files.h"
#include "layout/layout.h"
#include "load/readings.h"
#include "plan/plan_job.h"
#include "read/yaml.h"
#include "resolve/readings.h"
#include "resolve/resolve.h"

#include "base/text.h"

static const char *disk_text(void *context, Run *run, const char *path, size_t *size) {
  (void)context;
  const char *text = NULL;
  return file_read(run, path, &text, size) == FILE_READ ? text : NULL;
}

static void disk_ids(void *context, Run *run, const char *folder, Words *out) {
  (void)context;
  folder_ids(run, folder, out);
}

static const char *disk_beside(void *context, Run *run, const char *folder, const char *id) {
  (void)context;
  return folder_beside(run, folder, id);
}

LoadSource disk_source(const Request *request) {
  return (LoadSource){.text = disk_text,
                      .nodes = read_yaml,
                      .ids = disk_ids,
                      .beside = disk_beside,
                      .libraries = request->libraries};
}

static Library *load(Run *run, const LoadSource *source, const char *build) {
  Library *library = load_build(run, source, build);
  return library && library->build ? library : NULL;
}

static Job *resolve(Run *run, const Library *library) {
  Job *job = resolve_job(run, library);
  if (job) load_revision(run, library, &job->revision, &job->library_revision);
  return job;
}

static Compiled compile_blank(Run *run, const LoadSource *source, const char *build) {
  Compiled compiled = {.library = load(run, source, build)};
  if (compiled.library) compiled.job = resolve(run, compiled.library);
  if (!compiled.job) return compiled;
  compiled.plan = plan_job(run, compiled.job);
  check_job(run, compiled.job, compiled.plan);
  return compiled;
}

static bool is_same_job(Run *run, const Job *was, const Job *is) {
  if (text_is(was->build->job.s, is->build->job.s)) return true;
  Finding *finding = finding_add(run, RULE_WRONG_JOB, was->build->job.at,
                                 "the earlier issue is of job %s, this build of job %s",
                                 was->build->job.s, is->build->job.s);
  finding_way_out(run, finding, "name the build of this job as it was printed");
  return false;
}

/* The earlier issue may be refused by now: its findings are nobody's business, only what it said.
 */
static Reissue *compare(Run *run, const LoadSource *source, const Request *request,
                        const Compiled *now) {
  Run earlier = {run->arena, findings_new(run->arena)};
  LoadSource then = *source;
  if (request->since_library) {
    then.libraries = (Words){0};
    vec_push(run->arena, &then.libraries, request->since_library);
    for (size_t i = 0; i < source->libraries.n; i++)
      vec_push(run->arena, &then.libraries, source->libraries.at[i]);
  }
  Compiled was = compile_blank(&earlier, &then, request->since);
  if (was.job && was.plan && is_same_job(run, was.job, now->job))
    return compose_reissue(run, was.job, was.plan, now->job, now->plan);
  if (was.job) return NULL;
  Place nowhere = {0};
  Finding *finding =
      finding_add(run, RULE_NO_FILE, nowhere,
                  "%s cannot be compared with: it is no build that can be read", request->since);
  finding_way_out(run, finding, "`sheaf check %s` says why", request->since);
  return NULL;
}

/* The gauges are those of the packet that was printed, and they were fit for it: what a
 * reading leads to asks for no other. */
static void forget_gauges(Findings *findings) {
  static const Rule rules[] = {RULE_NO_GAUGE, RULE_GAUGE_COARSE, RULE_BAND_VANISHES};
  size_t kept = 0;
  for (size_t i = 0; i < findings->list.n; i++) {
    bool of_gauge = false;
    for (size_t k = 0; k < sizeof rules / sizeof *rules; k++)
      of_gauge = of_gauge || findings->list.at[i]->rule == rules[k];
    if (!of_gauge) findings->list.at[kept++] = findings->list.at[i];
  }
  findings->list.n = kept;
}

/* The job once more, with the parts that were fitted and what was measured. The findings are
 * those of what came out, not of what was expected. */
static Compiled compile_completed(Run *run, const LoadSource *source, const Request *request,
                                  const Compiled *blank, Readings *readings) {
  Printed printed = {blank->job, blank->plan, blank->reissue};
  Compiled completed = {.reissue = blank->reissue};
  completed.library = load(run, source, request->build);
  if (!completed.library) return *blank; /* the file went away meanwhile; that was reported */
  readings_fit(run, completed.library, &printed, readings);
  completed.job = resolve(run, completed.library);
  completed.job->reissue = blank->reissue;
  readings_take(run, completed.job, &printed, readings);
  completed.plan = plan_job(run, completed.job);
  forget_gauges(run->findings);
  plan_as_printed(blank->plan, completed.plan);
  check_job(run, completed.job, completed.plan);
  if (readings->fitted.n)
    readings_same_work(
        run, readings,
        compose_reissue(run, blank->job, blank->plan, completed.job, completed.plan));
  return completed;
}

static void take_readings(Run *run, const LoadSource *source, const Request *request,
                          Compiled *compiled) {
  Readings *readings = load_readings(run, source, request->readings);
  Printed printed = {compiled->job, compiled->plan, compiled->reissue};
  if (!readings || !readings_belong(run, &printed, readings)) return;
  Findings *blank = run->findings;
  run->findings = findings_new(run->arena);
  for (size_t i = 0; i < blank->list.n; i++) /* of reading the file */
    if (blank->list.at[i]->at.source == readings->at.source)
      vec_push(run->arena, &run->findings->list, blank->list.at[i]);
  *compiled = compile_completed(run, source, request, compiled, readings);
}

Compiled compile_check_from(Run *run, const LoadSource *source, const Request *request) {
  Compiled compiled = compile_blank(run, source, request->build);
  bool fit = compiled.job && !findings_refuse(run->findings);
  if (fit && request->since)
    compiled.job->reissue = compiled.reissue = compare(run, source, request, &compiled);
  if (fit && request->readings && (compiled.reissue || !request->since))
    take_readings(run, source, request, &compiled);
  findings_sort(run->findings);
  return compiled;
}

Compiled compile_check(Run *run, const Request *request) {
  LoadSource source = disk_source(request);
  return compile_check_from(run, &source, request);
}

/* ISO 216 and ANSI Y14.1, mm. */
#define A4_WIDTH      MM(210)
#define A4_HEIGHT     MM(297)
#define LETTER_WIDTH  MM(215.9)
#define LETTER_HEIGHT MM(279.4)

static bool is_on_letter(const Request *request, const Job *job) {
  if (request->paper) return text_is(request->paper, "letter");
  const Entry *packet = job->build->packet.entry;
  return packet && text_is(packet->is.packet.paper.s, "letter");
}

void compile_packet(Run *run, const Request *request, Compiled *compiled) {
  bool letter = is_on_letter(request, compiled->job);
  Um width = letter ? LETTER_WIDTH : A4_WIDTH, height = letter ? LETTER_HEIGHT : A4_HEIGHT;
  compiled->packet = compose_packet(run, compiled->job, compiled->plan);
  compiled->packet->duplex = compiled->packet->duplex || request->duplex;
  compiled->pages = layout_packet(run, compiled->packet, width, height);
  findings_sort(run->findings);
}

static bool has_sheet(const Packet *packet, const char *id) {
  for (size_t i = 0; i < packet->sheets.n; i++)
    if (text_is(packet->sheets.at[i]->id, id)) return true;
  return false;
}

const char *compile_part(Run *run, const Request *request, Compiled *compiled) {
  Packet *packet = compiled->packet;
  Words asked = {0};
  if (!request->sheets) return NULL;
  text_split(run->arena, request->sheets, ',', &asked);
  for (size_t i = 0; i < asked.n; i++) asked.at[i] = text_trim(run->arena, asked.at[i]);
  for (size_t i = 0; i < asked.n; i++)
    if (!has_sheet(packet, asked.at[i])) return asked.at[i];
  size_t kept = 0;
  for (size_t i = 0; i < packet->sheets.n; i++)
    if (text_has(&asked, packet->sheets.at[i]->id))
      packet->sheets.at[kept++] = packet->sheets.at[i];
  packet->sheets.n = kept;
  pages_part(run, compiled->pages, &asked);
  return NULL;
}
