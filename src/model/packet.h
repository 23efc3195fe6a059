/* What the packet says, before anybody thinks of pages: sheets of groups of
 * blocks. What compose hands to layout. All texts are final and translated to
 * print: numbers carry their units and places. */
#ifndef SHEAF_MODEL_PACKET_H
#define SHEAF_MODEL_PACKET_H
/* Records are laid out as tables, a meaning beside each member. */
/* clang-format off */

#include "base/vec.h"

#include <stdbool.h>

#define SHEAF_PROGRAM "sheaf 0.1" /* as the packet and --version name it */

typedef enum BlockKind {
  BLOCK_HEADING,    /* text; level 1 (section) or 2 */
  BLOCK_TEXT,       /* text; bold */
  BLOCK_BULLETS,    /* items */
  BLOCK_FIELDS,     /* fields: label and value, value NULL = a line to write on */
  BLOCK_TABLE,
  BLOCK_MESSAGE,    /* safety */
  BLOCK_STEP,
  BLOCK_MEASURE,
  BLOCK_TORQUE,
  BLOCK_BENCH,      /* bench table */
  BLOCK_WORK,       /* worked-out values in lettered boxes */
  BLOCK_HOLD,       /* a bar across the page and two initials; items: other labels of the three
                       boxes, notes: another reminder */
  BLOCK_INITIALS,   /* initials and date at the end of a block of steps */
  BLOCK_FIGURE,
  BLOCK_SCALE_BAR,
  BLOCK_LEGEND,     /* what the marks mean */
  BLOCK_LINES,      /* count blank lines to write on, text is their label */
} BlockKind;

typedef struct Field { const char *label, *value; int width; /* in twelfths of the line */ } Field;

typedef enum CellKind { CELL_TEXT, CELL_NUMBER, CELL_BLANK, CELL_TICK, CELL_STOP } CellKind;
typedef struct Cell { CellKind kind; const char *text; bool bold, large; const char *box; /* BLANK: the number of what is written there, with text once it is read */ Words ticks; /* TICK: a box for each of these names; none: one box */ } Cell;
typedef struct Column { const char *title; int weight; bool number; } Column;
typedef VEC(Cell) Row;

typedef enum SafetyWord { SAFETY_DANGER, SAFETY_WARNING, SAFETY_CAUTION, SAFETY_NOTICE } SafetyWord;
const char *safety_word_print(SafetyWord word); /* "DANGER" */

typedef enum FigureKind {
  FIGURE_PATTERN,      /* tightening pattern: points with place name and position in the order */
  FIGURE_RING_CLOCK,   /* angles of gaps: label, value = deg clockwise from the front */
  FIGURE_BORE_POINTS,  /* three heights, two directions */
  FIGURE_DECK_SECTION, /* deck, gasket, squish: labelled values */
  FIGURE_VALVE_CIRCLE, /* opens and closes: label, value = crank deg after top dead centre */
  FIGURE_PISTON_WAY,   /* which way round: label of the mark and where it points */
  FIGURE_SPRING,
  FIGURE_SPROCKET_LINE,
} FigureKind;
typedef struct FigurePoint { const char *label; const char *note; double x, y; /* mm, or deg in x */ } FigurePoint;
typedef VEC(FigurePoint) FigurePoints;
typedef struct Figure {
  FigureKind kind;
  int number;
  const char *caption;
  FigurePoints points;
  FigurePoints sides; /* of the engine, named inside a circle seen from above */
} Figure;

/* One value to measure, one box (or several readings of it). */
typedef struct MeasureRow {
  int box;
  const char *letter;          /* what a formula calls the reading: "X", or NULL */
  const char *what;            /* "Deck height, left cylinder, front" */
  const char *gauge;           /* "depth gauge G3, reads 0.01 mm" */
  const char *gauge_short;     /* "G3, reads 0.01 mm", where the row before said it whole */
  const char *agree;           /* "0.2 mL": how near each other the readings must be; or NULL */
  const char *min, *target, *max; /* numbers as printed, or NULL */
  const char *unit;
  const char *kind;            /* "record only", "judged by Squish", or NULL */
  int readings;                /* 1 to 3 */
  int whole_digits, places;    /* expected before and after the mark: sizes the box */
  const char *source;          /* whose limit: "barrel sheet 4, edition B" */
  const char *values[3];       /* typed readings, or NULL */
  const char *verdict;         /* "in", "OUT", or NULL */
} MeasureRow;

typedef struct TorquePass { const char *what; /* "to 15 N.m (11.1 lbf.ft), wrench W2" */ Words ticks; /* fastener names in order; one tick box each */ } TorquePass;
typedef struct TorqueCard {
  const char *joint;           /* "Head nuts" */
  const char *torque, *other;  /* "46 N.m", "33.9 lbf.ft" */
  const char *thread, *strength, *count; /* "M10x1.25", "10.9", "8" */
  const char *lubricant, *threadlock, *reuse, *wrench, *setting, *source, *share; /* share: "preload 29 kN, 60 % of proof (53 to 70)" */
  const char *drive;           /* "14 mm socket"; "12 mm crowfoot, in line, adds 30 mm" */
  const char *order;           /* "5, 4, 6, ..." */
  bool order_proposed;
  VEC(TorquePass) passes;
  int figure;                  /* index of its figure in the packet, 0: none */
} TorqueCard;

typedef struct BenchTable {
  const char *title, *row_label, *column_label, *row_unit;
  Words row_names, column_names, answers; /* answers: "squish mm", "ratio" */
  VEC(Cell) cells;             /* rows x columns; a cell's text holds the answers, "0.85 / 9.50" */
  Words found;                 /* from readings: row, column unless it is a list, answers; empty: to be written */
  const char *member;          /* whose reading it is: "left cylinder", or NULL */
  int squares_at;              /* the step whose squares hold here too; 0: its own are printed */
  bool squares_said;           /* the step's own words name that step */
  const char *valid_for;       /* "valid only for revision 1a2b3c4d" */
  bool chooses;                /* a column a part: beside STOP another may serve */
  bool column_ends;            /* a reading may lie beyond the columns, too */
  const char *rounding;        /* how a reading between two lines is taken; NULL: none lies there */
} BenchTable;

/* A table of one column without a name is read by its rows alone. */
static inline bool bench_is_list(const BenchTable *bench) {
  return bench->column_names.n == 1 &&
         (!bench->column_names.at[0] || !bench->column_names.at[0][0]);
}

typedef struct Block {
  BlockKind kind;
  const char *text;            /* MESSAGE: before which steps it stands, on the safety sheet */
  int level, count;
  bool bold, small;            /* TEXT; small: which sheets letters stand for */
  bool changed;                /* changed since the earlier issue: a bar in the margin */
  Words items;
  VEC(Field) fields;
  /* TABLE */
  VEC(Column) columns;
  VEC(Row) rows;
  /* MESSAGE */
  SafetyWord word;
  const char *hazard, *consequence, *symbol;
  Words avoid;
  /* STEP */
  int step;                    /* number printed; 0: none */
  const char *act;             /* "Do", "Check", "Verify", "Record", "Decide", "Wait", "Hold" */
  Words notes;
  const char *bookmark;
  MeasureRow measure;
  TorqueCard torque;
  BenchTable bench;
  Words letters;               /* WORK: letter of each line; items the lines; units of them */
  Words units, values;         /* values: as read, NULL or none: to be written */
  Words boxes;                 /* WORK: where each result is written, "box 43"; NULL: in one of its own */
  Figure figure;
} Block;

/* Never split across pages; one that holds no step may be divided between the
 * rows of its tables. */
typedef struct Group {
  VEC(Block *) blocks;
  int header;                  /* index in Sheet.headers put again on a new page, -1 none */
  bool keep_with_next;
  bool tight;                  /* less air, so that the sheet stays short */
} Group;

typedef struct Sheet {
  const char *id, *title;      /* "job", "Job sheet" */
  VEC(Group) groups;
  Words headers;               /* running heads: "Pistons, left cylinder (goes on)" */
  bool new_page;               /* starts on a page of its own */
} Sheet;

typedef struct Packet {
  const char *job, *engine_number, *title, *revision, *library_revision, *program, *date, *copy;
  const char *frame_number;    /* at the head of pages where there is no engine number */
  const char *shop, *subject, *author, *keywords;
  VEC(Sheet *) sheets;
  bool duplex;                 /* printed on both sides: the binding edge changes sides, and each
                                  sheet begins on the front */
} Packet;

/* A reference to a step inside any text: "{step:NUMBER}" is written by compose
 * and becomes "step 12, page 4" once the pages are known; it reserves the width of "step 999, page 99". */
#define PACKET_STEP_REF "{step:"
/* The same for a figure: "{figure:NUMBER}" becomes "figure 3, page 17". */
#define PACKET_FIGURE_REF "{figure:"

typedef struct Reference {
  int number;
  bool figure;
} Reference;

/* The reference that the text begins with and its length in bytes; 0: it begins with none. */
size_t reference_at(const char *text, Reference *to);
/* The text with "step 12" and "figure 3" for its references, where there are no pages. */
const char *references_said(Arena *arena, const char *text);

#endif
