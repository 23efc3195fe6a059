/* Finished pages as a PDF file in memory. */
#ifndef SHEAF_DRAW_PDF_H
#define SHEAF_DRAW_PDF_H

#include "diag/finding.h"
#include "model/pages.h"

typedef struct Drawing {
  const unsigned char *bytes; /* in the arena; NULL when nothing could be drawn */
  size_t size;
  const char *trouble; /* why not, as a clause; NULL when all went well */
} Drawing;

/* One PDF with the faces in it, bookmarks, links and document information.
 * The same pages give the same bytes, whatever the clock, the locale or the
 * folder: its only date is the one in pages. A text with a character that its
 * face lacks is trouble, never a silent box. */
Drawing draw_pdf(Run *run, const Pages *pages);

#endif
