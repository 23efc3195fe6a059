/* The tables that src/model/typeface.py writes; only typeface.c reads them. */
#ifndef SHEAF_MODEL_TYPEFACE_DATA_H
#define SHEAF_MODEL_TYPEFACE_DATA_H

#include "model/typeface.h"

typedef struct FaceGlyph {
  uint16_t code;    /* all within the basic plane */
  uint16_t advance; /* thousandths of the em */
} FaceGlyph;

typedef struct FaceData {
  FaceInfo info;
  const FaceGlyph *glyphs; /* by rising code */
  size_t glyph_count;
} FaceData;

extern const FaceData face_data[FACE_COUNT];

#endif
