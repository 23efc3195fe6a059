/* The pipeline: one call a stage, in order. */
#ifndef SHEAF_COMPILE_H
#define SHEAF_COMPILE_H

#include "load/load.h"
#include "model/packet.h"
#include "model/pages.h"
#include "model/reissue.h"

typedef struct Request {
  const char *build;    /* path of the build's file */
  Words libraries;      /* folders, the first wins */
  const char *paper;    /* "a4", "letter", or NULL: as the packet asks */
  const char *sheets;   /* "torque,customer": ids of sheets, or NULL: all */
  bool duplex;          /* for both sides of the paper, whatever the packet asks */
  const char *readings; /* path of a file of readings, or NULL: a blank packet */
  const char *since;    /* path of the build as it was issued before, or NULL */
  const char *since_library; /* a folder that comes before the others for it alone, or NULL */
} Request;

typedef struct Compiled {
  Library *library;
  Job *job;
  Plan *plan;
  Reissue *reissue; /* NULL: not compared */
  Packet *packet;
  Pages *pages;
} Compiled;

/* Where entries come from on disk. */
LoadSource disk_source(const Request *request);

/* Reads, resolves, plans and checks; then compares with the earlier issue and takes the
 * readings in. Findings are sorted; job is NULL when there was too little to go on. Readings
 * meet only a build that is fit without them. */
Compiled compile_check(Run *run, const Request *request);
/* The same with texts that come from elsewhere. */
Compiled compile_check_from(Run *run, const LoadSource *source, const Request *request);
/* Composes and lays out what passed; may add findings (no-glyph, too-long). */
void compile_packet(Run *run, const Request *request, Compiled *compiled);
/* Leaves only the sheets asked for in packet and pages; each page keeps its number. Answers the
 * first word that is no sheet of the packet, or NULL. */
const char *compile_part(Run *run, const Request *request, Compiled *compiled);

#endif
