/* The packet as plain text: what it says, without where it stands. */
#include "compose/compose.h"

#include <string.h>

static void indent(Text *out, int by) {
  for (int i = 0; i < by; i++) text_add(out, " ");
}

static void line(Text *out, int by, const char *label, const char *text) {
  if (!text || !text[0]) return;
  indent(out, by);
  text_addf(out, "%s%s\n", label, text);
}

/* Lines of a cell one behind the other. */
static void add_on_a_line(Text *out, const char *text) {
  if (!text) return;
  for (size_t n = 0; *text != '\0'; text += n) {
    n = strcspn(text, "\n");
    text_add_n(out, text, n);
    if (text[n] == '\n') text_add(out, "; ");
    n += text[n] == '\n';
  }
}

static const char *cell_text(const Cell *cell) {
  switch (cell->kind) {
  case CELL_BLANK:
    return cell->text && cell->text[0] ? cell->text : "____";
  case CELL_TICK:
    return "[ ]";
  case CELL_STOP:
    return "STOP";
  case CELL_TEXT:
  case CELL_NUMBER:
    return cell->text;
  }
  return "";
}

static void list_heading(Text *out, const Block *block) {
  text_addf(out, "%s %s\n", block->level == 1 ? "==" : "--", block->text);
}

static void list_text(Text *out, const Block *block) {
  line(out, 2, "", block->text);
}

static void list_bullets(Text *out, const Block *block) {
  for (size_t i = 0; i < block->items.n; i++) line(out, 2, "* ", block->items.at[i]);
}

static void list_fields(Text *out, const Block *block) {
  for (size_t i = 0; i < block->fields.n; i++) {
    const Field *field = &block->fields.at[i];
    text_addf(out, "  %s: %s\n", field->label, field->value ? field->value : "____");
  }
}

static void list_table(Text *out, const Block *block) {
  line(out, 2, "", block->text);
  text_add(out, "  |");
  for (size_t i = 0; i < block->columns.n; i++) text_addf(out, " %s |", block->columns.at[i].title);
  text_add(out, "\n");
  for (size_t i = 0; i < block->rows.n; i++) {
    text_add(out, "  |");
    for (size_t j = 0; j < block->rows.at[i].n; j++) {
      const Cell *cell = &block->rows.at[i].at[j];
      for (size_t k = 0; k < cell->ticks.n; k++) text_addf(out, " [%s]", cell->ticks.at[k]);
      if (cell->box) text_addf(out, " box %s:", cell->box);
      if (cell->ticks.n == 0) {
        text_add(out, " ");
        add_on_a_line(out, cell_text(cell));
      }
      text_add(out, " |");
    }
    text_add(out, "\n");
  }
}

static void list_message(Text *out, const Block *block) {
  text_addf(out, "  %s: %s %s\n", safety_word_print(block->word), block->hazard,
            block->consequence);
  for (size_t i = 0; i < block->avoid.n; i++) line(out, 4, "* ", block->avoid.at[i]);
  line(out, 2, "", block->text);
}

static void list_step(Text *out, const Block *block) {
  if (block->step > 0) text_addf(out, "[ ] %d. ", block->step); /* else two issues compared */
  text_addf(out, "%s: %s\n", block->act, block->text);
  for (size_t i = 0; i < block->notes.n; i++) line(out, 4, "note: ", block->notes.at[i]);
}

static void list_measure(Text *out, const Block *block) {
  const MeasureRow *row = &block->measure;
  text_addf(out, "    box %d: %s%s%s | %s\n", row->box, row->letter ? row->letter : "",
            row->letter ? " = " : "", row->what, row->gauge);
  text_addf(out, "      min %s target %s max %s %s | readings %d |", row->min ? row->min : "-",
            row->target ? row->target : "-", row->max ? row->max : "-", row->unit, row->readings);
  for (int i = 0; i < row->readings; i++)
    text_addf(out, " %s", row->values[i] ? row->values[i] : "____");
  if (row->agree) text_addf(out, " | within %s of each other", row->agree);
  if (row->kind) text_addf(out, " | %s", row->kind);
  if (row->verdict) text_addf(out, " | %s", row->verdict);
  if (row->source && row->source[0]) text_addf(out, " | %s", row->source);
  text_add(out, "\n");
}

static void list_torque(Text *out, const Block *block) {
  const TorqueCard *card = &block->torque;
  text_addf(out, "    joint %s: %s (%s), %s x %s %s\n", card->joint, card->torque, card->other,
            card->count, card->thread, card->strength);
  line(out, 6, "lubricant: ", card->lubricant);
  line(out, 6, "threadlocker: ", card->threadlock);
  line(out, 6, "fasteners: ", card->reuse);
  line(out, 6, "drive: ", card->drive);
  line(out, 6, "wrench: ", card->wrench);
  line(out, 6, "set to: ", card->setting);
  line(out, 6, "", card->share);
  line(out, 6, card->order_proposed ? "order, proposed: " : "order: ", card->order);
  line(out, 6, "sheet: ", card->source);
  for (size_t i = 0; i < card->passes.n; i++) {
    const TorquePass *pass = &card->passes.at[i];
    text_addf(out, "      pass %zu: %s", i + 1, pass->what);
    for (size_t j = 0; j < pass->ticks.n; j++) text_addf(out, " [%s]", pass->ticks.at[j]);
    text_add(out, "\n");
  }
  if (card->figure) text_addf(out, "      figure %d\n", card->figure);
}

static void list_squares(Text *out, const BenchTable *bench) {
  text_addf(out, "    table %s (%s)\n    %s %s \\ %s:", bench->title, bench->valid_for,
            bench->row_label, bench->row_unit, bench->column_label);
  for (size_t i = 0; i < bench->column_names.n; i++)
    text_addf(out, " | %s", bench->column_names.at[i]);
  text_add(out, "\n");
  for (size_t i = 0; i < bench->row_names.n; i++) {
    text_addf(out, "    %s", bench->row_names.at[i]);
    for (size_t j = 0; j < bench->column_names.n; j++)
      text_addf(out, " | %s", bench->cells.at[i * bench->column_names.n + j].text);
    text_add(out, "\n");
  }
  for (size_t i = 0; i < bench->answers.n; i++) line(out, 4, "answer: ", bench->answers.at[i]);
  line(out, 4, "", bench->rounding);
}

static void list_bench(Text *out, const Block *block) {
  const BenchTable *bench = &block->bench;
  if (!bench->squares_at)
    list_squares(out, bench);
  else if (!bench->squares_said)
    text_addf(out, "    table of " PACKET_STEP_REF "%d}: %s\n", bench->squares_at, bench->title);
  if (bench->member) line(out, 4, "boxes of: ", bench->member);
  for (size_t i = 0; i < bench->found.n; i++)
    text_addf(out, "%s%s%s", i ? " | " : "    found: ", bench->found.at[i],
              i + 1 == bench->found.n ? "\n" : "");
}

static void list_work(Text *out, const Block *block) {
  for (size_t i = 0; i < block->letters.n; i++) {
    const char *value = block->values.at[i] ? block->values.at[i] : "____";
    const char *box = block->boxes.at[i];
    text_addf(out, "    %s = %s %s %s\n", block->letters.at[i], block->items.at[i],
              box ? arena_printf(out->arena, "| in %s", box) : value,
              box ? "" : block->units.at[i]);
  }
}

static void list_hold(Text *out, const Block *block) {
  if (block->step > 0)
    text_addf(out, "==== HOLD %d. %s ____ ____\n", block->step, block->text);
  else
    text_addf(out, "Hold: %s\n", block->text);
  for (size_t i = 0; i < block->notes.n; i++) line(out, 4, "note: ", block->notes.at[i]);
  for (size_t i = 0; i < block->items.n; i++) text_addf(out, "    %s: ____\n", block->items.at[i]);
}

static void list_initials(Text *out, const Block *block) {
  text_addf(out, "  %s; initials and date ____ ____\n", block->text);
}

static void list_figure(Text *out, const Block *block) {
  text_addf(out, "    figure %d: %s\n", block->figure.number, block->figure.caption);
  for (size_t i = 0; i < block->figure.points.n; i++) {
    const FigurePoint *point = &block->figure.points.at[i];
    text_addf(out, "      %s%s%s\n", point->label, point->label[0] ? ": " : "",
              point->note ? point->note : "");
  }
  for (size_t i = 0; i < block->figure.sides.n; i++)
    text_addf(out, "      %s side\n", block->figure.sides.at[i].label);
}

static void list_scale(Text *out, const Block *block) {
  (void)block;
  text_add(out, "  scale bar 100 mm\n");
}

static void list_legend(Text *out, const Block *block) {
  (void)block;
  text_add(out, "  legend\n");
}

static void list_lines(Text *out, const Block *block) {
  text_addf(out, "  %d lines to write on\n", block->count);
}

typedef void Lister(Text *out, const Block *block);

static Lister *const listers[] = {
    [BLOCK_HEADING] = list_heading,   [BLOCK_TEXT] = list_text,
    [BLOCK_BULLETS] = list_bullets,   [BLOCK_FIELDS] = list_fields,
    [BLOCK_TABLE] = list_table,       [BLOCK_MESSAGE] = list_message,
    [BLOCK_STEP] = list_step,         [BLOCK_MEASURE] = list_measure,
    [BLOCK_TORQUE] = list_torque,     [BLOCK_BENCH] = list_bench,
    [BLOCK_WORK] = list_work,         [BLOCK_HOLD] = list_hold,
    [BLOCK_INITIALS] = list_initials, [BLOCK_FIGURE] = list_figure,
    [BLOCK_SCALE_BAR] = list_scale,   [BLOCK_LEGEND] = list_legend,
    [BLOCK_LINES] = list_lines,
};

void compose_block_text(Text *out, const Block *block) {
  listers[block->kind](out, block);
}

static void list_packet(Text *out, const Packet *packet) {
  text_addf(out, "job %s | engine %s | inputs %.8s | library %.8s | copy %s | %s\n", packet->job,
            packet->engine_number, packet->revision, packet->library_revision, packet->copy,
            packet->date);
  for (size_t i = 0; i < packet->sheets.n; i++) {
    const Sheet *sheet = packet->sheets.at[i];
    text_addf(out, "\n#### %s\n", sheet->title);
    for (size_t j = 0; j < sheet->groups.n; j++)
      for (size_t k = 0; k < sheet->groups.at[j].blocks.n; k++) {
        const Block *block = sheet->groups.at[j].blocks.at[k];
        if (block->changed) text_add(out, "| ");
        compose_block_text(out, block);
      }
  }
}

void compose_text(Text *out, const Packet *packet) {
  Text marked = text_new(out->arena);
  list_packet(&marked, packet);
  text_add(out, references_said(out->arena, text_done(&marked)));
}
