#include "layout/paragraph.h"

#include "layout/words.h"

#include <string.h>

/* One line: atoms from first to last, and what they take as drawn. */
typedef struct Line {
  size_t first, last; /* last: one past */
  Um width;
} Line;
typedef VEC(Line) Lines;

/* Room for the words and lines of one paragraph after the other. */
struct Lettering {
  Atoms atoms;
  Lines lines;
  Um space[TYPE_COUNT][FACE_COUNT]; /* between words */
};

typedef struct Breaker {
  Layout *layout;
  const Atoms *atoms;
  Lines *lines;
  Um width;
  const Um *space; /* between words, in each face */
} Breaker;

static struct Lettering *new_lettering(Arena *arena) {
  struct Lettering *made = ARENA_NEW(arena, struct Lettering);
  for (int type = 0; type < TYPE_COUNT; type++)
    for (int face = 0; face < FACE_COUNT; face++)
      made->space[type][face] = face_width((Face)face, type_of((TypeName)type)->size, " ");
  return made;
}

static struct Lettering *empty_lettering(Layout *layout) {
  if (!layout->lettering) layout->lettering = new_lettering(layout->arena);
  layout->lettering->atoms.n = layout->lettering->lines.n = 0;
  return layout->lettering;
}

/* One past the atoms that stand together without a space. */
static size_t word_end(const Breaker *breaker, size_t at) {
  const Atoms *atoms = breaker->atoms;
  Um room = atoms->at[at].room;
  size_t end = at + 1;
  for (; end < atoms->n && !atoms->at[end].space && !atoms->at[end].cut; end++)
    room += atoms->at[end].room;
  return room > breaker->width ? at + 1 : end; /* too wide together: one by one */
}

static void break_lines(Breaker *breaker) {
  const Atoms *atoms = breaker->atoms;
  Line line = {0};
  Um room = 0;
  int count = 0;
  for (size_t at = 0; at < atoms->n;) {
    size_t end = word_end(breaker, at);
    bool spaced = atoms->at[at].space && at > line.first;
    Um more = spaced ? breaker->space[atoms->at[at].face] : 0;
    int characters = spaced ? 1 : 0;
    for (size_t i = at; i < end; i++) {
      more += atoms->at[i].room;
      characters += atoms->at[i].count;
    }
    bool full = room + more > breaker->width || count + characters > MOST_CHARACTERS;
    if (at > line.first && (full || atoms->at[at].fresh)) {
      line.last = at;
      vec_push(breaker->layout->arena, breaker->lines, line);
      line.first = at;
      room = 0;
      count = 0;
      continue; /* the word again, at the head of a line */
    }
    room += more;
    count += characters;
    at = end;
  }
  line.last = atoms->n;
  if (line.last > line.first) vec_push(breaker->layout->arena, breaker->lines, line);
}

static void measure_line(Breaker *breaker, Line *line) {
  line->width = 0;
  for (size_t i = line->first; i < line->last; i++) {
    const Atom *atom = &breaker->atoms->at[i];
    if (atom->space && i > line->first && atom->length) line->width += breaker->space[atom->face];
    line->width += atom->width;
  }
}

static void add_link(Layout *layout, Sketch *sketch, const Atom *atom, const Type *type, Um x,
                     Um y) {
  const Spot *spot = atom->figure ? find_figure(layout, atom->to) : find_step(layout, atom->to);
  if (!spot) return;
  Mark *link = sketch_mark(sketch, MARK_LINK);
  link->x = x;
  link->y = y;
  link->x2 = x + atom->width;
  link->y2 = y + type->leading;
  link->target = spot->page;
  link->y3 = spot->y;
}

/* Neighbours of one face are one mark; references are marks of their own. */
static void draw_line(Breaker *breaker, Sketch *sketch, const Line *line, const Type *type, Um x,
                      Um y, Ink ink) {
  const Atoms *atoms = breaker->atoms;
  for (size_t i = line->first; i < line->last;) {
    const Atom *atom = &atoms->at[i];
    bool spaced = atom->space && i > line->first && atom->length;
    if (spaced) x += breaker->space[atom->face];
    Text run = text_new(breaker->layout->arena);
    Um start = x;
    size_t at = i;
    do {
      const Atom *next = &atoms->at[at];
      if (at > i && next->space) {
        text_add(&run, " ");
        x += breaker->space[atom->face];
      }
      text_add_n(&run, next->text, next->length);
      x += next->width;
      at++;
    } while (at < line->last && !atom->to && !atoms->at[at].to && atoms->at[at].length &&
             atoms->at[at].face == atom->face);
    Type own = *type;
    own.face = atom->face;
    sketch_text(sketch, start, y + type_baseline(type), &own, text_done(&run), ink);
    if (atom->to) add_link(breaker->layout, sketch, atom, type, start, y);
    i = at;
  }
}

/* Where a line of that width begins. */
static Um line_left(const Paragraph *paragraph, Um x, Um width) {
  Um over = paragraph->width - width;
  return paragraph->align == ALIGN_RIGHT    ? x + over
         : paragraph->align == ALIGN_CENTRE ? x + over / 2
                                            : x;
}

/* A line of plain text, by its offsets. */
typedef struct PlainLine {
  size_t from, to;
  Um width;
} PlainLine;

#define PLAIN_LINES 16

/* Most text is words with one blank between them, none of them too wide and no reference among
 * them: its lines are pieces of itself. Answers their number; 0: it takes the long way, which
 * would break the same text alike. */
static size_t break_plain(const Paragraph *paragraph, const Type *type, Um space,
                          PlainLine *lines) {
  const char *text = paragraph->text;
  int64_t most = (int64_t)paragraph->width * 1000 / type->size;
  size_t n = 0, last = 0; /* last: where the word before begins */
  int count = 0;
  if (strchr(text, '{')) return 0;
  for (size_t at = 0;; at++) {
    FaceWord word = face_word(type->face, text + at);
    if (word.bytes == 0 || word.advance > most || word.characters > MOST_CHARACTERS) return 0;
    Um width = face_width_of(type->size, word.advance);
    PlainLine *line = n > 0 ? &lines[n - 1] : NULL;
    if (line && line->width + space + width <= paragraph->width &&
        count + 1 + word.characters <= MOST_CHARACTERS) {
      line->width += space + width;
      count += 1 + word.characters;
    } else {
      if (n == PLAIN_LINES || words_held(text + last, line ? at - 1 - last : 0, paragraph->width))
        return 0;
      line = &lines[n++];
      *line = (PlainLine){.from = at, .width = width};
      count = word.characters;
    }
    last = at;
    at += word.bytes;
    line->to = at;
    if (text[at] == '\0') return n;
  }
}

static bool plain_set(Layout *layout, Sketch *sketch, Um x, Um y, const Paragraph *paragraph,
                      Um *height) {
  const Type *type = type_of(paragraph->type);
  PlainLine lines[PLAIN_LINES];
  Um space = layout->lettering->space[paragraph->type][type->face];
  size_t n = break_plain(paragraph, type, space, lines);
  for (size_t i = 0; i < n; i++) {
    const PlainLine *line = &lines[i];
    const char *text =
        arena_text(layout->arena, paragraph->text + line->from, line->to - line->from);
    sketch_text(sketch, line_left(paragraph, x, line->width),
                y + (Um)i * type->leading + type_baseline(type), type, text, paragraph->ink);
  }
  *height = (Um)n * type->leading;
  return n > 0;
}

Um paragraph_set(Layout *layout, Sketch *sketch, Um x, Um y, const Paragraph *paragraph) {
  const Type *type = type_of(paragraph->type);
  struct Lettering *lettering = empty_lettering(layout);
  Um height;
  if (!paragraph->lead && paragraph->text && plain_set(layout, sketch, x, y, paragraph, &height))
    return height;
  Atoms *atoms = &lettering->atoms;
  if (paragraph->lead) words_add(layout, atoms, type, FACE_BOLD, paragraph->lead, paragraph->width);
  if (paragraph->text)
    words_add(layout, atoms, type, type->face, paragraph->text, paragraph->width);
  Breaker breaker = {.layout = layout,
                     .atoms = atoms,
                     .lines = &lettering->lines,
                     .width = paragraph->width,
                     .space = lettering->space[paragraph->type]};
  break_lines(&breaker);
  for (size_t i = 0; i < lettering->lines.n; i++) {
    Line *line = &lettering->lines.at[i];
    measure_line(&breaker, line);
    draw_line(&breaker, sketch, line, type, line_left(paragraph, x, line->width),
              y + (Um)i * type->leading, paragraph->ink);
  }
  return (Um)lettering->lines.n * type->leading;
}

Um text_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, TypeName type, const char *text) {
  Paragraph paragraph = {.type = type, .text = text, .width = width};
  return paragraph_set(layout, sketch, x, y, &paragraph);
}

/* As much of the text as fits, with an ellipsis. */
static const char *shortened(Layout *layout, const Type *type, const char *text, Um most) {
  if (most <= 0 || face_width(type->face, type->size, text) <= most) return text;
  const char *dots = "\xE2\x80\xA6";
  size_t length = 0;
  const char *fits = dots;
  while (text[length] != '\0') {
    size_t step;
    utf8_next(text + length, &step);
    length += step;
    const char *longer = arena_printf(layout->arena, "%.*s%s", (int)length, text, dots);
    if (face_width(type->face, type->size, longer) > most) break;
    fits = longer;
  }
  return fits;
}

static const char *without_breaks(Layout *layout, const char *text) {
  if (!strpbrk(text, "\t\r\n")) return text;
  char *line = arena_text(layout->arena, text, strlen(text));
  for (char *at = line; *at != '\0'; at++)
    if (*at == '\t' || *at == '\r' || *at == '\n') *at = ' ';
  return line;
}

/* Which part of the line x is: 0 its left end, 1 the middle, 2 its right end. */
static Um set_one_line(Layout *layout, Sketch *sketch, Um x, Um y, Um most, TypeName name,
                       const char *text, int part) {
  const Type *type = type_of(name);
  text = without_breaks(layout, text_clean(layout, type->face, text ? text : ""));
  text = shortened(layout, type, text, most);
  Um width = face_width(type->face, type->size, text);
  sketch_text(sketch, x - width * part / 2, y + type_baseline(type), type, text, INK_BLACK);
  return width;
}

Um line_set(Layout *layout, Sketch *sketch, Um x, Um y, Um most, TypeName type, const char *text) {
  return set_one_line(layout, sketch, x, y, most, type, text, 0);
}

Um line_set_centre(Layout *layout, Sketch *sketch, Um middle, Um y, Um most, TypeName type,
                   const char *text) {
  return set_one_line(layout, sketch, middle, y, most, type, text, 1);
}

Um line_set_right(Layout *layout, Sketch *sketch, Um right, Um y, Um most, TypeName type,
                  const char *text) {
  return set_one_line(layout, sketch, right, y, most, type, text, 2);
}

static void report_missing(Layout *layout, uint32_t code, const char *text) {
  for (size_t i = 0; i < layout->missing.n; i++)
    if (layout->missing.at[i] == code) return;
  vec_push(layout->arena, &layout->missing, code);
  finding_add(layout->run, RULE_NO_GLYPH, (Place){0},
              "the typeface has no character U+%04lX, in \"%s\" on the sheet \"%s\"",
              (unsigned long)code, text, layout->where);
}

const char *text_clean(Layout *layout, Face face, const char *text) {
  const char *plain = text; /* every face has all of ASCII */
  while (*plain >= 0x20 && *plain <= 0x7E) plain++;
  if (*plain == '\0') return text;
  bool whole = true;
  for (const char *at = plain; *at != '\0' && whole; at++) whole = (unsigned char)*at >= 0x20;
  if (whole && face_missing(face, plain) == 0) return text;
  Text clean = text_new(layout->arena);
  Text missing = text_new(layout->arena);
  while (*text != '\0') {
    size_t length;
    uint32_t code = utf8_next(text, &length);
    bool blank = code == '\n' || code == '\t' || code == '\r';
    if (blank || face_advance(face, code) >= 0) {
      text_add_n(&clean, text, length);
    } else {
      text_add(&clean, "?");
      text_add_code(&missing, code);
    }
    text += length;
  }
  const char *codes = text_done(&missing);
  while (*codes != '\0') {
    size_t length;
    report_missing(layout, utf8_next(codes, &length), text_done(&clean));
    codes += length;
  }
  return text_done(&clean);
}
