#include "layout/flow.h"

#include "layout/flow_page.h"
#include "layout/frame.h"

#define GROUP_SPACE MM(4.4)
#define SNUG_SPACE  MM(3.2)
#define HEAD_ROOM   MM(8.5) /* for a running head */

/* The groups of a sheet as they would be set, with the usual air and with less. */
typedef struct Setting {
  Layout *layout;
  const Sheet *sheet;
  Form *usual, *snug;
  bool *is_usual, *is_snug; /* set already */
  Start start;
} Setting;

static Form form_with(Layout *layout, const Group *group, Air air) {
  Form form = {.layout = layout, .group = group};
  layout->air = air;
  layout->asked = false;
  for (size_t i = 0; i < group->blocks.n; i++) form_block(&form, i);
  layout->air = AIR_USUAL;
  form.says_places = layout->asked;
  form.air = air;
  return form;
}

static Um form_height(const Form *form) {
  return height_of(form, 0, form->pieces.n);
}

/* A group that is too tall for a page is set again with less air before it is split. */
static Form form_of(Layout *layout, const Group *group) {
  if (group->tight) return form_with(layout, group, AIR_LEAST);
  Form form = form_with(layout, group, AIR_USUAL);
  if (form_height(&form) <= frame_room() - HEAD_ROOM) return form;
  return form_with(layout, group, AIR_LEAST);
}

/* The rows of a bench table may come closer too. */
static bool has_bench(const Group *group) {
  for (size_t i = 0; i < group->blocks.n; i++)
    if (group->blocks.at[i]->kind == BLOCK_BENCH) return true;
  return false;
}

/* The same pieces closer together. */
static Form form_snug(Layout *layout, const Form *usual) {
  if (usual->air != AIR_USUAL || has_bench(usual->group))
    return form_with(layout, usual->group, AIR_SNUG);
  Form form = *usual;
  form.pieces.at = arena_copy(layout->arena, usual->pieces.at, usual->pieces.n * sizeof(Piece *));
  for (size_t i = 0; i < form.pieces.n; i++) {
    Piece *piece = arena_copy(layout->arena, usual->pieces.at[i], sizeof *piece);
    if (piece->wide > 0) piece->space = space_with(AIR_SNUG, piece->wide);
    form.pieces.at[i] = piece;
  }
  return form;
}

static const Form *form_at(Setting *set, size_t at, bool snug) {
  const Form *usual = &set->usual[at];
  if (!snug || usual->group->tight || form_height(usual) > frame_room() - HEAD_ROOM) return usual;
  if (!set->is_snug[at]) set->snug[at] = form_snug(set->layout, usual);
  set->is_snug[at] = true;
  return &set->snug[at];
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
static Um space_between(const Form *form, bool snug) {
  const Piece *first = form->pieces.at[0];
  return (snug || form->group->tight ? SNUG_SPACE : GROUP_SPACE) +
         (first->block->kind == BLOCK_HEADING ? first->space : 0);
}

static void put_group(Flow *flow, Setting *set, size_t at) {
  const Form *form = form_at(set, at, flow->snug);
  if (!flow->at_top) flow->y += space_between(form, flow->snug);
  flow->spaced = !flow->at_top;
  if (!fits(flow, form_height(form))) {
    put_in_parts(flow, form, own_head(set->sheet, at));
    set->start = start_now(flow, at + 1);
    return;
  }
  for (size_t i = 0; i < form->pieces.n; i++) put_piece(flow, form->pieces.at[i]);
}

/* Height of groups from one on that have to stay together, as many as a page takes, spaces
 * included; of one that no page takes, what it begins with. */
static Um chain_height(Setting *set, size_t at, bool snug) {
  Um height = form_height(form_at(set, at, snug));
  while (at + 1 < set->sheet->groups.n && set->sheet->groups.at[at].keep_with_next) {
    const Form *form = form_at(set, ++at, snug);
    if (form->pieces.n == 0) continue;
    bool too_tall = form_height(form) > frame_room();
    Um more = space_between(form, snug) + (too_tall ? beginning_height(form) : form_height(form));
    if (height + more > frame_room()) break;
    height += more;
    if (too_tall) break;
  }
  return height;
}

/* Lists and tables without a step may begin on the rest of a page, where that is worth it: sooner
 * on a sheet that is to stay short. */
static bool may_divide(const Flow *flow, const Form *form) {
  Um rest = room_here(flow) - flow->y;
  Um worth = frame_room() / (form->group->tight ? 13 : 4);
  if (rest < worth || form_height(form) < worth) return false;
  for (size_t i = 0; i < form->pieces.n; i++) {
    BlockKind kind = form->pieces.at[i]->block->kind;
    if (kind != BLOCK_HEADING && kind != BLOCK_TEXT && kind != BLOCK_TABLE && kind != BLOCK_BULLETS)
      return false;
  }
  return true;
}

static bool is_chained(const Setting *set, const Flow *flow, size_t at) {
  return at > 0 && set->sheet->groups.at[at - 1].keep_with_next && !flow->at_top;
}

/* What has to stand on the page with the group, its own height included. */
static Um height_needed(Setting *set, size_t at, bool chained, bool snug) {
  return chained ? form_height(form_at(set, at, snug)) : chain_height(set, at, snug);
}

/* Sets the page once more with less air, where the group then stands on it too. */
static bool set_snug(Flow *flow, Setting *set, size_t at, bool chained) {
  Um y = set->start.y;
  bool top = set->start.at_top;
  for (size_t i = set->start.group; i < at; i++) {
    const Form *form = form_at(set, i, true);
    if (form->pieces.n == 0) continue;
    y += (top ? 0 : space_between(form, true)) + form_height(form);
    top = false;
  }
  y += space_between(form_at(set, at, true), true) + height_needed(set, at, chained, true);
  if (y > room_here(flow)) return false;
  int group = flow->group;
  start_again(flow, &set->start);
  flow->snug = true;
  for (size_t i = set->start.group; i < at; i++) {
    flow->group = group - (int)(at - i);
    if (form_at(set, i, true)->pieces.n > 0) put_group(flow, set, i);
  }
  flow->group = group;
  return true;
}

/* Whether the group has to begin a page. */
static bool has_to_begin(Flow *flow, Setting *set, size_t at) {
  const Form *form = form_at(set, at, flow->snug);
  bool chained = is_chained(set, flow, at);
  if (flow->at_top || form_height(form) > frame_room()) return false;
  Um needed = space_between(form, flow->snug) + height_needed(set, at, chained, flow->snug);
  if (fits(flow, needed) || (!chained && may_divide(flow, form))) return false;
  return flow->snug || !set_snug(flow, set, at, chained);
}

/* The second time, what says no places stands as it was set the first time. */
static Setting *setting_of(Layout *layout, const Sheet *sheet, size_t at) {
  size_t count = sheet->groups.n;
  if (!layout->second) {
    Setting *set = ARENA_NEW(layout->arena, Setting);
    *set = (Setting){.layout = layout, .sheet = sheet};
    set->usual = ARENA_NEW_N(layout->arena, Form, count + 1);
    set->snug = ARENA_NEW_N(layout->arena, Form, count + 1);
    set->is_usual = ARENA_NEW_N(layout->arena, bool, count + 1);
    set->is_snug = ARENA_NEW_N(layout->arena, bool, count + 1);
    vec_push(layout->arena, &layout->settings, set);
  }
  Setting *set = layout->settings.at[at];
  for (size_t i = 0; i < count; i++) {
    if (set->usual[i].says_places) set->is_usual[i] = set->is_snug[i] = false;
    if (!set->is_usual[i]) set->usual[i] = form_of(layout, &sheet->groups.at[i]);
    set->is_usual[i] = true;
  }
  return set;
}

static void flow_sheet(Flow *flow, size_t at) {
  size_t count = flow->sheet->groups.n;
  Setting *set = setting_of(flow->layout, flow->sheet, at);
  set->start = start_now(flow, 0);
  for (size_t i = 0; i < count; i++, flow->group++) {
    if (set->usual[i].pieces.n == 0) continue;
    if (has_to_begin(flow, set, i)) {
      begin_page(flow);
      BlockKind first = set->usual[i].pieces.at[0]->block->kind;
      if (head_again(flow->sheet, i))
        running_head(flow, head_again(flow->sheet, i));
      else if (first == BLOCK_TABLE || first == BLOCK_MESSAGE || first == BLOCK_BULLETS)
        section_head(flow);
      set->start = start_now(flow, i);
    }
    put_group(flow, set, i);
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
    flow.section = NULL;
    if (i == 0 || flow.sheet->new_page)
      begin_sheet(&flow, i > 0 ? layout->packet->sheets.at[i - 1] : NULL);
    add_bookmark(&flow, 0, flow.sheet->title);
    flow.deepest = 1;
    flow_sheet(&flow, i);
  }
  add_scale_bar(&flow);
  return flow.titles;
}
