#include "model/typeface.h"

#include "base/text.h"
#include "model/typeface_data.h"

static const FaceData *data_of(Face face) {
  return &face_data[(unsigned)face < FACE_COUNT ? face : FACE_TEXT];
}

const FaceInfo *face_info(Face face) {
  return &data_of(face)->info;
}

#define FIRST      0x20 /* the tables begin with all of ASCII */
#define LAST_ASCII 0x7E

static int advance_beyond(const FaceData *data, uint32_t code) {
  size_t low = 0, high = data->glyph_count;
  while (low < high) {
    size_t middle = low + (high - low) / 2;
    if (data->glyphs[middle].code < code) {
      low = middle + 1;
    } else {
      high = middle;
    }
  }
  if (low == data->glyph_count || data->glyphs[low].code != code) return -1;
  return data->glyphs[low].advance;
}

static inline int advance_of(const FaceData *data, uint32_t code) {
  bool plain = code >= FIRST && code <= LAST_ASCII;
  return plain ? data->glyphs[code - FIRST].advance : advance_beyond(data, code);
}

int face_advance(Face face, uint32_t code) {
  return advance_of(data_of(face), code);
}

Um face_width_of(Um size, int64_t thousandths) {
  int64_t width = (thousandths * size + 500) / 1000;
  return width > INT32_MAX ? INT32_MAX : (Um)width;
}

FaceWord face_word(Face face, const char *text) {
  const FaceData *data = data_of(face);
  FaceWord word = {0};
  for (size_t length; text[word.bytes] != ' ' && text[word.bytes] != '\0'; word.bytes += length) {
    int advance = advance_of(data, utf8_next(text + word.bytes, &length));
    if (advance < 0) return (FaceWord){0};
    word.advance += advance;
    word.characters++;
  }
  return word;
}

Um face_width_n(Face face, Um size, const char *text, size_t bytes) {
  const FaceData *data = data_of(face);
  int64_t thousandths = 0;
  for (size_t at = 0, length; at < bytes; at += length) {
    int advance = advance_of(data, utf8_next(text + at, &length));
    if (advance > 0) thousandths += advance;
  }
  return face_width_of(size, thousandths);
}

Um face_width(Face face, Um size, const char *text) {
  return face_width_n(face, size, text, strlen(text));
}

uint32_t face_missing(Face face, const char *text) {
  while (*text != '\0') {
    size_t length;
    uint32_t code = utf8_next(text, &length);
    if (face_advance(face, code) < 0) return code;
    text += length;
  }
  return 0;
}
