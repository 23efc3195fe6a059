/* A packet made by hand with every kind of block, and harder words than any shop writes. */
#ifndef SHEAF_TESTS_UNIT_LAYOUT_SAMPLE_H
#define SHEAF_TESTS_UNIT_LAYOUT_SAMPLE_H

#include "layout/layout.h"

#define LONG_NAME                                                                                  \
  "Retaining screw of the secondary intermediate breather plate behind the left-hand "             \
  "primary drive cover, upper row, outermost" /* 123 characters */
#define LONG_WORD                                                                                  \
  "Gehaeuseentlueftungsventilfederteller012345678901234567890123456789012345678901234567890123456" \
  "7890123"

typedef struct Sample {
  Arena *arena;
  Packet packet;
  Sheet *sheet;
  Group *group;
  int steps, boxes, figures;
} Sample;

static inline void sample_sheet(Sample *s, const char *id, const char *title) {
  s->sheet = ARENA_NEW(s->arena, Sheet);
  s->sheet->id = id;
  s->sheet->title = title;
  s->sheet->new_page = true;
  vec_push(s->arena, &s->packet.sheets, s->sheet);
}

static inline void sample_group(Sample *s) {
  Group group = {.header = (int)s->sheet->headers.n - 1};
  vec_push(s->arena, &s->sheet->groups, group);
  s->group = &s->sheet->groups.at[s->sheet->groups.n - 1];
}

static inline Block *sample_block(Sample *s, BlockKind kind, const char *text) {
  Block *block = ARENA_NEW(s->arena, Block);
  block->kind = kind;
  block->text = text;
  vec_push(s->arena, &s->group->blocks, block);
  return block;
}

static inline void sample_heading(Sample *s, int level, const char *text) {
  Block *block = sample_block(s, BLOCK_HEADING, text);
  block->level = level;
  block->bookmark = text;
}

static inline Block *sample_step(Sample *s, const char *act, const char *text) {
  Block *block = sample_block(s, BLOCK_STEP, text);
  block->step = ++s->steps;
  block->act = act;
  block->bookmark = arena_printf(s->arena, "%d %s", s->steps, text);
  return block;
}

static inline void sample_field(Sample *s, Block *block, const char *label, const char *value,
                                int width) {
  vec_push(s->arena, &block->fields, ((Field){label, value, width}));
}

static inline void sample_message(Sample *s, SafetyWord word, const char *symbol) {
  Block *block = sample_block(s, BLOCK_MESSAGE, NULL);
  block->word = word;
  block->symbol = symbol;
  block->hazard = "A circlip under load flies off.";
  block->consequence = "It can take an eye.";
  vec_push(s->arena, &block->avoid, "Wear goggles that close at the sides.");
  vec_push(s->arena, &block->avoid, "Cup a hand over the bore before the clip is pressed in.");
}

static inline void sample_measure(Sample *s, const char *what, const char *min, const char *target,
                                  const char *max, int readings, int whole, int places) {
  Block *block = sample_block(s, BLOCK_MEASURE, NULL);
  block->measure = (MeasureRow){.box = ++s->boxes,
                                .what = what,
                                .gauge = "depth gauge G3, reads 0.01 mm",
                                .min = min,
                                .target = target,
                                .max = max,
                                .unit = "mm",
                                .readings = readings,
                                .whole_digits = whole,
                                .places = places,
                                .source = "barrel sheet 4, edition B"};
  if (!min && !max) block->measure.kind = "judged by Squish";
}

static inline Block *sample_figure(Sample *s, FigureKind kind, const char *caption) {
  Block *block = sample_block(s, BLOCK_FIGURE, NULL);
  block->figure.kind = kind;
  block->figure.number = ++s->figures;
  block->figure.caption = caption;
  return block;
}

static inline void sample_point(Sample *s, Block *block, const char *label, const char *note,
                                double x, double y) {
  vec_push(s->arena, &block->figure.points, ((FigurePoint){label, note, x, y}));
}

static inline void sample_pattern(Sample *s) {
  static const double x[] = {-101, -9, 9, 101, -101, -9, 9, 101};
  static const char *const order[] = {"7", "3", "1", "5", "6", "2", "4", "8"};
  Block *block = sample_figure(s, FIGURE_PATTERN, "Head nuts: tighten in the order of the numbers");
  for (int i = 0; i < 8; i++)
    sample_point(s, block, arena_printf(s->arena, "%d", i + 1), order[i], x[i], i < 4 ? 44 : -44);
}

static inline void sample_torque(Sample *s, size_t fasteners, const char *name) {
  Block *block = sample_block(s, BLOCK_TORQUE, NULL);
  TorqueCard *card = &block->torque;
  *card = (TorqueCard){.joint = name,
                       .torque = "46 N.m",
                       .other = "33.9 lbf.ft",
                       .thread = "M10x1.25",
                       .strength = "10.9",
                       .count = arena_printf(s->arena, "%zu", fasteners),
                       .lubricant = "engine oil",
                       .threadlock = "none",
                       .reuse = "new each time",
                       .wrench = "W2, 10 to 60 N.m",
                       .setting = "46 N.m",
                       .source = "head sheet 7, edition D",
                       .share = "preload 29.1 kN, 60 % of proof (53 to 70)",
                       .order = "3, 6, 2, 7, 4, 5, 1, 8",
                       .order_proposed = true,
                       .figure = s->figures};
  static const char *const what[] = {"to 15 N.m (11.1 lbf.ft)", "to 30 N.m (22.1 lbf.ft)",
                                     "back off by 1 turn", "final, to 46 N.m (33.9 lbf.ft)"};
  for (size_t i = 0; i < 4; i++) {
    TorquePass pass = {.what = what[i]};
    for (size_t j = 0; j < fasteners; j++)
      vec_push(s->arena, &pass.ticks, arena_printf(s->arena, "%zu", j + 1));
    vec_push(s->arena, &card->passes, pass);
  }
}

static inline void sample_bench(Sample *s, size_t rows, size_t columns) {
  Block *block = sample_block(s, BLOCK_BENCH, NULL);
  BenchTable *bench = &block->bench;
  bench->title = "Which head gasket";
  bench->row_label = "Deck height";
  bench->row_unit = "mm";
  bench->column_label = "Head gasket";
  bench->valid_for = "valid only for revision 1a2b3c4d";
  vec_push(s->arena, &bench->answers, "Squish, 0.85 to 1.15 mm");
  vec_push(s->arena, &bench->answers, "Ratio, 9.10 to 9.70");
  for (size_t i = 0; i < rows; i++)
    vec_push(s->arena, &bench->row_names, arena_printf(s->arena, "0.%zu5", i + 2));
  for (size_t i = 0; i < columns; i++)
    vec_push(s->arena, &bench->column_names, arena_printf(s->arena, "gasket 0.%zu0", i + 4));
  for (size_t i = 0; i < rows * columns; i++) {
    Cell cell = {.kind = CELL_NUMBER, .text = "1.05 / 9.33"};
    if (i % columns > i / columns + 1) cell = (Cell){.kind = CELL_STOP, .text = "STOP"};
    vec_push(s->arena, &bench->cells, cell);
  }
}

static inline Block *sample_table(Sample *s, size_t rows, const char *text) {
  Block *table = sample_block(s, BLOCK_TABLE, NULL);
  static const Column columns[] = {{"Ready", 12, false}, {"Qty", 10, true},
                                   {"Part", 70, false},  {"Order number", 32, false},
                                   {"New", 12, false},   {"Batch or mark", 36, false}};
  for (size_t i = 0; i < 6; i++) vec_push(s->arena, &table->columns, columns[i]);
  for (size_t i = 0; i < rows; i++) {
    Row row = {0};
    const Cell cells[] = {{.kind = CELL_TICK},
                          {.kind = CELL_NUMBER, .text = "2"},
                          {.kind = CELL_TEXT, .text = text},
                          {.kind = CELL_TEXT, .text = "OR-3240-C"},
                          {.kind = CELL_STOP, .text = "STOP"},
                          {.kind = CELL_BLANK}};
    for (size_t j = 0; j < 6; j++) vec_push(s->arena, &row, cells[j]);
    vec_push(s->arena, &table->rows, row);
  }
  return table;
}

static inline void sample_first_sheet(Sample *s) {
  sample_sheet(s, "job", "Job sheet");
  sample_group(s);
  sample_heading(s, 1, "Twin 870 touring");
  sample_block(s, BLOCK_TEXT,
               "Larger bore, milder cam, hydraulic tappets kept. The first start "
               "is {step:3}; nothing is started before it.");
  Block *fields = sample_block(s, BLOCK_FIELDS, NULL);
  sample_field(s, fields, "Job", "Q-0417", 4);
  sample_field(s, fields, "Date of the inputs", "2031-02-03", 4);
  sample_field(s, fields, "Copy", "1", 4);
  sample_field(s, fields, "Customer, name", LONG_NAME, 6);
  sample_field(s, fields, LONG_NAME, NULL, 6);
  sample_field(s, fields, "Odometer", NULL, 4);
  sample_group(s);
  Block *bullets = sample_block(s, BLOCK_BULLETS, NULL);
  vec_push(s->arena, &bullets->items,
           "Measure first, then decide. A printed prediction is not a "
           "reading.");
  vec_push(s->arena, &bullets->items, LONG_WORD);
  sample_block(s, BLOCK_TEXT, "Follow the maker's service information where it differs.")->bold =
      true;
  sample_group(s);
  sample_heading(s, 2, "What the marks mean");
  sample_block(s, BLOCK_LEGEND, NULL);
  sample_block(s, BLOCK_SCALE_BAR, NULL);
  sample_group(s);
  sample_table(s, 30, "piston, forged, raised crown: 83.33 mm");
}

static inline void sample_bench_sheet(Sample *s) {
  sample_sheet(s, "bench", "Bench sheets");
  vec_push(s->arena, &s->sheet->headers, "Pistons (goes on)");
  sample_group(s);
  sample_heading(s, 1, "Top end");
  s->group->keep_with_next = true;
  sample_group(s);
  sample_heading(s, 2, "Pistons");
  sample_message(s, SAFETY_DANGER, "fumes");
  sample_message(s, SAFETY_WARNING, "eye");
  s->group->keep_with_next = true;
  sample_group(s);
  Block *step = sample_step(s, "Do",
                            "Fit the first circlip with its gap down, then the pin, "
                            "then the second circlip; the box is filled at {step:2}.");
  vec_push(s->arena, &step->notes,
           "The larger valve pocket goes to the intake side (piston sheet "
           "12, edition C).");
  step->changed = true;
  sample_group(s);
  sample_message(s, SAFETY_CAUTION, "hot");
  sample_message(s, SAFETY_NOTICE, NULL);
  sample_step(s, "Record", "Measure the deck height at the four points over the pin.");
  sample_measure(s, "Deck height, left cylinder, front", "0.24", "0.40", "0.56", 1, 1, 2);
  sample_measure(s, "Chamber volume, right, two fills", NULL, NULL, NULL, 2, 2, 1);
  sample_measure(s, LONG_NAME, "83.395", "83.400", "83.410", 3, 2, 3);
  sample_measure(s, "Sprocket offset", "-0.10", NULL, "0.10", 2, 1, 2);
  sample_group(s);
  sample_step(s, "Decide", "Choose the gasket from the table, then go to {step:3}.");
  sample_bench(s, 5, 4);
  Block *work = sample_block(s, BLOCK_WORK, NULL);
  vec_push(s->arena, &work->letters, "A");
  vec_push(s->arena, &work->items, "Box 1 + gasket fitted");
  vec_push(s->arena, &work->units, "mm");
  vec_push(s->arena, &work->letters, "B");
  vec_push(s->arena, &work->items, "A - 0.05");
  vec_push(s->arena, &work->units, "mm");
  sample_group(s);
  sample_step(s, "Do", "Tighten the head nuts.");
  sample_pattern(s);
  sample_torque(s, 8, "Head nuts");
  sample_group(s);
  sample_block(s, BLOCK_HOLD, "Mock-up accepted: squish, ratio and valve clearance in limits.")
      ->step = ++s->steps;
  sample_group(s);
  sample_block(s, BLOCK_INITIALS, "Pistons");
}

static inline void sample_figures_sheet(Sample *s) {
  sample_sheet(s, "figures", "Figures");
  sample_group(s);
  Block *rings = sample_figure(s, FIGURE_RING_CLOCK, "Ring gaps seen from above");
  sample_point(s, rings, "Top ring", "45 deg", 45, 0);
  sample_point(s, rings, "Second ring", "225 deg", 225, 0);
  sample_point(s, rings, "Oil ring, upper rail", "90 deg", 90, 0);
  sample_point(s, rings, "Oil ring, lower rail", "100 deg", 100, 0);
  sample_group(s);
  sample_figure(s, FIGURE_BORE_POINTS, "Where to measure the bore");
  sample_group(s);
  Block *deck = sample_figure(s, FIGURE_DECK_SECTION, "Deck height and squish");
  sample_point(s, deck, "Deck height", "0.24 to 0.56 mm", 0, 0);
  sample_point(s, deck, "Squish", "0.85 to 1.15 mm", 0, 0);
  sample_point(s, deck, "Gasket thickness", "0.60 mm", 0, 0);
  sample_group(s);
  Block *valves = sample_figure(s, FIGURE_VALVE_CIRCLE, "Valve timing, crank degrees");
  sample_point(s, valves, "Intake opens", "31 deg BTDC", -31, 0);
  sample_point(s, valves, "Intake closes", "65 deg ABDC", 245, 0);
  sample_point(s, valves, "Exhaust opens", "67 deg BBDC", 113, 0);
  sample_point(s, valves, "Exhaust closes", "29 deg ATDC", 29, 0);
  sample_group(s);
  Block *way = sample_figure(s, FIGURE_PISTON_WAY, "Which way round, seen from above");
  sample_point(s, way, "Arrow on the crown", "0 deg", 0, 0);
  sample_point(s, way, "Larger pocket", "180 deg", 180, 0);
  sample_group(s);
  Block *spring = sample_figure(s, FIGURE_SPRING, "Spring heights");
  sample_point(s, spring, "Fitted height", "38.50 mm", 0, 0);
  sample_point(s, spring, "Coil-bind margin", "at least 1.30 mm", 0, 0);
  sample_group(s);
  Block *line = sample_figure(s, FIGURE_SPROCKET_LINE, "Sprocket line");
  sample_point(s, line, "Sprocket offset", "at most 0.10 mm", 0, 0);
}

static inline void sample_last_sheet(Sample *s) {
  sample_sheet(s, "customer", "Customer sheet");
  sample_group(s);
  sample_heading(s, 2, "Remarks");
  sample_block(s, BLOCK_LINES, "What the customer should know")->count = 5;
  Block *signatures = sample_block(s, BLOCK_FIELDS, NULL);
  Field signed_by[] = {{"Work done by", NULL, 6}, {"Approved by", NULL, 6}};
  for (int i = 0; i < 2; i++) vec_push(s->arena, &signatures->fields, signed_by[i]);
}

static inline Sample sample_new(Arena *arena) {
  Sample s = {.arena = arena};
  s.packet = (Packet){.job = "Q-0417",
                      .engine_number = "T764-20417",
                      .title = "Twin 870 touring",
                      .revision = "1a2b3c4d5e6f",
                      .library_revision = "5e6f7a8b9c0d",
                      .program = "sheaf 0.1",
                      .date = "2031-02-03",
                      .copy = "1",
                      .shop = "Sample shop",
                      .subject = "Work packet",
                      .author = "Sample shop",
                      .keywords = "job Q-0417"};
  return s;
}

static inline Sample sample_full(Arena *arena) {
  Sample s = sample_new(arena);
  sample_first_sheet(&s);
  sample_bench_sheet(&s);
  sample_figures_sheet(&s);
  sample_last_sheet(&s);
  return s;
}

#endif
