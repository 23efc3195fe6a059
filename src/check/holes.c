/* The thread of a fastener against that of the hole it goes into. */
#include "check/joint_words.h"
#include "check/rules.h"

#include "base/text.h"

static void judge(Run *run, const JobJoint *joint) {
  const JointFigures *figures = &joint->figures;
  const JointDecl *hardware = joint->hardware;
  if (!figures->end_known || !figures->hole_known) return;
  if (thread_same(&figures->end_thread, &figures->hole_thread)) return;
  bool stud = hardware->stud_thread.s != NULL;
  Finding *finding =
      finding_add(run, RULE_MATES_DIFFER, hardware->hole_thread.at,
                  "%s: the hole is cut %s, the %s %s", joint->label, figures->hole_thread.name,
                  stud ? "stud's end is" : "fastener is", figures->end_thread.name);
  finding_subject(finding, joint->name);
  finding_note(run, finding, stud ? hardware->stud_thread.at : hardware->thread.at,
               "its thread stands here");
  finding_way_out(run, finding, "%s; look at both%s",
                  thread_clash(run, &figures->end_thread, &figures->hole_thread),
                  stud ? "" : ". A stud with two threads says `stud_end:` too");
}

void check_holes(Run *run, const Job *job) {
  for (size_t i = 0; i < job->joints.n; i++)
    if (joint_leads(job, i)) judge(run, job->joints.at[i]);
}
