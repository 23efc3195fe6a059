/* One page being filled: pieces put on it from the top down. */
#ifndef SHEAF_LAYOUT_FLOW_PAGE_H
#define SHEAF_LAYOUT_FLOW_PAGE_H

#include "layout/inside.h"

typedef struct Flow {
  Layout *layout;
  const Sheet *sheet;
  Words titles;
  Um y;                /* next free height, from the top of the content */
  bool at_top;         /* nothing but a running head on the page yet */
  bool spaced;         /* the space above a group was left already */
  bool snug;           /* the page is set with less air, so that one group more stands on it */
  int group;           /* running number over the packet */
  const char *section; /* the heading that was put last */
  int deepest;         /* level of bookmark that may come next */
  bool too_many;
} Flow;

void begin_page(Flow *flow);
int page_now(const Flow *flow); /* from 0 */
Um room_here(const Flow *flow); /* height of the page that is being filled */
bool fits(const Flow *flow, Um height);

void add_bookmark(Flow *flow, int level, const char *title);
void running_head(Flow *flow, const char *text);
/* Of a section that goes on, once it has a heading; nothing else begins a page without one. */
void section_head(Flow *flow);
void put_piece(Flow *flow, Piece *piece);
/* Too tall for the page: block by block, and within a block strip by strip. head: put again where
 * it goes on. */
void put_in_parts(Flow *flow, const Form *form, const char *head);

/* Height of pieces from one on, without the space above it. */
Um height_of(const Form *form, size_t from, size_t to);
/* What a group that goes on over pages has to have on its first. */
Um beginning_height(const Form *form);

/* What may be undone: all that was put since the page began, or since a part that ended on it. */
typedef struct Start {
  size_t group; /* of the sheet, the first that was put since */
  Um y;
  bool at_top;
  int deepest;
  size_t marks, bookmarks, steps, figures;
} Start;

Start start_now(const Flow *flow, size_t group);
void start_again(Flow *flow, const Start *start);

#endif
