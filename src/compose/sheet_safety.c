/* Every safety message of the packet in one place, gravest first, and where each stands. */
#include "compose/composer.h"

static SafetyWord safety_word(const Entry *caution) {
  const char *word = caution->is.caution.word.s;
  if (text_is(word, "danger")) return SAFETY_DANGER;
  if (text_is(word, "warning")) return SAFETY_WARNING;
  if (text_is(word, "caution")) return SAFETY_CAUTION;
  return SAFETY_NOTICE;
}

Block *add_message(Composer *c, const Entry *caution) {
  const CautionEntry *entry = &caution->is.caution;
  Block *block = block_add(c, BLOCK_MESSAGE);
  block->word = safety_word(caution);
  block->hazard = entry->hazard.s;
  block->consequence = entry->consequence.s;
  block->symbol = entry->symbol.s;
  for (size_t i = 0; i < entry->avoid.n; i++)
    vec_push(c->arena, &block->avoid, entry->avoid.at[i].s);
  return block;
}

static bool has_caution(const PlanStep *step, const Entry *caution) {
  for (size_t i = 0; i < step->cautions.n; i++)
    if (step->cautions.at[i] == caution) return true;
  return false;
}

/* "Before steps 3, 12, 14"; NULL when no step of this job meets the hazard. */
static const char *where(Composer *c, const Entry *caution) {
  Text text = text_new(c->arena);
  int n = 0;
  for (size_t i = 0; i < c->plan->steps.n; i++) {
    const PlanStep *step = c->plan->steps.at[i];
    const PlanBlock *block = &c->plan->blocks.at[step->plan_block];
    bool at_block = false;
    for (size_t j = 0; j < block->cautions.n && block->first == (int)i; j++)
      at_block = at_block || block->cautions.at[j] == caution;
    if (!at_block && !has_caution(step, caution)) continue;
    text_addf(&text, "%s%d", n++ ? ", " : "", step->number);
  }
  if (n == 0) return NULL;
  return arena_printf(c->arena, "%s %s", n > 1 ? "Before steps" : "Before step", text_done(&text));
}

/* A row a hazard: what to do about it stands before its step. */
static void hazard_row(Composer *c, Block *table, const Entry *caution, const char *steps) {
  add_row(c, table);
  add_cell(c, table, CELL_TEXT, safety_word_print(safety_word(caution)));
  table->rows.at[table->rows.n - 1].at[0].bold = true;
  add_cell(c, table, CELL_TEXT, caution->is.caution.hazard.s);
  add_cell(c, table, CELL_TEXT, steps);
}

static Block *hazards_table(Composer *c) {
  Block *table = block_add(c, BLOCK_TABLE);
  add_column(c, table, "Word", 24, false);
  add_column(c, table, "Hazard", 100, false);
  add_column(c, table, "Where", 48, false);
  return table;
}

static bool any_message(Composer *c) {
  for (size_t i = 0; i < c->job->library->list.n; i++) {
    const Entry *entry = c->job->library->list.at[i];
    if (entry->kind == ENTRY_CAUTION && where(c, entry)) return true;
  }
  return false;
}

void sheet_safety(Composer *c) {
  sheet_begin(c, "safety", "Safety sheet");
  group_begin(c);
  add_heading(c, 1, "Hazards of this job");
  const char *first = any_message(c) ? "Each message stands again before the work it belongs to."
                                     : "No message belongs to a step of this job.";
  add_text(c, arena_printf(c->arena,
                           "%s The shop assesses its own hazards; this list does not replace that. "
                           "Where the maker's instructions or local rules ask for more, do more.",
                           first));
  Block *table = c->brief ? hazards_table(c) : NULL;
  for (int word = SAFETY_DANGER; word <= SAFETY_NOTICE; word++) {
    for (size_t i = 0; i < c->job->library->list.n; i++) {
      const Entry *entry = c->job->library->list.at[i];
      if (entry->kind != ENTRY_CAUTION || (int)safety_word(entry) != word) continue;
      const char *steps = where(c, entry);
      if (!steps) continue;
      if (table) {
        hazard_row(c, table, entry, steps);
        continue;
      }
      group_begin(c);
      add_message(c, entry)->text = steps;
    }
  }
  if (c->brief) add_legend(c);
  for (size_t i = 0; i < c->sheet->groups.n; i++) c->sheet->groups.at[i].tight = true;
}
