/* Designations: from text to a thread of a standard series, and back. */
#include "trade/thread.h"

#include "base/decimal.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define FINE_MOST   4
#define INCH_LENGTH 25.4e-3
#define MILLIMETRE  1e-3
#define SERIES_MOST 3
#define LONGEST     40

typedef struct MetricRow {
  double major, coarse, fine[FINE_MOST];
} MetricRow;

static const MetricRow metric_rows[] = {
#define METRIC(major, coarse, ...) {major, coarse, {__VA_ARGS__}},
#include "trade/thread_metric.def"
#undef METRIC
};

typedef struct InchRow {
  const char *size;
  double major;
  unsigned per_inch[SERIES_MOST]; /* UNC, UNF, UNEF */
} InchRow;

static const InchRow inch_rows[] = {
#define INCH(size, major, coarse, fine, extra) {size, major, {coarse, fine, extra}},
#include "trade/thread_inch.def"
#undef INCH
};

static const char *const series_names[SERIES_MOST] = {"UNC", "UNF", "UNEF"};

static Thread metric_thread(double major, double pitch, bool coarse, bool left) {
  Thread thread = {.major = major * MILLIMETRE,
                   .pitch = pitch * MILLIMETRE,
                   .series = coarse ? THREAD_METRIC_COARSE : THREAD_METRIC_FINE,
                   .left_hand = left};
  const char *hand = left ? " LH" : "";
  if (coarse) {
    snprintf(thread.name, sizeof thread.name, "M%g%s", major, hand);
  } else {
    snprintf(thread.name, sizeof thread.name, "M%gx%g%s", major, pitch, hand);
  }
  return thread;
}

static Thread inch_thread(const InchRow *row, size_t series, bool left) {
  Thread thread = {.major = row->major * INCH_LENGTH,
                   .pitch = INCH_LENGTH / row->per_inch[series],
                   .series = (ThreadSeries)(THREAD_UNC + series),
                   .unified = true,
                   .left_hand = left};
  snprintf(thread.name, sizeof thread.name, "%s-%u %s%s", row->size, row->per_inch[series],
           series_names[series], left ? " LH" : "");
  return thread;
}

static const char *skip_blanks(const char *at) {
  while (*at == ' ') at++;
  return at;
}

/* A plain number, no sign; NULL when there is none. */
static const char *read_number(const char *at, double *number) {
  int places = 0;
  if (*at < '0' || *at > '9') return NULL;
  return at + decimal_read(at, number, &places);
}

static bool is_near(double a, double b) {
  return fabs(a - b) < 1e-6;
}

static bool parse_metric(const char *text, bool left, Thread *out) {
  double major = 0.0, pitch = 0.0;
  if (*text != 'M') return false;
  const char *at = read_number(skip_blanks(text + 1), &major);
  if (at == NULL) return false;
  at = skip_blanks(at);
  if (*at != '\0') {
    size_t cross = *at == 'x' || *at == 'X' ? 1 : strncmp(at, "\xc3\x97", 2) == 0 ? 2 : 0;
    if (cross == 0) return false;
    at = read_number(skip_blanks(at + cross), &pitch);
    if (at == NULL || *skip_blanks(at) != '\0' || pitch <= 0.0) return false;
  }
  for (size_t i = 0; i < sizeof metric_rows / sizeof *metric_rows; i++) {
    const MetricRow *row = &metric_rows[i];
    if (!is_near(row->major, major)) continue;
    if (row->coarse > 0.0 && (pitch <= 0.0 || is_near(pitch, row->coarse))) {
      *out = metric_thread(row->major, row->coarse, true, left);
      return true;
    }
    for (size_t k = 0; k < FINE_MOST && row->fine[k] > 0.0; k++) {
      if (!is_near(pitch, row->fine[k])) continue;
      *out = metric_thread(row->major, row->fine[k], false, left);
      return true;
    }
  }
  return false;
}

/* What follows the size when it is written at the start of text; NULL when it is
 * not. The # may be left out, and the blank of 1 1/8 may be a dash. */
static const char *after_size(const char *text, const char *size) {
  if (*size == '#' && *text != '#') size++;
  for (; *size != '\0'; size++, text++) {
    if (*size == ' ' && *text == '-') continue;
    if (*text != *size) return NULL;
  }
  return text;
}

/* -20, -20 UNC, UNC, " UNC": the series it names in this row, or SERIES_MOST. */
static size_t series_of(const InchRow *row, const char *rest) {
  double per_inch = 0.0;
  bool any = false;
  const char *at = skip_blanks(rest);
  if (*at == '-') {
    const char *past = read_number(skip_blanks(at + 1), &per_inch);
    if (past == NULL) return SERIES_MOST;
    any = true;
    at = past;
  }
  at = skip_blanks(at);
  for (size_t i = 0; i < SERIES_MOST; i++) {
    bool named = strcmp(at, series_names[i]) == 0;
    if (row->per_inch[i] == 0 || !(named || (any && *at == '\0'))) continue;
    if (!any || is_near(per_inch, row->per_inch[i])) return i;
  }
  return SERIES_MOST;
}

static bool parse_inch(const char *text, bool left, Thread *out) {
  for (size_t i = 0; i < sizeof inch_rows / sizeof *inch_rows; i++) {
    const char *rest = after_size(text, inch_rows[i].size);
    if (rest == NULL) continue;
    size_t series = series_of(&inch_rows[i], rest);
    if (series == SERIES_MOST) continue;
    *out = inch_thread(&inch_rows[i], series, left);
    return true;
  }
  return false;
}

/* Takes LH, with the blank or dash before it, off the end. */
static bool take_left_hand(char *text) {
  size_t n = strlen(text);
  if (n < 3 || strcmp(text + n - 2, "LH") != 0) return false;
  if (text[n - 3] != ' ' && text[n - 3] != '-') return false;
  for (n -= 3; n > 0 && text[n - 1] == ' '; n--) continue;
  text[n] = '\0';
  return true;
}

bool thread_parse(const char *text, Thread *out) {
  char whole[LONGEST];
  *out = (Thread){0};
  text = skip_blanks(text);
  size_t n = strlen(text);
  while (n > 0 && text[n - 1] == ' ') n--;
  if (n >= sizeof whole) return false;
  memcpy(whole, text, n);
  whole[n] = '\0';
  bool left = take_left_hand(whole);
  return parse_metric(whole, left, out) || parse_inch(whole, left, out);
}

static void add_name(Arena *arena, Words *out, Thread thread) {
  const char *name = arena_text(arena, thread.name, strlen(thread.name));
  vec_push(arena, out, name);
}

void thread_names(Arena *arena, Words *out) {
  for (size_t i = 0; i < sizeof metric_rows / sizeof *metric_rows; i++) {
    const MetricRow *row = &metric_rows[i];
    if (row->coarse > 0.0) {
      add_name(arena, out, metric_thread(row->major, row->coarse, true, false));
    }
    for (size_t k = 0; k < FINE_MOST && row->fine[k] > 0.0; k++) {
      add_name(arena, out, metric_thread(row->major, row->fine[k], false, false));
    }
  }
  for (size_t i = 0; i < sizeof inch_rows / sizeof *inch_rows; i++) {
    for (size_t k = 0; k < SERIES_MOST; k++) {
      if (inch_rows[i].per_inch[k] == 0) continue;
      add_name(arena, out, inch_thread(&inch_rows[i], k, false));
    }
  }
}
