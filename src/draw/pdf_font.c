/* The typefaces put into the PDF: only what is used of them. */
#include "draw/pdf_inside.h"

#include "base/text.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#define CODES 0x10000u

/* Which characters of each face the pages use, one byte a code. */
typedef struct Used {
  bool face[FACE_COUNT];
  unsigned char *codes[FACE_COUNT];
  unsigned highest[FACE_COUNT]; /* of those codes */
} Used;

static void note_text(Press *press, Used *used, const Mark *mark, size_t page) {
  for (const char *at = mark->text; *at != '\0';) {
    size_t length;
    uint32_t code = utf8_next(at, &length);
    at += length;
    if (code < CODES && used->codes[mark->face][code]) continue;
    if (code >= CODES || face_advance(mark->face, code) < 0) {
      press->trouble = arena_printf(
          press->run->arena, "page %zu has a character that %s lacks: U+%04lX in \"%s\"", page + 1,
          face_info(mark->face)->name, (unsigned long)code, mark->text);
      return;
    }
    used->codes[mark->face][code] = 1;
    if (code > used->highest[mark->face]) used->highest[mark->face] = code;
    used->face[mark->face] = true;
  }
}

static Used used_characters(Press *press) {
  Used used = {0};
  for (int face = 0; face < FACE_COUNT; face++)
    used.codes[face] = arena_alloc(press->run->arena, CODES);
  for (size_t i = 0; i < press->pages->list.n; i++) {
    const Page *page = &press->pages->list.at[i];
    for (size_t j = 0; j < page->marks.n && !press_stopped(press); j++) {
      if (page->marks.at[j].kind == MARK_TEXT) note_text(press, &used, &page->marks.at[j], i);
    }
  }
  return used;
}

#if SHEAF_PDF_INNER

#include <hpdf_doc.h>
#include <hpdf_encoder.h>
#include <hpdf_font.h>
#include <hpdf_list.h>

/* From memory, by the steps that the library takes with a file. */
static const char *load_face(Press *press, Face face) {
  const FaceInfo *info = face_info(face);
  HPDF_Stream stream = HPDF_MemStream_New(press->pdf->mmgr, (HPDF_UINT)info->size);
  if (stream == NULL) return NULL;
  HPDF_Stream_Write(stream, info->bytes, (HPDF_UINT)info->size);
  if (press_stopped(press)) {
    HPDF_Stream_Free(stream);
    return NULL;
  }
  HPDF_FontDef font = HPDF_TTFontDef_Load(press->pdf->mmgr, stream, HPDF_TRUE); /* takes stream */
  if (font == NULL) return NULL;
  char tag[] = "SHEAFA"; /* six capitals mark a subset (ISO 32000-1, 9.6.4) */
  tag[5] = (char)('A' + (int)face);
  HPDF_TTFontDef_SetTagName(font, tag);
  if (HPDF_List_Add(press->pdf->fontdef_list, font) != HPDF_OK) {
    HPDF_FontDef_Free(font);
    return NULL;
  }
  return font->base_font;
}

/* To two bytes a character. The library's own asks for memory without looking
 * whether it got any; it gives back what this answers with free. */
static char *encode_text(HPDF_Encoder encoder, const char *text, HPDF_UINT length,
                         HPDF_UINT *encoded) {
  (void)encoder;
  char *bytes = malloc(2 * (size_t)length + 1);
  if (bytes == NULL) arena_give_up(NULL);
  HPDF_UINT n = 0;
  for (size_t at = 0, step; at < length; at += step) {
    uint32_t code = utf8_next(text + at, &step);
    bytes[n++] = (char)(code >> 8);
    bytes[n++] = (char)(code & 0xFF);
  }
  *encoded = n;
  return bytes;
}

static void mend_encoder(Press *press) {
  press->encoder->encode_text_fn = encode_text;
}

static void know_code(HPDF_CMapEncoderAttr map, unsigned code) {
  map->cid_map[code >> 8][code & 0xFF] = (HPDF_UINT16)code;
  map->unicode_map[code >> 8][code & 0xFF] = (HPDF_UNICODE)code;
}

/* Left to itself the library looks up all 65,536 codes one by one, and writes a
 * width and a glyph number for each. An encoder that goes by a map, it asks for
 * the codes of the map only, and writes them up to but without the highest: so
 * the map gets the codes in use, and one more. */
static HPDF_Font make_font(Press *press, const char *name, const unsigned char *codes,
                           unsigned highest) {
  HPDF_CMapEncoderAttr map = press->encoder->attr;
  memset(map->cid_map, 0, sizeof map->cid_map);
  if (highest > CODES - 2) highest = CODES - 2;
  for (unsigned code = 1; code <= highest; code++)
    if (codes[code]) know_code(map, code);
  know_code(map, highest + 1);
  HPDF_Encoder_ToUnicode_Func own = press->encoder->to_unicode_fn;
  press->encoder->to_unicode_fn = HPDF_CMapEncoder_ToUnicode;
  HPDF_Font font = HPDF_GetFont(press->pdf, name, "UTF-8");
  press->encoder->to_unicode_fn = own;
  return font;
}

/* Runs of codes in use; a run stays within one high byte (ISO 32000-1, 9.10.3). */
static void add_runs(Text *text, const unsigned char *codes, unsigned highest) {
  Text block = text_new(text->arena);
  int count = 0;
  for (unsigned code = 1; code <= highest; code++) {
    if (!codes[code]) continue;
    unsigned last = code;
    while ((last & 0xFF) != 0xFF && codes[last + 1]) last++;
    text_addf(&block, "<%04X> <%04X> <%04X>\n", code, last, code);
    code = last;
    if (++count == 100) {
      text_addf(text, "%d beginbfrange\n%sendbfrange\n", count, text_done(&block));
      block = text_new(text->arena);
      count = 0;
    }
  }
  if (count > 0) text_addf(text, "%d beginbfrange\n%sendbfrange\n", count, text_done(&block));
}

/* The library writes the map from codes to text with operators that do not
 * belong in one, and viewers then guess. */
static void rewrite_text_map(Press *press, HPDF_Font font, const unsigned char *codes,
                             unsigned highest) {
  HPDF_Dict map = HPDF_Dict_GetItem(font, "ToUnicode", HPDF_OCLASS_DICT);
  if (map == NULL || map->stream == NULL) return;
  Text text = text_new(press->run->arena);
  text_add(&text, "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
                  "/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n"
                  "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
                  "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n");
  add_runs(&text, codes, highest);
  text_add(&text, "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n");
  HPDF_MemStream_FreeData(map->stream);
  HPDF_Stream_WriteStr(map->stream, text_done(&text));
  HPDF_Dict_AddName(map, "CMapName", "Adobe-Identity-UCS");
}

#else

static void mend_encoder(Press *press) {
  (void)press;
}

static bool write_all(int file, const unsigned char *bytes, size_t size) {
  while (size > 0) {
    ssize_t wrote = write(file, bytes, size);
    if (wrote < 0 && errno == EINTR) continue;
    if (wrote <= 0) return false;
    bytes += wrote;
    size -= (size_t)wrote;
  }
  return true;
}

/* Through a file that lives as long as the call. */
static const char *load_face(Press *press, Face face) {
  const FaceInfo *info = face_info(face);
  const char *folder = getenv("TMPDIR");
  char *path = (char *)(uintptr_t)arena_printf(press->run->arena, "%s/sheaf-XXXXXX",
                                               folder != NULL && *folder ? folder : "/tmp");
  int file = mkstemp(path);
  if (file < 0) {
    press->trouble =
        arena_printf(press->run->arena, "%s cannot be made: %s", path, strerror(errno));
    return NULL;
  }
  bool wrote = write_all(file, info->bytes, info->size);
  if (close(file) != 0) wrote = false;
  const char *name = wrote ? HPDF_LoadTTFontFromFile(press->pdf, path, HPDF_TRUE) : NULL;
  if (!wrote)
    press->trouble =
        arena_printf(press->run->arena, "%s cannot be written: %s", path, strerror(errno));
  unlink(path);
  return name;
}

static HPDF_Font make_font(Press *press, const char *name, const unsigned char *codes,
                           unsigned highest) {
  (void)codes;
  (void)highest;
  return HPDF_GetFont(press->pdf, name, "UTF-8");
}

static void rewrite_text_map(Press *press, HPDF_Font font, const unsigned char *codes,
                             unsigned highest) {
  (void)press;
  (void)font;
  (void)codes;
  (void)highest;
}

#endif

void press_fonts(Press *press) {
  Used used = used_characters(press);
  mend_encoder(press);
  for (int face = 0; face < FACE_COUNT && !press_stopped(press); face++) {
    if (!used.face[face]) continue;
    const char *name = load_face(press, (Face)face);
    if (name == NULL || press_stopped(press)) break;
    HPDF_Font font = make_font(press, name, used.codes[face], used.highest[face]);
    if (font == NULL || press_stopped(press)) break;
    rewrite_text_map(press, font, used.codes[face], used.highest[face]);
    press->fonts[face] = font;
  }
  bool all = true;
  for (int face = 0; face < FACE_COUNT; face++)
    if (used.face[face] && press->fonts[face] == NULL) all = false;
  if (!all && !press_stopped(press)) press->trouble = "a typeface could not be loaded";
}
