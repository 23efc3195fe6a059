#include "base/decimal.h"

#include "base/text.h"

#include <math.h>
#include <stdint.h>
#include <stdio.h>

#define EXACT_DIGITS DECIMAL_MOST_DIGITS /* significant ones taken as exact when printing */
#define MOST_PLACES  30
#define ON_STEP      1e-6 /* of a step: nearer to a multiple than this is on it */

static double power_of_ten(int n) {
  static const double exact[] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                 1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
  double power = 1;
  for (; n > 22; n--) power *= 10;
  return power * exact[n > 0 ? n : 0];
}

size_t decimal_read(const char *text, double *value, int *places) {
  size_t at = text[0] == '+' || text[0] == '-' ? 1 : 0;
  if (!is_digit(text[at])) return 0;
  uint64_t digits = 0; /* the first 18 significant ones */
  int scale = 0;       /* value = digits * 10^scale */
  int after = 0;
  bool behind_point = false;
  for (;; at++) {
    if (text[at] == '.' && !behind_point && is_digit(text[at + 1])) {
      behind_point = true;
      continue;
    }
    if (!is_digit(text[at])) break;
    bool kept = digits < 100000000000000000u;
    if (kept) digits = digits * 10 + (uint64_t)(text[at] - '0');
    if (behind_point && after < 1000000) after++;
    if (kept && behind_point) scale--;
    if (!kept && !behind_point && scale < 1000) scale++;
  }
  /* Up to 15 digits both operands are exact, so the result is the nearest double. */
  double number = (double)digits;
  if (scale < -308)
    number = 0;
  else if (scale < 0)
    number /= power_of_ten(-scale);
  else
    number *= power_of_ten(scale);
  if (!isfinite(number)) return 0;
  *value = text[0] == '-' ? -number : number;
  *places = after;
  return at;
}

bool decimal_is_long(const char *text) {
  int digits = 0;
  if (*text == '+' || *text == '-') text++;
  for (; is_digit(*text) || *text == '.'; text++) digits += *text != '.';
  return digits > DECIMAL_MOST_DIGITS;
}

bool decimal_has_exponent(const char *text) {
  if (*text != 'e' && *text != 'E') return false;
  text++;
  if (*text == '-' || *text == '+') text++;
  return is_digit(*text);
}

/* Adds one to a row of digits, most significant first; true when it runs over. */
static bool carry(char *digits, int n) {
  for (int i = n - 1; i >= 0; i--) {
    if (digits[i] != '9') {
      digits[i]++;
      return false;
    }
    digits[i] = '0';
  }
  return true;
}

/* The significant digits of a number above 0, the first one counting 10^exponent, as "%e" of the
 * C library has them: every number right. */
static void digits_of_any(double value, char *digits, int *exponent) {
  char written[64];
  snprintf(written, sizeof written, "%.*e", EXACT_DIGITS - 1, value);
  const char *at = written;
  for (; *at != 'e'; at++) {
    if (is_digit(*at)) *digits++ = *at; /* whatever the point looks like */
  }
  bool small = at[1] == '-';
  *exponent = 0;
  for (at += 2; is_digit(*at); at++) *exponent = *exponent * 10 + (*at - '0');
  if (small) *exponent = -*exponent;
}

/* The same for sizes as they occur, without going through all the digits of the double: powers of
 * ten up to 10^22 are exact, so that the product is off by less than 10^-4, and only digits that
 * lie so near to a half are left to the long way. */
static bool digits_of_size(double value, char *digits, int *exponent) {
  static const double top = 1e12, near_half = 1e-3; /* top: 10^EXACT_DIGITS */
  if (!(value >= 1e-10 && value < 1e15)) return false;
  int power = 0;
  double scaled = value;
  for (; scaled < top / 10; power++) scaled = value * power_of_ten(power + 1);
  for (; scaled >= top; power--) scaled = value / power_of_ten(1 - power);
  double whole = floor(scaled), rest = scaled - whole;
  if (fabs(rest - 0.5) < near_half) return false;
  uint64_t number = (uint64_t)whole + (rest > 0.5);
  *exponent = EXACT_DIGITS - 1 - power;
  if (number == (uint64_t)top) {
    number /= 10;
    ++*exponent;
  }
  for (int i = EXACT_DIGITS - 1; i >= 0; i--, number /= 10) digits[i] = (char)('0' + number % 10);
  return true;
}

const char *decimal_print(Arena *arena, double value, int places) {
  if (!isfinite(value)) return "?";
  if (places < 0) places = 0;
  if (places > MOST_PLACES) places = MOST_PLACES;
  char digits[EXACT_DIGITS + 2] = "0"; /* one place in front for a carry */
  int n = 1 + EXACT_DIGITS, exponent = 0;
  if (!digits_of_size(fabs(value), digits + 1, &exponent))
    digits_of_any(fabs(value), digits + 1, &exponent);

  /* Digits in front of the point, counting the one for the carry. */
  int front = exponent + 2;
  int kept = front + places;
  if (kept < 1) {
    digits[0] = '0';
    front = kept = 1;
    n = 1;
  } else if (kept < n) {
    bool up = digits[kept] >= '5';
    n = kept;
    if (up) (void)carry(digits, n); /* the leading 0 takes the last carry */
  }
  bool nothing = true;
  for (int i = 0; i < n; i++) nothing = nothing && digits[i] == '0';

  char out[400 + MOST_PLACES];
  size_t length = 0;
  if (value < 0 && !nothing) out[length++] = '-';
  int first = front > 1 && digits[0] == '0' ? 1 : 0;
  if (first >= front) out[length++] = '0';
  for (int i = first; i < front; i++) out[length++] = i < n ? digits[i] : '0';
  if (places > 0) out[length++] = '.';
  for (int i = front; i < front + places; i++) {
    out[length++] = i >= 0 && i < n ? digits[i] : '0';
  }
  return arena_text(arena, out, length);
}

/* Multiples of 0.05 are computed as n / 20, which is the double nearest to the
 * decimal; n * 0.05 often is its neighbour. */
static double multiple(double count, double step) {
  double each = 1 / step;
  double whole = round(each);
  double result = whole >= 1 && fabs(each - whole) < 1e-9 * whole ? count / whole : count * step;
  return result == 0 ? 0 : result; /* never -0 */
}

static bool on_step(double count) {
  return fabs(count - round(count)) <= ON_STEP;
}

double decimal_floor(double value, double step) {
  if (!(step > 0) || !isfinite(value)) return value;
  double count = value / step;
  return multiple(on_step(count) ? round(count) : floor(count), step);
}

double decimal_ceil(double value, double step) {
  if (!(step > 0) || !isfinite(value)) return value;
  double count = value / step;
  return multiple(on_step(count) ? round(count) : ceil(count), step);
}

double decimal_round(double value, double step) {
  if (!(step > 0) || !isfinite(value)) return value;
  double count = floor(fabs(value) / step + 0.5 + ON_STEP);
  return multiple(value < 0 ? -count : count, step);
}
