/* The three faces the program carries: widths for layout, bytes for draw.
 * Tables are made by src/model/typeface.py from the DejaVu fonts at build time. */
#ifndef SHEAF_MODEL_TYPEFACE_H
#define SHEAF_MODEL_TYPEFACE_H

#include "model/pages.h"

#include <stddef.h>
#include <stdint.h>

/* All in thousandths of the em (the size of the type). */
typedef struct FaceInfo {
  const char *name; /* of the changed font: not a DejaVu name, as its licence asks */
  int x_height, digit_height;
  int descent;                /* positive: below the baseline */
  const unsigned char *bytes; /* a TrueType file */
  size_t size;
} FaceInfo;

const FaceInfo *face_info(Face face);
/* Advance in thousandths of the em; -1 when the face has no such character. */
int face_advance(Face face, uint32_t code);
Um face_width_of(Um size, int64_t thousandths);
/* Width of UTF-8 text set at that size. */
Um face_width(Face face, Um size, const char *text);
Um face_width_n(Face face, Um size, const char *text, size_t bytes);
/* A word up to a blank or the text's end: its bytes, or 0 where it has a character that the face
 * lacks, or none. */
typedef struct FaceWord {
  size_t bytes;
  int characters;
  int64_t advance; /* thousandths */
} FaceWord;
FaceWord face_word(Face face, const char *text);
/* First character that the face lacks, or 0. */
uint32_t face_missing(Face face, const char *text);

#endif
