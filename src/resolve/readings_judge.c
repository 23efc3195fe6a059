/* Is it a reading, or a slip of the pen? */
#include "resolve/readings_box.h"

#include "base/decimal.h"
#include "base/text.h"
#include "model/job_words.h"

#include <math.h>

/* Our own measure of a slip: ten times the width of what was expected beside it, or a fifth of
 * its size where that is more than five widths. */
#define SLIP_WIDTHS 10.0
#define FAR_WIDTHS  5.0
#define FAR_SHARE   0.2

static bool from_dead_centre(Dim dim) {
  return dim.origin == ORIGIN_TDC || dim.origin == ORIGIN_BDC;
}

bool reading_si(Run *run, const PlanBox *box, const Expr *value, double *si) {
  const Literal *literal = &value->literal;
  Dim bare = box->unit->dim;
  bare.origin = ORIGIN_NONE;
  bool plain = literal->unit == unit_of_number();
  bool angle = from_dead_centre(box->unit->dim) && dim_same(literal->unit->dim, bare);
  if (plain || angle) {
    *si = unit_to_si(box->unit,
                     plain ? literal->nominal : literal->nominal / fabs(box->unit->factor));
    return true;
  }
  const char *what = arena_printf(run->arena, "box %d, %s", box->number, box->label);
  if (!literal_need(run, value->at, literal, box->unit->dim, what)) return false;
  *si = literal->nominal;
  return true;
}

bool reading_word_fits(Run *run, const PlanBox *box, const ReadingLine *line) {
  if (gauge_is_go(box->gauge)) return true;
  Finding *finding = finding_add(run, RULE_WRONG_DIMENSION, line->word.at,
                                 "box %d, %s, holds a number%s%s, not %s", box->number, box->label,
                                 box->unit->print[0] ? " in " : "", box->unit->print, line->word.s);
  finding_subject(finding, box->quantity->name);
  finding_way_out(run, finding, "write what the gauge showed");
  return false;
}

static const char *shown(Run *run, const PlanBox *box, double si) {
  return quantity_print(run->arena, si, box->unit, box->places);
}

static Finding *about(Run *run, Rule rule, const PlanBox *box, const Expr *value,
                      const char *what) {
  Finding *finding =
      finding_add(run, rule, value->at, "box %d, %s: %s", box->number, box->label, what);
  finding_subject(finding, box->quantity->name);
  return finding;
}

static const char *gauge_label(const Gauge *gauge) {
  return gauge->label.s ? gauge->label.s : gauge->name;
}

/* A value in another unit than the box prints was converted: its marks are not the gauge's. */
static bool is_converted(const PlanBox *box, const Expr *value) {
  const Unit *unit = value->literal.unit;
  return unit != unit_of_number() && fabs(unit->factor) != fabs(box->unit->factor);
}

static bool is_finer(const PlanBox *box, double si) {
  if (!(box->resolution > 0)) return false;
  double step = box->resolution / fabs(box->unit->factor);
  double number = unit_from_si(box->unit, si);
  return fabs(number - decimal_round(number, step)) > 1e-6 * step;
}

/* A gauge that begins at nothing reads differences both ways. */
static bool is_beyond(const PlanBox *box, double si) {
  if (!box->gauge) return false;
  const Expr *range = &box->gauge->range;
  if (range->kind != EXPR_LITERAL || range->literal.shape != LITERAL_BAND) return false;
  double low = range->literal.low, high = range->literal.high, slack = 1e-9 * fabs(high);
  if (from_dead_centre(box->unit->dim)) si = unit_from_si(box->unit, si) * fabs(box->unit->factor);
  if (low <= 0) return fabs(si) > high + slack;
  return si < low - slack || si > high + slack;
}

bool gauge_reads(const PlanBox *box, double si) {
  return !is_finer(box, si) && !is_beyond(box, si);
}

/* What was probably meant; else, where it may be so, how to vouch for it. */
static void way_out(Run *run, Finding *finding, const PlanBox *box, const Expr *value, double si,
                    const char *otherwise) {
  const char *meant = reading_meant(run, box, value, si);
  if (meant)
    finding_way_out(run, finding, "%s would be as expected; look at the sheet again%s%s", meant,
                    otherwise[0] ? "; " : "", otherwise);
  else
    finding_way_out(run, finding, "look at the sheet again%s%s",
                    otherwise[0] ? "; " : ": point, digits and unit", otherwise);
}

static bool gauge_could(Run *run, const PlanBox *box, const Expr *value, double si) {
  if (!box->gauge) return true;
  const char *what = NULL;
  if (!is_converted(box, value) && is_finer(box, si))
    what = arena_printf(run->arena, "%s is finer than %s reads (%s)", value->literal.text,
                        gauge_label(box->gauge),
                        literal_print(run->arena, &box->gauge->resolution.literal));
  else if (is_beyond(box, si))
    what = arena_printf(run->arena, "%s reads %s; %s is written", gauge_label(box->gauge),
                        literal_print(run->arena, &box->gauge->range.literal), value->literal.text);
  if (!what) return true;
  Finding *finding = about(run, RULE_BEYOND_GAUGE, box, value, what);
  finding_note(run, finding, box->gauge->at, "the gauge stands here");
  way_out(run, finding, box, value, si, "");
  return false;
}

/* From the least to the most that parts and limits give reason to expect. */
bool readings_expected(const Quantity *quantity, double *low, double *high) {
  const Allowed *allowed = &quantity->allowed;
  *low = INFINITY;
  *high = -INFINITY;
  if (quantity->predicted.state == VALUE_KNOWN) {
    *low = quantity->predicted.low;
    *high = quantity->predicted.high;
  }
  bool min = allowed->has_min && allowed->min_now.state == VALUE_KNOWN;
  bool max = allowed->has_max && allowed->max_now.state == VALUE_KNOWN;
  if (min) *low = fmin(*low, allowed->min_now.si);
  if (max) *high = fmax(*high, allowed->max_now.si);
  if (min) *high = fmax(*high, allowed->min_now.si);
  if (max) *low = fmin(*low, allowed->max_now.si);
  return *low <= *high;
}

static bool is_one_sided(const Quantity *quantity) {
  return quantity->predicted.state != VALUE_KNOWN &&
         !(quantity->allowed.has_min && quantity->allowed.has_max);
}

static bool is_far(const PlanBox *box, double si, double low, double high) {
  double off = si < low ? low - si : si - high;
  double width = fmax(high - low, 0), size = fabs(si < low ? low : high);
  if (!(off > 0) || off <= FAR_WIDTHS * box->resolution) return false;
  if (si < 0 && low > 0 && -si >= low - width && -si <= high + width) return true;
  if (is_one_sided(box->quantity)) return off > SLIP_WIDTHS * size;
  if (width > 0 && off > SLIP_WIDTHS * width) return true;
  if (box->unit->dim.origin != ORIGIN_NONE) return false; /* counted from a zero somebody chose */
  return off > FAR_SHARE * size && off > FAR_WIDTHS * width;
}

bool reading_is_likely(Run *run, const PlanBox *box, const ReadingLine *line, const Expr *value,
                       double si) {
  double low, high;
  if (!gauge_could(run, box, value, si)) return false;
  if (!readings_expected(box->quantity, &low, &high) || !is_far(box, si, low, high)) return true;
  if (line->why.s) return true;
  Finding *finding = about(
      run, RULE_LIKELY_SLIP, box, value,
      arena_printf(run->arena, "%s is far from %s%s", shown(run, box, si),
                   high > low ? arena_printf(run->arena, "%s to ",
                                             number_print(run->arena, low, box->unit, box->places))
                              : "",
                   shown(run, box, high)));
  way_out(run, finding, box, value, si,
          arena_printf(run->arena, "if it was read so, write {value: %s, why: ...}",
                       value->literal.text));
  return false;
}
