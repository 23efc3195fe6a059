/* The graph of values: leaves from sheets, nodes over them, readings.
 *
 * A leaf is one number of one sheet for one instance: two pistons are two
 * leaves, one crank is one. A node is never collapsed to a number and a
 * tolerance, so a leaf that counts twice is not counted as two. */
#ifndef SHEAF_VALUE_GRAPH_H
#define SHEAF_VALUE_GRAPH_H

#include "diag/finding.h"
#include "value/formula.h"
#include "value/unit.h"

typedef struct Graph Graph;
typedef uint32_t NodeId; /* 0 is the poison node: already reported, silent */
typedef VEC(NodeId) NodeIds;

typedef enum ValueState { VALUE_POISON, VALUE_UNKNOWN, VALUE_KNOWN } ValueState;

Graph *graph_new(Arena *arena);

/* name is how the leaf is called to people: "barrel.height", "piston.diameter, left". */
NodeId graph_leaf(Graph *graph, const char *name, Place at, Dim dim, double nominal, double low,
                  double high);
NodeId graph_constant(Graph *graph, Dim dim, double si);
NodeId graph_truth(Graph *graph, bool truth);
/* A named value. of 0 with unknown true: waits for a reading. A value may be
 * declared first and defined later, which is how circles come about; the
 * builder (resolve) finds them, graph_define never makes one. */
NodeId graph_value(Graph *graph, const char *name, Place at, Dim dim);
void graph_define(Graph *graph, NodeId value, NodeId of); /* of 0: poison */
/* A complete reading: replaces the definition and cuts its inputs. */
void graph_read(Graph *graph, NodeId value, double nominal, double low, double high);
/* Least and most of the positions it was read at, for least(), most() and spread(). */
void graph_read_positions(Graph *graph, NodeId value, double least, double most);

/* How names in a formula are found. Each answers 0 after reporting. */
typedef struct Binder {
  void *context;
  NodeId (*name)(void *context, const Formula *name);
  NodeId (*is)(void *context, const Formula *is);                     /* a truth */
  bool (*over)(void *context, const Formula *over, NodeIds *members); /* one node a member */
} Binder;

/* Nodes for a formula. Reports wrong-dimension at the operator or argument. */
NodeId graph_compile(Graph *graph, Run *run, const Formula *formula, const Binder *binder);

Dim graph_dim(const Graph *graph, NodeId node);
const char *graph_name(const Graph *graph, NodeId node); /* of leaf or value; else "" */
Place graph_place(const Graph *graph, NodeId node);

typedef struct Override {
  NodeId node;
  double si;
} Override; /* a leaf or a value */
typedef VEC(Override) Overrides;

typedef struct Evaluation {
  ValueState state;
  double si;      /* truth: 0 or 1 */
  NodeId culprit; /* KNOWN never; UNKNOWN: the value that waits; POISON with
                     not_finite: the node that divided by zero or the like */
  bool not_finite;
} Evaluation;

/* At the nominal of every leaf, but for the overrides (NULL: none). */
Evaluation graph_evaluate(const Graph *graph, NodeId node, const Overrides *overrides);

typedef struct Contribution {
  NodeId leaf;
  double half_width;
} Contribution; /* of the result, from this leaf alone */

typedef struct Range {
  ValueState state;
  double nominal, low, high; /* low and high: the worst found */
  double rss;                /* half width by root-sum-square, 3 sigma; NAN where not meaningful */
  bool monotone;
  VEC(Contribution) by_leaf; /* widest first; empty for exact values */
} Range;

/* Worst found: corners by the signs of the slopes, then each leaf swept over
 * low, middle, high until nothing changes (4 sweeps at most); with an operator
 * that is not monotone or a change of sign, and at most 8 leaves, all corners and
 * middles. Overrides pin values exactly. */
Range graph_range(const Graph *graph, Arena *arena, NodeId node, const Overrides *overrides);

/* Does target depend on node (not cut off by a reading)? */
bool graph_depends(const Graph *graph, NodeId target, NodeId node);
/* Is it the nearest size of a stocked row? */
bool graph_is_size(const Graph *graph, NodeId node);
/* d target / d node by central difference at the nominal; NAN when unknown. */
double graph_slope(const Graph *graph, NodeId target, NodeId node);
/* Values and leaves directly under a value's definition, in order of mention. */
void graph_inputs(const Graph *graph, Arena *arena, NodeId value, NodeIds *out);

/* The function table, for hints and the reference page. */
struct Function {
  const char *name;
  const char *signature; /* "length, length -> volume" */
  const char *what;      /* one line, with the source of the formula */
  int least, most;       /* arguments */
  int id;
};
const Function *function_find(const char *name);
const Function *function_at(size_t index); /* NULL past the end */

#endif
