#include "draw/pdf_inside.h"

#include <stdlib.h>

/* Not every error goes by way of the handler: the library keeps some to itself. */
bool press_stopped(Press *press) {
  if (press->code == 0 && press->pdf != NULL) press->code = HPDF_GetError(press->pdf);
  return press->code != 0 || press->trouble != NULL;
}

/* Later errors follow from the first, and would hide it. */
static void keep_first_error(HPDF_STATUS code, HPDF_STATUS detail, void *user) {
  Press *press = user;
  if (press->code != 0) return;
  press->code = code;
  press->detail = detail;
}

static const char *trouble_of(const Press *press) {
  if (press->trouble != NULL) return press->trouble;
  if (press->code == HPDF_FAILD_TO_ALLOC_MEM) return "memory ran out while the pages were drawn";
  return arena_printf(press->run->arena, "the PDF library gave up with error 0x%04lX, detail %lu",
                      (unsigned long)press->code, (unsigned long)press->detail);
}

static void add_sheets(Press *press) {
  const Pages *pages = press->pages;
  press->sheets = ARENA_NEW_N(press->run->arena, HPDF_Page, pages->list.n + 1);
  for (size_t i = 0; i < pages->list.n && !press_stopped(press); i++) {
    HPDF_Page sheet = HPDF_AddPage(press->pdf);
    if (sheet == NULL || press_stopped(press)) return;
    HPDF_Page_SetWidth(sheet, in_points(pages->width));
    HPDF_Page_SetHeight(sheet, in_points(pages->height));
    press->sheets[i] = sheet;
  }
}

static void compose_document(Press *press) {
  HPDF_SetCompressionMode(press->pdf, HPDF_COMP_ALL);
  HPDF_UseUTFEncodings(press->pdf);
  if (press_stopped(press)) return;
  press->encoder = HPDF_GetEncoder(press->pdf, "UTF-8");
  /* Fonts first: the encoder keeps its place in a text in the very table from
   * which a font takes its characters. */
  if (!press_stopped(press)) press_fonts(press);
  if (!press_stopped(press)) add_sheets(press);
  for (size_t i = 0; i < press->pages->list.n && !press_stopped(press); i++) press_marks(press, i);
  if (!press_stopped(press)) press_guides(press);
}

/* Asking the library to write the file itself would lose the error of the last block. */
static Drawing take_bytes(Press *press) {
  HPDF_SaveToStream(press->pdf);
  if (press_stopped(press)) return (Drawing){0};
  HPDF_ResetStream(press->pdf);
  size_t size = HPDF_GetStreamSize(press->pdf), got = 0;
  unsigned char *bytes = arena_alloc(press->run->arena, size + 1);
  while (got < size && !press_stopped(press)) {
    HPDF_UINT32 more = (HPDF_UINT32)(size - got);
    HPDF_ReadFromStream(press->pdf, bytes + got, &more);
    if (more == 0) break;
    got += more;
  }
  if (got != size && !press_stopped(press))
    press->trouble = "the PDF library kept part of the file";
  if (press_stopped(press)) return (Drawing){0};
  return (Drawing){.bytes = bytes, .size = size};
}

Drawing pdf_draw_with(Run *run, const Pages *pages, PdfMemory memory) {
  Press press = {.run = run, .pages = pages};
  Drawing drawing = {0};
  if (pages->list.n == 0) press.trouble = "there is no page to draw";
  if (!press_stopped(&press)) {
    /* Not from its own pool: that hands out pieces without any alignment. */
    press.pdf = HPDF_NewEx(keep_first_error, memory.take, memory.give_back, 0, &press);
    if (press.pdf == NULL && press.code == 0) press.code = HPDF_FAILD_TO_ALLOC_MEM;
  }
  if (!press_stopped(&press)) compose_document(&press);
  if (!press_stopped(&press)) drawing = take_bytes(&press);
  bool stopped = press_stopped(&press);
  if (press.pdf != NULL) HPDF_Free(press.pdf);
  if (stopped) drawing = (Drawing){.trouble = trouble_of(&press)};
  return drawing;
}

/* The library goes on for a while with memory it did not get, and not always
 * safely: so running out ends here. */
static void *take(HPDF_UINT size) {
  void *memory = malloc(size);
  if (memory == NULL) arena_give_up(NULL);
  return memory;
}

static void give_back(void *memory) {
  free(memory);
}

Drawing draw_pdf(Run *run, const Pages *pages) {
  return pdf_draw_with(run, pages, (PdfMemory){take, give_back});
}
