/* Values of the job as they are printed, the same in findings and on the packet. */
#ifndef SHEAF_MODEL_JOB_WORDS_H
#define SHEAF_MODEL_JOB_WORDS_H

#include "model/job.h"

int quantity_places(const Quantity *quantity); /* digits after the point; 2 unless declared */
/* "0.40 mm"; "not known" while it waits for a reading. */
const char *predicted_print(Arena *arena, const Quantity *quantity);
/* "0.24 to 0.56 mm"; NULL for an exact or unknown value. */
const char *range_print(Arena *arena, const Quantity *quantity);
/* "0.85 to 1.15 mm", "at least 1.80 mm", "at most 7000 rpm", with the formulas of
 * the limits worked out; NULL when nothing limits it. */
const char *allowed_print(Arena *arena, const Quantity *quantity);
/* A band between two values, each -INFINITY or INFINITY where open. */
const char *band_print(Arena *arena, double low, double high, const Unit *unit, int places);
/* Sheet of the winning limit, or "". */
const char *allowed_sheet_print(Arena *arena, const Quantity *quantity);

/* Members of one quantity that print the same are told once. First of its
 * like among the job's quantities? */
bool quantity_leads(Arena *arena, const Job *job, size_t index);
/* "squish, each cylinder" for all members alike, "ring_gap, left top and right
 * top" for some; with_label: the quantity's label instead of its name. */
const char *quantity_members_print(Arena *arena, const Job *job, size_t index, bool with_label);

/* The member of the outermost set that the instance lies in: "left cylinder" of "left cylinder,
 * intake valve"; of a set's member only. */
const Instance *instance_top(const Instance *instance);
/* "intake valve": the labels below that one, "" when there are none. */
const char *instance_label_below(Arena *arena, const Instance *instance);

/* "after 500 km": when the sheet has the joint tightened again; NULL: it does not. */
const char *joint_again_print(Arena *arena, const JobJoint *joint);

#endif
