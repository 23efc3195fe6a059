#include "layout/type.h"

static const Type types[TYPE_COUNT] = {
#define TYPE(id, face, points, leading) {FACE_##face, POINTS(points), POINTS(leading)},
#include "layout/types.def"
#undef TYPE
};

const Type *type_of(TypeName name) {
  return &types[name];
}

Um type_digits(const Type *type) {
  return (Um)((int64_t)type->size * face_info(type->face)->digit_height / 1000);
}

Um type_baseline(const Type *type) {
  return (type->leading + type_digits(type)) / 2;
}

Um type_width_n(TypeName name, const char *text, size_t bytes) {
  return face_width_n(types[name].face, types[name].size, text, bytes);
}

Um type_width(TypeName name, const char *text) {
  return face_width(types[name].face, types[name].size, text);
}
