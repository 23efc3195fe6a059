/* What ids the libraries hold. */
#ifndef SHEAF_LIBRARY_IDS_H
#define SHEAF_LIBRARY_IDS_H

#include "model/entry.h"

/* Ids of a kind over all library folders, each once, folder by folder. */
Words library_ids(Run *run, const Words *libraries, EntryKind kind);

#endif
