/* Findings as text for people, and as JSON for other programs. */
#ifndef SHEAF_DIAG_RENDER_H
#define SHEAF_DIAG_RENDER_H

#include "base/text.h"
#include "diag/finding.h"

/* FILE:LINE:COLUMN: refused: text [slug], the line, a mark under it, notes,
 * and the way out. most: how many are shown, the rest is counted; 0 means all. */
void render_findings(Text *out, const Findings *findings, size_t most);

/* {"findings": [{"rule", "severity", "file", "line", "column", "width",
 * "text", "way_out", "why", "notes": [...]}], "refused": true} */
void render_findings_json(Text *out, const Findings *findings);

#endif
