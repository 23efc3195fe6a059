/* Between the files that find the facts of parts. */
#ifndef SHEAF_RESOLVE_FACTS_H
#define SHEAF_RESOLVE_FACTS_H

#include "resolve/context.h"

/* A fact asked for: said are the members still to be told apart below owner; at is
 * where the question stands. */
typedef struct FactAsk {
  const Role *role;
  const char *fact;
  Words said;
  const Instance *owner, *at;
} FactAsk;

const ValueDecls *role_values(const Resolver *r, const Role *role); /* NULL: no part */
const ValueDecl *role_value(const Resolver *r, const Role *role, const char *fact);
const ValueDecl *build_fact(const Resolver *r, const Role *role, const char *fact);
/* Silent but for conditions; slot NULL unless FOUND. */
Found fact_find(Resolver *r, const FactAsk *ask, FactSlot **slot);
/* Finds it and puts it into job->facts, once. */
void fact_list(Resolver *r, const FactAsk *ask);
/* The instance below owner that the members lead to; owner when they are none. */
const Instance *fact_instance(const Resolver *r, const Instance *owner, const Words *member);
/* "use is touring, or use is racing": the conditions of the choices that speak there. */
const char *conditions_print(Resolver *r, const ValueDecl *decl, const FactAsk *ask);

/* Reports what was not found. */
void fact_missing(Resolver *r, const FactAsk *ask, Place place, Found found);
/* Puts the report off until something needs the value under way. false: it is needed. */
bool lack_put_off(Resolver *r, const FactAsk *ask, Place place, Found found);

#endif
