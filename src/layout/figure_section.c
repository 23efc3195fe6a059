/* Figures cut through parts: bore, deck and squish, springs, sprockets. */
#include "layout/figure.h"

static void labelled(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const char *bold,
                     const char *text) {
  Paragraph words = {.type = TYPE_TABLE, .lead = bold, .text = text, .width = width};
  paragraph_set(layout, sketch, x, y, &words);
}

/* The bore cut open at the left, from above at the right. */
Um figure_bore_points(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  (void)figure;
  Um top = MM(3), tall = MM(48), left = MM(24), bore = MM(38), wall = MM(5);
  figure_hatch(sketch, left - wall, top, wall, tall);
  figure_hatch(sketch, left + bore, top, wall, tall);
  sketch_box(sketch, left - wall, top, wall, tall, LINE_RULE);
  sketch_box(sketch, left + bore, top, wall, tall, LINE_RULE);
  static const struct {
    double part;
    const char *name, *where;
  } heights[] = {{0.18, "top", "just below where the top ring turns round"},
                 {0.50, "middle", "halfway"},
                 {0.84, "bottom", "just above the lower edge of the skirt's travel"}};
  Um line = type_of(TYPE_TABLE)->leading;
  for (int i = 0; i < 3; i++) {
    Um y = top + (Um)(tall * heights[i].part);
    sketch_measure(sketch, left, y, left + bore, y);
    labelled(layout, sketch, left + bore + wall + MM(3), y - line / 2, MM(46), heights[i].name,
             heights[i].where);
  }
  Um x = width - MM(28), y = top + tall / 2, radius = MM(18);
  sketch_circle(sketch, x, y, radius, LINE_STRONG, false);
  sketch_measure(sketch, x, y - radius, x, y + radius);
  sketch_measure(sketch, x - radius, y, x + radius, y);
  for (int side = -1; side <= 1; side += 2)
    sketch_dashed(sketch, x - radius, y + side * MM(5), x + radius, y + side * MM(5), LINE_HAIR);
  line_set(layout, sketch, x + MM(1.2), y - radius + MM(7), 0, TYPE_BODY_BOLD, "across");
  line_set(layout, sketch, x - radius + MM(3), y - line, 0, TYPE_BODY_BOLD, "along");
  labelled(layout, sketch, x - radius, y + radius + MM(1.5), 2 * radius, "dashed", "the pin");
  return top + tall + MM(5);
}

/* Piston at top dead centre under its head; heights are drawn far larger than they are. */
Um figure_deck_section(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  Um left = MM(34), wall = MM(14), bore = MM(52), right = left + wall + bore;
  Um head = MM(14), gasket = MM(4), deck = MM(9), low = MM(22);
  Um face = head + gasket, crown = face + deck;
  Um whole = bore + 2 * wall;
  /* Head, with a chamber over the middle; the squish face is what stays flat at both sides. */
  Point roof[] = {{left, 0},
                  {left + whole, 0},
                  {left + whole, head},
                  {right - MM(12), head},
                  {left + whole / 2, MM(4)},
                  {left + wall + MM(12), head},
                  {left, head}};
  sketch_polygon(sketch, roof, sizeof roof / sizeof *roof, LINE_RULE, false, INK_BLACK);
  for (int side = 0; side < 2; side++) {
    Um x = side ? right : left;
    sketch_fill(sketch, x, head + MM(0.6), wall, gasket - MM(1.2), INK_BLACK);
    figure_hatch(sketch, x, face, wall, low + deck);
    sketch_box(sketch, x, face, wall, low + deck, LINE_RULE);
  }
  Um play = MM(1);
  sketch_box(sketch, left + wall + play, crown, bore - 2 * play, low, LINE_RULE);
  sketch_circle(sketch, left + whole / 2, crown + low / 2 + MM(3), MM(5), LINE_RULE, false);
  line_set_centre(layout, sketch, left + whole / 2, crown + MM(1), 0, TYPE_LABEL, "piston");
  line_set_centre(layout, sketch, left + MM(12), MM(2), 0, TYPE_LABEL, "head");
  /* Dimensions, carried out to the right. */
  Um out = left + whole, text = out + MM(12), wide = width - text;
  Um at_squish = right - MM(6), at_deck = left + wall + MM(6);
  sketch_measure(sketch, at_squish, head, at_squish, crown);
  sketch_line(sketch, at_squish, head + MM(3), text - MM(1.5), MM(4), LINE_HAIR);
  sketch_measure(sketch, at_deck, face, at_deck, crown);
  sketch_line(sketch, left + wall, face, at_deck + MM(3), face, LINE_HAIR);
  sketch_line(sketch, out - MM(2), head + gasket / 2, text - MM(1.5), MM(19), LINE_HAIR);
  Um note = MM(1.6);
  note += figure_note(layout, sketch, text, note, wide, figure_point(figure, "squish"), "Squish");
  note = note + MM(2) > MM(16.6) ? note + MM(2) : MM(16.6);
  figure_note(layout, sketch, text, note, wide, figure_point(figure, "gasket"), "Gasket");
  sketch_line(sketch, at_deck, face + MM(5), MM(27), MM(30), LINE_HAIR);
  figure_note(layout, sketch, 0, MM(27.5), MM(26), figure_point(figure, "deck"), "Deck height");
  return crown + low + MM(2);
}

static void draw_coils(Sketch *sketch, Um x, Um bottom, Um width, Um tall, int turns) {
  for (int i = 0; i < turns; i++) {
    Um low = bottom - (Um)((int64_t)tall * i / turns);
    Um high = bottom - (Um)((int64_t)tall * (i + 1) / turns);
    sketch_line(sketch, x, low, x + width, (low + high) / 2, LINE_HEAVY);
    sketch_line(sketch, x + width, (low + high) / 2, x, high, LINE_BOX);
  }
  sketch_line(sketch, x - MM(2), bottom, x + width + MM(2), bottom, LINE_RULE);
  sketch_line(sketch, x - MM(2), bottom - tall, x + width + MM(2), bottom - tall, LINE_RULE);
}

/* One spring at three heights, and what the data says about them. */
Um figure_spring(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  static const struct {
    const char *name;
    double tall;
  } springs[] = {{"fitted", 38}, {"open", 28}, {"solid", 21}};
  Um bottom = MM(42), coil = MM(16), pitch = MM(33);
  for (int i = 0; i < 3; i++) {
    Um x = MM(8) + pitch * i, tall = MM(springs[i].tall);
    draw_coils(sketch, x, bottom, coil, tall, 6);
    sketch_measure(sketch, x + coil + MM(4.5), bottom, x + coil + MM(4.5), bottom - tall);
    line_set_centre(layout, sketch, x + coil / 2, bottom + MM(0.8), 0, TYPE_TABLE_BOLD,
                    springs[i].name);
  }
  Um x = MM(112), at = MM(4);
  for (size_t i = 0; i < figure->points.n && i < 8; i++)
    at += figure_note(layout, sketch, x, at, width - x, &figure->points.at[i], "") + MM(2);
  Um tall = bottom + MM(6);
  return at > tall ? at : tall;
}

/* Two sprockets from the edge, a straightedge along the faces. */
Um figure_sprocket_line(Layout *layout, Sketch *sketch, const Figure *figure, Um width) {
  Um y[] = {MM(6), MM(38)}, face = MM(52), thick = MM(6), step = MM(2.4);
  Um half[] = {MM(5), MM(9)};
  for (int i = 0; i < 2; i++) {
    Um x = face - thick - (i ? step : 0), middle = y[i] + (i ? 0 : MM(2));
    figure_hatch(sketch, x, middle - half[i], thick, 2 * half[i]);
    sketch_box(sketch, x, middle - half[i], thick, 2 * half[i], LINE_RULE);
    sketch_dashed(sketch, x - MM(14), middle, face + MM(16), middle, LINE_HAIR);
  }
  sketch_box(sketch, face, MM(1), MM(4), MM(47), LINE_RULE);
  line_set_right(layout, sketch, face - MM(22), MM(5.6), 0, TYPE_TABLE, "upper sprocket");
  line_set_right(layout, sketch, face - MM(24), MM(35.6), 0, TYPE_TABLE, "lower sprocket");
  line_set(layout, sketch, face + MM(6), MM(20), 0, TYPE_TABLE, "straightedge");
  Um gap = MM(38) + half[1] - MM(3), text = MM(84);
  sketch_line(sketch, face - step / 2, gap, text - MM(2), MM(32), LINE_HAIR);
  Um at = MM(28);
  if (figure->points.n == 0)
    at += figure_note(layout, sketch, text, at, width - text, NULL, "Offset to measure");
  for (size_t i = 0; i < figure->points.n && i < 6; i++)
    at += figure_note(layout, sketch, text, at, width - text, &figure->points.at[i], "") + MM(2);
  return at > MM(50) ? at : MM(50);
}
