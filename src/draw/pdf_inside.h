/* What the files that draw the PDF share. */
#ifndef SHEAF_DRAW_PDF_INSIDE_H
#define SHEAF_DRAW_PDF_INSIDE_H

#include "draw/pdf.h"
#include "model/typeface.h"

#include <hpdf.h>

/* Whether the library's own structures may be relied on: they are known for
 * this version only. Without them fonts go through a file, every font carries
 * the map of all 65,536 codes, and some viewers complain about the text map. */
#ifndef SHEAF_PDF_INNER
#define SHEAF_PDF_INNER (HPDF_VERSION_ID == 20300)
#endif

/* Where the library's memory comes from; NULL in both: malloc and free. */
typedef struct PdfMemory {
  HPDF_Alloc_Func take;
  HPDF_Free_Func give_back;
} PdfMemory;

/* One document being drawn. Everything stops at the first trouble. */
typedef struct Press {
  Run *run;
  const Pages *pages;
  HPDF_Doc pdf;
  HPDF_STATUS code, detail;    /* the library's first error; 0: none */
  const char *trouble;         /* ours, said in full */
  HPDF_Encoder encoder;        /* UTF-8 */
  HPDF_Font fonts[FACE_COUNT]; /* NULL: that face is not used */
  HPDF_Page *sheets;           /* one a page */
} Press;

Drawing pdf_draw_with(Run *run, const Pages *pages, PdfMemory memory);

bool press_stopped(Press *press);

/* Embeds the faces that the pages use. */
void press_fonts(Press *press);
/* The marks of one page, but for its links. */
void press_marks(Press *press, size_t page);
/* Links of all pages, bookmarks and document information. */
void press_guides(Press *press);

static inline HPDF_REAL in_mm(Um length) {
  return (HPDF_REAL)(length / (double)UM_PER_MM);
}

static inline HPDF_REAL in_points(Um length) {
  return (HPDF_REAL)(length / UM_PER_POINT);
}

#endif
