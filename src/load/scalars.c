/* Readers of texts, words, numbers of things, and lists of them. */
#include "load/field.h"

#include "base/near.h"

#include <string.h>

const char *text_folded(Arena *arena, const char *text) {
  char *folded = arena_text(arena, text, strlen(text));
  size_t n = 0;
  bool gap = false;
  for (; *text; text++) {
    if (*text == ' ' || *text == '\t' || *text == '\r' || *text == '\n') {
      gap = n > 0;
      continue;
    }
    if (gap) folded[n++] = ' ';
    gap = false;
    folded[n++] = *text;
  }
  folded[n] = '\0';
  return folded;
}

Said said_text(Loader *loader, const Node *node, const char *key) {
  if (!need_scalar(loader, node, key)) return (Said){0};
  return (Said){text_folded(loader->run->arena, node->text), node->at};
}

Said said_word(Loader *loader, const Node *node, const char *key) {
  if (!need_word(loader, node, key)) return (Said){0};
  return (Said){text_folded(loader->run->arena, node->text), node->at};
}

static void put_said(void *object, const Field *field, Said said) {
  memcpy((char *)object + field->offset, &said, sizeof said);
}

/* "a, b" for a list of texts where one text is meant. */
static Said said_joined(Loader *loader, const Node *list, const char *key) {
  Text out = text_new(loader->run->arena);
  for (size_t i = 0; i < list->items.n; i++) {
    Said said = said_text(loader, list->items.at[i], key);
    if (said.s) text_addf(&out, "%s%s", out.n > 0 ? ", " : "", said.s);
  }
  return (Said){out.n > 0 ? text_done(&out) : NULL, list->at};
}

void field_text(Loader *loader, const Field *field, const Pair *pair, void *object) {
  bool list = field->joined && pair->value->kind == NODE_LIST;
  put_said(object, field,
           list ? said_joined(loader, pair->value, field->key)
                : said_text(loader, pair->value, field->key));
}

/* Is the word one of those the field allows? One that is misspelt is reported, and becomes what
 * was meant. */
static bool is_allowed(Loader *loader, const Field *field, Said *said) {
  if (!said->s || !field->words) return said->s != NULL;
  Words allowed = words_of(loader, field->words);
  if (text_has(&allowed, said->s)) return true;
  Finding *finding = finding_add(loader->run, RULE_BAD_WORD, said->at,
                                 "\"%s\" has no meaning as \"%s\"", said->s, field->key);
  say_near(loader, finding, said->s, &allowed);
  said->s = near_word(said->s, &allowed);
  return said->s != NULL;
}

void field_word(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Said said = said_word(loader, pair->value, field->key);
  if (is_allowed(loader, field, &said)) put_said(object, field, said);
}

void field_flag(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Said said = said_word(loader, pair->value, field->key);
  bool set = is_allowed(loader, field, &said);
  memcpy((char *)object + field->offset, &set, sizeof set);
}

static bool all_digits(const char *text, size_t n) {
  for (size_t i = 0; i < n; i++) {
    if (text[i] < '0' || text[i] > '9') return false;
  }
  return true;
}

/* YYYY-MM-DD, a day that is in the calendar. */
static bool is_date(const char *text) {
  if (strlen(text) != 10 || text[4] != '-' || text[7] != '-') return false;
  if (!all_digits(text, 4) || !all_digits(text + 5, 2) || !all_digits(text + 8, 2)) return false;
  int year = (text[0] - '0') * 1000 + (text[1] - '0') * 100 + (text[2] - '0') * 10 + text[3] - '0';
  int month = (text[5] - '0') * 10 + text[6] - '0';
  int day = (text[8] - '0') * 10 + text[9] - '0';
  if (month < 1 || month > 12 || year < 1) return false;
  bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return day >= 1 && day <= days[month - 1] + (month == 2 && leap);
}

void field_date(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Said said = said_word(loader, pair->value, field->key);
  if (!said.s) return;
  if (is_date(said.s)) {
    put_said(object, field, said);
    return;
  }
  Finding *finding = finding_add(loader->run, RULE_BAD_WORD, said.at, "\"%s\" is no date", said.s);
  finding_way_out(loader->run, finding, "write year, month and day: 2026-11-20");
}

void field_job_number(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Said said = said_word(loader, pair->value, field->key);
  if (!said.s) return;
  size_t good = strspn(said.s, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789._-");
  size_t length = strlen(said.s);
  if (said.s[0] != '.' && said.s[0] != '-' && said.s[good] == '\0' && length <= 64) {
    put_said(object, field, said);
    return;
  }
  Finding *finding = length > 64 ? finding_add(loader->run, RULE_BAD_JOB_NUMBER, said.at,
                                               "the job number has more than 64 characters")
                                 : finding_add(loader->run, RULE_BAD_JOB_NUMBER, said.at,
                                               "\"%s\" cannot be a job number", said.s);
  finding_way_out(loader->run, finding,
                  "use letters, digits, - _ and ., and do not begin with a point or a -");
}

/* One word, or a list of them. */
static void read_saids(Loader *loader, const Field *field, const Node *node, void *object,
                       bool prose) {
  if (node->bad) return;
  bool one = node->kind == NODE_SCALAR;
  if (!one && !need_list(loader, node, field->key)) return;
  for (size_t i = 0; i < (one ? 1 : node->items.n); i++) {
    const Node *item = one ? node : node->items.at[i];
    Said said = prose ? said_text(loader, item, field->key) : said_word(loader, item, field->key);
    if (is_allowed(loader, field, &said)) {
      push_any(loader->run->arena, (char *)object + field->offset, &said, sizeof said);
    }
  }
}

void field_texts(Loader *loader, const Field *field, const Pair *pair, void *object) {
  read_saids(loader, field, pair->value, object, true);
}

void field_words(Loader *loader, const Field *field, const Pair *pair, void *object) {
  read_saids(loader, field, pair->value, object, false);
}

void field_number(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Said said = said_word(loader, pair->value, field->key);
  if (!said.s) return;
  size_t length = strlen(said.s);
  if (length > 6 || !all_digits(said.s, length)) {
    Finding *finding =
        finding_add(loader->run, RULE_BAD_NUMBER, said.at, "\"%s\" is no whole number", said.s);
    finding_way_out(loader->run, finding, "\"%s\" counts: write 0 to 999999", field->key);
    return;
  }
  long n = 0;
  for (size_t i = 0; i < length; i++) n = n * 10 + (said.s[i] - '0');
  WholeNumber number = {true, n, said.at};
  memcpy((char *)object + field->offset, &number, sizeof number);
}

/* ---- references ---- */

static Ref ref_of(Loader *loader, EntryKind kind, const char *words, const Node *node,
                  const char *key) {
  Said said = said_word(loader, node, key);
  Ref ref = {said.s, said.at, NULL};
  if (!said.s) return ref;
  Words plain = words_of(loader, words);
  if (!text_has(&plain, said.s)) ref.entry = loader_need_or(loader, kind, &plain, &ref.id, said.at);
  return ref;
}

void field_ref(Loader *loader, const Field *field, const Pair *pair, void *object) {
  Ref ref = ref_of(loader, field->kind, field->words, pair->value, field->key);
  memcpy((char *)object + field->offset, &ref, sizeof ref);
}

void field_refs(Loader *loader, const Field *field, const Pair *pair, void *object) {
  const Node *node = pair->value;
  bool one = node->kind == NODE_SCALAR;
  if (!one && !need_list(loader, node, field->key)) return;
  for (size_t i = 0; i < (one ? 1 : node->items.n); i++) {
    Ref ref = ref_of(loader, field->kind, field->words, one ? node : node->items.at[i], field->key);
    if (ref.id) push_any(loader->run->arena, (char *)object + field->offset, &ref, sizeof ref);
  }
}

/* ---- words that name other words ---- */

void field_notes(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  PartEntry *part = object;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *note = &pair->value->pairs.at[i];
    Said text = said_text(loader, note->value, note->key);
    if (!text.s) continue;
    StepNote line = {{note->key, note->key_at}, text};
    vec_push(loader->run->arena, &part->notes, line);
  }
}

void field_details(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *detail = &pair->value->pairs.at[i];
    Detail line = {detail->key, detail->key_at, said_text(loader, detail->value, detail->key)};
    if (line.value.s) {
      push_any(loader->run->arena, (char *)object + field->offset, &line, sizeof line);
    }
  }
}

void field_word_sets(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  static const Field fields[] = {
      FIELD(ChoiceDecl, label, "label", TEXT, "what people call it"),
      FIELD(ChoiceDecl, words, "words", WORDS, "what may be chosen", .required = true),
  };
  static const Shape shape = {"choice", fields,  COUNT(fields), sizeof(ChoiceDecl),
                              NOWHERE,  NOWHERE, NULL};
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    if (named->value->bad) continue;
    ChoiceDecl choice = {.name = named->key, .at = named->key_at};
    if (named->value->kind == NODE_MAP)
      fill(loader, &shape, named->value, named->key_at, &choice);
    else
      field_words(loader, &fields[1], named, &choice);
    push_any(loader->run->arena, (char *)object + field->offset, &choice, sizeof choice);
  }
}

void field_words_chosen(Loader *loader, const Field *field, const Pair *pair, void *object) {
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    ChoiceMade made = {named->key, named->key_at, said_word(loader, named->value, named->key)};
    if (made.word.s)
      push_any(loader->run->arena, (char *)object + field->offset, &made, sizeof made);
  }
}

void field_parts_chosen(Loader *loader, const Field *field, const Pair *pair, void *object) {
  ((BuildEntry *)object)->parts_at = pair->key_at;
  if (!need_map(loader, pair->value, field->key)) return;
  for (size_t i = 0; i < pair->value->pairs.n; i++) {
    const Pair *named = &pair->value->pairs.at[i];
    PartChoice choice = {.role = named->key, .at = named->key_at};
    if (named->value->kind == NODE_LIST) {
      const Field list = {.key = named->key, .kind = ENTRY_PART};
      field_refs(loader, &list, named, &choice.offered);
    } else {
      Ref part = ref_of(loader, ENTRY_PART, "none", named->value, named->key);
      if (part.id) vec_push(loader->run->arena, &choice.offered, part);
    }
    /* without a part too: the role is meant to be filled, and with what was reported */
    if (choice.offered.n) choice.part = choice.offered.at[0];
    push_any(loader->run->arena, (char *)object + field->offset, &choice, sizeof choice);
  }
}
