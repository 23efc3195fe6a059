/* The state of loading, and what every reader of fields needs. */
#ifndef SHEAF_LOAD_LOADER_H
#define SHEAF_LOAD_LOADER_H

#include "load/load.h"

typedef struct Pending {
  Entry *entry;
  const Node *root;
} Pending;

typedef struct Loader {
  Run *run;
  const LoadSource *source;
  Library *library;
  VEC(Pending) pending;             /* read, of the right kind, not yet filled */
  Words *offered[ENTRY_KIND_COUNT]; /* ids of the libraries, looked up when first needed */
  Map *in_vain;                     /* keys of files that are there and of no use */
  size_t absent;                    /* ids nothing was found for */
  bool follow;                      /* references are read too */
  Entry *entry;                     /* being filled */
} Loader;

/* The entry, asked for at that place; queued for filling the first time. NULL after a
 * finding (no-entry, wrong-kind, what read says), or when references are not followed. */
Entry *loader_need(Loader *loader, EntryKind kind, const char *id, Place at);

/* The same where plain words may stand in place of an id. What is misspelt is reported, and id
 * becomes what was meant: an entry, or one of the words (then NULL). */
Entry *loader_need_or(Loader *loader, EntryKind kind, const Words *plain, const char **id,
                      Place at);

/* The ids all libraries offer, sorted. */
const Words *loader_ids(Loader *loader, EntryKind kind);

/* There is no such file; the folder it was said to be in is looked through for a near name. */
void report_no_file(Run *run, const LoadSource *source, const char *path);

/* "a part", "an engine". */
const char *with_article(Loader *loader, const char *noun);
/* words parted by | as a list. */
Words words_of(Loader *loader, const char *words);
/* "did you mean ...?", or all of them when they are few. */
void say_near(Loader *loader, Finding *finding, const char *word, const Words *words);

/* The node as what is wanted; false after a finding. A mapping where text is wanted and a text
 * where a mapping is wanted are looked at for the usual slip of the colon. */
bool need_scalar(Loader *loader, const Node *node, const char *key);
bool need_list(Loader *loader, const Node *node, const char *key);
bool need_map(Loader *loader, const Node *node, const char *key);
/* A scalar that stands on one line and is not empty. */
bool need_word(Loader *loader, const Node *node, const char *key);
/* Every text of the file can be printed? Reports no-glyph at each that cannot. */
void check_glyphs(Loader *loader, const Node *root);
/* Line ends become blanks, blanks at the ends go. */
const char *text_folded(Arena *arena, const char *text);

Said said_text(Loader *loader, const Node *node, const char *key);
Said said_word(Loader *loader, const Node *node, const char *key);

/* A literal, or a formula when may_formula. EXPR_BAD after a finding. */
Expr expr_of(Loader *loader, const Node *node, const char *key, bool may_formula);

#endif
