/* The names an entry uses: along its tables, and in its formulas. */
#include "load/names.h"

#include <string.h>

/* The entry that is walked through. */
typedef struct Met {
  Names *names;
} Met;

static Arena *arena_of(const Met *met) {
  return met->names->arena;
}

/* The n bytes of a word on one line, from there on; a quote stands before the first. */
static Place inside(const Said *said, size_t from, size_t n) {
  if (!said->at.source) return said->at;
  size_t offset = said->at.source->line_start[said->at.line - 1] + (size_t)said->at.column - 1;
  bool quoted = offset < said->at.source->size && strchr("\"'", said->at.source->text[offset]);
  return place_inside(said->at, (int)from + quoted, (int)n);
}

static void meet_part(Met *met, NameKind kind, const char *of, const char **text, size_t from,
                      size_t n, Place at) {
  if (!*text || n == 0) return;
  Use use = {kind, text, from, n, arena_text(arena_of(met), *text + from, n), at, of};
  vec_push(arena_of(met), &met->names->uses, use);
}

static void meet_text(Met *met, NameKind kind, const char *of, const char **text, Place at) {
  if (*text) meet_part(met, kind, of, text, 0, strlen(*text), at);
}

/* members in brackets: "x[left, intake]", "x[all]" */
static void meet_members(Met *met, Said *said, size_t from) {
  for (size_t at = from; said->s[at];) {
    at += strspn(said->s + at, "[],. ");
    size_t n = strcspn(said->s + at, "[],. ");
    if (n > 0 && strncmp(said->s + at, "all", n) != 0)
      meet_part(met, NAME_MEMBER, "", &said->s, at, n, inside(said, at, n));
    at += n;
  }
}

static void meet(Met *met, NameKind kind, Said *said) {
  if (!said->s) return;
  size_t n = strlen(said->s), from = 0;
  switch (kind) {
  case NAME_NONE:
    return;
  case NAME_STEP: /* "top_end.fit_head" names the procedure as well */
    from = strchr(said->s, '.') ? strcspn(said->s, ".") + 1 : 0;
    break;
  case NAME_LOOSE:
  case NAME_HOLD:
  case NAME_OCCASION:
  case NAME_MATERIAL:
    meet_text(met, kind, "", &said->s, said->at);
    return;
  case NAME_STATE: /* that of a member is looked for by plan */
    if (!strchr(said->s, '[')) meet_text(met, kind, "", &said->s, said->at);
    return;
  default:
    break;
  }
  size_t bracket = strcspn(said->s, "[");
  if (bracket < n) meet_members(met, said, bracket);
  if (bracket > from)
    meet_part(met, kind, "", &said->s, from, bracket - from, inside(said, from, bracket - from));
}

/* rev_limit, or crank.throw */
static void meet_stated(Met *met, const char **text, Place at) {
  Said said = {*text, at};
  size_t dot = *text ? strcspn(*text, ".") : 0;
  if (!*text || !(*text)[dot]) {
    meet_text(met, NAME_STATED, "", text, at);
    return;
  }
  meet_part(met, NAME_PLACE, "", text, 0, dot, inside(&said, 0, dot));
}

/* ---- formulas ---- */

static void meet_formula(Met *met, Formula *formula) {
  if (!formula) return;
  for (size_t i = 0; i < formula->args; i++) meet_formula(met, formula->arg[i]); /* 64 deep */
  for (size_t i = 0; i < formula->index.n && i < formula->index_at.n; i++)
    meet_text(met, NAME_MEMBER, "", &formula->index.at[i], formula->index_at.at[i]);
  switch (formula->kind) {
  case FORMULA_NAME:
    meet_text(met, formula->field ? NAME_PLACE : NAME_QUANTITY, "", &formula->name, formula->at);
    if (formula->field) meet_text(met, NAME_FACT, formula->name, &formula->field, formula->at);
    break;
  case FORMULA_IS:
    meet_text(met, NAME_IS, "", &formula->name, formula->at);
    for (size_t i = 0; i < formula->words.n && i < formula->words_at.n; i++)
      meet_text(met, NAME_CHOSEN, formula->name, &formula->words.at[i], formula->words_at.at[i]);
    break;
  case FORMULA_OVER:
    for (size_t i = 0; i < formula->words.n && i < formula->words_at.n; i++)
      meet_text(met, NAME_SET, "", &formula->words.at[i], formula->words_at.at[i]);
    break;
  default:
    break;
  }
}

static void meet_expr(Met *met, const Expr *expr) {
  if (expr->kind == EXPR_FORMULA) meet_formula(met, expr->formula);
}

static void meet_path(Met *met, Words *member, const Places *at) {
  for (size_t i = 0; i < member->n && i < at->n; i++)
    meet_text(met, NAME_MEMBER, "", &member->at[i], at->at[i]);
}

static void meet_value(Met *met, ValueChoice *choice) {
  meet_path(met, &choice->member, &choice->member_at);
  meet_expr(met, &choice->value);
  meet_formula(met, choice->when);
}

static void meet_values(Met *met, const Field *field, const ValueDecls *values) {
  for (size_t i = 0; i < values->n; i++) {
    ValueDecl *decl = values->at[i];
    if (field->names == NAME_STATED) meet_stated(met, &decl->name, decl->at);
    for (size_t j = 0; j < decl->choices.n; j++) meet_value(met, &decl->choices.at[j]);
  }
}

static void meet_limits(Met *met, const LimitDecls *limits) {
  for (size_t i = 0; i < limits->n; i++) {
    LimitDecl *decl = limits->at[i];
    meet_text(met, NAME_QUANTITY, "", &decl->name, decl->at);
    for (size_t j = 0; j < decl->choices.n; j++) {
      LimitChoice *choice = &decl->choices.at[j];
      meet_path(met, &choice->member, &choice->member_at);
      meet_expr(met, &choice->min);
      meet_expr(met, &choice->target);
      meet_expr(met, &choice->max);
      meet_formula(met, choice->when);
      meet(met, NAME_OCCASION, &choice->occasion);
    }
  }
}

static void meet_said_list(Met *met, NameKind kind, const SaidList *list) {
  for (size_t i = 0; i < list->n; i++) meet(met, kind, &list->at[i]);
}

static void meet_spots(Met *met, const char *joint, const SaidList *list) {
  for (size_t i = 0; i < list->n; i++)
    meet_text(met, NAME_SPOT, joint, &list->at[i].s, list->at[i].at);
}

static void meet_passes(Met *met, const char *joint, const Passes *passes) {
  for (size_t i = 0; i < passes->n; i++) {
    Pass *pass = &passes->at[i];
    meet(met, NAME_JOINT, &pass->joint);
    if (joint || pass->joint.s) meet_spots(met, joint ? joint : pass->joint.s, &pass->only);
  }
}

static void meet_joint(Met *met, const JointDecl *joint) {
  meet_spots(met, joint->name, &joint->order);
  meet_passes(met, joint->name, &joint->passes);
  meet_passes(met, joint->name, &joint->retorque);
}

/* ---- the tables ---- */

/* Every VEC begins so. */
typedef struct AnyVec {
  char *at;
  size_t n, room;
} AnyVec;

static void meet_shape(Met *met, const Shape *shape, char *object);

static char *pointed_at(const char *pointer) {
  char *at;
  memcpy(&at, pointer, sizeof at);
  return at;
}

static void meet_structs(Met *met, const Field *field, char *at) {
  AnyVec vec;
  memcpy(&vec, at, sizeof vec);
  for (size_t i = 0; i < vec.n; i++) {
    char *object = vec.at + i * (field->by_pointer ? sizeof object : field->shape->size);
    if (field->by_pointer) object = pointed_at(object);
    if (field->names != NAME_NONE && field->type == FIELD_NAMED) {
      Place place;
      memcpy(&place, object + field->shape->place, sizeof place);
      /* a NAMED struct begins with its name: const char *name */
      meet_text(met, field->names, "", (const char **)(void *)(object + field->shape->name), place);
    }
    meet_shape(met, field->shape, object);
    if (field->shape == &joint_shape) meet_joint(met, (const JointDecl *)(void *)object);
  }
}

static void meet_one(Met *met, const Field *field, char *at) {
  if (field->by_pointer) at = pointed_at(at);
  if (at) meet_shape(met, field->shape, at);
}

static void meet_field(Met *met, const Field *field, void *at) {
  switch (field->type) {
  case FIELD_WORD:
    if (field->names == NAME_STATED)
      meet_stated(met, &((Said *)at)->s, ((Said *)at)->at);
    else
      meet(met, field->names, at);
    break;
  case FIELD_WORDS:
    meet_said_list(met, field->names, at);
    break;
  case FIELD_EXPR:
  case FIELD_FORMULA:
    meet_expr(met, at);
    break;
  case FIELD_CONDITION:
    meet_formula(met, *(Formula **)at);
    break;
  case FIELD_CHOICES: {
    AnyVec vec;
    memcpy(&vec, at, sizeof vec);
    for (size_t i = 0; i < vec.n; i++) meet_value(met, (ValueChoice *)(void *)vec.at + i);
    break;
  }
  case FIELD_VALUES:
    meet_values(met, field, at);
    break;
  case FIELD_LIMITS:
    meet_limits(met, at);
    break;
  case FIELD_TIGHTEN:
    meet_passes(met, NULL, at);
    break;
  case FIELD_ONE:
    meet_one(met, field, at);
    break;
  case FIELD_LIST:
  case FIELD_NAMED:
    meet_structs(met, field, at);
    break;
  default:
    break;
  }
}

static void meet_shape(Met *met, const Shape *shape, char *object) {
  for (size_t i = 0; i < shape->n; i++) {
    const Field *field = &shape->fields[i];
    if (field->offset != NOWHERE) meet_field(met, field, object + field->offset);
  }
}

/* What the tables do not know by themselves. */
static void meet_build(Met *met, BuildEntry *build) {
  for (size_t i = 0; i < build->parts.n; i++)
    meet_text(met, NAME_ROLE, "", &build->parts.at[i].role, build->parts.at[i].at);
  for (size_t i = 0; i < build->choices.n; i++) {
    ChoiceMade *made = &build->choices.at[i];
    meet_text(met, NAME_CHOICE, "", &made->name, made->at);
    meet_text(met, NAME_CHOSEN, made->name, &made->word.s, made->word.at);
  }
  for (size_t i = 0; i < build->undisturbed.n; i++)
    meet_text(met, NAME_JOINT, "", &build->undisturbed.at[i].label, build->undisturbed.at[i].at);
}

static void meet_facts(Met *met, const ProcedureEntry *procedure) {
  for (size_t i = 0; i < procedure->blocks.n; i++)
    for (size_t j = 0; j < procedure->blocks.at[i]->steps.n; j++) {
      TableDecl *table = procedure->blocks.at[i]->steps.at[j]->table;
      if (!table) continue;
      TableAxis *axes[] = {&table->row, &table->column};
      for (size_t k = 0; k < COUNT(axes); k++)
        if (axes[k]->role.s)
          meet_text(met, NAME_FACT, axes[k]->role.s, &axes[k]->fact.s, axes[k]->fact.at);
    }
}

void names_meet(Names *names, Entry *entry) {
  Met met = {names};
  meet_shape(&met, shape_of_kind(entry->kind), (char *)&entry->is);
  if (entry->kind == ENTRY_BUILD) meet_build(&met, &entry->is.build);
  if (entry->kind == ENTRY_PROCEDURE) meet_facts(&met, &entry->is.procedure);
  if (entry->kind == ENTRY_PART)
    for (size_t i = 0; i < entry->is.part.notes.n; i++)
      meet(&met, NAME_STEP, &entry->is.part.notes.at[i].step);
}
