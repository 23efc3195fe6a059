/* Sheets to pages: lines, text, boxes and figures with places on paper. */
#ifndef SHEAF_LAYOUT_LAYOUT_H
#define SHEAF_LAYOUT_LAYOUT_H

#include "diag/finding.h"
#include "model/packet.h"
#include "model/pages.h"

/* Reports no-glyph and too-long. width and height of the paper; all ink stays
 * within 178 x 255 mm, 20 mm from the binding edge. */
Pages *layout_packet(Run *run, const Packet *packet, Um width, Um height);
/* Leaves the pages of those sheets, with what leads to them: ids as in the packet. */
void pages_part(Run *run, Pages *pages, const Words *sheets);

#endif
