#include "layout/flow.h"

#include "layout/frame.h"
#include "layout/paragraph.h"

#define GROUP_SPACE MM(4.4)
#define RULE_RISE   MM(1.6) /* from a line to the heading under it */
#define BAR_ROOM    MM(14)  /* at the foot of the first page, for the scale bar */
#define HEAD_ROOM   MM(8.5) /* for a running head */
#define MOST_PAGES  5000

typedef struct Flow {
  Layout *layout;
  const Sheet *sheet;
  Words titles;
  Um y;        /* next free height, from the top of the content */
  bool at_top; /* nothing but a running head on the page yet */
  bool spaced; /* the space above a group was left already */
  int group;   /* running number over the packet */
  int deepest; /* level of bookmark that may come next */
  bool too_many;
} Flow;

static int page_now(const Flow *flow) {
  return (int)flow->layout->pages->list.n - 1;
}

static void begin_page(Flow *flow) {
  Page page = {0};
  if (flow->layout->pages->list.n >= MOST_PAGES) {
    if (!flow->too_many)
      report_too_long(flow->layout, arena_printf(flow->layout->arena, "%d pages", MOST_PAGES),
                      flow->layout->packet->title);
    flow->too_many = true;
  } else {
    vec_push(flow->layout->arena, &flow->layout->pages->list, page);
    flow->layout->pages->list.at[page_now(flow)].sheet = flow->sheet->id;
    vec_push(flow->layout->arena, &flow->titles, flow->sheet->title);
  }
  flow->y = 0;
  flow->at_top = true;
  flow->spaced = false;
}

/* Puts marks on the page; what would leave its foot was reported and is left out. */
static void put_marks(Flow *flow, const Sketch *sketch, int group) {
  Layout *layout = flow->layout;
  if (flow->too_many) return;
  Page *page = &layout->pages->list.at[page_now(flow)];
  Frame frame = frame_of(layout, page_now(flow));
  for (size_t i = 0; i < sketch->marks.n; i++) {
    Mark mark = sketch->marks.at[i];
    mark_move(layout->arena, &mark, frame.left, frame.top + flow->y);
    if (mark_bottom(&mark) > frame.bottom) continue;
    mark.group = group;
    vec_push(layout->arena, &page->marks, mark);
  }
}

static void add_bookmark(Flow *flow, int level, const char *title) {
  Layout *layout = flow->layout;
  if (flow->too_many || !title || !title[0]) return;
  if (level > flow->deepest) level = flow->deepest;
  Bookmark mark = {.title = text_clean(layout, FACE_TEXT, title), .level = level};
  mark.page = page_now(flow);
  mark.y = frame_of(layout, mark.page).top + flow->y;
  vec_push(layout->arena, &layout->pages->bookmarks, mark);
  flow->deepest = level + 1;
}

static void add_spot(Flow *flow, Spots *spots, int number) {
  if (number <= 0) return;
  Spot spot = {number, page_now(flow), 0};
  spot.y = frame_of(flow->layout, spot.page).top + flow->y;
  vec_push(flow->layout->arena, spots, spot);
}

/* What is known once a block has its place. */
static void note_block(Flow *flow, const Block *block) {
  switch (block->kind) {
  case BLOCK_HEADING:
    add_bookmark(flow, 1, block->bookmark);
    break;
  case BLOCK_STEP:
  case BLOCK_HOLD:
    add_spot(flow, &flow->layout->steps, block->step);
    add_bookmark(flow, 2, block->bookmark);
    break;
  case BLOCK_FIGURE:
    add_spot(flow, &flow->layout->figures, block->figure.number);
    break;
  default:
    break;
  }
}

/* A bar beside what is not as it was in the earlier issue. */
static void add_change_bar(Flow *flow, Piece *piece) {
  if (!piece->block->changed) return;
  Sketch bar = {.arena = flow->layout->arena};
  sketch_line(&bar, -MM(2.6), MM(0.2), -MM(2.6), piece->height - MM(0.2), POINTS(2.5));
  put_marks(flow, &bar, flow->group);
}

static Um space_above(const Flow *flow, const Piece *piece) {
  return flow->at_top || flow->spaced ? 0 : piece->space;
}

/* A line ties a heading to what follows; right under the head of a page it would be one too many.
 */
static void add_rule(Flow *flow, const Piece *piece) {
  if (piece->rule == 0 || flow->at_top) return;
  Sketch rule = {.arena = flow->layout->arena};
  Um y = -RULE_RISE - piece->rule / 2;
  sketch_line(&rule, 0, y, COLUMN_WIDTH, y, piece->rule);
  put_marks(flow, &rule, flow->group);
}

static void put_piece(Flow *flow, Piece *piece) {
  flow->y += space_above(flow, piece);
  flow->spaced = false;
  add_rule(flow, piece);
  if (piece->first) note_block(flow, piece->block);
  put_marks(flow, &piece->sketch, flow->group);
  add_change_bar(flow, piece);
  flow->y += piece->height;
  flow->at_top = false;
}

/* Height of pieces from one on, without the space above it. */
static Um height_of(const Form *form, size_t from, size_t to) {
  Um height = 0;
  for (size_t i = from; i < to; i++)
    height += form->pieces.at[i]->height + (i > from ? form->pieces.at[i]->space : 0);
  return height;
}

static size_t block_end(const Form *form, size_t at) {
  size_t end = at + 1;
  while (end < form->pieces.n && !form->pieces.at[end]->first) end++;
  return end;
}

/* One past the pieces that have to share a page with this one. */
static size_t strip_end(const Form *form, size_t at) {
  while (at + 1 < form->pieces.n && form->pieces.at[at]->with_next) at++;
  return at + 1;
}

/* Height of the page that is being filled. */
static Um room_here(const Flow *flow) {
  bool bar = page_now(flow) == 0 && flow->layout->scale_bar;
  return frame_room() - (bar ? BAR_ROOM : 0);
}

static bool fits(const Flow *flow, Um height) {
  return flow->y + height <= room_here(flow);
}

static void report_tall(Flow *flow, const Piece *piece) {
  const Block *block = piece->block;
  const char *text = block->text ? block->text : block->torque.joint;
  if (!text) text = block->hazard ? block->hazard : block->bench.title;
  report_too_long(flow->layout, "a page", text ? text : "a block");
}

static void running_head(Flow *flow, const char *text) {
  Sketch head = {.arena = flow->layout->arena};
  flow->y += text_set(flow->layout, &head, 0, 0, COLUMN_WIDTH, TYPE_BODY_BOLD, text);
  Um y = flow->y;
  flow->y = 0;
  put_marks(flow, &head, -1);
  flow->y = y + MM(3);
}

/* Begins the page that a group too tall for one goes on with. */
static void begin_next_part(Flow *flow, const Form *form, size_t at, const char *head) {
  int step = 0;
  for (size_t i = 0; i < at; i++)
    if (form->pieces.at[i]->block->step > 0) step = form->pieces.at[i]->block->step;
  begin_page(flow);
  if (step > 0)
    running_head(flow, arena_printf(flow->layout->arena, "Step %d goes on", step));
  else if (head)
    running_head(flow, head);
}

/* Too tall for the page: block by block, and within a block strip by strip. */
static void put_in_parts(Flow *flow, const Form *form, const char *head) {
  bool divides = height_of(form, 0, form->pieces.n) <= frame_room(); /* though it need not */
  size_t whole = 0; /* up to there all stands on this page for certain */
  for (size_t at = 0; at < form->pieces.n; at++) {
    Piece *piece = form->pieces.at[at];
    size_t strip = strip_end(form, at), end = block_end(form, at);
    if (end < strip) end = strip;
    bool begins = piece->first && at >= whole && !divides;
    Um block = space_above(flow, piece) + height_of(form, at, end);
    bool block_fits = begins && height_of(form, at, end) <= frame_room();
    if (block_fits && !flow->at_top && !fits(flow, block)) {
      begin_next_part(flow, form, at, head);
      block = height_of(form, at, end);
    }
    if (block_fits && fits(flow, block)) whole = end;
    Um needed = space_above(flow, piece) + height_of(form, at, strip);
    if (at >= whole && !flow->at_top && !fits(flow, needed)) {
      begin_next_part(flow, form, at, head);
      if (piece->head && !piece->first) put_piece(flow, piece->head);
    }
    if (!fits(flow, piece->height)) report_tall(flow, piece);
    put_piece(flow, piece);
  }
}

static Form form_with(Layout *layout, const Group *group, bool tight) {
  Form form = {.layout = layout, .group = group};
  layout->tight = tight;
  for (size_t i = 0; i < group->blocks.n; i++) form_block(&form, i);
  layout->tight = false;
  return form;
}

/* A group that is too tall for a page is set again with less air before it is split. */
static Form form_of(Layout *layout, const Group *group) {
  Form form = form_with(layout, group, false);
  if (height_of(&form, 0, form.pieces.n) <= frame_room() - HEAD_ROOM) return form;
  return form_with(layout, group, true);
}

/* The head that is put again above groups[at] at the top of a page: its block of steps began
 * before it. */
static const char *head_again(const Sheet *sheet, size_t at) {
  int header = sheet->groups.at[at].header;
  if (at == 0 || header < 0 || (size_t)header >= sheet->headers.n) return NULL;
  return sheet->groups.at[at - 1].header == header ? sheet->headers.at[header] : NULL;
}

static const char *own_head(const Sheet *sheet, size_t at) {
  int header = sheet->groups.at[at].header;
  return header >= 0 && (size_t)header < sheet->headers.n ? sheet->headers.at[header] : NULL;
}

/* Between a group and the one before it; more above a heading. */
static Um space_between(const Form *form) {
  const Piece *first = form->pieces.at[0];
  return GROUP_SPACE + (first->block->kind == BLOCK_HEADING ? first->space : 0);
}

static void put_group(Flow *flow, const Form *form, const char *head) {
  if (!flow->at_top) flow->y += space_between(form);
  flow->spaced = !flow->at_top;
  if (!fits(flow, height_of(form, 0, form->pieces.n))) {
    put_in_parts(flow, form, head);
    return;
  }
  for (size_t i = 0; i < form->pieces.n; i++) {
    put_piece(flow, form->pieces.at[i]);
  }
}

/* Height of groups from one on that have to stay together, spaces included. */
static Um chain_height(const Sheet *sheet, const Form *forms, size_t at) {
  Um height = height_of(&forms[at], 0, forms[at].pieces.n);
  while (at + 1 < sheet->groups.n && sheet->groups.at[at].keep_with_next) {
    at++;
    if (forms[at].pieces.n == 0) continue;
    height += space_between(&forms[at]) + height_of(&forms[at], 0, forms[at].pieces.n);
  }
  return height;
}

/* Lists and tables without a step may begin on the rest of a page, where that is worth it. */
static bool may_divide(const Flow *flow, const Form *form, Um alone) {
  Um rest = room_here(flow) - flow->y;
  if (rest < frame_room() / 3 || alone < frame_room() / 3) return false;
  for (size_t i = 0; i < form->pieces.n; i++) {
    BlockKind kind = form->pieces.at[i]->block->kind;
    if (kind != BLOCK_HEADING && kind != BLOCK_TEXT && kind != BLOCK_TABLE && kind != BLOCK_BULLETS)
      return false;
  }
  return true;
}

static void flow_sheet(Flow *flow) {
  const Sheet *sheet = flow->sheet;
  Layout *layout = flow->layout;
  Form *forms = ARENA_NEW_N(layout->arena, Form, sheet->groups.n + 1);
  for (size_t i = 0; i < sheet->groups.n; i++) forms[i] = form_of(layout, &sheet->groups.at[i]);
  for (size_t i = 0; i < sheet->groups.n; i++, flow->group++) {
    if (forms[i].pieces.n == 0) continue;
    bool chained = i > 0 && sheet->groups.at[i - 1].keep_with_next && !flow->at_top;
    Um between = space_between(&forms[i]);
    Um alone = height_of(&forms[i], 0, forms[i].pieces.n);
    Um needed = chain_height(sheet, forms, i);
    if (needed > frame_room()) needed = alone;
    bool can_fit = alone <= frame_room();
    bool begins = !chained && !flow->at_top && can_fit && !fits(flow, between + needed);
    if (begins && !may_divide(flow, &forms[i], alone)) begin_page(flow);
    if (chained && can_fit && !fits(flow, between + alone)) begin_page(flow);
    if (flow->at_top && flow->y == 0 && head_again(sheet, i))
      running_head(flow, head_again(sheet, i));
    put_group(flow, &forms[i], own_head(sheet, i));
  }
}

/* A print that was scaled is found out on its first page. */
static void add_scale_bar(Flow *flow) {
  Layout *layout = flow->layout;
  if (!layout->scale_bar || layout->pages->list.n == 0) return;
  Sketch bar = {.arena = layout->arena};
  Um height = scale_bar_set(layout, &bar);
  Frame frame = frame_of(layout, 0);
  for (size_t i = 0; i < bar.marks.n; i++) {
    Mark mark = bar.marks.at[i];
    mark_move(layout->arena, &mark, frame.left, frame.bottom - height);
    vec_push(layout->arena, &layout->pages->list.at[0].marks, mark);
  }
}

static bool has_scale_bar(const Packet *packet) {
  for (size_t i = 0; i < packet->sheets.n; i++) {
    const Sheet *sheet = packet->sheets.at[i];
    for (size_t j = 0; j < sheet->groups.n; j++)
      for (size_t k = 0; k < sheet->groups.at[j].blocks.n; k++)
        if (sheet->groups.at[j].blocks.at[k]->kind == BLOCK_SCALE_BAR) return true;
  }
  return false;
}

/* Each sheet can be taken out by itself: the back of the one before stays empty. */
static void begin_sheet(Flow *flow, const Sheet *before) {
  if (before && flow->layout->packet->duplex && page_now(flow) % 2 == 0) {
    const Sheet *sheet = flow->sheet;
    flow->sheet = before;
    begin_page(flow);
    running_head(flow, "This side is left empty.");
    flow->sheet = sheet;
  }
  begin_page(flow);
}

Words flow_pages(Layout *layout) {
  Flow flow = {.layout = layout};
  layout->scale_bar = has_scale_bar(layout->packet);
  for (size_t i = 0; i < layout->packet->sheets.n; i++) {
    flow.sheet = layout->packet->sheets.at[i];
    layout->where = flow.sheet->title;
    flow.deepest = 0;
    if (i == 0 || flow.sheet->new_page)
      begin_sheet(&flow, i > 0 ? layout->packet->sheets.at[i - 1] : NULL);
    add_bookmark(&flow, 0, flow.sheet->title);
    flow.deepest = 1;
    flow_sheet(&flow);
  }
  add_scale_bar(&flow);
  return flow.titles;
}
