/* The tables as a JSON schema (draft-07), so that an editor offers keys and words and
 * marks what is wrong. Written values are text or numbers to an editor, whatever
 * they measure: the finer checks stay with the program. */
#include "load/readings.h"
#include "load/tables.h"

#include <string.h>

#define SCALAR "{\"type\": [\"string\", \"number\"]}"
#define DATE   "{\"type\": \"string\", \"pattern\": \"^[0-9]{4}-[0-9]{2}-[0-9]{2}$\"}"
#define JOB    "{\"type\": [\"string\", \"number\"], \"pattern\": \"^[A-Za-z0-9_][A-Za-z0-9._-]*$\"}"

typedef struct Schema {
  Text *out;
  Shapes shapes;
} Schema;

static void add_string(Text *out, const char *text) {
  text_add(out, "\"");
  for (; *text; text++) {
    if (*text == '"' || *text == '\\') text_add(out, "\\");
    if ((unsigned char)*text < 0x20)
      text_addf(out, "\\u%04x", (unsigned)*text);
    else
      text_add_n(out, text, 1);
  }
  text_add(out, "\"");
}

static void add_def(Schema *schema, const char *name) {
  text_addf(schema->out, "{\"$ref\": \"#/definitions/%s\"}", name);
}

static void add_shape_def(Schema *schema, const Shape *shape) {
  add_def(schema, shape_slug(schema->out->arena, &schema->shapes, shape));
}

/* {"enum": [...]} of words parted by |. Editors on old YAML take yes and no for true and false. */
static void add_words(Text *out, const char *words) {
  bool truths = strstr(words, "yes|no") != NULL;
  text_add(out, "{\"enum\": [\"");
  for (; *words; words++) {
    if (*words == '|')
      text_add(out, "\", \"");
    else
      text_add_n(out, words, 1);
  }
  text_addf(out, "\"%s]}", truths ? ", true, false" : "");
}

static void add_id(Schema *schema, EntryKind kind, const char *words) {
  text_add(schema->out, "{\"anyOf\": [");
  add_def(schema, arena_printf(schema->out->arena, "id_of_%s", entry_kind_word(kind)));
  if (words) {
    text_add(schema->out, ", ");
    add_words(schema->out, words);
  }
  text_add(schema->out, "]}");
}

/* One of them, or a list. */
static void add_or_list(Schema *schema, void (*add)(Schema *, const Field *), const Field *field) {
  text_add(schema->out, "{\"anyOf\": [");
  add(schema, field);
  text_add(schema->out, ", {\"type\": \"array\", \"items\": ");
  add(schema, field);
  text_add(schema->out, "}]}");
}

/* name: what lines, or a list of what. */
static void add_object_of(Schema *schema, void (*add)(Schema *, const Field *),
                          const Field *field) {
  text_add(schema->out, "{\"type\": \"object\", \"additionalProperties\": ");
  add(schema, field);
  text_add(schema->out, "}");
}

static void add_scalar(Schema *schema, const Field *field) {
  if (field->words)
    add_words(schema->out, field->words);
  else
    text_add(schema->out, SCALAR);
}

static void add_any_scalar(Schema *schema, const Field *field) {
  (void)field;
  text_add(schema->out, SCALAR);
}

static void add_ref(Schema *schema, const Field *field) {
  add_id(schema, field->kind, field->words);
}

static void add_refs(Schema *schema, const Field *field) {
  add_or_list(schema, add_ref, field);
}

static void add_struct(Schema *schema, const Field *field) {
  add_shape_def(schema, field->shape);
}

static void add_value(Schema *schema, const Field *field) {
  (void)field;
  add_shape_def(schema, &value_shape);
}

static void add_limit(Schema *schema, const Field *field) {
  (void)field;
  add_shape_def(schema, &limit_shape);
}

/* Plain, in a list, as a mapping, or by members as deep as it goes. */
static void add_result(Schema *schema, const Field *field) {
  text_add(schema->out, "{\"anyOf\": [" SCALAR);
  if (field->type != FIELD_FITTED && field->type != FIELD_CHECKS)
    text_add(schema->out, ", {\"type\": \"array\", \"items\": " SCALAR "}");
  if (field->shape) {
    text_add(schema->out, ", ");
    add_shape_def(schema, field->shape);
  }
  if (field->type == FIELD_NAMED_READINGS || field->type == FIELD_FITTED)
    text_addf(schema->out, ", {\"$ref\": \"#/definitions/" READINGS_KIND "/properties/%s\"}",
              field->key);
  text_add(schema->out, "]}");
}

/* name: result lines, or the word that nothing is there yet. */
static void add_or_left_out(Schema *schema, const Field *field) {
  text_add(schema->out, "{\"anyOf\": [{\"const\": \"" READING_NOT_GIVEN "\"}, ");
  add_object_of(schema, add_result, field);
  text_add(schema->out, "]}");
}

static void add_date(Schema *schema, const Field *field) {
  (void)field;
  text_add(schema->out, DATE);
}

static void add_job(Schema *schema, const Field *field) {
  (void)field;
  text_add(schema->out, JOB);
}

static void add_text(Schema *schema, const Field *field) {
  if (field->joined)
    add_or_list(schema, add_any_scalar, field);
  else
    add_any_scalar(schema, field);
}

static void add_scalars(Schema *schema, const Field *field) {
  add_or_list(schema, add_scalar, field);
}

static void add_any_scalars(Schema *schema, const Field *field) {
  add_or_list(schema, add_any_scalar, field);
}

static void add_any_named(Schema *schema, const Field *field) {
  add_object_of(schema, add_any_scalar, field);
}

static void add_list_of_struct(Schema *schema, const Field *field) {
  text_add(schema->out, "{\"type\": \"array\", \"items\": ");
  add_struct(schema, field);
  text_add(schema->out, "}");
}

static void add_named_structs(Schema *schema, const Field *field) {
  add_object_of(schema, add_struct, field);
}

static void add_source(Schema *schema, const Field *field) {
  (void)field;
  text_add(schema->out, "{\"anyOf\": [{\"const\": \"common practice\"}, ");
  add_shape_def(schema, &source_shape);
  text_add(schema->out, "]}");
}

static void add_values(Schema *schema, const Field *field) {
  add_object_of(schema, add_value, field);
}

static void add_limits(Schema *schema, const Field *field) {
  add_object_of(schema, add_limit, field);
}

static void add_places(Schema *schema, const Field *field) {
  (void)field;
  text_add(
      schema->out,
      "{\"type\": \"object\", \"additionalProperties\": {\"type\": \"array\", \"items\": " SCALAR
      ", \"minItems\": 2, \"maxItems\": 2}}");
}

static void add_word_sets(Schema *schema, const Field *field) {
  (void)field;
  text_add(schema->out, "{\"type\": \"object\", \"additionalProperties\": "
                        "{\"type\": [\"array\", \"object\"]}}");
}

static void add_named_refs(Schema *schema, const Field *field) {
  add_object_of(schema, add_refs, field);
}

/* How each type is written; those not here are one scalar: numbers, formulas, conditions, units. */
static void (*const WRITTEN[])(Schema *, const Field *) = {
    [FIELD_DATE] = add_date,
    [FIELD_JOB] = add_job,
    [FIELD_TEXT] = add_text,
    [FIELD_WORD] = add_scalar,
    [FIELD_FLAG] = add_scalar,
    [FIELD_TEXTS] = add_scalars,
    [FIELD_WORDS] = add_scalars,
    [FIELD_REF] = add_ref,
    [FIELD_REFS] = add_refs,
    [FIELD_ONE] = add_struct,
    [FIELD_LIST] = add_list_of_struct,
    [FIELD_PASSES] = add_list_of_struct,
    [FIELD_TIGHTEN] = add_list_of_struct,
    [FIELD_RETORQUE] = add_list_of_struct,
    [FIELD_NAMED] = add_named_structs,
    [FIELD_SOURCE] = add_source,
    [FIELD_VALUES] = add_values,
    [FIELD_LIMITS] = add_limits,
    [FIELD_CHOICES] = add_value,
    [FIELD_PLACES] = add_places,
    [FIELD_WORD_SETS] = add_word_sets,
    [FIELD_MATES] = add_any_named,
    [FIELD_NOTES] = add_any_named,
    [FIELD_DETAILS] = add_any_named,
    [FIELD_WORDS_CHOSEN] = add_any_named,
    [FIELD_PARTS_CHOSEN] = add_named_refs,
    [FIELD_READING] = add_any_scalars,
    [FIELD_BOX_READINGS] = add_or_left_out,
    [FIELD_NAMED_READINGS] = add_or_left_out,
    [FIELD_CHECKS] = add_or_left_out,
    [FIELD_FITTED] = add_or_left_out,
    [FIELD_OPEN_STEPS] = add_any_named,
};

static void add_type(Schema *schema, const Field *field) {
  size_t known = sizeof WRITTEN / sizeof *WRITTEN;
  bool told = (size_t)field->type < known && WRITTEN[field->type];
  (told ? WRITTEN[field->type] : add_any_scalar)(schema, field);
}

static void add_properties(Schema *schema, const Shape *shape, bool *first) {
  for (size_t i = 0; i < shape->n; i++) {
    const Field *field = &shape->fields[i];
    if (field->type == FIELD_KIND) continue;
    text_addf(schema->out, "%s\n      \"%s\": {\"description\": ", *first ? "" : ",", field->key);
    add_string(schema->out, field->doc);
    text_add(schema->out, ", \"allOf\": [");
    add_type(schema, field);
    text_add(schema->out, "]}");
    *first = false;
  }
}

static void add_required(Schema *schema, const Shape *shape, bool *first) {
  for (size_t i = 0; i < shape->n; i++) {
    if (!shape->fields[i].required) continue;
    text_addf(schema->out, "%s\"%s\"", *first ? "" : ", ", shape->fields[i].key);
    *first = false;
  }
}

/* shapes: whose keys the mapping may have. */
static void add_root(Schema *schema, const char *word, const Shape *const *shapes, size_t n) {
  text_addf(schema->out,
            ",\n    \"%s\": {\"type\": \"object\", \"additionalProperties\": false, "
            "\"properties\": {\n      \"kind\": {\"const\": \"%s\"}",
            word, word);
  bool first = false;
  for (size_t i = 0; i < n; i++) add_properties(schema, shapes[i], &first);
  text_add(schema->out, "},\n      \"required\": [");
  first = true;
  for (size_t i = 0; i < n; i++) add_required(schema, shapes[i], &first);
  text_add(schema->out, "]}");
}

static void add_kind(Schema *schema, EntryKind kind) {
  const Shape *const shapes[] = {&entry_shape, shape_of_kind(kind)};
  add_root(schema, entry_kind_word(kind), shapes, COUNT(shapes));
}

/* A step does one thing: one of do, check, record and so on is there. */
static void add_one_of_steps(Schema *schema, const Shape *shape) {
  bool any = false;
  for (size_t i = 0; i < shape->n; i++) {
    if (shape->fields[i].type != FIELD_STEP) continue;
    text_addf(schema->out, "%s{\"required\": [\"%s\"]}", any ? ", " : ",\n      \"anyOf\": [",
              shape->fields[i].key);
    any = true;
  }
  if (any) text_add(schema->out, "]");
}

/* Values and limits may also be plain, a list of choices, or go by member. */
static void add_inner(Schema *schema, const Shape *shape) {
  bool nests = shape == &value_shape || shape == &limit_shape;
  text_addf(schema->out, ",\n    \"%s\": ", shape_slug(schema->out->arena, &schema->shapes, shape));
  if (nests) {
    text_add(schema->out, "{\"anyOf\": [" SCALAR ", {\"type\": \"array\", \"items\": ");
    add_shape_def(schema, shape);
    text_add(schema->out, "}, ");
  }
  text_add(schema->out, "{\"type\": \"object\", \"additionalProperties\": ");
  if (nests)
    add_shape_def(schema, shape);
  else
    text_add(schema->out, "false");
  text_add(schema->out, ", \"properties\": {");
  bool first = true;
  if (shape == &value_shape) { /* "value" may go by member too */
    text_add(schema->out, "\n      \"value\": ");
    add_shape_def(schema, shape);
    first = false;
  }
  for (size_t i = 0; i < shape->n; i++) {
    if (shape == &value_shape && text_is(shape->fields[i].key, "value")) continue;
    Shape one = *shape;
    one.fields = &shape->fields[i];
    one.n = 1;
    add_properties(schema, &one, &first);
  }
  text_add(schema->out, "}");
  if (!nests) {
    text_add(schema->out, ",\n      \"required\": [");
    first = true;
    add_required(schema, shape, &first);
    text_add(schema->out, "]");
    add_one_of_steps(schema, shape);
  }
  text_add(schema->out, nests ? "}]}" : "}");
}

static void add_ids(Schema *schema, EntryKind kind, const Words *ids) {
  text_addf(schema->out, "%s\n    \"id_of_%s\": ", kind == 0 ? "" : ",", entry_kind_word(kind));
  if (ids->n == 0) {
    text_add(schema->out, SCALAR);
    return;
  }
  /* A class such as 10.9 may stand without quotes: a number to the editor. */
  text_add(schema->out, "{\"anyOf\": [{\"type\": \"number\"}, {\"enum\": [");
  for (size_t i = 0; i < ids->n; i++) {
    if (i > 0) text_add(schema->out, ", ");
    add_string(schema->out, ids->at[i]);
  }
  text_add(schema->out, "]}]}");
}

static const char *kind_word(int kind) {
  return kind < ENTRY_KIND_COUNT ? entry_kind_word((EntryKind)kind) : READINGS_KIND;
}

/* The kinds of entries, and behind them files of readings. */
void load_schema_json(Text *out, const Words ids[ENTRY_KIND_COUNT]) {
  Schema schema = {out, shapes_inside(out->arena)};
  const Shape *const readings = &readings_shape;
  text_add(out, "{\n  \"$schema\": \"http://json-schema.org/draft-07/schema#\",\n"
                "  \"type\": \"object\",\n  \"required\": [\"kind\"],\n  \"properties\": "
                "{\"kind\": {\"enum\": [");
  for (int kind = 0; kind <= ENTRY_KIND_COUNT; kind++)
    text_addf(out, "%s\"%s\"", kind == 0 ? "" : ", ", kind_word(kind));
  text_add(out, "]}},\n  \"allOf\": [");
  for (int kind = 0; kind <= ENTRY_KIND_COUNT; kind++) {
    const char *word = kind_word(kind);
    text_addf(out,
              "%s\n    {\"if\": {\"properties\": {\"kind\": {\"const\": \"%s\"}}, \"required\": "
              "[\"kind\"]},\n"
              "      \"then\": {\"$ref\": \"#/definitions/%s\"}}",
              kind == 0 ? "" : ",", word, word);
  }
  text_add(out, "],\n  \"definitions\": {");
  for (int kind = 0; kind < ENTRY_KIND_COUNT; kind++) add_ids(&schema, (EntryKind)kind, &ids[kind]);
  for (int kind = 0; kind < ENTRY_KIND_COUNT; kind++) add_kind(&schema, (EntryKind)kind);
  add_root(&schema, READINGS_KIND, &readings, 1);
  for (size_t i = 0; i < schema.shapes.n; i++) add_inner(&schema, schema.shapes.at[i]);
  text_add(out, "\n  }\n}\n");
}
