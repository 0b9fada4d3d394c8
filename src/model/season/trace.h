#pragma once

#include "model/farm/kinds.h"
#include "model/farm/query.h"

/* Where a lot, log, batch, spawn lot or felling came from and went, step by step, for whoever
 * shows it: the desk, the tool in words and in JSON. */

typedef enum
{
  BED_TRACE_TEXT,  /* or the key of a choice */
  BED_TRACE_DATE,  /* or a moment */
  BED_TRACE_MASS,  /* mg */
  BED_TRACE_MONEY, /* minor units */
  BED_TRACE_COUNT,
} BedTraceType;

typedef struct
{
  const char *key;   /* for machines: "mass_mg" */
  const char *label; /* N_() */
  BedTraceType type;
} BedTraceColumn;

typedef struct
{
  BedKind kind;                  /* of what is traced */
  const char *key;               /* for machines: "from" */
  const char *title;             /* N_() */
  const char *sql;               /* ?1 is the record's id; its columns are: */
  const BedTraceColumn *columns; /* the last without a key */
} BedTraceStep;

/* The step of @kind after @last, NULL for the first; NULL when there is none. */
const BedTraceStep *bed_trace_next (BedKind kind, const BedTraceStep *last);

/* A step by its key; a column's place by its key. What is not there is a programmer's mistake. */
const BedTraceStep *bed_trace_find (BedKind kind, const char *key);
int bed_trace_find_column (const BedTraceStep *step, const char *key);

/* The rows of a step of the record @id: its cells are the step's columns. */
BedQuery *bed_trace_ask (BedFarm *farm, const BedTraceStep *step, gint64 id);

/* A cell as people read it, with its unit; NULL for none: (transfer full). */
char *bed_trace_dup_cell (BedFarm *farm, const BedTraceColumn *column, BedQuery *q, int index);
