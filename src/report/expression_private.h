#pragma once

#include "report/expression.h"
#include "report/kept.h"

#define BED_MAX_ARGUMENTS 3

typedef enum
{
  BED_NODE_NUMBER,  /* number */
  BED_NODE_CELL,    /* column */
  BED_NODE_RUNNING, /* column: the sum of its cells down to this row */
  BED_NODE_NAME,    /* name: its sum */
  BED_NODE_MOST,    /* name */
  BED_NODE_COUNT,   /* name */
  BED_NODE_NEGATE,  /* arguments[0], and the second below */
  BED_NODE_ADD,
  BED_NODE_SUBTRACT,
  BED_NODE_MULTIPLY,
  BED_NODE_DIVIDE,
  BED_NODE_CALL, /* function of the arguments */
  BED_NODE_WHERE /* SUMIFS or COUNTIFS */
} BedNodeKind;

typedef double (*BedFunction) (const double *arguments);

typedef struct _BedNode BedNode;

/* What a cell has to be: of a column of the row (varies), a text, or a number worked out. */
typedef struct
{
  BedCondition condition;
  guint column;
  BedNode *number;
} BedWhere;

struct _BedNode
{
  BedNodeKind kind;
  double number;
  guint column;
  char *name;
  BedFunction function;
  BedNode *arguments[BED_MAX_ARGUMENTS];
  const BedKept *values; /* NULL: COUNTIFS */
  GArray *wheres;        /* BedWhere */
  BedIndex *index;       /* made when first asked */
};

/* Aborts on what it cannot read. (transfer full) */
BedNode *bed_node_read (const char *text, const BedScope *scope);
void bed_node_free (BedNode *node);

double bed_node_value (BedNode *node, const BedScope *scope);

/* Of the functions with arguments, NULL for none. */
BedFunction bed_function_find (const char *word);

/* The column of that name; aborts when there is none. */
guint bed_scope_find (const BedScope *scope, const char *name, gsize length);

/* "line.use.sold" -> "sold", as it is shown. */
const char *bed_choice_word (const char *path, gsize length);
