#include "compose/compose.h"

#include "compose/composer.h"
#include "model/readings.h"

typedef struct SheetMaker {
  const char *id;
  void (*make)(Composer *c);
} SheetMaker;

/* In the order of a packet that does not say otherwise. */
static const SheetMaker makers[] = {
    {"job", sheet_job},
    {"safety", sheet_safety},
    {"setup", sheet_setup},
    {"bench", sheet_bench},
    {"torque", sheet_torque},
    {"values", sheet_values},
    {"nonconformance", sheet_nonconformance},
    {"start", sheet_start},
    {"customer", sheet_customer},
};
#define MAKERS (sizeof makers / sizeof *makers)

static void make_sheets(Composer *c) {
  const Entry *asked = c->job->build->packet.entry;
  if (!asked || !asked->is.packet.sheets.n) {
    for (size_t i = 0; i < MAKERS; i++) makers[i].make(c);
    return;
  }
  for (size_t i = 0; i < asked->is.packet.sheets.n; i++)
    for (size_t j = 0; j < MAKERS; j++)
      if (text_is(asked->is.packet.sheets.at[i].s, makers[j].id)) makers[j].make(c);
}

Packet *compose_packet(Run *run, const Job *job, const Plan *plan) {
  Packet *packet = ARENA_NEW(run->arena, Packet);
  const BuildEntry *build = job->build;
  Composer c = {.run = run, .arena = run->arena, .job = job, .plan = plan, .packet = packet};
  c.joint_figure = ARENA_NEW_N(run->arena, int, job->joints.n + 1);
  c.step_figure = ARENA_NEW_N(run->arena, int, plan->steps.n + 1);
  packet->job = said_or(&build->job, "");
  const char *number = build_line(job, "engine_number");
  packet->engine_number = number ? number : "";
  number = build_line(job, "frame_number");
  packet->frame_number = number ? number : "";
  packet->title = said_or(&job->build_entry->name, packet->job);
  packet->revision = job->revision;
  packet->library_revision = job->library_revision;
  packet->program = SHEAF_PROGRAM;
  packet->date = said_or(&build->date, "");
  packet->copy = said_or(&build->copy, "1");
  packet->shop = job->shop_entry ? said_or(&job->shop_entry->name, "") : "";
  packet->subject = arena_printf(run->arena, "Work packet for job %s, %s", packet->job,
                                 said_or(&job->engine_entry->name, ""));
  packet->author = packet->shop;
  packet->keywords = arena_printf(run->arena, "job %s, inputs %s, library %s, %s", packet->job,
                                  packet->revision, packet->library_revision, packet->program);
  if (job->readings) {
    packet->subject = arena_printf(run->arena, "Completed work packet for job %s, %s", packet->job,
                                   said_or(&job->engine_entry->name, ""));
    packet->keywords =
        arena_printf(run->arena, "%s, readings %s", packet->keywords, job->readings->digest);
  }
  const Entry *asked = build->packet.entry;
  packet->duplex = asked && text_is(asked->is.packet.sides.s, "both");
  c.brief = asked && text_is(asked->is.packet.detail.s, "short");
  make_sheets(&c);
  return packet;
}
