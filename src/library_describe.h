/* One entry of the library in a few lines. */
#ifndef SHEAF_LIBRARY_DESCRIBE_H
#define SHEAF_LIBRARY_DESCRIBE_H

#include "base/text.h"
#include "model/entry.h"

/* Its file and source; of a procedure what it asks of the engine and of the work before, and what
 * it brings about; of a part which places it fills; of an engine its sets, places and openings. */
void library_describe(Text *out, const Entry *entry);

#endif
