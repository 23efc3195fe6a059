/* Texts that are read with dirty hands: one thing a sentence, and not many words. */
#include "check/rules.h"

#include "base/text.h"

#define WORDS_MOST 20

static bool ends_sentence(const char *at) {
  return (*at == '.' || *at == ':' || *at == ';' || *at == '?' || *at == '!') &&
         (at[1] == ' ' || at[1] == '\n' || at[1] == '\0');
}

/* Words of the longest sentence; where it begins and ends. A name in { } is one word. */
static size_t longest_sentence(const char *text, const char **begins, const char **ends) {
  size_t most = 0, words = 0;
  const char *from = text;
  bool in_word = false, in_braces = false;
  for (const char *at = text; *at; at++) {
    bool blank = (*at == ' ' || *at == '\n' || *at == '\t') && !in_braces;
    if (*at == '{') in_braces = true;
    if (*at == '}') in_braces = false;
    if (!blank && !in_word) {
      if (words == 0) from = at;
      words++;
    }
    in_word = !blank;
    if (words > most) {
      most = words;
      *begins = from;
    }
    if (*begins == from && !blank) *ends = at + 1;
    if (ends_sentence(at)) words = 0, in_word = false;
  }
  return most;
}

static void judge(Run *run, const PlanStep *step) {
  const Said *said = &step->decl->text;
  const char *begins = said->s, *ends = said->s;
  size_t words = longest_sentence(said->s, &begins, &ends);
  if (words <= WORDS_MOST) return;
  Finding *finding =
      finding_add(run, RULE_LONG_SENTENCE, said->at, "a sentence of %zu words: \"%s\"", words,
                  arena_text(run->arena, begins, (size_t)(ends - begins)));
  finding_subject(finding, step->id);
  finding_way_out(run, finding, "say it in two; a sentence at the bench has at most %d words",
                  WORDS_MOST);
}

void check_sentences(Run *run, const Plan *plan) {
  for (size_t i = 0; i < plan->steps.n; i++)
    if (plan->steps.at[i]->decl->text.s && step_leads(plan, i)) judge(run, plan->steps.at[i]);
}
