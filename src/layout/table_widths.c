#include "layout/table_widths.h"

#include "layout/boxes.h"

#include <string.h>

#define LONGEST_WORD   MM(45) /* longer ones are cut */
#define LONGEST_BOUND  MM(80) /* a range in large figures, with its unit */
#define LEAST_COLUMN   MM(7)
#define LONGEST_UNIT   10 /* " deg BTDC" */
#define LONGEST_NUMBER 24 /* "104.0 to 108.0 deg ATDC" */

/* What follows the last number, if it is short enough to be a unit; NULL: nothing. */
static const char *unit_after(const char *text) {
  size_t at = strlen(text), end = at;
  while (at > 0 && !is_digit(text[at - 1])) at--;
  return at == 0 || at == end || text[at] != ' ' || end - at > LONGEST_UNIT ? NULL : text + at;
}

const char *table_cell_bound(Layout *layout, const char *text, bool number) {
  bool whole = number && strlen(text) <= LONGEST_NUMBER;
  const char *unit = whole ? text : unit_after(text);
  if (!unit) return text;
  if (!strchr(unit, ' ')) return text;
  Text bound = text_new(layout->arena);
  text_add_n(&bound, text, (size_t)(unit - text));
  for (size_t n; *unit != '\0'; unit += n) {
    n = *unit == ' ' ? 1 : strcspn(unit, " ");
    text_add_n(&bound, *unit == ' ' ? "\xC2\xA0" : unit, *unit == ' ' ? 2 : n);
  }
  return text_done(&bound);
}

typedef struct Want {
  Um least;  /* no word cut */
  Um whole;  /* no line broken */
  Um share;  /* by weight */
  bool open; /* to write in: as wide as its weight says */
} Want;

static bool is_bound(const char *word, size_t length) {
  const char *at = memchr(word, '\xC2', length);
  return at && strstr(at, "\xC2\xA0") && strstr(at, "\xC2\xA0") < word + length;
}

static Um longest_word(TypeName type, const char *text) {
  Um longest = 0;
  while (*text != '\0') {
    size_t length = strcspn(text, " \n\t");
    Um width = type_width_n(type, text, length),
       most = is_bound(text, length) ? LONGEST_BOUND : LONGEST_WORD;
    if (width > most) width = most;
    if (width > longest) longest = width;
    text += length;
    text += strspn(text, " \n\t");
  }
  return longest;
}

/* The longest of the lines that the text itself begins. */
static Um longest_line(TypeName type, const char *text) {
  Um longest = 0;
  while (*text != '\0') {
    size_t length = strcspn(text, "\n");
    Um width = type_width_n(type, text, length);
    if (width > longest) longest = width;
    text += length;
    text += strspn(text, "\n");
  }
  return longest;
}

static void want_text(Want *want, TypeName type, const char *text, Um air) {
  if (!text || !text[0]) return;
  Um word = longest_word(type, text) + air, whole = longest_line(type, text) + air;
  if (word > want->least) want->least = word;
  if (whole > want->whole) want->whole = whole;
}

/* On one line, where there is room; two never over each other. */
static void want_ticks(Want *want, const Words *names, Um air) {
  Um whole = air;
  for (size_t i = 0; i < names->n; i++) {
    Um wide = type_width(TYPE_LABEL_BOLD, names->at[i]) + MM(2);
    whole += wide > TICK_SIDE + MM(3) ? wide : TICK_SIDE + MM(3);
  }
  if (names->n > 0 && whole > want->whole) want->whole = whole;
  if (names->n == 2 && whole > want->least) want->least = whole;
}

static void want_cell(Layout *layout, Want *want, const Cell *cell, bool number, Um air) {
  const char *text =
      cell->text ? table_cell_bound(layout, cell->text, number || cell->large) : NULL;
  switch (cell->kind) {
  case CELL_TICK:
    if (want->least < TICK_SIDE + air) want->least = TICK_SIDE + air;
    want_ticks(want, &cell->ticks, air);
    break;
  case CELL_BLANK:
    want->open = true;
    break;
  case CELL_STOP:
    want_text(want, TYPE_LABEL_BOLD, "STOP", air);
    break;
  case CELL_TEXT:
  case CELL_NUMBER:
    want_text(want,
              cell->large  ? TYPE_VALUE
              : cell->bold ? TYPE_TABLE_BOLD
                           : TYPE_TABLE,
              text, air);
    break;
  }
}

static Want *wants_of(Layout *layout, const Block *table, Um pad) {
  size_t n = table->columns.n;
  Want *wants = ARENA_NEW_N(layout->arena, Want, n + 1);
  int64_t total = 0;
  for (size_t i = 0; i < n; i++)
    total += table->columns.at[i].weight < 1 ? 1 : table->columns.at[i].weight;
  for (size_t i = 0; i < n; i++) {
    const Column *column = &table->columns.at[i];
    wants[i].share =
        (Um)((int64_t)COLUMN_WIDTH * (column->weight < 1 ? 1 : column->weight) / total);
    want_text(&wants[i], TYPE_LABEL_BOLD, column->title, 2 * pad);
    for (size_t j = 0; j < table->rows.n; j++)
      if (i < table->rows.at[j].n)
        want_cell(layout, &wants[i], &table->rows.at[j].at[i], column->number, 2 * pad);
    wants[i].least += MM(0.1);
    if (wants[i].least < LEAST_COLUMN) wants[i].least = LEAST_COLUMN;
    wants[i].whole += MM(0.1);
    if (wants[i].whole < wants[i].least) wants[i].whole = wants[i].least;
  }
  return wants;
}

/* What a column starts from: its share, or less where it needs less. */
static Um settled(const Want *want) {
  if (want->open) return want->share > want->least ? want->share : want->least;
  if (want->whole < want->share) return want->whole;
  return want->share > want->least ? want->share : want->least;
}

static Um least_of(const Want *want) {
  return want->least;
}

static Um narrowest(const Want *want) {
  (void)want;
  return LEAST_COLUMN;
}

/* Every column gives of what it has beyond its floor; answers what is still over. */
static int64_t give(const Want *wants, Um *widths, size_t n, int64_t over,
                    Um (*floor_of)(const Want *)) {
  int64_t spare = 0;
  for (size_t i = 0; i < n; i++) spare += widths[i] - floor_of(&wants[i]);
  if (spare <= 0) return over;
  int64_t given = spare < over ? spare : over, left = over;
  for (size_t i = 0; i < n; i++) {
    Um less = (Um)(((widths[i] - floor_of(&wants[i])) * given + spare - 1) / spare);
    widths[i] -= less;
    left -= less;
  }
  return left;
}

/* Too wide in all: first no word is cut, then long words of wide columns are, for a narrow one has
 * nothing to give; last, all. */
static void shrink(const Want *wants, Um *widths, size_t n, int64_t over) {
  over = give(wants, widths, n, over, least_of);
  if (over > 0) over = give(wants, widths, n, over, narrowest);
  if (over <= 0) return;
  int64_t all = 0;
  for (size_t i = 0; i < n; i++) all += widths[i];
  for (size_t i = 0; i < n; i++) widths[i] = (Um)(widths[i] * (int64_t)COLUMN_WIDTH / all);
}

static void report_narrow(Layout *layout, const Block *table, const Um *widths, size_t n) {
  for (size_t i = 0; i < n; i++) {
    if (widths[i] >= LEAST_COLUMN) continue;
    report_too_long(layout, arena_printf(layout->arena, "a table of %zu columns", n),
                    table->columns.at[i].title);
    return;
  }
}

/* Room left over: to those that break lines, as far as they need it, then by weight. */
static void grow(const Want *wants, Um *widths, size_t n, int64_t left) {
  int64_t needed = 0;
  for (size_t i = 0; i < n; i++)
    if (wants[i].whole > widths[i]) needed += wants[i].whole - widths[i];
  int64_t given = needed < left ? needed : left;
  for (size_t i = 0; i < n && needed > 0; i++)
    if (wants[i].whole > widths[i])
      widths[i] += (Um)((wants[i].whole - widths[i]) * given / needed);
  left -= given;
  for (size_t i = 0; i < n && left > 0; i++)
    widths[i] += (Um)(left * wants[i].share / COLUMN_WIDTH);
}

void table_divide(Layout *layout, const Block *table, Um pad, Um *left) {
  size_t n = table->columns.n;
  const Want *wants = wants_of(layout, table, pad);
  Um *widths = ARENA_NEW_N(layout->arena, Um, n + 1);
  int64_t all = 0;
  for (size_t i = 0; i < n; i++) all += widths[i] = settled(&wants[i]);
  if (all > COLUMN_WIDTH)
    shrink(wants, widths, n, all - COLUMN_WIDTH);
  else
    grow(wants, widths, n, COLUMN_WIDTH - all);
  report_narrow(layout, table, widths, n);
  Um at = 0;
  for (size_t i = 0; i < n; i++) {
    left[i] = at;
    at += widths[i];
  }
  left[n] = COLUMN_WIDTH;
}
