/* Texts that are refused: by which rule, at which of their characters, with which way out. */
#ifndef SHEAF_TESTS_UNIT_SLIP_H
#define SHEAF_TESTS_UNIT_SLIP_H

#include "unit/test.h"

typedef struct Slip {
  const char *text;
  Rule rule;
  int offset, width;   /* characters */
  const char *way_out; /* part of it, or NULL */
} Slip;

/* The one finding of the run is that of the slip; begins: place of the text's first character. */
static inline void assert_slip(const Run *run, const Slip *slip, Place begins) {
  if (run->findings->list.n != 1) {
    fail_msg("'%s' gives %zu findings", slip->text, run->findings->list.n);
  }
  const Finding *finding = run->findings->list.at[0];
  int offset = finding->at.column - begins.column;
  bool placed =
      finding->at.line == begins.line && offset == slip->offset && finding->at.width == slip->width;
  if (finding->rule != slip->rule || !placed) {
    fail_msg("'%s': rule %d at %d, %d wide: %s", slip->text, (int)finding->rule, offset,
             finding->at.width, finding->text);
  }
  if (slip->way_out && !(finding->way_out && strstr(finding->way_out, slip->way_out))) {
    fail_msg("'%s': way out: %s", slip->text, finding->way_out ? finding->way_out : "none");
  }
}

#endif
