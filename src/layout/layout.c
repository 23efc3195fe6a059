#include "layout/layout.h"

#include "layout/flow.h"
#include "layout/frame.h"

static const Spot *find_spot(Layout *layout, const Spots *spots, int number) {
  layout->asked = true;
  for (size_t i = 0; i < spots->n; i++)
    if (spots->at[i].number == number) return &spots->at[i];
  return NULL;
}

const Spot *find_step(Layout *layout, int number) {
  return find_spot(layout, &layout->known_steps, number);
}

const Spot *find_figure(Layout *layout, int number) {
  return find_spot(layout, &layout->known_figures, number);
}

/* The beginning of a long text, whole characters only. */
static const char *beginning(Arena *arena, const char *text) {
  size_t at = 0;
  for (int count = 0; text[at] != '\0' && count < 80; count++) {
    size_t length;
    utf8_next(text + at, &length);
    at += length;
  }
  return text[at] == '\0' ? text
                          : arena_printf(arena, "%s\xE2\x80\xA6", arena_text(arena, text, at));
}

void report_too_long(Layout *layout, const char *what, const char *text) {
  if (layout->second) return;
  Finding *finding = finding_add(
      layout->run, RULE_TOO_LONG, (Place){0}, "too long for %s on the sheet \"%s\": \"%s\"", what,
      layout->where ? layout->where : "", beginning(layout->arena, text));
  finding_way_out(layout->run, finding, "Say it in fewer words, or in two places.");
}

/* "2031-02-03"; anything else is no date. */
static void set_date(Pages *pages, const char *date) {
  int parts[3] = {0}, part = 0;
  if (!date) return;
  for (; *date != '\0' && part < 3; date++) {
    if (*date == '-') {
      part++;
    } else if (*date >= '0' && *date <= '9' && parts[part] < 10000) {
      parts[part] = parts[part] * 10 + (*date - '0');
    } else {
      return;
    }
  }
  if (part != 2 || parts[1] < 1 || parts[1] > 12 || parts[2] < 1 || parts[2] > 31) return;
  pages->date_year = parts[0];
  pages->date_month = parts[1];
  pages->date_day = parts[2];
}

static Pages *empty_pages(const Layout *layout) {
  const Packet *packet = layout->packet;
  Pages *pages = ARENA_NEW(layout->arena, Pages);
  pages->width = layout->width;
  pages->height = layout->height;
  pages->title = packet->title;
  pages->subject = packet->subject;
  pages->author = packet->author;
  pages->keywords = packet->keywords;
  set_date(pages, packet->date);
  return pages;
}

static const char *or_empty(const char *text) {
  return text ? text : "";
}

Pages *layout_packet(Run *run, const Packet *packet, Um width, Um height) {
  Packet said = *packet;
  const char **texts[] = {&said.job,     &said.engine_number, &said.frame_number,
                          &said.title,   &said.revision,      &said.library_revision,
                          &said.program, &said.date,          &said.copy};
  for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) *texts[i] = or_empty(*texts[i]);
  Layout layout = {
      .run = run, .arena = run->arena, .packet = &said, .width = width, .height = height};
  for (int round = 0; round < 2; round++) {
    layout.second = round > 0;
    layout.known_steps = layout.steps;
    layout.known_figures = layout.figures;
    layout.steps = layout.figures = (Spots){0};
    layout.pages = empty_pages(&layout);
    Words titles = flow_pages(&layout);
    /* the first time one frame is enough to tell what does not fit */
    for (size_t i = 0; i < titles.n && (layout.second || i == 0); i++) {
      layout.where = titles.at[i];
      frame_set(&layout, (int)i, titles.at[i] ? titles.at[i] : "");
    }
  }
  return layout.pages;
}
