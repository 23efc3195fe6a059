/* Figures drawn from data: one function a kind, and tools they share. */
#ifndef SHEAF_LAYOUT_FIGURE_H
#define SHEAF_LAYOUT_FIGURE_H

#include "layout/paragraph.h"

/* Draws within that width from the top left corner on; answers the height. */
typedef Um DrawFigure(Layout *layout, Sketch *sketch, const Figure *figure, Um width);

DrawFigure figure_pattern, figure_ring_clock, figure_bore_points, figure_deck_section;
DrawFigure figure_valve_circle, figure_piston_way, figure_spring, figure_sprocket_line;

/* Whether the pattern may be drawn that narrow and still be read. */
bool figure_pattern_fits(const Figure *figure, Um width);
/* The caption with the figure's number; answers its height. */
Um figure_caption(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Figure *figure);

/* A point that much along and that many degrees clockwise from twelve o'clock. */
Point figure_polar(Um x, Um y, double radius, double degrees);

/* The point whose label holds the word, in whatever case; NULL: none. */
const FigurePoint *figure_point(const Figure *figure, const char *word);
/* The label in bold over its note, from there on; answers the height. */
Um figure_note(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const FigurePoint *point,
               const char *otherwise);
/* Slanted lines within a box: what is cut through. */
void figure_hatch(Sketch *sketch, Um x, Um y, Um width, Um height);

#endif
