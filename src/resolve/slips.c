/* Names that stand where nothing else would miss them: a slip there would be passed over. */
#include "resolve/context.h"

#include "base/near.h"

/* The same condition is asked many times. */
static bool is_told(const Resolver *r, Place at) {
  for (size_t i = 0; i < r->run->findings->list.n; i++) {
    const Finding *finding = r->run->findings->list.at[i];
    if (finding->rule == RULE_UNKNOWN_NAME && finding->at.source == at.source &&
        finding->at.line == at.line && finding->at.column == at.column)
      return true;
  }
  return false;
}

static const Words *all_parts(const Resolver *r) {
  const Library *library = r->job->library;
  return library->ids(library->asked, ENTRY_PART);
}

/* All are parts that the build reaches: no need to look what else there is. */
static bool all_reached(const Resolver *r, const Words *words) {
  for (size_t i = 0; i < words->n; i++)
    if (!text_is(words->at[i], "none") && !library_find(r->job->library, ENTRY_PART, words->at[i]))
      return false;
  return true;
}

void condition_words(const Resolver *r, const Formula *is, const ChoiceDecl *choice) {
  Words words = {0};
  for (size_t i = 0; choice && i < choice->words.n; i++)
    if (choice->words.at[i].s) vec_push(r->arena, &words, choice->words.at[i].s);
  if (!choice && all_reached(r, &is->words)) return;
  const Words *known = choice ? &words : all_parts(r);
  if (known->n == 0) return;
  for (size_t i = 0; i < is->words.n; i++) {
    const char *word = is->words.at[i];
    Place at = i < is->words_at.n ? is->words_at.at[i] : is->at;
    if (text_has(known, word) || (!choice && text_is(word, "none")) || is_told(r, at)) continue;
    Finding *finding =
        choice ? finding_add(r->run, RULE_UNKNOWN_NAME, at, "%s is never %s: it is one of %s",
                             is->name, word, resolve_listing(r->arena, known))
               : finding_add(r->run, RULE_UNKNOWN_NAME, at,
                             "%s is never %s: the library holds no such part", is->name, word);
    resolve_suggest(r->run, finding, word, known);
  }
}

static void engine_slips(const Resolver *r, const Words *names) {
  const EngineEntry *engine = r->job->engine;
  Words seals = {0};
  for (size_t i = 0; i < names->n; i++) vec_push(r->arena, &seals, names->at[i]);
  vec_push(r->arena, &seals, "sealant");
  vec_push(r->arena, &seals, "o_ring");
  vec_push(r->arena, &seals, "dry");
  for (size_t i = 0; i < engine->faces.n; i++) {
    const SaidList *by = &engine->faces.at[i].sealed_by;
    for (size_t j = 0; j < by->n; j++) {
      if (!by->at[j].s || text_has(&seals, by->at[j].s)) continue;
      if (library_find(r->job->library, ENTRY_CONSUMABLE, by->at[j].s)) continue;
      Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, by->at[j].at,
                                     "%s is no place of the engine and no way to seal %s",
                                     by->at[j].s, engine->faces.at[i].name);
      resolve_suggest(r->run, finding, by->at[j].s, &seals);
    }
  }
  Words quantities = {0};
  for (size_t i = 0; i < r->job->quantities.n; i++)
    if (!text_has(&quantities, r->job->quantities.at[i]->name))
      vec_push(r->arena, &quantities, r->job->quantities.at[i]->name);
  for (size_t i = 0; i < engine->demands.n; i++) {
    const SaidList *measure = &engine->demands.at[i].measure;
    for (size_t j = 0; j < measure->n; j++) {
      const char *word = measure->at[j].s;
      if (!word || quantity_is_declared(r, word)) continue;
      Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, measure->at[j].at,
                                     "%s is to be measured; no relation declares it", word);
      resolve_suggest(r->run, finding, word, &quantities);
    }
  }
}

/* Nobody can choose it: a slip, or a part of elsewhere. */
static void forbid_slips(const Resolver *r, const Entry *part) {
  for (size_t i = 0; i < part->is.part.forbids.n; i++) {
    const Forbid *forbid = &part->is.part.forbids.at[i];
    if (!forbid->part.s || library_find(r->job->library, ENTRY_PART, forbid->part.s)) continue;
    const Words *parts = all_parts(r);
    if (!parts->n || text_has(parts, forbid->part.s)) continue;
    Finding *finding =
        finding_add(r->run, RULE_UNKNOWN_NAME, forbid->part.at,
                    "%s is forbidden here; the library holds no such part", forbid->part.s);
    finding->severity = SEVERITY_CONCERN;
    resolve_suggest(r->run, finding, forbid->part.s, parts);
  }
}

void resolve_slips(Resolver *r) {
  Words names = job_role_names(r->arena, r->job);
  engine_slips(r, &names);
  for (size_t i = 0; i < r->job->roles.n; i++)
    if (r->job->roles.at[i]->part) forbid_slips(r, r->job->roles.at[i]->part);
}
