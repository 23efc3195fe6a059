/* The tables as a page for people: every key, what stands there, what it means. */
#include "load/tables.h"

#include <string.h>

static void add_cell(Text *out, const char *text) {
  for (; *text; text++) {
    if (*text == '|') text_add(out, "\\");
    text_add_n(out, text, 1);
  }
}

/* words parted by | as `a`, `b`. */
static void add_words(Text *out, const char *words) {
  text_add(out, "`");
  for (; *words; words++) {
    if (*words == '|')
      text_add(out, "`, `");
    else
      text_add_n(out, words, 1);
  }
  text_add(out, "`");
}

/* Where the mapping is told of: a heading of the page. */
static const Shape *told_in(const Field *field) {
  switch (field->type) {
  case FIELD_SOURCE:
    return &source_shape;
  case FIELD_VALUES:
  case FIELD_CHOICES:
    return &value_shape;
  case FIELD_LIMITS:
    return &limit_shape;
  default:
    return field->shape;
  }
}

/* What stands behind the key. */
static void add_what(Text *out, const Shapes *shapes, const Field *field) {
  bool reference =
      field->type == FIELD_REF || field->type == FIELD_REFS || field->type == FIELD_PARTS_CHOSEN;
  const Shape *shape = told_in(field);
  if (field->words && !reference && field->type != FIELD_OPERATION) {
    add_words(out, field->words);
    if (field->type == FIELD_WORDS) text_add(out, ", as a list");
    return;
  }
  add_cell(out, field_type_words(field->type));
  if (reference) {
    text_addf(out, " ([%s](#%s))", entry_kind_word(field->kind), entry_kind_word(field->kind));
  }
  if (shape) {
    const char *slug = shape_slug(out->arena, shapes, shape);
    text_addf(out, " ([%s](#in-%s))", shape->what, slug);
  }
  if (field->words) {
    text_add(out, ", or ");
    add_words(out, field->words);
  }
}

static void add_table(Text *out, const Shapes *shapes, const Shape *shape) {
  text_add(out, "| key | what stands there | meaning |\n|---|---|---|\n");
  for (size_t i = 0; i < shape->n; i++) {
    const Field *field = &shape->fields[i];
    text_addf(out, "| `%s`%s | ", field->key, field->required ? " (must be there)" : "");
    add_what(out, shapes, field);
    text_add(out, " | ");
    add_cell(out, field->doc);
    text_add(out, " |\n");
  }
}

void load_reference_markdown(Text *out) {
  Shapes shapes = shapes_inside(out->arena);
  text_add(out,
           "# Keys of builds and specs\n\n"
           "Made from the tables that read them. What the words mean together, and the forms of\n"
           "numbers, formulas, values and limits, is told in language.md.\n\n"
           "## Every entry\n\n");
  add_table(out, &shapes, &entry_shape);
  for (int kind = 0; kind < ENTRY_KIND_COUNT; kind++) {
    text_addf(out, "\n## %s\n\nIn `%s`.\n\n", entry_kind_word((EntryKind)kind),
              entry_kind_folder((EntryKind)kind));
    add_table(out, &shapes, shape_of_kind((EntryKind)kind));
  }
  text_add(out,
           "\n## " READINGS_KIND
           "\n\nBeside the build; written by `sheaf readings`. It has no name and no source.\n\n");
  add_table(out, &shapes, &readings_shape);
  text_add(out, "\n## Mappings inside\n");
  for (size_t i = 0; i < shapes.n; i++) {
    const Shape *shape = shapes.at[i];
    text_addf(out, "\n<a id=\"in-%s\"></a>\n\n### %s\n\n", shape_slug(out->arena, &shapes, shape),
              shape->what);
    if (shape == &value_shape) {
      text_add(out,
               "A value may be plain, a list of choices of which the first that holds is taken, a\n"
               "mapping with the keys below, or a mapping by member.\n\n");
    }
    if (shape == &limit_shape) {
      text_add(
          out,
          "A limit may be a plain band, a list of choices, a mapping with the keys below, or a\n"
          "mapping by member.\n\n");
    }
    add_table(out, &shapes, shape);
  }
}
