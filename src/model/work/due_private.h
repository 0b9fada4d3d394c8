#pragma once

#include "model/work/due.h"

G_BEGIN_DECLS

/* Logs that may be soaked: alive, not in a tank, and of a kind that is forced. day is
 * when the rest or the first spawn run is over. */
#define BED_DUE_MAY_SOAK                                                                           \
  "WITH last AS (SELECT d.log, max (s.put_in) AS put_in, max (s.taken_out IS NULL) AS inside"      \
  " FROM soaked d JOIN soak s ON s.id = d.soak GROUP BY d.log),"                                   \
  " may AS (SELECT l.id, l.batch, b.code AS batch_code, x.stack, t.put_in,"                        \
  " CASE WHEN t.log IS NULL"                                                                       \
  " THEN date (b.inoculated_on, '+' || coalesce (r.run_least, 12) || ' months')"                   \
  " ELSE date (t.put_in, '+' || (7 * r.rest_weeks) || ' days') END AS day"                         \
  " FROM log l JOIN batch b ON b.id = l.batch JOIN batch_spawn r ON r.batch = b.id"                \
  " LEFT JOIN mushroom m ON m.id = r.mushroom"                                                     \
  " LEFT JOIN place x ON x.log = l.id AND x.until IS NULL LEFT JOIN last t ON t.log = l.id"        \
  " WHERE l.retired_on IS NULL AND b.method <> 'totem' AND coalesce (t.inside, 0) = 0"             \
  " AND coalesce (m.latin_name, 'Lentinula edodes') = 'Lentinula edodes')"

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

G_END_DECLS
