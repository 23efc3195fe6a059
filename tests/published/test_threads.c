/* Threads against published tables. */
#include "unit/test.h"

#include "published/measures.h"
#include "trade/thread.h"

#include <stdio.h>
#include <stdlib.h>

static Thread thread_of(const char *name) {
  Thread thread;
  if (!thread_parse(name, &thread)) fail_msg("%s is not known", name);
  return thread;
}

/* ISO 898-1, nominal stress area, mm2. Coarse: read in a reprint; fine: from memory. */
static void stress_areas_of_iso_898_1(void **state) {
  static const struct {
    const char *name;
    double area;
  } table[] = {
      {"M3", 5.03},       {"M4", 8.78},      {"M5", 14.2},       {"M6", 20.1},
      {"M7", 28.9},       {"M8", 36.6},      {"M10", 58.0},      {"M12", 84.3},
      {"M14", 115.0},     {"M16", 157.0},    {"M18", 192.0},     {"M20", 245.0},
      {"M24", 353.0},     {"M8x1", 39.2},    {"M10x1", 64.5},    {"M10x1.25", 61.2},
      {"M12x1.25", 92.1}, {"M12x1.5", 88.1}, {"M14x1.5", 125.0}, {"M16x1.5", 167.0},
  };
  (void)state;
  for (size_t i = 0; i < COUNT(table); i++) {
    Thread thread = thread_of(table[i].name);
    assert_close(thread_stress_area(&thread) / MM2, table[i].area, 0.004, 0.0);
  }
}

/* Shigley, Mechanical Engineering Design, 9th ed., table 8-2, tensile stress area, in2. */
static void stress_areas_of_inch_threads(void **state) {
  static const struct {
    const char *name;
    double area;
  } table[] = {
      {"#6-32", 0.00909}, {"#8-32", 0.0140},  {"#10-24", 0.0175},  {"#10-32", 0.0200},
      {"1/4-20", 0.0318}, {"1/4-28", 0.0364}, {"5/16-18", 0.0524}, {"5/16-24", 0.0580},
      {"3/8-16", 0.0775}, {"3/8-24", 0.0878}, {"7/16-14", 0.1063}, {"7/16-20", 0.1187},
      {"1/2-13", 0.1419}, {"1/2-20", 0.1599}, {"9/16-12", 0.182},  {"9/16-18", 0.203},
      {"5/8-11", 0.226},  {"5/8-18", 0.256},
  };
  (void)state;
  for (size_t i = 0; i < COUNT(table); i++) {
    Thread thread = thread_of(table[i].name);
    /* Two tenths of a per cent, and half the last printed digit of the shortest numbers. */
    assert_close(thread_stress_area(&thread) / INCH2, table[i].area, 0.002, 0.000005);
  }
}

/* The constants of the basic profile: Machinery's Handbook, 27th ed. */
static void basic_profile_of_m8(void **state) {
  Thread m8 = thread_of("M8");
  (void)state;
  assert_close(m8.pitch, 1.25 * MM, 1e-12, 0.0);
  assert_close(thread_pitch_diameter(m8.major, m8.pitch), 7.188 * MM, 0.0, 0.0005 * MM);
  assert_close(thread_minor_internal(m8.major, m8.pitch), 6.647 * MM, 0.0, 0.0005 * MM);
  assert_close(thread_minor_external(m8.major, m8.pitch), 6.466 * MM, 0.0, 0.0005 * MM);
  assert_close(thread_height(m8.pitch), 1.0825 * MM, 0.0, 0.0001 * MM);
}

#define FREECAD "/usr/share/freecad/Mod/Path/Data/Threads/"

/* One row: NAME,pitch,class,dMinorMin,dMinorMax,dPitchMin,... */
typedef struct Row {
  char name[32];
  double pitch, minor, pitch_diameter, major;
} Row;

static bool read_row(char *line, Row *row) {
  char *field[9];
  size_t n = 0;
  field[n++] = line;
  for (char *at = line; *at != '\0' && n < COUNT(field); at++) {
    if (*at != ',') continue;
    *at = '\0';
    field[n++] = at + 1;
  }
  if (n < COUNT(field)) return false;
  snprintf(row->name, sizeof row->name, "%s", field[0]);
  row->pitch = strtod(field[1], NULL);
  row->minor = strtod(field[3], NULL);
  row->pitch_diameter = strtod(field[5], NULL);
  row->major = strtod(field[7], NULL);
  return true;
}

/* Table of metric internal threads 6H of Debian's freecad-common, read where it is
 * installed. Its least pitch and minor diameters are the basic ones. */
static void metric_threads_of_freecad(void **state) {
  FILE *file = fopen(FREECAD "metric-internal-6H.csv", "r");
  char line[256];
  size_t rows = 0, parsed = 0;
  (void)state;
  if (file == NULL) {
    print_message("left out: freecad-common is not installed\n");
    skip();
  }
  while (fgets(line, sizeof line, file) != NULL) {
    Row row;
    Thread thread;
    if (line[0] != 'M' || !read_row(line, &row)) continue;
    rows++;
    assert_close(thread_pitch_diameter(row.major, row.pitch), row.pitch_diameter, 0.0, 0.0012);
    assert_close(thread_minor_internal(row.major, row.pitch), row.minor, 0.0, 0.0012);
    if (row.major > 64.0) continue; /* the end of our table */
    parsed++;
    if (!thread_parse(row.name, &thread)) fail_msg("%s is not known", row.name);
    assert_close(thread.major / MM, row.major, 1e-9, 0.0);
    assert_close(thread.pitch / MM, row.pitch, 1e-9, 0.0);
  }
  fclose(file);
  assert_int_equal(rows, 81);
  assert_true(parsed > 50);
}

/* The same for inch threads 2B; sizes above 1 in. are written 11/8 for 1 1/8. */
static void inch_threads_of_freecad(void **state) {
  FILE *file = fopen(FREECAD "imperial-internal-2B.csv", "r");
  char line[256];
  size_t rows = 0, parsed = 0;
  (void)state;
  if (file == NULL) {
    print_message("left out: freecad-common is not installed\n");
    skip();
  }
  while (fgets(line, sizeof line, file) != NULL) {
    Row row;
    Thread thread;
    char name[80];
    if (line[0] < '0' || line[0] > '9' || !read_row(line, &row)) continue;
    rows++;
    double pitch = 1.0 / row.pitch; /* the column holds threads an inch */
    assert_close(thread_pitch_diameter(row.major, pitch), row.pitch_diameter, 0.0, 0.0001);
    assert_close(thread_minor_internal(row.major, pitch), row.minor, 0.0, 0.0006);
    if (row.major > 1.5) continue; /* the end of our table */
    parsed++;
    bool mixed = row.major > 1.0;
    snprintf(name, sizeof name, "%.1s%s%s", row.name, mixed ? " " : "", row.name + 1);
    if (!thread_parse(name, &thread)) fail_msg("%s is not known", name);
    assert_close(thread.major / INCH, row.major, 1e-9, 0.0);
    assert_close(thread.pitch / INCH, pitch, 1e-9, 0.0);
  }
  fclose(file);
  assert_int_equal(rows, 45);
  assert_int_equal(parsed, 43);
}

int main(void) {
  const struct CMUnitTest tests[] = {
      cmocka_unit_test(stress_areas_of_iso_898_1), cmocka_unit_test(stress_areas_of_inch_threads),
      cmocka_unit_test(basic_profile_of_m8),       cmocka_unit_test(metric_threads_of_freecad),
      cmocka_unit_test(inch_threads_of_freecad),
  };
  return cmocka_run_group_tests(tests, NULL, NULL);
}
