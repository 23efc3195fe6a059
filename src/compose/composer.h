/* Tools of the files that write sheets: blocks into groups into sheets. */
#ifndef SHEAF_COMPOSE_COMPOSER_H
#define SHEAF_COMPOSE_COMPOSER_H

#include "base/text.h"
#include "model/packet.h"
#include "model/plan.h"

typedef struct Composer {
  Run *run;
  Arena *arena;
  const Job *job;
  const Plan *plan;
  Packet *packet;
  Sheet *sheet;      /* being written */
  Group *group;      /* being written */
  bool brief;        /* as little as the work needs */
  int figures;       /* numbered so far */
  int *joint_figure; /* figure number of each joint's pattern, 0 = not drawn yet */
  int *step_figure;  /* of each step by its number, its first figure; NULL: a step alone */
} Composer;

void sheet_begin(Composer *c, const char *id, const char *title);
void group_begin(Composer *c); /* a new group in the sheet; never split */
void group_keep(Composer *c);  /* the current group stays with the next one */
Block *block_add(Composer *c, BlockKind kind);

void add_heading(Composer *c, int level, const char *text);
void add_text(Composer *c, const char *text);
void add_bold(Composer *c, const char *text);
/* A field: value NULL is a line to write on. width: twelfths of the line. */
void add_field(Composer *c, Block *fields, const char *label, const char *value, int width);

/* Tables: columns first, then rows. */
void add_column(Composer *c, Block *table, const char *title, int weight, bool number);
void add_row(Composer *c, Block *table);
void add_cell(Composer *c, Block *table, CellKind kind, const char *text);

const char *said_or(const Said *said, const char *otherwise);
/* The text of the label in the build's machine, customer or people lines; NULL when absent. */
const char *build_line(const Job *job, const char *label);
/* What a concession is about, as the trade calls it: the label of the value or joint. */
const char *subject_said(const Job *job, const char *subject);

/* "a, page 5": the sheet's letter among those named so far. "this build" for the build itself. */
const char *source_by_letter(Composer *c, Words *sheets, const Entry *entry, const char *page);
/* The sheet an entry is taken from, without its page. */
const char *sheet_print(Composer *c, const Entry *entry);
/* What the letters stand for; nothing when there are none. */
void add_sources(Composer *c, const Words *sheets);

/* Does some step have to do with it? Of work without steps: everything. */
bool role_in_work(const Composer *c, const Role *role);
bool consumable_in_work(const Composer *c, const Entry *consumable);

/* Each sheet of the packet. */
void sheet_job(Composer *c);
void sheet_safety(Composer *c);
void sheet_setup(Composer *c);
void sheet_bench(Composer *c);
void sheet_start(Composer *c);
void sheet_torque(Composer *c);
void sheet_values(Composer *c);
void sheet_nonconformance(Composer *c);
void sheet_customer(Composer *c);
void add_legend(Composer *c); /* what the marks mean */
/* What fuel and oil the makers ask for, a bullet each; nothing where nobody asks. */
void add_fuel_and_oil(Composer *c);

/* Parts of sheets. */
Block *add_message(Composer *c, const Entry *caution);
/* Everything a step needs, in one group: its messages, text, rows, tables, cards. */
void add_step(Composer *c, const PlanStep *step);
void add_torque_card(Composer *c, const PlanStep *step, const JobJoint *joint);
bool is_tightened(const PlanStep *step, const JobJoint *joint);
/* Parts that go back where they were, with room for their tags; nothing when there are none. */
void add_tag_table(Composer *c);
typedef VEC(const Entry *) Parts;
/* Those a step may take one of for the role, each once. */
Parts parts_offered(Composer *c, const Role *role);
/* To tick: which of the parts offered is taken. */
void add_choices(Composer *c, const PlanStep *step);
void add_stock(Composer *c); /* sizes that bench tables may ask for, for the setup sheet */
/* For a step that tightens several joints in one sequence. */
void add_sequence(Composer *c, const PlanStep *step);
void add_bench_table(Composer *c, const PlanStep *step);
/* What a step says that goes by the table of the same step for the member before; NULL: it does
 * not. */
const char *bench_table_again(Composer *c, const PlanStep *step);
void add_figures(Composer *c, const PlanStep *step);
/* Puts the numbers of figures into texts of the step, whose blocks begin there. */
void figures_said(Composer *c, const PlanStep *step, size_t first);
/* The joint's tightening pattern, once in the packet; its figure number, 0: no places. */
int add_pattern(Composer *c, const JobJoint *joint);

#endif
