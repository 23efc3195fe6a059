#include "trade/head.h"

#include <math.h>
#include <string.h>

/* mm: thread, least face of hexagon, socket and flange head (0: none), hole. Faces: ISO 4014 grade
 * A and ISO 4762 read in reprints up to M10 and M64, EN 1665 in an open table of fasteners, the
 * rest from memory; holes: ISO 273 medium, from memory, those of M8 to M14 as in the tables of
 * VDI 2230 (read in a reprint). */
static const struct {
  double major, hexagon, socket, flange, hole;
} heads[] = {
    {3, 4.57, 5.07, 0, 3.4},        {4, 5.88, 6.53, 0, 4.5},        {5, 6.88, 8.03, 9.8, 5.5},
    {6, 8.88, 9.38, 12.2, 6.6},     {8, 11.63, 12.33, 15.8, 9.0},   {10, 14.63, 15.33, 19.6, 11.0},
    {12, 16.63, 17.23, 23.8, 13.5}, {14, 19.64, 20.17, 27.6, 15.5}, {16, 22.49, 23.17, 31.9, 17.5},
    {20, 28.19, 28.87, 39.9, 22.0}, {24, 33.61, 34.81, 0, 26.0},
};

static const struct {
  const char *word, *standard;
} shapes[] = {[HEAD_HEXAGON] = {"hexagon", "ISO 4014"},
              [HEAD_SOCKET] = {"socket", "ISO 4762"},
              [HEAD_FLANGE] = {"flange", "EN 1665"}};

bool head_shape(const char *word, HeadShape *out) {
  for (size_t i = 0; word && i < sizeof shapes / sizeof *shapes; i++) {
    if (strcmp(word, shapes[i].word) != 0) continue;
    *out = (HeadShape)i;
    return true;
  }
  return false;
}

const char *head_standard(HeadShape shape) {
  return shapes[shape].standard;
}

/* Index of a metric size; -1: not in the table. */
static int row_of(const Thread *thread) {
  for (size_t i = 0; i < sizeof heads / sizeof *heads && !thread->unified; i++) {
    if (fabs(thread->major - heads[i].major * 1e-3) < 1e-7) return (int)i;
  }
  return -1;
}

double head_face(HeadShape shape, const Thread *thread) {
  int row = row_of(thread);
  if (row < 0) return 0.0;
  double face = shape == HEAD_HEXAGON  ? heads[row].hexagon
                : shape == HEAD_SOCKET ? heads[row].socket
                                       : heads[row].flange;
  return face * 1e-3;
}

double head_face_across(double flats) {
  return 0.92 * flats;
}

double head_hole(const Thread *thread) {
  int row = row_of(thread);
  return row < 0 ? 1.1 * thread->major : heads[row].hole * 1e-3;
}

double head_collar(double face, double hole) {
  return (face + hole) / 2.0;
}
