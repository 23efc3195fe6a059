#include "commands.h"

#include "compile.h"
#include "compose/compose.h"
#include "diag/render.h"
#include "draw/listing.h"
#include "draw/output.h"
#include "draw/pdf.h"
#include "files.h"

#include "base/text.h"

#include <stdio.h>
#include <string.h>

#define FINDINGS_SHOWN 200

/* One build, start to end, in memory of its own. */
typedef struct Work {
  const Command *command;
  Run run;
  Request request;
  Compiled compiled;
} Work;

static Work work_begin(const Command *command, const char *build) {
  Arena *arena = arena_new();
  Work work = {.command = command, .run = {arena, findings_new(arena)}};
  work.request = (Request){.build = build,
                           .libraries = command->libraries,
                           .paper = command->paper,
                           .sheets = command->sheets,
                           .duplex = command->duplex,
                           .readings = command->readings,
                           .since = command->since,
                           .since_library = command->since_library};
  return work;
}

/* Shows the findings, gives the memory back, and answers the exit status. */
static int work_end(Work *work, int status) {
  Findings *findings = work->run.findings;
  Text out = text_new(work->run.arena);
  if (text_is(work->command->findings, "json"))
    render_findings_json(&out, findings);
  else
    render_findings(&out, findings, FINDINGS_SHOWN);
  fputs(text_done(&out), stderr);
  if (status == EXIT_DONE && findings_unreadable(findings)) status = EXIT_UNREADABLE;
  if (status == EXIT_DONE && findings_refuse(findings)) status = EXIT_REFUSED;
  arena_free(work->run.arena);
  return status;
}

static bool is_fit(const Work *work) {
  return work->compiled.job && !findings_refuse(work->run.findings);
}

static int say_unwritten(const char *trouble) {
  fprintf(stderr, "sheaf: %s\n", trouble);
  return EXIT_UNWRITTEN;
}

/* NULL: the build could not be read so far. */
static const char *job_of(const Work *work) {
  const Library *library = work->compiled.library;
  const Entry *build = library ? library->build : NULL;
  return build ? build->is.build.job.s : NULL;
}

/* Where the packet goes: the path asked for, or JOB.pdf (JOB-completed.pdf with readings) in the
 * folder asked for or in this one. NULL: nobody knows the job, so no file can be meant. */
static const char *target(const Work *work) {
  const char *output = work->command->output;
  bool folder = output && (file_is_folder(output) || output[strlen(output) - 1] == '/');
  if (output && !folder && work->command->words.n == 1) return output;
  const char *job = job_of(work);
  if (!job) return NULL;
  /* a completed packet does not take the place of the blank one */
  return arena_printf(work->run.arena, "%s%s%s%s.pdf", output ? output : "",
                      output && output[strlen(output) - 1] != '/' ? "/" : "", job,
                      work->command->readings ? "-completed" : "");
}

/* Nothing but a packet of ours is ever replaced: -o may name a build by a slip. */
static int say_foreign(const char *path) {
  fprintf(stderr,
          "sheaf: %s is there already and is no packet of sheaf; it stays as it is. Name another "
          "file with -o\n",
          path);
  return EXIT_UNWRITTEN;
}

static int say_unread(const char *path) {
  fprintf(stderr,
          "sheaf: %s is there already and cannot be read, so nobody knows whose it is; it stays as "
          "it is. Name another file with -o\n",
          path);
  return EXIT_UNWRITTEN;
}

/* A packet of another job: where either job is not known, none. */
static bool is_of_another_job(const Work *work, const OutputFile *old) {
  const char *job = job_of(work);
  return job && old->owner == OUTPUT_OWN && old->job[0] && !text_is(job, old->job);
}

static int say_other_job(const Work *work, const char *path, const OutputFile *old) {
  fprintf(
      stderr,
      "sheaf: %s is the packet of job %s, this build is job %s; it stays as it is. Name another "
      "file with -o\n",
      path, old->job, job_of(work));
  return EXIT_UNWRITTEN;
}

/* A folder that is not there is made by nobody: it may be a slip. */
static void say_no_folder(const char *path) {
  const char *slash = strrchr(path, '/');
  if (!slash || slash == path) return;
  char folder[4096];
  int n = snprintf(folder, sizeof folder, "%.*s", (int)(slash - path), path);
  if (n > 0 && (size_t)n < sizeof folder && !file_is_folder(folder))
    fprintf(stderr, "sheaf: there is no folder %s: make it first, or name another with -o\n",
            folder);
}

/* Two builds of one job would overwrite each other's packet, the last one winning in silence. */
static bool is_taken(const Work *work, Words *written, const char *path) {
  if (text_is(path, "-")) return false;
  if (text_has(written, path)) {
    fprintf(stderr,
            "sheaf: %s: %s was written by another build of this call; give each job a number of "
            "its own, or print one at a time\n",
            work->request.build, path);
    return true;
  }
  return false;
}

static int set_aside(const Work *work, const char *path) {
  const char *became = NULL, *trouble = output_set_aside(work->run.arena, path, &became);
  if (trouble) return say_unwritten(trouble);
  if (became) fprintf(stderr, "sheaf: the older packet %s is now %s\n", path, became);
  return EXIT_DONE;
}

/* An older packet of a build that is refused now must not be printed. */
static int set_older_aside(Work *work, Words *written) {
  const char *path = target(work);
  if (!path || !text_is(work->command->as, "pdf")) return EXIT_DONE;
  if (is_taken(work, written, path)) return EXIT_UNREADABLE;
  OutputFile old = output_look(path);
  if (old.owner == OUTPUT_UNREAD) return say_unread(path);
  if (old.owner == OUTPUT_FOREIGN || is_of_another_job(work, &old)) return EXIT_DONE;
  return set_aside(work, path);
}

/* The bytes at path, which stays as it is if it is somebody else's or another job's. What was
 * measured cannot be printed again from a blank packet: a completed one is set aside. */
static int write_safely(Work *work, Words *written, const char *path, const void *bytes,
                        size_t size) {
  if (is_taken(work, written, path)) return EXIT_UNREADABLE;
  OutputFile old = output_look(path);
  if (old.owner == OUTPUT_UNREAD) return say_unread(path);
  if (old.owner == OUTPUT_FOREIGN) return say_foreign(path);
  if (is_of_another_job(work, &old)) return say_other_job(work, path, &old);
  if (old.completed && !work->command->readings && set_aside(work, path) != EXIT_DONE)
    return EXIT_UNWRITTEN;
  const char *trouble = output_write(work->run.arena, path, bytes, size);
  if (trouble) {
    say_no_folder(path);
    return say_unwritten(trouble);
  }
  /* the call's memory, not this build's: the next build asks */
  vec_push(work->command->arena, written, arena_printf(work->command->arena, "%s", path));
  return EXIT_DONE;
}

static int write_out(Work *work, Words *written) {
  Compiled *compiled = &work->compiled;
  Arena *arena = work->run.arena;
  const char *as = work->command->as;
  if (!text_is(as, "pdf")) {
    Text text = text_new(arena);
    if (text_is(as, "text"))
      compose_text(&text, compiled->packet);
    else
      text_add(&text, draw_listing(&work->run, compiled->pages));
    const char *path = work->command->output ? target(work) : "-";
    return write_safely(work, written, path, text_done(&text), text.n);
  }
  Drawing drawing = draw_pdf(&work->run, compiled->pages);
  if (drawing.trouble) return say_unwritten(drawing.trouble);
  const char *path = target(work);
  int status = write_safely(work, written, path, drawing.bytes, drawing.size);
  if (status == EXIT_DONE && !text_is(path, "-"))
    printf("%s: %zu pages, revision %.8s\n", path, compiled->pages->list.n,
           compiled->job->revision);
  return status;
}

static const char *sheets_of(Work *work) {
  Text text = text_new(work->run.arena);
  const Packet *packet = work->compiled.packet;
  for (size_t i = 0; i < packet->sheets.n; i++)
    text_addf(&text, "%s%s", i ? ", " : "", packet->sheets.at[i]->id);
  return text_done(&text);
}

static int packet_of(const Command *command, const char *build, Words *written) {
  Work work = work_begin(command, build);
  work.compiled = compile_check(&work.run, &work.request);
  if (is_fit(&work)) compile_packet(&work.run, &work.request, &work.compiled);
  const char *unknown =
      is_fit(&work) ? compile_part(&work.run, &work.request, &work.compiled) : NULL;
  if (unknown) {
    fprintf(stderr, "sheaf: --sheets: the packet of %s has no sheet %s; it has %s\n", build,
            unknown, sheets_of(&work));
    return work_end(&work, EXIT_UNREADABLE);
  }
  int status = is_fit(&work) ? write_out(&work, written) : set_older_aside(&work, written);
  return work_end(&work, status);
}

/* Each build in turn; one bad build does not stop the others. The worst status is answered. */
int command_packet(const Command *command) {
  const char *output = command->output;
  if (output && command->words.n > 1 && !file_is_folder(output) &&
      output[strlen(output) - 1] != '/') {
    fprintf(stderr, "sheaf: -o names a folder where there are several builds; %s is none\n",
            output);
    return EXIT_UNREADABLE;
  }
  Words written = {0};
  int worst = EXIT_DONE;
  for (size_t i = 0; i < command->words.n; i++) {
    int status = packet_of(command, command->words.at[i], &written);
    if (status > worst) worst = status;
  }
  return worst;
}

static int check_of(const Command *command, const char *build) {
  Work work = work_begin(command, build);
  work.compiled = compile_check(&work.run, &work.request);
  /* composing and laying out find what cannot be printed */
  if (is_fit(&work)) compile_packet(&work.run, &work.request, &work.compiled);
  if (work.compiled.job) {
    Text out = text_new(work.run.arena);
    compose_table(&out, work.compiled.job);
    compose_changes(&out, work.compiled.reissue);
    compose_readings(&out, work.compiled.job, work.compiled.plan);
    text_addf(&out, "\nrevision %s, library %s\n", work.compiled.job->revision,
              work.compiled.job->library_revision);
    fputs(text_done(&out), stdout);
  }
  return work_end(&work, EXIT_DONE);
}

int command_check(const Command *command) {
  int worst = EXIT_DONE;
  for (size_t i = 0; i < command->words.n; i++) {
    int status = check_of(command, command->words.at[i]);
    if (status > worst) worst = status;
  }
  return worst;
}

int command_show(const Command *command) {
  Work work = work_begin(command, command->words.at[0]);
  work.compiled = compile_check(&work.run, &work.request);
  Text out = text_new(work.run.arena);
  int status = EXIT_DONE;
  if (work.compiled.job && command->order)
    compose_order(&out, work.compiled.plan);
  else if (work.compiled.job) {
    Words names = {0};
    for (size_t i = 1; i < command->words.n; i++)
      vec_push(work.run.arena, &names, command->words.at[i]);
    const char *trouble = compose_show(&out, work.compiled.job, &names);
    if (trouble) {
      fprintf(stderr, "sheaf: %s\n", trouble);
      status = EXIT_UNREADABLE;
    }
  }
  fputs(text_done(&out), stdout);
  return work_end(&work, status);
}

int command_readings(const Command *command) {
  Work work = work_begin(command, command->words.at[0]);
  const char *path = command->words.at[1], *old = NULL;
  size_t size = 0;
  int status = EXIT_DONE;
  work.compiled = compile_check(&work.run, &work.request);
  if (!is_fit(&work)) return work_end(&work, status);
  Text out = text_new(work.run.arena);
  compose_readings_form(&out, work.compiled.job, work.compiled.plan);
  bool there = !text_is(path, "-") && file_read(&work.run, path, &old, &size) != FILE_ABSENT;
  const char *trouble =
      there ? arena_printf(work.run.arena, "%s is there already and stays as it is", path)
            : output_write(work.run.arena, path, text_done(&out), out.n);
  if (trouble)
    status = say_unwritten(trouble);
  else if (!text_is(path, "-"))
    printf("%s: %zu boxes to fill in, revision %.8s\n", path, work.compiled.plan->boxes.n,
           work.compiled.job->revision);
  return work_end(&work, status);
}
