/* What an unlikely reading was probably meant to be: another place of the point, the box's own
 * unit, the other sign. A guess for the eye of who typed it; nothing is taken for it. */
#include "resolve/readings_box.h"

#include "base/text.h"
#include "model/job_words.h"

#include <math.h>

#define MOST_SHIFT 3 /* places the point may have slipped */

/* Inside what is expected, as wide again on either side. */
static bool is_as_expected(const PlanBox *box, double si) {
  double low, high;
  if (!readings_expected(box->quantity, &low, &high) || !gauge_reads(box, si)) return false;
  double beside = high > low ? high - low : fabs(low) / 2;
  return (si > 0) == (low + high > 0) && si >= low - beside && si <= high + beside;
}

static const char *meant(Run *run, const PlanBox *box, double si, const char *how) {
  return arena_printf(run->arena, "%s, %s", quantity_print(run->arena, si, box->unit, box->places),
                      how);
}

const char *reading_meant(Run *run, const PlanBox *box, const Expr *value, double si) {
  const Literal *literal = &value->literal;
  if (box->unit->dim.origin != ORIGIN_NONE) return NULL; /* no zero to count from */
  double in_box = literal->unit == unit_of_number()
                      ? si
                      : unit_to_si(box->unit, unit_from_si(literal->unit, si));
  if (in_box != si && is_as_expected(box, in_box))
    return meant(run, box, in_box, "the unit of the box,");
  double tens = 1;
  for (int i = 1; i <= MOST_SHIFT; i++) {
    tens *= 10;
    if (is_as_expected(box, si / tens) || is_as_expected(box, si * tens))
      return meant(run, box, is_as_expected(box, si / tens) ? si / tens : si * tens,
                   "the point in another place,");
  }
  return is_as_expected(box, -si) ? meant(run, box, -si, "the other sign,") : NULL;
}
