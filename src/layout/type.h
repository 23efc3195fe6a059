/* The sizes of type on a sheet, each with a name and one use. */
#ifndef SHEAF_LAYOUT_TYPE_H
#define SHEAF_LAYOUT_TYPE_H

#include "model/pages.h"
#include "model/typeface.h"

/* Never a hair under what was asked for. */
#define POINTS(x) ((Um)((x)*UM_PER_POINT) + 1)

/* Step text must have an x-height of 2.3 mm, values a digit height of 3.5 mm;
 * nothing is under 8 points. Leading is 1.25 to 1.35 of the size. */
typedef enum TypeName {
#define TYPE(id, face, points, leading) TYPE_##id,
#include "layout/types.def"
#undef TYPE
  TYPE_COUNT
} TypeName;

typedef struct Type {
  Face face;
  Um size;
  Um leading; /* from one baseline to the next */
} Type;

const Type *type_of(TypeName name);
/* From the top of a line to its baseline: capitals and figures stand in the
 * middle of the line. */
Um type_baseline(const Type *type);
/* Height of figures, and of capitals near enough. */
Um type_digits(const Type *type);
Um type_width(TypeName name, const char *text);
Um type_width_n(TypeName name, const char *text, size_t bytes);

#endif
