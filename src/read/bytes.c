#include "read/bytes.h"

#include "base/text.h"

#include <string.h>

#define SHOW_MOST 20    /* findings of one file's bytes */
#define LINE_MOST 20000 /* bytes of one line: what looks at a line stays quick */

typedef struct Signature {
  const char *bytes;
  size_t length;
  const char *what;
} Signature;

/* What people hand over instead of text, by its first bytes. */
static const Signature signatures[] = {
    {"%PDF-", 5, "a PDF"},
    {"PK\x03\x04", 4, "an archive or an office document"},
    {"\xD0\xCF\x11\xE0", 4, "an office document"},
    {"\x89PNG", 4, "a picture"},
    {"\xFF\xD8\xFF", 3, "a picture"},
    {"GIF8", 4, "a picture"},
    {"\x1F\x8B", 2, "a compressed file"},
    {"\x7F"
     "ELF",
     4, "a program"},
    {"{\\rtf", 5, "a formatted document"},
    {"\xFF\xFE", 2, "text stored as UTF-16"},
    {"\xFE\xFF", 2, "text stored as UTF-16"},
};

static bool is_foreign(Run *run, const Source *source) {
  for (size_t i = 0; i < sizeof signatures / sizeof *signatures; i++) {
    const Signature *is = &signatures[i];
    if (source->size < is->length || memcmp(source->text, is->bytes, is->length) != 0) continue;
    Finding *finding = finding_add(run, RULE_NOT_TEXT, place_at(source, 0, 0, 1),
                                   "this is %s, not plain UTF-8 text", is->what);
    finding_way_out(run, finding, "give the YAML file, saved as plain text in UTF-8");
    return true;
  }
  return false;
}

const char *bytes_trouble_rare(uint32_t code) {
  switch (code) {
  case 0:
    return "a zero character";
  case 0x85:
    return "a line break of another kind (U+0085)";
  case 0xA0:
    return "a no-break space, which looks like a blank and is none";
  case 0x202F:
    return "a narrow no-break space, which looks like a blank and is none";
  case 0x2028:
    return "a line break of another kind (U+2028)";
  case 0x2029:
    return "a line break of another kind (U+2029)";
  default:
    break;
  }
  if (code == '\t' || code == '\n' || code == '\r') return NULL;
  if (utf8_is_control(code)) return "a control character";
  if (utf8_is_invisible(code)) return "an invisible character";
  if (code == 0xFFFE || code == 0xFFFF) return "a character that stands for nothing";
  return NULL;
}

/* A blank or an invisible sign in a comment does no harm; a line break there
 * would end the comment out of sight, and a control character is never meant. */
static bool harmless_in_comment(uint32_t code) {
  return code == 0xA0 || code == 0x202F || code == 0xAD || code == 0x061C ||
         (code >= 0x200B && code <= 0x200F) || (code >= 0x2060 && code <= 0x206F);
}

static void report_bad_byte(Run *run, const Source *source, size_t offset) {
  unsigned byte = (unsigned char)source->text[offset];
  Finding *finding = finding_add(run, RULE_NOT_TEXT, source_place(source, offset, 1),
                                 "the byte %02X here is not UTF-8", byte);
  finding_way_out(run, finding, "save the file as UTF-8; in an older encoding %s",
                  byte == 0xB0   ? "this byte is the degree sign: write deg or degC"
                  : byte == 0xB1 ? "this byte is plus-minus: write +-"
                  : byte == 0xB5 ? "this byte is micro: write um"
                                 : "accented letters are other bytes");
}

/* One pass over the characters, with just enough sense of lines to know
 * indentation and comments. */
typedef struct Scan {
  Run *run;
  const Source *source;
  bool indentation; /* nothing but blanks and tabs since the line began */
  bool comment;     /* behind a # at the line's start or after a blank; never
                       meant to be exact: values are looked at again once read */
  size_t tab;       /* offset + 1 of a tab in this line's indentation */
  size_t found;
} Scan;

static void report_trouble(Scan *scan, size_t offset, uint32_t code, const char *trouble) {
  scan->found++;
  if (code == 0) {
    finding_add(scan->run, RULE_NOT_TEXT, source_place(scan->source, offset, 1),
                "a zero byte: this is not plain text");
    return;
  }
  Finding *finding = finding_add(scan->run, RULE_NOT_TEXT, source_place(scan->source, offset, 1),
                                 "here stands %s", trouble);
  if (code == 0xA0 || code == 0x202F) {
    finding_way_out(scan->run, finding, "type an ordinary blank");
  } else {
    finding_way_out(scan->run, finding, "take it out (U+%04X)", (unsigned)code);
  }
}

static void report_tab(Scan *scan) {
  scan->found++;
  Finding *finding =
      finding_add(scan->run, RULE_NOT_YAML, source_place(scan->source, scan->tab - 1, 1),
                  "a tab in the indentation: how far a tab reaches is not settled, "
                  "so what belongs under what is not either");
  finding_way_out(scan->run, finding, "indent with blanks, two for each level");
}

static void start_line(Scan *scan) {
  scan->indentation = true;
  scan->comment = false;
  scan->tab = 0;
}

static void scan_character(Scan *scan, size_t offset, uint32_t code) {
  const char *text = scan->source->text;
  if (code == '\n') {
    start_line(scan);
    return;
  }
  if (code == '\r') {
    if (text[offset + 1] == '\n') return;
    scan->found++;
    Finding *finding = finding_add(scan->run, RULE_NOT_TEXT, source_place(scan->source, offset, 1),
                                   "a line ends with a carriage return alone");
    finding_way_out(scan->run, finding, "save the file with ordinary line ends (LF, or CR LF)");
    scan->found = SHOW_MOST; /* all lines of such a file end so */
    return;
  }
  if (code == '#' && (scan->indentation || text[offset - 1] == ' ' || text[offset - 1] == '\t')) {
    scan->comment = true;
  }
  if (scan->indentation) {
    if (code == '\t' && !scan->tab) scan->tab = offset + 1;
    if (code != ' ' && code != '\t') {
      scan->indentation = false;
      if (scan->tab && !scan->comment) report_tab(scan);
    }
  }
  const char *trouble = bytes_trouble(code);
  if (trouble && !(scan->comment && harmless_in_comment(code))) {
    report_trouble(scan, offset, code, trouble);
  }
}

static bool has_long_line(Run *run, const Source *source) {
  for (size_t i = 0; i < source->line_count; i++) {
    size_t end = i + 1 < source->line_count ? source->line_start[i + 1] : source->size;
    if (end < source->line_start[i] || end - source->line_start[i] <= LINE_MOST) continue;
    finding_add(run, RULE_TOO_BIG, place_at(source, 0, 0, 1),
                "line %zu holds %zu bytes; at most %d are read", i + 1, end - source->line_start[i],
                LINE_MOST);
    return true;
  }
  return false;
}

/* Past characters that say nothing by themselves: plain ones but for the #. */
static size_t skip_plain(const char *text, size_t at, size_t end) {
  const uint64_t each = 0x0101010101010101u, high = 0x8080808080808080u;
  for (uint64_t word; end - at >= sizeof word; at += sizeof word) {
    memcpy(&word, text + at, sizeof word);
    uint64_t below = (word - each * ' ') & ~word; /* high bit: under a blank */
    uint64_t beyond = (word + each) | word;       /* DEL, or not of ASCII */
    uint64_t mark = word ^ each * '#';
    uint64_t found = below | beyond | ((mark - each) & ~mark);
    if (found & high) break;
  }
  while (at < end && text[at] >= ' ' && text[at] < 0x7F && text[at] != '#') at++;
  return at;
}

bool bytes_are_text(Run *run, const Source *source) {
  if (source->size > SOURCE_MOST) {
    finding_add(run, RULE_TOO_BIG, place_at(source, 0, 0, 1),
                "the file holds %zu bytes; at most %zu are read", source->size, SOURCE_MOST);
    return false;
  }
  if (is_foreign(run, source)) return false;
  size_t bad = utf8_bad(source->text, source->size);
  if (bad < source->size && !memchr(source->text, 0, bad)) {
    report_bad_byte(run, source, bad);
    return false;
  }
  if (bad == source->size && has_long_line(run, source)) return false;
  Scan scan = {.run = run, .source = source};
  start_line(&scan);
  size_t length = 0;
  for (size_t at = source->line_start[0]; at < bad && scan.found < SHOW_MOST; at += length) {
    if (!scan.indentation && (at = skip_plain(source->text, at, bad)) == bad) break;
    uint32_t code = utf8_next(source->text + at, &length);
    if (code > ' ' && code < 0x7F && code != '#' && !scan.indentation) continue;
    scan_character(&scan, at, code);
    if (code == 0) break; /* one zero byte says it all */
  }
  return scan.found == 0;
}
