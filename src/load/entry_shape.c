/* What all entries have, and which table each kind has. */
#include "load/field.h"

#include "base/near.h"

static const Field source_fields[] = {
    FIELD(SheetSource, maker, "maker", TEXT, "who publishes it"),
    FIELD(SheetSource, sheet, "sheet", TEXT, "its title or number"),
    FIELD(SheetSource, edition, "edition", TEXT, "its edition or date"),
    FIELD(SheetSource, page, "page", TEXT, "page"),
};

static void finish_source(Loader *loader, const Node *map, void *object) {
  const SheetSource *source = object;
  if (node_find(map, "maker", NULL) || node_find(map, "sheet", NULL)) return;
  Finding *finding = finding_add(loader->run, RULE_NO_SOURCE, source->at,
                                 "this source names neither maker nor sheet");
  finding_way_out(loader->run, finding, "name them, or write source: common practice");
}

const Shape source_shape = {"source",
                            source_fields,
                            COUNT(source_fields),
                            sizeof(SheetSource),
                            NOWHERE,
                            offsetof(SheetSource, at),
                            finish_source};

void field_source(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Entry *entry = object;
  if (pair->value->kind == NODE_SCALAR) {
    Said said = said_text(loader, pair->value, field->key);
    entry->source.at = pair->key_at; /* there, whatever it says */
    if (!said.s) return;
    entry->source.practice = text_is(said.s, "common practice");
    if (entry->source.practice) return;
    Finding *finding = finding_add(loader->run, RULE_BAD_WORD, said.at,
                                   "a source is a sheet or the words common practice");
    entry->source.practice = near_slip(said.s, "common practice");
    if (entry->source.practice) {
      finding_way_out(loader->run, finding, "did you mean common practice?");
      return;
    }
    finding_way_out(loader->run, finding, "write {maker: ..., sheet: \"%s\"}", said.s);
    return;
  }
  if (!need_map(loader, pair->value, field->key)) return;
  fill(loader, &source_shape, pair->value, pair->key_at, &entry->source);
}

void field_kind(Loader *loader, const Field *field, const Pair *pair, void *object) {
  (void)loader, (void)field, (void)pair, (void)object;
}

static const Field entry_fields[] = {
    {.key = "kind", .type = FIELD_KIND, .required = true, .doc = "what the file describes"},
    FIELD(Entry, name, "name", TEXT, "what people call it", .required = true),
    FIELD(Entry, source, "source", SOURCE, "maker, sheet, edition and page; or common practice"),
    FIELD(Entry, note, "note", TEXT, "for the reader of the file"),
};
const Shape entry_shape = {"entry", entry_fields, COUNT(entry_fields), sizeof(Entry), NOWHERE,
                           NOWHERE, NULL};

static const Shape *const kinds[ENTRY_KIND_COUNT] = {
#define ENTRY(id, word, folder) &word##_shape,
    ENTRY_KINDS(ENTRY)
#undef ENTRY
};

const Shape *shape_of_kind(EntryKind kind) {
  return kinds[kind];
}
