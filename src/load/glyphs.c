/* Characters that the packet could not print, told where they are written. */
#include "load/loader.h"

#include "model/typeface.h"

#include <string.h>

/* The first character that one of the faces for text lacks, or 0. */
static uint32_t missing_in(const char *text) {
  size_t length = 0;
  for (; *text; text += length) {
    uint32_t code = utf8_next(text, &length);
    if (code < 0x7F)
      continue; /* all faces have what is printed of it; line ends are folded later */
    if (face_advance(FACE_TEXT, code) < 0 || face_advance(FACE_BOLD, code) < 0) return code;
  }
  return 0;
}

static void check_text(Loader *loader, const char *text, Place at, bool one_line) {
  uint32_t missing = missing_in(text);
  if (!missing) return;
  int column = at.column;
  size_t length = 0;
  for (const char *c = text; *c && utf8_next(c, &length) != missing; c += length) column++;
  Place there = at;
  there.column = one_line ? column : at.column;
  there.width = 1;
  Finding *finding =
      finding_add(loader->run, RULE_NO_GLYPH, there,
                  "the typeface of the packet has no character U+%04X", (unsigned)missing);
  finding_way_out(loader->run, finding, "write it in letters the typeface has, or spell it out");
}

/* As deep as the file, which read bounds. */
static void check_node(Loader *loader, const Node *node) {
  if (node->kind == NODE_SCALAR && !node->bad)
    check_text(loader, node->text, node->at, node->one_line);
  for (size_t i = 0; i < node->items.n; i++) check_node(loader, node->items.at[i]);
  for (size_t i = 0; i < node->pairs.n; i++) {
    check_text(loader, node->pairs.at[i].key, node->pairs.at[i].key_at, true);
    check_node(loader, node->pairs.at[i].value);
  }
}

/* All faces have all of ASCII; more can only be written by an escape. */
void check_glyphs(Loader *loader, const Node *root) {
  const Source *source = root->at.source;
  if (source->ascii && !memchr(source->text, '\\', source->size)) return;
  check_node(loader, root);
}
