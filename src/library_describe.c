/* What `sheaf list` says of one entry that was named: where it stands, and what it has to do with
 * others. */
#include "library_describe.h"

#include "base/text.h"

#define LABEL "  %-11s "

static void line(Text *out, const char *label, const char *text) {
  if (text && text[0]) text_addf(out, LABEL "%s\n", label, text);
}

static void add_name(Text *names, const char *name) {
  if (name) text_addf(names, "%s%s", names->n > 0 ? ", " : "", name);
}

static const char *joined(Arena *arena, const SaidList *list) {
  Text names = text_new(arena);
  for (size_t i = 0; i < list->n; i++) add_name(&names, list->at[i].s);
  return text_done(&names);
}

static bool said_by(const SaidList *list, const char *word) {
  for (size_t i = 0; i < list->n; i++)
    if (text_is(list->at[i].s, word)) return true;
  return false;
}

static bool makes(const ProcedureEntry *procedure, const char *state) {
  for (size_t b = 0; b < procedure->blocks.n; b++)
    for (size_t s = 0; s < procedure->blocks.at[b]->steps.n; s++)
      if (said_by(&procedure->blocks.at[b]->steps.at[s]->makes, state)) return true;
  return false;
}

/* States that its steps ask for and none of them makes; or all that they make. */
static const char *states(Arena *arena, const ProcedureEntry *procedure, bool made) {
  Words words = {0};
  for (size_t b = 0; b < procedure->blocks.n; b++) {
    const BlockDecl *block = procedure->blocks.at[b];
    for (size_t s = 0; s < block->steps.n; s++) {
      const SaidList *list = made ? &block->steps.at[s]->makes : &block->steps.at[s]->needs;
      for (size_t i = 0; i < list->n; i++) {
        const char *state = list->at[i].s;
        if (!state || text_has(&words, state) || (!made && makes(procedure, state))) continue;
        vec_push(arena, &words, state);
      }
    }
  }
  Text names = text_new(arena);
  for (size_t i = 0; i < words.n; i++) add_name(&names, words.at[i]);
  return text_done(&names);
}

static void describe_procedure(Text *out, const ProcedureEntry *procedure) {
  Arena *arena = out->arena;
  line(out, "sets", joined(arena, &procedure->needs_sets));
  line(out, "openings", joined(arena, &procedure->needs_openings));
  line(out, "roles", joined(arena, &procedure->needs_roles));
  line(out, "quantities", joined(arena, &procedure->needs_quantities));
  line(out, "asks for", states(arena, procedure, false));
  line(out, "makes", states(arena, procedure, true));
  for (size_t b = 0; b < procedure->blocks.n; b++)
    line(out, b == 0 ? "blocks" : "", procedure->blocks.at[b]->title.s);
}

static void describe_part(Text *out, const PartEntry *part) {
  Text joints = text_new(out->arena);
  for (size_t i = 0; i < part->joints.n; i++) add_name(&joints, part->joints.at[i]->name);
  line(out, "fills", joined(out->arena, &part->role));
  line(out, "number", part->number.s);
  line(out, "joints", text_done(&joints));
}

static void describe_engine(Text *out, const EngineEntry *engine) {
  Text sets = text_new(out->arena), roles = text_new(out->arena), openings = text_new(out->arena);
  for (size_t i = 0; i < engine->sets.n; i++) add_name(&sets, engine->sets.at[i].name);
  for (size_t i = 0; i < engine->roles.n; i++) add_name(&roles, engine->roles.at[i].name);
  for (size_t i = 0; i < engine->openings.n; i++) add_name(&openings, engine->openings.at[i].name);
  line(out, "sets", text_done(&sets));
  line(out, "roles", text_done(&roles));
  line(out, "openings", text_done(&openings));
}

void library_describe(Text *out, const Entry *entry) {
  line(out, "file", entry->file ? entry->file->path : NULL);
  if (entry->source.at.line > 0) line(out, "source", source_print(out->arena, entry, NULL));
  if (entry->kind == ENTRY_PROCEDURE) describe_procedure(out, &entry->is.procedure);
  if (entry->kind == ENTRY_PART) describe_part(out, &entry->is.part);
  if (entry->kind == ENTRY_ENGINE) describe_engine(out, &entry->is.engine);
}
