#include "diag/render.h"

#include <stdint.h>
#include <string.h>

#define LINE_MOST 120  /* characters of a source line that are shown */
#define TEXT_MOST 2000 /* characters of a finding's text that are shown */
#define NOTE_MOST 20   /* second places that are shown */
#define CUT       "..."
#define CUT_WIDTH 3

static const char *const severity_words[] = {
    [SEVERITY_CONCERN] = "concern",
    [SEVERITY_REFUSAL] = "refused",
    [SEVERITY_UNREADABLE] = "cannot read",
};

/* What would move the cursor, turn the writing direction or colour the
 * terminal: a file is not to rewrite what is shown about it. */
static bool is_unprintable(uint32_t code) {
  return utf8_is_control(code) || utf8_is_invisible(code) || code == 0x2028 || code == 0x2029;
}

/* Characters from up to until, each one place wide: a tab is one blank. */
static void add_clean(Text *out, const char *text, size_t from, size_t until) {
  size_t length = 0;
  for (size_t i = 0; *text && i < until; text += length, i++) {
    uint32_t code = utf8_next(text, &length);
    if (i < from) continue;
    if (code == '\t' || code == '\n')
      text_add(out, " ");
    else if (is_unprintable(code))
      text_add_code(out, 0xFFFD);
    else
      text_add_code(out, code);
  }
}

static void add_whole(Text *out, const char *text) {
  add_clean(out, text, 0, TEXT_MOST);
  if (utf8_count(text) > TEXT_MOST) text_add(out, CUT);
}

static void add_place(Text *out, Place at) {
  if (!at.source) return;
  add_whole(out, at.source->path);
  if (at.line > 0) text_addf(out, ":%d:%d", at.line, at.column);
  text_add(out, ": ");
}

static void add_times(Text *out, const char *what, size_t times) {
  for (size_t i = 0; i < times; i++) text_add(out, what);
}

/* The part of a long line that is shown: [from, until), the mark inside it. */
static void window(size_t count, size_t mark, size_t width, size_t *from, size_t *until) {
  *from = 0;
  *until = count;
  if (count <= LINE_MOST) return;
  size_t shown = width < LINE_MOST ? width : LINE_MOST;
  size_t before = (LINE_MOST - shown) / 2;
  *from = mark > before ? mark - before : 0;
  if (*from + LINE_MOST > count) *from = count - LINE_MOST;
  *until = *from + LINE_MOST;
}

static void add_line(Text *out, Place at) {
  const char *line = source_line(out->arena, at.source, at.line);
  size_t count = utf8_count(line);
  size_t mark = at.column > 1 ? (size_t)at.column - 1 : 0;
  if (mark > count) mark = count;
  size_t width = at.width > 1 ? (size_t)at.width : 1;
  if (width > count - mark) width = count > mark ? count - mark : 1;
  size_t from, until;
  window(count, mark, width, &from, &until);
  if (mark + width > until && until < count) width = until - mark;

  text_addf(out, "%5d | %s", at.line, from > 0 ? CUT : "");
  add_clean(out, line, from, until);
  text_addf(out, "%s\n      | ", until < count ? CUT : "");
  add_times(out, " ", mark - from + (from > 0 ? CUT_WIDTH : 0));
  add_times(out, "^", width);
  text_add(out, "\n");
}

static void add_finding(Text *out, const Finding *finding) {
  add_place(out, finding->at);
  text_addf(out, "%s: ", severity_words[finding->severity]);
  add_whole(out, finding->text);
  text_addf(out, " [%s]%s\n", rule_info(finding->rule)->slug,
            finding->conceded ? " (by concession)" : "");
  if (finding->at.source && finding->at.line > 0) add_line(out, finding->at);
  size_t shown = finding->notes.n < NOTE_MOST ? finding->notes.n : NOTE_MOST;
  for (size_t i = 0; i < shown; i++) {
    text_add(out, "  ");
    add_place(out, finding->notes.at[i].at);
    add_whole(out, finding->notes.at[i].text);
    text_add(out, "\n");
  }
  if (shown < finding->notes.n) text_addf(out, "  and %zu more places\n", finding->notes.n - shown);
  if (finding->way_out) {
    text_add(out, "  way out: ");
    add_whole(out, finding->way_out);
    text_add(out, "\n");
  }
}

void render_findings(Text *out, const Findings *findings, size_t most) {
  size_t n = findings->list.n;
  size_t shown = most > 0 && most < n ? most : n;
  for (size_t i = 0; i < shown; i++) add_finding(out, findings->list.at[i]);
  if (shown < n) {
    text_addf(out, "%zu more %s not shown\n", n - shown, n - shown == 1 ? "finding" : "findings");
  }
}

static void add_json_text(Text *out, const char *text) {
  if (!text) {
    text_add(out, "null");
    return;
  }
  text_add(out, "\"");
  size_t length = 0;
  for (; *text; text += length) {
    uint32_t code = utf8_next(text, &length);
    if (code == '"' || code == '\\')
      text_addf(out, "\\%c", (char)code);
    else if (code < 0x10000 && is_unprintable(code))
      text_addf(out, "\\u%04x", (unsigned)code);
    else
      text_add_code(out, code);
  }
  text_add(out, "\"");
}

static void add_json_place(Text *out, Place at) {
  text_add(out, "\"file\": ");
  add_json_text(out, at.source ? at.source->path : NULL);
  if (at.source && at.line > 0) {
    text_addf(out, ", \"line\": %d, \"column\": %d, \"width\": %d", at.line, at.column, at.width);
  } else {
    text_add(out, ", \"line\": null, \"column\": null, \"width\": null");
  }
}

static void add_json_finding(Text *out, const Finding *finding) {
  const RuleInfo *rule = rule_info(finding->rule);
  text_addf(out, "{\"rule\": \"%s\", \"severity\": \"%s\", \"conceded\": %s, ", rule->slug,
            severity_words[finding->severity], finding->conceded ? "true" : "false");
  add_json_place(out, finding->at);
  text_add(out, ", \"text\": ");
  add_json_text(out, finding->text);
  text_add(out, ", \"subject\": ");
  add_json_text(out, finding->subject);
  text_add(out, ", \"way_out\": ");
  add_json_text(out, finding->way_out);
  text_add(out, ", \"why\": ");
  add_json_text(out, rule->why);
  text_add(out, ", \"notes\": [");
  for (size_t i = 0; i < finding->notes.n; i++) {
    text_add(out, i > 0 ? ", {" : "{");
    add_json_place(out, finding->notes.at[i].at);
    text_add(out, ", \"text\": ");
    add_json_text(out, finding->notes.at[i].text);
    text_add(out, "}");
  }
  text_add(out, "]}");
}

void render_findings_json(Text *out, const Findings *findings) {
  text_add(out, "{\"findings\": [");
  for (size_t i = 0; i < findings->list.n; i++) {
    text_add(out, i > 0 ? ",\n  " : "\n  ");
    add_json_finding(out, findings->list.at[i]);
  }
  text_addf(out, "%s], \"refused\": %s}\n", findings->list.n > 0 ? "\n" : "",
            findings_refuse(findings) ? "true" : "false");
}
