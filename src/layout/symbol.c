#include "layout/symbol.h"

#include "base/text.h"

#include <math.h>

/* Signs are drawn on a field of 100 by 100, in strokes of about seven. */
typedef struct Canvas {
  Sketch *sketch;
  Um x, y, side;
} Canvas;

static Um along(const Canvas *canvas, double part) {
  return (Um)lround(canvas->side * part / 100);
}

static void stroke(const Canvas *canvas, double x, double y, double x2, double y2) {
  sketch_line(canvas->sketch, canvas->x + along(canvas, x), canvas->y + along(canvas, y),
              canvas->x + along(canvas, x2), canvas->y + along(canvas, y2), along(canvas, 6));
}

static void shape(const Canvas *canvas, const double *pairs, size_t count, double line,
                  bool filled) {
  Point points[24];
  if (count > sizeof points / sizeof *points) count = sizeof points / sizeof *points;
  for (size_t i = 0; i < count; i++) {
    points[i].x = canvas->x + along(canvas, pairs[2 * i]);
    points[i].y = canvas->y + along(canvas, pairs[2 * i + 1]);
  }
  sketch_polygon(canvas->sketch, points, count, along(canvas, line), filled, INK_BLACK);
}

static void ring(const Canvas *canvas, double x, double y, double radius, double line) {
  sketch_circle(canvas->sketch, canvas->x + along(canvas, x), canvas->y + along(canvas, y),
                along(canvas, radius), along(canvas, line), line <= 0);
}

static void bow(const Canvas *canvas, double x, double y, double radius, double from, double to) {
  sketch_arc(canvas->sketch, canvas->x + along(canvas, x), canvas->y + along(canvas, y),
             along(canvas, radius), from, to, along(canvas, 6));
}

#define SHAPE(canvas, line, filled, ...)                                                           \
  do {                                                                                             \
    static const double pairs[] = {__VA_ARGS__};                                                   \
    shape(canvas, pairs, sizeof pairs / sizeof *pairs / 2, line, filled);                          \
  } while (0)

void symbol_alert(Sketch *sketch, Um x, Um y, Um side) {
  Canvas canvas = {sketch, x, y, side};
  SHAPE(&canvas, 7, false, 50, 9, 95, 90, 5, 90);
  SHAPE(&canvas, 0, true, 44, 36, 56, 36, 53, 66, 47, 66);
  ring(&canvas, 50, 76, 6, 0);
}

/* A load coming down on a hand. */
static void draw_crush(const Canvas *c) {
  SHAPE(c, 0, true, 15, 6, 85, 6, 85, 30, 15, 30);
  SHAPE(c, 0, true, 42, 34, 58, 34, 58, 44, 66, 44, 50, 58, 34, 44, 42, 44);
  SHAPE(c, 6, false, 14, 68, 60, 68, 72, 64, 86, 72, 70, 82, 14, 82);
  stroke(c, 8, 94, 92, 94);
}

/* A pipe end and what comes out of it. */
static void draw_fumes(const Canvas *c) {
  SHAPE(c, 6, false, 6, 72, 40, 72, 40, 90, 6, 90);
  bow(c, 58, 62, 14, 180, 360);
  bow(c, 58, 34, 14, 0, 180);
  bow(c, 80, 70, 12, 180, 360);
  bow(c, 80, 46, 12, 0, 180);
  bow(c, 80, 22, 12, 180, 360);
}

static void draw_fire(const Canvas *c) {
  SHAPE(c, 6, false, 50, 6, 62, 26, 58, 40, 74, 32, 84, 58, 78, 80, 60, 93, 40, 93, 22, 80, 16, 58,
        30, 38, 36, 50, 42, 24);
  SHAPE(c, 0, true, 50, 54, 64, 72, 58, 86, 42, 86, 36, 74);
}

/* An eye, and a splinter on its way to it. */
static void draw_eye(const Canvas *c) {
  SHAPE(c, 6, false, 6, 66, 24, 50, 50, 42, 76, 50, 94, 66, 76, 82, 50, 90, 24, 82);
  ring(c, 50, 66, 14, 6);
  ring(c, 50, 66, 6, 0);
  SHAPE(c, 0, true, 64, 8, 84, 4, 74, 26);
  stroke(c, 72, 18, 62, 34);
}

static void draw_spring(const Canvas *c) {
  for (int i = 0; i < 4; i++) {
    stroke(c, 28, 90 - 14 * i, 72, 83 - 14 * i);
    if (i < 3) stroke(c, 72, 83 - 14 * i, 28, 76 - 14 * i);
  }
  SHAPE(c, 0, true, 50, 4, 66, 22, 56, 22, 56, 34, 44, 34, 44, 22, 34, 22);
}

/* Two wheels that turn into each other, a finger between. */
static void draw_fingers(const Canvas *c) {
  ring(c, 28, 30, 22, 6);
  ring(c, 72, 30, 22, 6);
  ring(c, 28, 30, 6, 0);
  ring(c, 72, 30, 6, 0);
  SHAPE(c, 6, false, 42, 96, 42, 62, 50, 50, 58, 62, 58, 96);
}

static void draw_battery(const Canvas *c) {
  SHAPE(c, 6, false, 8, 40, 92, 40, 92, 92, 8, 92);
  SHAPE(c, 0, true, 18, 28, 36, 28, 36, 40, 18, 40);
  SHAPE(c, 0, true, 64, 28, 82, 28, 82, 40, 64, 40);
  stroke(c, 19, 66, 37, 66);
  stroke(c, 63, 66, 81, 66);
  stroke(c, 72, 57, 72, 75);
  SHAPE(c, 0, true, 54, 2, 40, 22, 49, 22, 44, 36, 60, 15, 51, 15);
}

/* Heat rising from a surface. */
static void draw_hot(const Canvas *c) {
  for (int i = 0; i < 3; i++) {
    double x = 24 + 26 * i;
    bow(c, x, 58, 10, 180, 360);
    bow(c, x, 38, 10, 0, 180);
    bow(c, x, 18, 10, 180, 360);
  }
  SHAPE(c, 0, true, 6, 78, 94, 78, 94, 92, 6, 92);
}

/* Drops from a bottle. */
static void draw_chemical(const Canvas *c) {
  SHAPE(c, 6, false, 36, 6, 64, 6, 64, 32, 86, 78, 80, 92, 20, 92, 14, 78, 36, 32);
  SHAPE(c, 0, true, 26, 66, 74, 66, 80, 80, 76, 86, 24, 86, 20, 80);
  stroke(c, 30, 9, 70, 9);
}

/* A dial at its end. */
static void draw_pressure(const Canvas *c) {
  ring(c, 50, 46, 40, 6);
  bow(c, 50, 46, 26, 225, 360);
  stroke(c, 50, 46, 74, 30);
  ring(c, 50, 46, 7, 0);
  SHAPE(c, 0, true, 40, 86, 60, 86, 60, 97, 40, 97);
}

static const struct {
  const char *name;
  void (*draw)(const Canvas *canvas);
} symbols[] = {
    {"crush", draw_crush},       {"fumes", draw_fumes},   {"fire", draw_fire},
    {"eye", draw_eye},           {"spring", draw_spring}, {"fingers", draw_fingers},
    {"battery", draw_battery},   {"hot", draw_hot},       {"chemical", draw_chemical},
    {"pressure", draw_pressure},
};

bool symbol_set(Sketch *sketch, Um x, Um y, Um side, const char *name) {
  Canvas canvas = {sketch, x, y, side};
  for (size_t i = 0; i < sizeof symbols / sizeof *symbols; i++) {
    if (!text_is(symbols[i].name, name)) continue;
    symbols[i].draw(&canvas);
    return true;
  }
  return false;
}
