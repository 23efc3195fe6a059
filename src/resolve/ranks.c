/* Whose limits hold where several sheets speak. */
#include "resolve/context.h"

#include "model/job_words.h"

#include <math.h>

const char *limit_says(Arena *arena, const LimitVoice *voice, const Unit *unit) {
  const Unit *own = voice->low_unit ? voice->low_unit : voice->high_unit;
  int places = voice->places;
  if (!own) own = unit;
  if (!voice->known) return "limits that wait for a reading";
  const char *target =
      voice->has_target
          ? arena_printf(arena, ", target %s", quantity_print(arena, voice->aim, own, places))
          : "";
  if (!voice->has_min && !voice->has_max) return voice->has_target ? target + 2 : "nothing";
  double low = voice->has_min ? voice->low : -INFINITY;
  double high = voice->has_max ? voice->high : INFINITY;
  return arena_printf(arena, "%s%s", band_print(arena, low, high, own, places), target);
}

static double slack_of(double a, double b) {
  double size = fmax(isfinite(a) ? fabs(a) : 0, isfinite(b) ? fabs(b) : 0);
  return 1e-12 + 1e-9 * size;
}

/* Equal, or equal within the digits where one was converted from the other's unit. */
static bool ends_agree(double a, double a_half, const Unit *a_unit, double b, double b_half,
                       const Unit *b_unit) {
  if (isinf(a) || isinf(b)) return a == b;
  double slack = slack_of(a, b);
  if (a_unit && b_unit && a_unit != b_unit) slack += fmax(a_half, b_half);
  return fabs(a - b) <= slack;
}

static bool voices_agree(const LimitVoice *a, const LimitVoice *b) {
  if (!a->known || !b->known) return true; /* cannot be told yet */
  return ends_agree(a->low, a->low_half, a->low_unit, b->low, b->low_half, b->low_unit) &&
         ends_agree(a->high, a->high_half, a->high_unit, b->high, b->high_half, b->high_unit);
}

static void disagree(Resolver *r, const Quantity *quantity, const LimitVoice *a,
                     const LimitVoice *b) {
  Finding *finding = finding_add(
      r->run, RULE_SHEETS_DISAGREE, b->voice.at, "%s: %s allows %s, %s allows %s", quantity->name,
      resolve_whose(r->arena, a->voice.entry, a->voice.page), a->voice.says,
      resolve_whose(r->arena, b->voice.entry, b->voice.page), b->voice.says);
  finding_subject(finding, quantity->name);
  finding_note(r->run, finding, a->voice.at, "the other sheet");
  finding_way_out(r->run, finding,
                  "settle it in the build: `settle: {%s: {sheet: %s, why: ...}}` or with %s",
                  quantity->name, a->voice.entry->id, b->voice.entry->id);
}

/* What both allow. false: nothing. */
static bool intersect(Resolver *r, const Quantity *quantity, LimitVoice *into,
                      const LimitVoice *other) {
  LimitVoice both = *into;
  if (both.places >= 0 && (other->places < 0 || other->places > both.places))
    both.places = other->places;
  if (other->has_min && (!both.has_min || other->low > both.low)) {
    both.has_min = true;
    both.min = other->min;
    both.low = other->low;
  }
  if (other->has_max && (!both.has_max || other->high < both.high)) {
    both.has_max = true;
    both.max = other->max;
    both.high = other->high;
  }
  if (both.low > both.high + slack_of(both.low, both.high)) {
    disagree(r, quantity, into, other);
    return false;
  }
  if (!both.has_target && other->has_target) {
    both.has_target = true;
    both.target = other->target;
    both.aim = other->aim;
  }
  if (both.has_target && (both.aim < both.low || both.aim > both.high)) both.has_target = false;
  both.voice.says = limit_says(r->arena, &both, quantity->decl->unit);
  Finding *finding =
      finding_add(r->run, RULE_SHEETS_NARROWED, other->voice.at,
                  "%s: %s allows %s, %s allows %s; what both allow is used, %s", quantity->name,
                  resolve_whose(r->arena, into->voice.entry, into->voice.page), into->voice.says,
                  resolve_whose(r->arena, other->voice.entry, other->voice.page), other->voice.says,
                  both.voice.says);
  finding_subject(finding, quantity->name);
  finding_note(r->run, finding, into->voice.at, "the other sheet");
  *into = both;
  return true;
}

/* Practice gives way without a word: that is what it is for. */
static void overrule(Resolver *r, const Quantity *quantity, const LimitVoice *winner,
                     const LimitVoice *loser, Voices *losers) {
  vec_push(r->arena, losers, loser->voice);
  if (loser->voice.rank == RANK_PRACTICE || voices_agree(winner, loser)) return;
  Finding *finding = finding_add(
      r->run, RULE_SHEET_OVERRULED, loser->voice.at, "%s: %s allows %s; %s allows %s and holds",
      quantity->name, resolve_whose(r->arena, loser->voice.entry, loser->voice.page),
      loser->voice.says, resolve_whose(r->arena, winner->voice.entry, winner->voice.page),
      winner->voice.says);
  finding_subject(finding, quantity->name);
  finding_note(r->run, finding, winner->voice.at, "the limits that hold, from %s",
               rank_word(winner->voice.rank));
}

/* The build chose between them and said why: whoever reads the other sheet should know. */
static void settled_against(Resolver *r, const Quantity *quantity, const LimitVoice *winner,
                            const LimitVoice *loser) {
  if (loser->voice.rank == RANK_PRACTICE || voices_agree(winner, loser)) return;
  const Settle *settle = settle_find(r, quantity->name);
  Finding *finding = finding_add(
      r->run, RULE_SHEET_OVERRULED, settle->at, "%s: %s allows %s; the build holds to %s, %s%s%s",
      quantity->name, resolve_whose(r->arena, loser->voice.entry, loser->voice.page),
      loser->voice.says, resolve_whose(r->arena, winner->voice.entry, winner->voice.page),
      winner->voice.says, settle->why.s ? ": " : "", settle->why.s ? settle->why.s : "");
  finding_subject(finding, quantity->name);
  finding_note(r->run, finding, loser->voice.at, "what is not used");
}

static const LimitVoice *settled(Resolver *r, const Quantity *quantity, const LimitVoice *voices,
                                 size_t n) {
  const Settle *settle = settle_find(r, quantity->name);
  if (!settle || !settle->sheet.s) return NULL;
  Words names = {0};
  for (size_t i = 0; i < n; i++) {
    if (text_is(voices[i].voice.entry->id, settle->sheet.s)) return &voices[i];
    vec_push(r->arena, &names, voices[i].voice.entry->id);
  }
  Finding *finding = finding_add(r->run, RULE_UNKNOWN_NAME, settle->sheet.at,
                                 "%s is settled by %s, which says nothing about it", quantity->name,
                                 settle->sheet.s);
  const char *near = resolve_suggest(r->run, finding, settle->sheet.s, &names);
  for (size_t i = 0; near && i < n; i++) /* read on as what was meant */
    if (text_is(voices[i].voice.entry->id, near)) return &voices[i];
  return NULL;
}

/* The makers' record that holds; the build is not among voices. */
static bool rank_makers(Resolver *r, const Quantity *quantity, const LimitVoice *voices, size_t n,
                        LimitVoice *winner, Voices *losers) {
  const LimitVoice *chosen = settled(r, quantity, voices, n);
  bool good = true;
  *winner = chosen ? *chosen : voices[0];
  for (size_t i = 0; i < n; i++) {
    const LimitVoice *other = &voices[i];
    if (other == chosen || (!chosen && i == 0)) continue;
    if (chosen) {
      vec_push(r->arena, losers, other->voice);
      settled_against(r, quantity, chosen, other);
    } else if (other->voice.rank < voices[0].voice.rank) {
      if (good) overrule(r, quantity, winner, other, losers);
    } else if (!voices_agree(winner, other)) {
      vec_push(r->arena, losers, other->voice);
      good = good && intersect(r, quantity, winner, other);
    }
  }
  return good;
}

/* A build narrows: an end it does not give stays the maker's. */
static void narrow(Resolver *r, const Quantity *quantity, LimitVoice *mine,
                   const LimitVoice *maker) {
  bool lower = mine->has_min && maker->has_min && mine->known && maker->known &&
               mine->low < maker->low - slack_of(mine->low, maker->low);
  bool higher = mine->has_max && maker->has_max && mine->known && maker->known &&
                mine->high > maker->high + slack_of(mine->high, maker->high);
  if (lower || higher) {
    Finding *finding = finding_add(
        r->run, RULE_LIMIT_WIDENED, mine->voice.at, "%s: the build allows %s; %s allows %s",
        quantity->name, mine->voice.says,
        resolve_whose(r->arena, maker->voice.entry, maker->voice.page), maker->voice.says);
    finding_subject(finding, quantity->name);
    finding_note(r->run, finding, maker->voice.at, "limits given here");
    finding_way_out(r->run, finding,
                    "stay within the sheet's limits, or add a concession for limit-widened of %s "
                    "with a reason and who answers for it",
                    quantity->name);
  }
  if (mine->places >= 0 && (maker->places < 0 || maker->places > mine->places))
    mine->places = maker->places;
  if (!mine->has_min && maker->has_min) {
    mine->has_min = true;
    mine->min = maker->min;
    mine->low = maker->low;
  }
  if (!mine->has_max && maker->has_max) {
    mine->has_max = true;
    mine->max = maker->max;
    mine->high = maker->high;
  }
  if (!mine->has_target && maker->has_target && maker->aim >= mine->low &&
      maker->aim <= mine->high) {
    mine->has_target = true;
    mine->target = maker->target;
    mine->aim = maker->aim;
  }
  mine->known = mine->known && maker->known;
  mine->voice.says = limit_says(r->arena, mine, quantity->decl->unit);
}

bool limits_rank(Resolver *r, const Quantity *quantity, const LimitVoices *voices,
                 LimitVoice *winner, Voices *losers) {
  size_t built = 0;
  while (built < voices->n && voices->at[built].voice.rank == RANK_BUILD) built++;
  LimitVoice maker;
  bool good = true;
  if (built < voices->n)
    good = rank_makers(r, quantity, voices->at + built, voices->n - built, &maker, losers);
  if (!built) {
    *winner = maker;
    return good;
  }
  *winner = voices->at[0];
  if (built < voices->n && good) {
    vec_push(r->arena, losers, maker.voice);
    /* practice is nobody's limit to widen */
    if (maker.voice.rank > RANK_PRACTICE) narrow(r, quantity, winner, &maker);
  }
  return true;
}
