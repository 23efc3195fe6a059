/* A YAML file's text as nodes with places. */
#ifndef SHEAF_READ_YAML_H
#define SHEAF_READ_YAML_H

#include "diag/finding.h"
#include "model/node.h"

/* Bounds: 10 MB of text, 20,000 bytes a line, 64 levels, 200,000 values,
 * 5,000 keys a mapping. Answers NULL after a finding when the outline cannot be made out.
 * Smaller slips are reported and the tree is answered: what they touch is marked bad. Only plain
 * YAML is taken: no tags, anchors, aliases or second documents; every scalar is text. */
Node *read_yaml(Run *run, const char *path, const char *text, size_t size);

#endif
