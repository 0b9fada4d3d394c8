#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/code.h"
#include "model/farm/query.h"
#include "model/season/pattern.h"

/* What a row brings along: spawn used with a batch, the logs of a soak, the holes of a
 * log by its batch's pattern. */

void
bed_csv_finish_line (BedCsvImporter *self, BedCsvLine *line)
{
  if (self->kind != BED_KIND_BATCH || !line->beside)
    return;
  if (!bed_record_has (line->beside, "spawn"))
    {
      bed_csv_fault_at (self, line->row, 0,
                        g_strdup (_ ("Spawn was used, but the column spawn does not say of which "
                                     "lot.")));
      return;
    }
  bed_record_set_int (line->beside, "batch", bed_record_get_id (line->record));
  bed_csv_put (self, line->beside, line->row->line);
}

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

static gboolean
is_before (const char *date, const char *day)
{
  return date != NULL && strncmp (date, day, 10) <= 0;
}

static void
add_logs_of_stack (BedCsvImporter *self, GArray *logs, gint64 stack, const char *day)
{
  add_found (self, logs,
             "SELECT log FROM place WHERE stack = ?1 AND bed_lies (since, until, ?2)"
             " ORDER BY tier, slot, id",
             stack, day);
  for (guint i = 0; i < self->drafts->len; i++)
    {
      BedRecord *place = ((BedCsvOrigin *) self->drafts->pdata[i])->record;
      if (bed_record_get_kind (place) == BED_KIND_PLACE
          && bed_record_get_int (place, "stack") == stack
          && is_before (bed_record_get_text (place, "since"), day)
          && !is_before (bed_record_get_text (place, "until"), day))
        add_once (logs, bed_record_get_int (place, "log"));
    }
}

static void
add_logs_of_batch (BedCsvImporter *self, GArray *logs, gint64 batch, const char *day)
{
  add_found (self, logs,
             "SELECT id FROM log WHERE batch = ?1 AND bed_alive (retired_on, ?2)"
             " ORDER BY id",
             batch, day);
  for (guint i = 0; i < self->drafts->len; i++)
    {
      BedRecord *log = ((BedCsvOrigin *) self->drafts->pdata[i])->record;
      if (bed_record_get_kind (log) == BED_KIND_LOG && bed_record_get_int (log, "batch") == batch
          && !is_before (bed_record_get_text (log, "retired_on"), day))
        add_once (logs, bed_record_get_id (log));
    }
}

/* `Crib 2` is near `Crib 1`, and neither of its words is a log. */
static gboolean
fault_stack_or_batch (BedCsvImporter *self, BedCsvLine *line, guint column, const char *cell)
{
  static const BedKind kinds[] = { BED_KIND_STACK, BED_KIND_BATCH };

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      BedCsvNames *names = bed_csv_names (self, kinds[i]);
      if (!bed_csv_names_nearest (names, cell))
        continue;
      bed_csv_fault_at (self, line->row, column, bed_csv_names_dup_missing (names, cell));
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

static void
add_named_logs (BedCsvImporter *self, BedCsvLine *line, guint column, GArray *logs,
                const char *cell)
{
  g_auto (GStrv) codes = g_strsplit_set (cell, " \t\r\n,;", -1);

  if (!names_a_log (self, codes) && fault_stack_or_batch (self, line, column, cell))
    return;
  for (char **code = codes; *code; code++)
    if (**code)
      {
        gint64 id = bed_csv_refer (self, line, column, *code);
        if (id)
          add_once (logs, id);
      }
}

void
bed_csv_read_soaked (BedCsvImporter *self, BedCsvLine *line, guint column)
{
  const char *cell = bed_csv_unguard (line->row->cells[column - 1]);
  const char *moment = bed_record_get_text (line->record, "put_in");
  gint64 stack = bed_csv_names_find (bed_csv_names (self, BED_KIND_STACK), cell);
  gint64 batch = bed_csv_names_find (bed_csv_names (self, BED_KIND_BATCH), cell);
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  guint before = self->faults->len;

  if (!*cell || !moment)
    return;
  g_autofree char *day = g_strndup (moment, 10);
  if (stack)
    add_logs_of_stack (self, logs, stack, day);
  else if (batch)
    add_logs_of_batch (self, logs, batch, day);
  else
    add_named_logs (self, line, column, logs, cell);
  if (logs->len == 0 && self->faults->len == before)
    bed_csv_fault_at (self, line->row, column,
                      g_strdup_printf (_ ("No log lay in %s on %s."), cell, day));
  for (guint i = 0; i < logs->len; i++)
    {
      g_autoptr (BedRecord) soaked = bed_record_new (BED_KIND_SOAKED);
      bed_record_set_int (soaked, "soak", bed_record_get_id (line->record));
      bed_record_set_int (soaked, "log", g_array_index (logs, gint64, i));
      bed_csv_put (self, soaked, line->row->line);
    }
}

/* --- holes ---------------------------------------------------------------------- */

static BedRecord *
dup_batch (BedCsvImporter *self, gint64 id)
{
  BedCsvOrigin *origin = g_hash_table_lookup (self->by_id, &id);

  return origin ? g_object_ref (origin->record)
                : bed_farm_load (self->farm, BED_KIND_BATCH, id, NULL);
}

void
bed_csv_count_holes (BedCsvImporter *self, BedRecord *log)
{
  g_autoptr (BedRecord) batch = dup_batch (self, bed_record_get_int (log, "batch"));
  int holes = batch ? bed_pattern_count_holes (batch, log) : 0;

  if (holes > 0)
    bed_record_set_int (log, "holes", holes);
}
