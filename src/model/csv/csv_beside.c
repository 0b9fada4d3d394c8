#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/code.h"
#include "model/farm/query.h"
#include "model/farm/source.h"
#include "model/season/pattern.h"

/* What a row brings along: spawn used with a batch, the logs of a soak, the holes of a
 * log by its batch's pattern. */

/* --- the logs of a soak --------------------------------------------------------- */

static void
add_once (GArray *logs, gint64 id)
{
  for (guint i = 0; i < logs->len; i++)
    if (g_array_index (logs, gint64, i) == id)
      return;
  g_array_append_val (logs, id);
}

static void
add_found (BedCsvImporter *self, GArray *logs, const char *sql, gint64 id, const char *day)
{
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);

  bed_query_bind_int (q, 1, id);
  bed_query_bind_text (q, 2, day);
  while (bed_query_next (q))
    add_once (logs, bed_query_int (q, 0));
  if (!bed_query_finish (q, NULL)) /* the import does not go through: see csv_import.c */
    g_array_set_size (logs, 0);
}

static void
add_logs_of_stack (BedCsvImporter *self, GArray *logs, gint64 stack, const char *day)
{
  add_found (self, logs,
             "SELECT log FROM place WHERE stack = ?1 AND bed_lies (since, until, ?2)"
             " ORDER BY tier, slot, id",
             stack, day);
}

static void
add_logs_of_batch (BedCsvImporter *self, GArray *logs, gint64 batch, const char *day)
{
  add_found (self, logs,
             "SELECT id FROM log WHERE batch = ?1 AND bed_alive (retired_on, ?2)"
             " ORDER BY id",
             batch, day);
}

/* `Crib 2` is near `Crib 1`, and neither of its words is a log. */
static gboolean
fault_stack_or_batch (BedCsvImporter *self, BedCsvLine *line, guint column, const char *cell)
{
  static const BedKind kinds[] = { BED_KIND_STACK, BED_KIND_BATCH };

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *nearest = bed_csv_dup_nearest (self, kinds[i], cell);
      if (!nearest)
        continue;
      bed_csv_fault_at (self, line->row, column, bed_csv_dup_missing (self, kinds[i], cell));
      return TRUE;
    }
  return FALSE;
}

static gboolean
names_a_log (BedCsvImporter *self, char **codes)
{
  for (; *codes; codes++)
    {
      g_autofree char *whole = **codes ? bed_code_complete (BED_KIND_LOG, *codes, NULL) : NULL;
      if (whole && bed_csv_names_find (bed_csv_names (self, BED_KIND_LOG), whole))
        return TRUE;
    }
  return FALSE;
}

/* `26A-1..12`, `26A-1 3 7`: what is more than codes is read as people write it. */
static gboolean
is_short (const char *cell, char **codes)
{
  for (; *codes; codes++)
    if (**codes && strspn (*codes, "0123456789") == strlen (*codes))
      return TRUE;
  return strstr (cell, "..") || strstr (cell, "…");
}

static void
add_short_logs (BedCsvImporter *self, BedCsvLine *line, guint column, GArray *logs,
                const char *cell)
{
  g_autoptr (GError) error = NULL;

  if (!bed_csv_end_round (self))
    return;
  g_autoptr (GArray) named = bed_source_find_logs (self->farm, cell, &error);
  if (!named)
    bed_csv_fault_at (self, line->row, column, g_strdup (error->message));
  for (guint i = 0; named && i < named->len; i++)
    add_once (logs, g_array_index (named, gint64, i));
}

static void
add_named_logs (BedCsvImporter *self, BedCsvLine *line, guint column, GArray *logs,
                const char *cell)
{
  g_auto (GStrv) codes = g_strsplit_set (cell, " \t\r\n,;", -1);

  if (!names_a_log (self, codes) && fault_stack_or_batch (self, line, column, cell))
    return;
  if (is_short (cell, codes))
    {
      add_short_logs (self, line, column, logs, cell);
      return;
    }
  for (char **code = codes; *code; code++)
    if (**code)
      {
        gint64 id = bed_csv_refer (self, line, column, *code);
        if (id)
          add_once (logs, id);
      }
}

static void
read_soaked (BedCsvImporter *self, BedCsvLine *line, guint column)
{
  const char *cell = bed_csv_unguard (line->row->cells[column - 1]);
  const char *moment = bed_record_get_text (line->record, "put_in");
  gint64 stack = bed_csv_names_find (bed_csv_names (self, BED_KIND_STACK), cell);
  gint64 batch = bed_csv_names_find (bed_csv_names (self, BED_KIND_BATCH), cell);
  GArray *logs = line->logs;
  guint before = self->errors;

  /* Of a stack or batch whose own row is at fault nothing can be said. */
  if (!*cell || !moment || stack < 0 || batch < 0)
    return;
  if ((stack || batch) && !bed_csv_end_round (self))
    return;
  g_autofree char *day = g_strndup (moment, 10);
  if (stack)
    add_logs_of_stack (self, logs, stack, day);
  else if (batch)
    add_logs_of_batch (self, logs, batch, day);
  else
    add_named_logs (self, line, column, logs, cell);
  if (logs->len == 0 && self->errors == before)
    bed_csv_fault_at (self, line->row, column,
                      g_strdup_printf (_ ("No log lay in %s on %s."), cell, day));
}

/* --- beside a row ----------------------------------------------------------------- */

void
bed_csv_read_beside (BedCsvImporter *self, BedCsvLine *line, guint soaked)
{
  if (soaked)
    {
      line->logs = g_array_new (FALSE, FALSE, sizeof (gint64));
      read_soaked (self, line, soaked);
    }
  if (self->kind == BED_KIND_BATCH && line->beside && !bed_record_has (line->beside, "spawn"))
    bed_csv_fault_at (self, line->row, 0,
                      g_strdup (_ ("Spawn was used, but the column spawn does not say of which "
                                   "lot.")));
}

void
bed_csv_put_beside (BedCsvImporter *self, BedCsvLine *line)
{
  gint64 id = bed_record_get_id (line->record);

  if (self->kind == BED_KIND_BATCH && line->beside)
    {
      bed_record_set_int (line->beside, "batch", id);
      bed_csv_put (self, line->beside, line->row->line);
    }
  for (guint i = 0; line->logs && i < line->logs->len; i++)
    {
      g_autoptr (BedRecord) soaked = bed_record_new (BED_KIND_SOAKED);
      bed_record_set_int (soaked, "soak", id);
      bed_record_set_int (soaked, "log", g_array_index (line->logs, gint64, i));
      bed_csv_put (self, soaked, line->row->line);
    }
}

/* --- holes ---------------------------------------------------------------------- */

/* The last is kept; @id 0: none. */
static void
load_batch (BedCsvImporter *self, gint64 id)
{
  if (self->batch && bed_record_get_id (self->batch) != id)
    g_clear_object (&self->batch);
  /* One that is drafted may still be to be written. */
  if (!self->batch && id > 0 && (!bed_csv_is_drafted (self, id) || bed_csv_end_round (self)))
    self->batch = bed_farm_load (self->farm, BED_KIND_BATCH, id, NULL);
}

char *
bed_csv_dup_begun (BedCsvImporter *self, BedRecord *pick)
{
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT b.inoculated_on FROM log l JOIN batch b ON b.id = l.batch"
                  " WHERE l.id = ?1 UNION ALL SELECT built_on FROM stack WHERE id = ?2");
  g_autofree char *begun = NULL;

  if (bed_record_has (pick, "batch"))
    {
      load_batch (self, bed_record_get_int (pick, "batch"));
      return self->batch ? g_strdup (bed_record_get_text (self->batch, "inoculated_on")) : NULL;
    }
  bed_query_bind_int (q, 1, bed_record_get_int (pick, "log"));
  bed_query_bind_int (q, 2, bed_record_get_int (pick, "stack"));
  if (bed_query_next (q))
    begun = g_strdup (bed_query_text (q, 0));
  return bed_query_finish (q, NULL) ? g_steal_pointer (&begun) : NULL;
}

void
bed_csv_count_holes (BedCsvImporter *self, BedRecord *log)
{
  load_batch (self, bed_record_get_int (log, "batch"));
  int holes = self->batch ? bed_pattern_count_holes (self->batch, log) : 0;
  if (holes > 0)
    bed_record_set_int (log, "holes", holes);
}
