/* Text broken into lines: ragged right, at most 65 characters, references to
 * steps filled in. */
#ifndef SHEAF_LAYOUT_PARAGRAPH_H
#define SHEAF_LAYOUT_PARAGRAPH_H

#include "layout/inside.h"

#define MOST_CHARACTERS 65

typedef enum Align { ALIGN_LEFT, ALIGN_RIGHT, ALIGN_CENTRE } Align;

typedef struct Paragraph {
  TypeName type;
  const char *lead; /* words in bold that the first line begins with, or NULL */
  const char *text;
  Um width;
  Align align;
  Ink ink;
} Paragraph;

/* Sets the paragraph with its top left corner there; answers its height. */
Um paragraph_set(Layout *layout, Sketch *sketch, Um x, Um y, const Paragraph *paragraph);
/* The same for the usual: from the left, in black. */
Um text_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, TypeName type, const char *text);
/* One line, not broken: on the line whose top is y. Answers its width. Cut short with an
 * ellipsis where it is wider than most (0: never). */
Um line_set(Layout *layout, Sketch *sketch, Um x, Um y, Um most, TypeName type, const char *text);
Um line_set_right(Layout *layout, Sketch *sketch, Um right, Um y, Um most, TypeName type,
                  const char *text);
Um line_set_centre(Layout *layout, Sketch *sketch, Um middle, Um y, Um most, TypeName type,
                   const char *text);
/* Characters that the face lacks become "?" and a finding; so do control characters. */
const char *text_clean(Layout *layout, Face face, const char *text);

#endif
