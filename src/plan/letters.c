/* The letters of values worked out on paper: each stands for one thing in a step, and those that a
 * line goes by are there. */
#include "plan/work.h"

#include "base/text.h"

#include <ctype.h>

static bool is_word(char c) {
  return isalnum((unsigned char)c) || c == '_' || (unsigned char)c > 127;
}

static void take(Planner *planner, const PlanStep *step, Map *seen, const char *letter, Place at) {
  Place *first = map_find(seen, letter);
  Place *here = ARENA_NEW(planner->arena, Place);
  *here = at;
  if (!first) {
    map_put(seen, letter, here);
    return;
  }
  Finding *finding = finding_add(planner->run, RULE_REPEATED_KEY, at,
                                 "%s stands for two things in one step", letter);
  finding_subject(finding, step->id);
  finding_note(planner->run, finding, *first, "the first stands here");
  finding_way_out(planner->run, finding, "give each a letter of its own");
}

/* The readings of the step, then what comes of them. */
static void each_once(Planner *planner, const PlanStep *step) {
  Map *seen = map_new(planner->arena);
  for (size_t i = 0; i < step->decl->boxes.n; i++) {
    const Said *letter = &step->decl->boxes.at[i].letter;
    if (letter->s) take(planner, step, seen, letter->s, letter->at);
  }
  for (size_t i = 0; i < step->work_letters.n; i++) {
    const WorkLine *line = &step->decl->work.at[i];
    take(planner, step, seen, step->work_letters.at[i],
         line->letter.s ? line->letter.at : line->at);
  }
}

/* Letters of the steps of the same procedure up to this one. */
static void letters_known(Planner *planner, size_t last, Words *known) {
  const PlanStep *step = planner->plan->steps.at[last];
  for (size_t i = 0; i <= last; i++) {
    const PlanStep *other = planner->plan->steps.at[i];
    if (other->procedure != step->procedure) continue;
    for (size_t b = 0; b < other->decl->boxes.n; b++) {
      const char *letter = other->decl->boxes.at[b].letter.s;
      if (letter && !text_has(known, letter)) vec_push(planner->arena, known, letter);
    }
    for (size_t w = 0; w < other->work_letters.n; w++)
      if (!text_has(known, other->work_letters.at[w]))
        vec_push(planner->arena, known, other->work_letters.at[w]);
  }
}

/* A capital by itself that is no unit after a number and no article. */
static bool stands_alone(const char *text, size_t at) {
  char c = text[at], next = text[at + 1];
  if (c < 'A' || c > 'Z' || is_word(next)) return false;
  if (at > 0 && (is_word(text[at - 1]) || text[at - 1] == '.')) return false;
  if (at > 1 && text[at - 1] == ' ' && isdigit((unsigned char)text[at - 2])) return false;
  return !(c == 'A' && next == ' ' && islower((unsigned char)text[at + 2]));
}

static void letters_meant(Planner *planner, const PlanStep *step, const WorkLine *line,
                          const Words *known) {
  const char *text = line->text.s;
  int braces = 0;
  for (size_t i = 0; text && text[i]; i++) {
    braces += (text[i] == '{') - (text[i] == '}');
    if (braces || !stands_alone(text, i)) continue;
    const char *letter = arena_text(planner->arena, text + i, 1);
    if (text_has(known, letter)) continue;
    Finding *finding = finding_add(
        planner->run, RULE_UNKNOWN_NAME, line->text.at,
        "\"%s\" goes by %s, and no box and no line up to here has that letter", text, letter);
    finding_subject(finding, step->id);
    finding_way_out(planner->run, finding, "give the box its letter: {quantity: ..., letter: %s}",
                    letter);
  }
}

void letters_check(Planner *planner) {
  for (size_t i = 0; i < planner->plan->steps.n; i++) {
    const PlanStep *step = planner->plan->steps.at[i];
    if (!step->decl->work.n || !step_leads(planner->plan, i)) continue;
    Words known = {0};
    each_once(planner, step);
    letters_known(planner, i, &known);
    for (size_t w = 0; w < step->decl->work.n; w++)
      letters_meant(planner, step, &step->decl->work.at[w], &known);
  }
}
