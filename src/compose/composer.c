#include "compose/composer.h"

void sheet_begin(Composer *c, const char *id, const char *title) {
  Sheet *sheet = ARENA_NEW(c->arena, Sheet);
  sheet->id = id;
  sheet->title = title;
  sheet->new_page = true;
  vec_push(c->arena, &c->packet->sheets, sheet);
  c->sheet = sheet;
  c->group = NULL;
}

void group_begin(Composer *c) {
  Group group = {.header = -1};
  vec_push(c->arena, &c->sheet->groups, group);
  c->group = &c->sheet->groups.at[c->sheet->groups.n - 1];
  if (c->sheet->headers.n) c->group->header = (int)c->sheet->headers.n - 1;
}

void group_keep(Composer *c) {
  c->group->keep_with_next = true;
}

Block *block_add(Composer *c, BlockKind kind) {
  Block *block = ARENA_NEW(c->arena, Block);
  block->kind = kind;
  vec_push(c->arena, &c->group->blocks, block);
  return block;
}

void add_heading(Composer *c, int level, const char *text) {
  Block *block = block_add(c, BLOCK_HEADING);
  block->level = level;
  block->text = text;
  block->bookmark = text;
}

void add_text(Composer *c, const char *text) {
  block_add(c, BLOCK_TEXT)->text = text;
}

void add_bold(Composer *c, const char *text) {
  Block *block = block_add(c, BLOCK_TEXT);
  block->text = text;
  block->bold = true;
}

void add_field(Composer *c, Block *fields, const char *label, const char *value, int width) {
  Field field = {label, value, width};
  vec_push(c->arena, &fields->fields, field);
}

void add_column(Composer *c, Block *table, const char *title, int weight, bool number) {
  Column column = {title, weight, number};
  vec_push(c->arena, &table->columns, column);
}

void add_row(Composer *c, Block *table) {
  Row row = {0};
  vec_push(c->arena, &table->rows, row);
}

void add_cell(Composer *c, Block *table, CellKind kind, const char *text) {
  Cell cell = {.kind = kind, .text = text ? text : ""};
  vec_push(c->arena, &table->rows.at[table->rows.n - 1], cell);
}

const char *said_or(const Said *said, const char *otherwise) {
  return said->s ? said->s : otherwise;
}

const char *build_line(const Job *job, const char *label) {
  const BuildEntry *build = job->build;
  for (size_t i = 0; i < build->machine.n; i++)
    if (text_is(build->machine.at[i].label, label)) return build->machine.at[i].value.s;
  for (size_t i = 0; i < build->customer.n; i++)
    if (text_is(build->customer.at[i].label, label)) return build->customer.at[i].value.s;
  for (size_t i = 0; i < build->people.n; i++)
    if (text_is(build->people.at[i].label, label)) return build->people.at[i].value.s;
  return NULL;
}

const char *subject_said(const Job *job, const char *subject) {
  for (size_t i = 0; i < job->quantities.n; i++)
    if (text_is(job->quantities.at[i]->name, subject)) return job->quantities.at[i]->label;
  for (size_t i = 0; i < job->joints.n; i++)
    if (text_is(job->joints.at[i]->name, subject)) return job->joints.at[i]->label;
  return subject;
}
