#include "layout/frame.h"

#include "layout/paragraph.h"

#define CHANGE_MARGIN MM(4.4)
#define HEAD_HEIGHT   MM(14.5)
#define FOOT_HEIGHT   MM(7)

Frame frame_of(const Layout *layout, int page) {
  bool back = layout->packet->duplex && page % 2 == 1;
  Frame frame = {.x = back ? layout->width - MARGIN_BINDING - INK_WIDTH : MARGIN_BINDING,
                 .y = (layout->height - INK_HEIGHT) / 2};
  frame.left = frame.x + CHANGE_MARGIN;
  frame.top = frame.y + HEAD_HEIGHT;
  frame.bottom = frame.y + INK_HEIGHT - FOOT_HEIGHT;
  return frame;
}

Um frame_room(void) {
  return INK_HEIGHT - HEAD_HEIGHT - FOOT_HEIGHT;
}

/* The job and the engine: smaller type before anything is cut, for a sheet that
 * is taken from its packet is known by them alone. */
static void set_identity(Layout *layout, Sketch *sketch, Um y, Um width) {
  static const TypeName sizes[] = {TYPE_BODY, TYPE_SMALL, TYPE_LABEL, TYPE_FOOT};
  const Packet *packet = layout->packet;
  bool frame = !packet->engine_number[0] && packet->frame_number[0];
  const char *number = frame ? packet->frame_number : packet->engine_number;
  const char *line =
      arena_printf(layout->arena, "Job %s     %s %s", packet->job, frame ? "Frame" : "Engine",
                   number[0] ? number : "....................");
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
    if (type_width(sizes[i], line) > width) continue;
    line_set(layout, sketch, 0, y, width, sizes[i], line);
    return;
  }
  report_too_long(layout, "the head of the page", line);
  line_set(layout, sketch, 0, y, width, TYPE_FOOT, line);
}

static void set_head(Layout *layout, Sketch *sketch, const char *title, const char *label) {
  Um right = COLUMN_WIDTH;
  Um taken = line_set_right(layout, sketch, right, 0, 0, TYPE_HEAD,
                            arena_printf(layout->arena, "Page %s", label));
  line_set(layout, sketch, 0, 0, right - taken - MM(6), TYPE_HEAD, title);
  set_identity(layout, sketch, MM(5), right);
  sketch_line(sketch, 0, MM(10.6), right, MM(10.6), LINE_RULE);
}

static void set_foot(Layout *layout, Sketch *sketch) {
  const Packet *packet = layout->packet;
  Um top = MM(1.6);
  sketch_line(sketch, 0, top, COLUMN_WIDTH, top, LINE_HAIR);
  const char *inputs = arena_printf(layout->arena, "Inputs %.8s     Library %.8s     %s",
                                    packet->revision, packet->library_revision, packet->program);
  const char *copy = arena_printf(layout->arena, "%s     Copy %s", packet->date, packet->copy);
  Um y = top + MM(1);
  Um taken = line_set_right(layout, sketch, COLUMN_WIDTH, y, MM(70), TYPE_FOOT, copy);
  line_set(layout, sketch, 0, y, COLUMN_WIDTH - taken - MM(4), TYPE_FOOT, inputs);
}

void frame_set(Layout *layout, int page, const char *title) {
  Page *on = &layout->pages->list.at[page];
  Frame frame = frame_of(layout, page);
  Sketch head = {.arena = layout->arena}, foot = {.arena = layout->arena}, both = head;
  on->label = arena_printf(layout->arena, "%d of %zu", page + 1, layout->pages->list.n);
  set_head(layout, &head, title, on->label);
  set_foot(layout, &foot);
  sketch_add(&both, &head, frame.left, frame.y);
  sketch_add(&both, &foot, frame.left, frame.bottom);
  for (size_t i = 0; i < both.marks.n; i++) vec_push(layout->arena, &on->marks, both.marks.at[i]);
}
