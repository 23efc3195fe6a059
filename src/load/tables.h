/* Walking the tables, for the editor schema and the reference page. */
#ifndef SHEAF_LOAD_TABLES_H
#define SHEAF_LOAD_TABLES_H

#include "load/field.h"

typedef VEC(const Shape *) Shapes;

/* Every mapping inside the entries of all kinds, each once, in the order the tables
 * mention them; the kinds' own are not among them. */
Shapes shapes_inside(Arena *arena);
/* A name for the mapping, unlike that of any other: "pass", "pass_2". */
const char *shape_slug(Arena *arena, const Shapes *shapes, const Shape *shape);

#endif
