/* One function a kind of block: appends its pieces to the form. */
#ifndef SHEAF_LAYOUT_BLOCK_H
#define SHEAF_LAYOUT_BLOCK_H

#include "layout/paragraph.h"

typedef void FormBlock(Form *form, const Block *block);

FormBlock form_heading, form_text, form_bullets, form_lines;
FormBlock form_fields, form_table, form_message, form_step;
FormBlock form_measure, form_torque, form_bench, form_work;
FormBlock form_hold, form_initials;
FormBlock form_figure, form_scale_bar, form_legend;

/* Fields in twelfths of the line, from there on; answers their height. */
Um fields_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, const Field *fields,
              size_t count);
/* A line of a list with its mark; answers the height. */
Um bullet_set(Layout *layout, Sketch *sketch, Um x, Um y, Um width, TypeName type,
              const char *item);

/* Whether the block there is a torque card that carries the pattern standing before it. */
bool torque_takes_figure(const Form *form, size_t at);

#endif
