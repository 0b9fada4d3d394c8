#pragma once

#include "model/farm/farm.h"

/* A question to the farm: one SELECT over the tables and the views of
 * data/schema/views.sql. Anything that would write is refused. Columns count
 * from 0, parameters (?1, ?2) from 1.
 *
 *   g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT code FROM log WHERE batch = ?1");
 *   bed_query_bind_int (q, 1, batch);
 *   while (bed_query_next (q))
 *     use (bed_query_text (q, 0));
 *   if (!bed_query_finish (q, error)) ...
 */
typedef struct _BedQuery BedQuery;

/* Keeps a reference to @farm; free with bed_query_free(). What is wrong with @sql is said by
 * bed_query_finish(): until then it has no rows. */
BedQuery *bed_query_new (BedFarm *farm, const char *sql);
void bed_query_free (BedQuery *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedQuery, bed_query_free)

/* Texts are copied. Before the first step, or after bed_query_finish(). */
void bed_query_bind_int (BedQuery *self, int parameter, gint64 value);
void bed_query_bind_text (BedQuery *self, int parameter, const char *value);

/* To the next row; FALSE at the end and on an error. */
gboolean bed_query_next (BedQuery *self);

/* Whether the rows ended well; also makes the question ready to be asked again. Every question is
 * asked this: until then a failed one looks as if it had no rows. */
gboolean bed_query_finish (BedQuery *self, GError **error) G_GNUC_WARN_UNUSED_RESULT;

/* Of the row bed_query_next stepped to. Text is borrowed until the next step; NULL reads as NULL,
 * 0 and 0.0. In text that is not UTF-8, U+FFFD stands for each byte that is none. */
gboolean bed_query_is_null (BedQuery *self, int column);
gint64 bed_query_int (BedQuery *self, int column);
double bed_query_real (BedQuery *self, int column);
const char *bed_query_text (BedQuery *self, int column);
int bed_query_n_columns (BedQuery *self);
const char *bed_query_column_name (BedQuery *self, int column);

/* For questions with one number as answer: the first column of the first row into @answer, 0 when
 * there is none. */
gboolean bed_query_one (BedFarm *farm, const char *sql, gint64 parameter, gint64 *answer,
                        GError **error) G_GNUC_WARN_UNUSED_RESULT;
