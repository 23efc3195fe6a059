#include "layout/flow_page.h"

#include "layout/frame.h"
#include "layout/paragraph.h"

#define RULE_RISE   MM(1.6) /* from a line to the heading under it */
#define BAR_ROOM    MM(14)  /* at the foot of the first page, for the scale bar */
#define MOST_PAGES  5000
#define USUAL_MARKS 128

int page_now(const Flow *flow) {
  return (int)flow->layout->pages->list.n - 1;
}

void begin_page(Flow *flow) {
  Page page = {0};
  if (flow->layout->pages->list.n >= MOST_PAGES) {
    if (!flow->too_many)
      report_too_long(flow->layout, arena_printf(flow->layout->arena, "%d pages", MOST_PAGES),
                      flow->layout->packet->title);
    flow->too_many = true;
  } else {
    if (flow->layout->second) { /* only then marks are put */
      page.marks.room = USUAL_MARKS;
      page.marks.at = arena_room(flow->layout->arena, USUAL_MARKS * sizeof *page.marks.at);
    }
    vec_push(flow->layout->arena, &flow->layout->pages->list, page);
    flow->layout->pages->list.at[page_now(flow)].sheet = flow->sheet->id;
    vec_push(flow->layout->arena, &flow->titles, flow->sheet->title);
  }
  flow->y = 0;
  flow->at_top = true;
  flow->spaced = false;
  flow->snug = false;
}

/* Puts marks on the page; what would leave its foot was reported and is left out. */
static void put_marks(Flow *flow, const Sketch *sketch, int group) {
  Layout *layout = flow->layout;
  if (flow->too_many || !layout->second) return; /* the first time is for the places alone */
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

void add_bookmark(Flow *flow, int level, const char *title) {
  Layout *layout = flow->layout;
  if (flow->too_many || !title || !title[0]) return;
  if (level > flow->deepest) level = flow->deepest;
  Bookmark mark = {.title = text_clean(layout, FACE_TEXT, references_said(layout->arena, title)),
                   .level = level};
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
    flow->section = block->text;
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

void put_piece(Flow *flow, Piece *piece) {
  flow->y += space_above(flow, piece);
  flow->spaced = false;
  add_rule(flow, piece);
  if (piece->first) note_block(flow, piece->block);
  put_marks(flow, &piece->sketch, flow->group);
  add_change_bar(flow, piece);
  flow->y += piece->height;
  flow->at_top = false;
}

Um height_of(const Form *form, size_t from, size_t to) {
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

Um beginning_height(const Form *form) {
  size_t strip = strip_end(form, 0), end = block_end(form, 0);
  if (end < strip || height_of(form, 0, end) > frame_room()) end = strip;
  return height_of(form, 0, end);
}

Um room_here(const Flow *flow) {
  bool bar = page_now(flow) == 0 && flow->layout->scale_bar;
  return frame_room() - (bar ? BAR_ROOM : 0);
}

bool fits(const Flow *flow, Um height) {
  return flow->y + height <= room_here(flow);
}

static void report_tall(Flow *flow, const Piece *piece) {
  const Block *block = piece->block;
  const char *text = block->text ? block->text : block->torque.joint;
  if (!text) text = block->hazard ? block->hazard : block->bench.title;
  report_too_long(flow->layout, "a page", text ? text : "a block");
}

void running_head(Flow *flow, const char *text) {
  Sketch head = {.arena = flow->layout->arena};
  flow->y += text_set(flow->layout, &head, 0, 0, COLUMN_WIDTH, TYPE_BODY_BOLD, text);
  Um y = flow->y;
  flow->y = 0;
  put_marks(flow, &head, -1);
  flow->y = y + MM(3);
}

static void report_split(const Flow *flow, int step) {
  Layout *layout = flow->layout;
  if (layout->second) return;
  Finding *finding =
      finding_add(layout->run, RULE_STEP_SPLIT, (Place){0},
                  "step %d is longer than a page of the sheet \"%s\" and goes on on the next", step,
                  flow->sheet->title);
  finding_way_out(layout->run, finding, "make two steps of it");
}

void section_head(Flow *flow) {
  if (flow->section && flow->section[0])
    running_head(flow, arena_printf(flow->layout->arena, "%s (goes on)", flow->section));
}

/* Begins the page that a group too tall for one goes on with. */
static void begin_next_part(Flow *flow, const Form *form, size_t at, const char *head) {
  int step = 0;
  for (size_t i = 0; i < at; i++)
    if (form->pieces.at[i]->block->step > 0) step = form->pieces.at[i]->block->step;
  begin_page(flow);
  if (step > 0) report_split(flow, step);
  if (step > 0)
    running_head(flow, arena_printf(flow->layout->arena, "Step %d goes on", step));
  else if (head)
    running_head(flow, head);
  else
    section_head(flow);
}

void put_in_parts(Flow *flow, const Form *form, const char *head) {
  bool divides = height_of(form, 0, form->pieces.n) <= frame_room(); /* though it need not */
  size_t whole = 0; /* up to there all stands on this page for certain */
  for (size_t at = 0; at < form->pieces.n; at++) {
    Piece *piece = form->pieces.at[at];
    size_t strip = strip_end(form, at), end = block_end(form, at);
    if (end < strip) end = strip;
    bool begins = piece->first && at >= whole && !divides;
    Um block = space_above(flow, piece) + height_of(form, at, end);
    bool block_fits = begins && height_of(form, at, end) <= frame_room();
    bool worth = piece->block->kind == BLOCK_TABLE && room_here(flow) - flow->y > frame_room() / 3;
    if (block_fits && !flow->at_top && !fits(flow, block) && !worth) {
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

Start start_now(const Flow *flow, size_t group) {
  const Layout *layout = flow->layout;
  return (Start){.group = group,
                 .y = flow->y,
                 .at_top = flow->at_top,
                 .deepest = flow->deepest,
                 .marks = layout->pages->list.at[page_now(flow)].marks.n,
                 .bookmarks = layout->pages->bookmarks.n,
                 .steps = layout->steps.n,
                 .figures = layout->figures.n};
}

void start_again(Flow *flow, const Start *start) {
  Layout *layout = flow->layout;
  layout->pages->list.at[page_now(flow)].marks.n = start->marks;
  layout->pages->bookmarks.n = start->bookmarks;
  layout->steps.n = start->steps;
  layout->figures.n = start->figures;
  flow->y = start->y;
  flow->at_top = start->at_top;
  flow->deepest = start->deepest;
}
