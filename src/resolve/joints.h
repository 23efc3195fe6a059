/* Between the files that settle joints. */
#ifndef SHEAF_RESOLVE_JOINTS_H
#define SHEAF_RESOLVE_JOINTS_H

#include "resolve/context.h"

/* One sheet's record of a joint. */
typedef struct JointRecord {
  const Entry *entry;
  const Role *role; /* of the part that gives it; NULL: engine, build */
  const JointDecl *decl;
  Rank rank;
} JointRecord;
typedef VEC(JointRecord) JointRecords;

/* Highest rank first, those of one rank in the order of engine, roles. */
void joint_records(Resolver *r, const char *name, JointRecords *out, const char **only_with);
/* What is there, put together from the records; NULL: nobody says. from: the record
 * that names the thread. */
const JointDecl *joint_hardware(Resolver *r, const char *name, const JointRecords *records,
                                const JointRecord **from);
/* How it is tightened: one record, whole; NULL after reporting. */
const JointRecord *joint_bundle(Resolver *r, const char *name, const JointRecords *records,
                                const JointDecl *hardware, const char *only_with, Voices *losers);
/* Values for the lengths of each fastener, where they are measured; joints of one name. */
void joint_lengths(Resolver *r, JobJoint *const *joints, size_t n);
const char *bundle_says(Arena *arena, const JointDecl *bundle);

#endif
