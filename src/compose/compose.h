/* What the packet says: sheets, groups and blocks from the job and its plan. */
#ifndef SHEAF_COMPOSE_COMPOSE_H
#define SHEAF_COMPOSE_COMPOSE_H

#include "base/text.h"
#include "model/packet.h"
#include "model/reissue.h"

Packet *compose_packet(Run *run, const Job *job, const Plan *plan);

/* The packet as plain text, sheet by sheet; what changed since the earlier issue begins with a
 * bar. */
void compose_text(Text *out, const Packet *packet);
void compose_block_text(Text *out, const Block *block);
/* What differs from the earlier issue of the job, both blank. */
Reissue *compose_reissue(Run *run, const Job *was, const Plan *was_plan, const Job *job,
                         const Plan *plan);
/* What changed since the earlier issue; nothing when there is none. */
void compose_changes(Text *out, const Reissue *reissue);
/* After the computed table: what is out of limits and what is still missing; void readings. */
void compose_readings(Text *out, const Job *job, const Plan *plan);
/* A file of readings to fill in, in bench order. */
void compose_readings_form(Text *out, const Job *job, const Plan *plan);
/* The computed table: every quantity predicted with its worst found, allowed,
 * and whose sheet says so; then the joints. */
void compose_table(Text *out, const Job *job);
/* Each quantity named (none: all): how predicted, from what, what moves it
 * most, allowed by whom, whom that overrules. Answers NULL, or what is wrong with a name. */
const char *compose_show(Text *out, const Job *job, const Words *names);
/* Each step with the reasons for its place. */
void compose_order(Text *out, const Plan *plan);

#endif
