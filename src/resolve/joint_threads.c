/* The threads of a joint: the fastener's own, and what it is screwed into. */
#include "resolve/joint_parts.h"

#include "trade/head.h"
#include "trade/joint.h"
#include "trade/strength.h"

#include "base/near.h"

#include <string.h>

/* "M8, M8x1, M8x0.75": what there is of a diameter that was written with another pitch. */
static const char *of_that_diameter(Resolver *r, const char *said, const Words *names) {
  size_t length = strcspn(said, "x-");
  Text list = text_new(r->arena);
  for (size_t i = 0; i < names->n; i++) {
    const char *name = names->at[i];
    bool same = strncmp(name, said, length) == 0 &&
                (name[length] == '\0' || name[length] == 'x' || name[length] == '-');
    if (length > 0 && said[length] && same) text_addf(&list, "%s%s", list.n ? ", " : "", name);
  }
  return list.n ? text_done(&list) : NULL;
}

/* Reads a designation; false: not said, or reported. */
static bool thread_of(Resolver *r, const JobJoint *joint, const Said *said, const char *whose,
                      Thread *out) {
  if (!said->s) return false;
  if (thread_parse(said->s, out)) return true;
  Words names = {0};
  thread_names(r->arena, &names);
  Finding *finding =
      finding_add(r->run, RULE_UNKNOWN_THREAD, said->at,
                  "%s: `%s`%s is not a thread of a standard series", joint->label, said->s, whose);
  finding_subject(finding, joint->name);
  const char *near = near_word(said->s, &names);
  const char *alike = of_that_diameter(r, said->s, &names);
  if (alike)
    finding_way_out(r->run, finding, "of that diameter there are %s", alike);
  else if (near)
    finding_way_out(r->run, finding, "did you mean %s?", near);
  else
    finding_way_out(r->run, finding, "write it like M10x1.25, M8, 1/4-28 UNF or #10-24 UNC");
  return false;
}

void joint_threads(Resolver *r, JobJoint *joint) {
  const JointDecl *hardware = joint->hardware;
  JointFigures *figures = &joint->figures;
  figures->thread_known = thread_of(r, joint, &hardware->thread, "", &figures->thread);
  bool stud =
      thread_of(r, joint, &hardware->stud_thread, ", the stud's end,", &figures->end_thread);
  bool hole = thread_of(r, joint, &hardware->hole_thread, ", of the hole,", &figures->hole_thread);
  if (!stud) figures->end_thread = figures->thread;
  figures->end_known = stud || (figures->thread_known && !hardware->stud_thread.s);
  figures->hole_known = hole;
  if (!figures->thread_known) return;
  double waist = joint_number(r, &hardware->shank, joint, DIM_LENGTH, "the shank", 0);
  double bore = joint_number(r, &hardware->hollow, joint, DIM_LENGTH, "the bore", 0);
  double area = thread_stress_area(&figures->thread);
  figures->waisted = strength_is_waisted(area, waist, bore);
  figures->stress_area = strength_weakest_area(area, waist, bore);
}

static void no_face(Resolver *r, const JobJoint *joint, double face, double hole) {
  const JointDecl *hardware = joint->hardware;
  Place at = hardware->face.kind != EXPR_NONE           ? hardware->face.at
             : hardware->across_flats.kind != EXPR_NONE ? hardware->across_flats.at
                                                        : hardware->at;
  const Unit *mm = unit_find("mm");
  Finding *finding = finding_add(
      r->run, RULE_NO_VALUE, at, "%s: the face under the head, %s, is no wider than its hole, %s",
      joint->label, quantity_print(r->arena, face, mm, 2), quantity_print(r->arena, hole, mm, 2));
  finding_subject(finding, joint->name);
  finding_way_out(r->run, finding, "look at both sizes; they are diameters");
}

/* The face that rubs under head or nut: its size, else that of its standard, else as usual. */
void joint_head_find(Resolver *r, JobJoint *joint) {
  const JointDecl *hardware = joint->hardware;
  JointFigures *figures = &joint->figures;
  if (!figures->thread_known) return;
  const Thread *thread = &figures->thread;
  HeadShape shape;
  double face = joint_number(r, &hardware->face, joint, DIM_LENGTH, "the face under the head", 0);
  double flats = joint_number(r, &hardware->across_flats, joint, DIM_LENGTH, "the hexagon", 0);
  const char *from = "its sheet";
  if (!(face > 0) && flats > 0) {
    face = head_face_across(flats);
    from = arena_printf(r->arena, "a hexagon of %s",
                        literal_print(r->arena, &hardware->across_flats.literal));
  }
  if (!(face > 0) && head_shape(hardware->head.s, &shape)) {
    face = head_face(shape, thread);
    from = head_standard(shape);
  }
  double hole = joint_number(r, &hardware->hole, joint, DIM_LENGTH, "the hole under the head",
                             head_hole(thread));
  if (face > 0 && face <= hole) no_face(r, joint, face, hole);
  if (!(face > hole)) {
    figures->collar = JOINT_USUAL_COLLAR * thread->major;
    figures->collar_from =
        hardware->head.s || face > 0 ? "as usual, for the standard has no such size," : "as usual";
    return;
  }
  figures->head_face = face;
  figures->head_hole = hole;
  figures->collar = head_collar(face, hole);
  figures->collar_from = from;
}
