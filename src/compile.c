#include "compile.h"

#include "check/check.h"
#include "compose/compose.h"
#include "files.h"
#include "layout/layout.h"
#include "plan/plan_job.h"
#include "read/yaml.h"
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

LoadSource disk_source(const Request *request) {
  return (LoadSource){
      .text = disk_text, .nodes = read_yaml, .ids = disk_ids, .libraries = request->libraries};
}

Compiled compile_check_from(Run *run, const LoadSource *source, const Request *request) {
  Compiled compiled = {0};
  compiled.library = load_build(run, source, request->build);
  if (compiled.library && compiled.library->build)
    compiled.job = resolve_job(run, compiled.library);
  if (compiled.job) {
    load_revision(run, compiled.library, &compiled.job->revision, &compiled.job->library_revision);
    compiled.plan = plan_job(run, compiled.job);
    check_job(run, compiled.job, compiled.plan);
  }
  findings_sort(run->findings);
  return compiled;
}

Compiled compile_check(Run *run, const Request *request) {
  LoadSource source = disk_source(request);
  return compile_check_from(run, &source, request);
}

static bool is_letter(const Request *request, const Job *job) {
  if (request->paper) return text_is(request->paper, "letter");
  const Entry *packet = job->build->packet.entry;
  return packet && text_is(packet->is.packet.paper.s, "letter");
}

void compile_packet(Run *run, const Request *request, Compiled *compiled) {
  bool letter = is_letter(request, compiled->job);
  Um width = letter ? MM(215.9) : MM(210), height = letter ? MM(279.4) : MM(297);
  compiled->packet = compose_packet(run, compiled->job, compiled->plan);
  compiled->pages = layout_packet(run, compiled->packet, width, height);
  findings_sort(run->findings);
}
