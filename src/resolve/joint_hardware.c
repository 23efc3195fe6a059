/* Which record of what is there at a joint holds, and what others add. */
#include "resolve/joints.h"

static bool same_fastener(const JointDecl *a, const JointDecl *b) {
  Thread x, y;
  if (text_is(a->thread.s, b->thread.s)) return text_is(a->strength.id, b->strength.id);
  return thread_parse(a->thread.s, &x) && thread_parse(b->thread.s, &y) && thread_same(&x, &y) &&
         text_is(a->strength.id, b->strength.id);
}

static void fasteners_differ(Resolver *r, const char *name, const JointRecord *a,
                             const JointRecord *b) {
  Finding *finding = finding_add(r->run, RULE_SHEETS_DISAGREE, b->decl->thread.at,
                                 "%s: %s gives %s class %s, %s gives %s class %s", name,
                                 resolve_whose(r->arena, a->entry, NULL), a->decl->thread.s,
                                 a->decl->strength.id ? a->decl->strength.id : "not said",
                                 resolve_whose(r->arena, b->entry, NULL), b->decl->thread.s,
                                 b->decl->strength.id ? b->decl->strength.id : "not said");
  finding_subject(finding, name);
  finding_note(r->run, finding, a->decl->thread.at, "the other sheet");
  finding_way_out(r->run, finding, "settle it in the build: `settle: {%s: {sheet: %s, why: ...}}`",
                  name, a->entry->id);
}

/* A sheet that gives way and names another thread: whose stud stands in the case? */
static void thread_overruled(Resolver *r, const char *name, const JointRecord *best,
                             const JointRecord *record) {
  Thread holds, other;
  if (!record->decl->thread.s || !thread_parse(best->decl->thread.s, &holds) ||
      !thread_parse(record->decl->thread.s, &other) || thread_same(&holds, &other))
    return;
  Finding *finding =
      finding_add(r->run, RULE_SHEET_OVERRULED, record->decl->thread.at,
                  "%s: %s gives the thread %s; %s gives %s and holds", name,
                  resolve_whose(r->arena, record->entry, record->decl->page.s), other.name,
                  resolve_whose(r->arena, best->entry, NULL), holds.name);
  finding_subject(finding, name);
  finding_note(r->run, finding, best->decl->thread.at, "what holds, from %s",
               rank_word(best->rank));
  finding_way_out(r->run, finding,
                  "look at the thread that is there: a sheet cannot change what was cut");
}

/* The record that names the thread: settled, or of the highest rank. */
static const JointRecord *fastener_record(Resolver *r, const char *name,
                                          const JointRecords *records) {
  const Settle *settle = settle_find(r, name);
  const JointRecord *best = NULL;
  for (size_t i = 0; i < records->n; i++) {
    const JointRecord *record = &records->at[i];
    if (!record->decl->hardware || !record->decl->thread.s) continue;
    if (settle && text_is(record->entry->id, settle->sheet.s)) return record;
    if (!best) best = record;
  }
  for (size_t i = 0; best && !settle && i < records->n; i++) {
    const JointRecord *record = &records->at[i];
    if (record == best || !record->decl->thread.s) continue;
    if (record->rank != best->rank)
      thread_overruled(r, name, best, record);
    else if (!same_fastener(best->decl, record->decl))
      fasteners_differ(r, name, best, record);
  }
  return best;
}

/* ---- put together ---- */

/* What one record leaves out comes from the next, word by word... */
static void take_words(JointDecl *all, const JointDecl *more) {
  if (!all->label.s) all->label = more->label;
  if (!all->count.said) all->count = more->count;
  if (!all->reuse.s) all->reuse = more->reuse;
  if (!all->duty.s) all->duty = more->duty;
  if (!all->drive.s) all->drive = more->drive;
  if (!all->parties.n) all->parties = more->parties;
  if (all->places.n) return;
  all->places.at = more->places.at;
  all->places.n = all->places.room = more->places.n;
  all->seen = more->seen;
}

static void take_expr(Expr *all, const Expr *more) {
  if (all->kind == EXPR_NONE) *all = *more;
}

/* ... and number by number. */
static void take_numbers(JointDecl *all, const JointDecl *more) {
  take_expr(&all->engagement, &more->engagement);
  take_expr(&all->hole_depth, &more->hole_depth);
  take_expr(&all->clamped_length, &more->clamped_length);
  take_expr(&all->clamped_across, &more->clamped_across);
  take_expr(&all->clamped_rise, &more->clamped_rise);
  take_expr(&all->length, &more->length);
  take_expr(&all->scrap_length, &more->scrap_length);
  take_expr(&all->prevailing, &more->prevailing);
}

static void take_materials(JointDecl *all, const JointDecl *more) {
  if (!all->into_material.id) all->into_material = more->into_material;
  if (!all->clamped_material.id) all->clamped_material = more->clamped_material;
  if (!all->stud_material.id) all->stud_material = more->stud_material;
  if (!all->hole_thread.s) all->hole_thread = more->hole_thread;
  if (!all->stud_thread.s) all->stud_thread = more->stud_thread;
}

/* The head is one thing: from one sheet. */
static bool has_head(const JointDecl *decl) {
  return decl->head.s || decl->across_flats.kind != EXPR_NONE || decl->face.kind != EXPR_NONE;
}

static void take_head(JointDecl *all, const JointDecl *more) {
  if (has_head(all) || !has_head(more)) return;
  all->head = more->head;
  all->across_flats = more->across_flats;
  all->face = more->face;
  all->hole = more->hole;
}

/* A sheet that stands above the one that names the thread may say that it is used up. */
static void take_reuse(Resolver *r, const char *name, JointDecl *all, const JointRecord *above) {
  const JointDecl *decl = above->decl;
  if (!decl->reuse.s) return;
  if (all->reuse.s && !text_is(all->reuse.s, decl->reuse.s)) {
    Finding *finding = finding_add(
        r->run, RULE_SHEET_OVERRULED, all->reuse.at,
        "%s: here it says `reuse: %s`; %s says `reuse: %s` and holds", name, all->reuse.s,
        resolve_whose(r->arena, above->entry, decl->page.s), decl->reuse.s);
    finding_subject(finding, name);
    finding_note(r->run, finding, decl->reuse.at, "what holds, from %s", rank_word(above->rank));
  }
  all->reuse = decl->reuse;
  all->scrap_length = decl->scrap_length;
}

/* Thread, class and section belong together and come from one record; what it leaves
 * out of the rest comes from the next. */
const JointDecl *joint_hardware(Resolver *r, const char *name, const JointRecords *records,
                                const JointRecord **from) {
  const JointRecord *first = fastener_record(r, name, records);
  for (size_t i = 0; i < records->n && !first; i++)
    if (records->at[i].decl->hardware) first = &records->at[i];
  *from = first;
  if (!first) return NULL;
  JointDecl *all = arena_copy(r->arena, first->decl, sizeof *all);
  for (size_t i = (size_t)(first - records->at); i-- > 0;)
    if (records->at[i].rank > first->rank && !settle_find(r, name))
      take_reuse(r, name, all, &records->at[i]);
  for (size_t i = 0; i < records->n; i++) {
    const JointDecl *more = records->at[i].decl;
    take_words(all, more);
    take_numbers(all, more);
    take_materials(all, more);
    take_head(all, more);
  }
  return all;
}
