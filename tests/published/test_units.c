/* Unit factors against the program units of Debian's package units, run here, and NIST
 * SP 811. */
#include "unit/test.h"

#include "value/unit.h"

#include <stdio.h>
#include <stdlib.h>

static const Unit *unit_of(const char *spelling) {
  const Unit *unit = unit_find(spelling);
  if (unit == NULL) fail_msg("%s is not known", spelling);
  return unit;
}

/* The first number that the program prints for one have in want. */
static bool ask_units(const char *have, const char *want, double *factor) {
  char command[160], answer[64];
  snprintf(command, sizeof command, "units -t -d max '%s' '%s' 2>&1 </dev/null", have, want);
  FILE *pipe = popen(command, "r");
  if (pipe == NULL) return false;
  char *end = answer;
  if (fgets(answer, sizeof answer, pipe) != NULL) *factor = strtod(answer, &end);
  pclose(pipe);
  return end != answer;
}

static void factors_of_the_program_units(void **state) {
  static const struct {
    const char *ours, *theirs, *si;
  } table[] = {
      {"mm", "mm", "m"},
      {"cm", "cm", "m"},
      {"um", "micron", "m"},
      {"in", "inch", "m"},
      {"thou", "mil", "m"},
      {"ft", "ft", "m"},
      {"mi", "mile", "m"},
      {"mm2", "mm^2", "m^2"},
      {"in2", "in^2", "m^2"},
      {"cm3", "cm^3", "m^3"},
      {"in3", "in^3", "m^3"},
      {"mL", "ml", "m^3"},
      {"L", "liter", "m^3"},
      {"US qt", "usquart", "m^3"},
      {"US gal", "usgallon", "m^3"},
      {"lbf", "lbf", "N"},
      {"kgf", "kgf", "N"},
      {"lbf.ft", "lbf ft", "N m"},
      {"lbf.in", "lbf inch", "N m"},
      {"kgf.m", "kgf m", "N m"},
      {"kgf.cm", "kgf cm", "N m"},
      {"MPa", "MPa", "Pa"},
      {"bar", "bar", "Pa"},
      {"psi", "psi", "Pa"},
      {"kgf/cm2", "kgf/cm^2", "Pa"},
      {"N/mm", "N/mm", "N/m"},
      {"lbf/in", "lbf/inch", "N/m"},
      {"lb", "lb", "kg"},
      {"oz", "oz", "kg"},
      {"h", "hour", "s"},
      {"km/h", "km/hour", "m/s"},
      {"mph", "mile/hour", "m/s"},
      {"deg", "degree", "radian"},
      {"turn", "turn", "radian"},
      {"rpm", "rpm", "radian/s"},
  };
  double factor = 0.0;
  (void)state;
  if (!ask_units("inch", "m", &factor)) {
    print_message("left out: the program units is not installed\n");
    skip();
  }
  for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
    if (!ask_units(table[i].theirs, table[i].si, &factor)) {
      fail_msg("the program units does not know %s", table[i].theirs);
    }
    assert_close(unit_of(table[i].ours)->factor, factor, 1e-14, 0.0);
  }
}

/* NIST SP 811 (2008), appendix B: C = (F - 32)/1.8; 212 degF is 100 degC. */
static void degrees_fahrenheit(void **state) {
  const Unit *c = unit_of("degC"), *f = unit_of("degF");
  (void)state;
  assert_close(unit_from_si(c, unit_to_si(f, 212.0)), 100.0, 0.0, 1e-9);
  assert_close(unit_from_si(c, unit_to_si(f, -40.0)), -40.0, 0.0, 1e-9);
  assert_close(unit_to_si(f, 132.0) - unit_to_si(f, 32.0), 55.5556, 0.0, 0.00005);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(factors_of_the_program_units),
      cmocka_unit_test(degrees_fahrenheit),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
