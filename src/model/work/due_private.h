#pragma once

#include "model/work/due.h"

/* A rule and the question that finds what it concerns. Columns: 0 table name and 1 id of
 * the record, 2 subject, 3 day, 4 whether it is overdue, 5 logs, then the words of
 * @detail, {1} from column 6 on. A date among them is shown as people write dates. */
typedef struct
{
  BedDueRule rule;
  const char *sql;
  const char *detail; /* N_() */
} BedDueQuestion;

extern const BedDueQuestion bed_due_questions[BED_DUE_N_RULES];
