#include "print/field/field_sheet_week.h"

#include <glib/gi18n-lib.h>

#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/work/due.h"

/* Pages that a day's sheets are at most. */
#define MOST_PEOPLE "20"

/* Done, day, what, where, logs, who, note. */
static void
add_item (BedFieldSheet *sheet, const BedDueItem *item)
{
  g_autofree char *day = bed_date_format_day (item->day);
  g_autofree char *logs = item->logs ? bed_say ("%" G_GINT64_FORMAT, item->logs) : NULL;

  bed_field_sheet_add_row (sheet, (const char *[]){ BED_TO_TICK, day, _ (item->rule->what),
                                                    item->subject, logs, NULL, item->detail });
}

/* What is to be done, then the hours it took. */
static void
add_to_do (BedFieldSheet *sheet, const BedDueItem *item)
{
  g_autofree char *words = item->subject
                               ? g_strdup_printf ("%s: %s", _ (item->rule->what), item->subject)
                               : g_strdup (_ (item->rule->what));
  const char *cells[BED_PAPER_COLUMNS] = { words };

  bed_field_sheet_add_row (sheet, cells);
}

static BedDocument *
make_day (BedFarm *farm, const char *subtitle, const BedPaper *paper, guint empty_rows,
          const char *person, GPtrArray *due)
{
  g_autoptr (GHashTable) values = g_hash_table_new (g_str_hash, g_str_equal);
  g_autofree char *day = bed_date_format_day (bed_farm_get_today (farm));
  const BedPaperHead head
      = { bed_farm_get_notation (farm), subtitle, person ? person : day, values, NULL };

  g_hash_table_insert (values, (gpointer) "worked_on", day);
  if (person)
    g_hash_table_insert (values, (gpointer) "person", (gpointer) person);
  BedFieldSheet *sheet = bed_field_sheet_new_kind (BED_PAPER_DAY, &head);
  for (guint i = 0; i < due->len; i++)
    if (((BedDueItem *) due->pdata[i])->state <= BED_DUE_TODAY)
      add_to_do (sheet, due->pdata[i]);
  return bed_field_sheet_document_new (sheet, paper, empty_rows);
}

/* Public, within the field sheets */

gboolean
bed_field_sheet_add_week (BedFieldSheet *sheet, BedFarm *farm, GError **error)
{
  g_autoptr (GPtrArray) due = bed_due_list (farm, error);

  for (guint i = 0; due && i < due->len; i++)
    if (((BedDueItem *) due->pdata[i])->state <= BED_DUE_WEEK)
      add_item (sheet, due->pdata[i]);
  return due != NULL;
}

BedDocument *
bed_field_sheet_days_new (BedFarm *farm, const char *subtitle, const BedPaper *paper,
                          guint empty_rows, GError **error)
{
  g_autoptr (GPtrArray) days = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_document_free);
  g_autoptr (GPtrArray) due = bed_due_list (farm, error);
  g_autoptr (BedQuery) people = bed_query_new (
      farm, "SELECT DISTINCT person FROM hours WHERE person IS NOT NULL"
            " AND worked_on > date (bed_today (), '-1 year') ORDER BY 1 LIMIT " MOST_PEOPLE);

  while (due && bed_query_next (people))
    g_ptr_array_add (days,
                     make_day (farm, subtitle, paper, empty_rows, bed_query_text (people, 0), due));
  if (!bed_query_finish (people, due ? error : NULL) || !due)
    return NULL;
  if (days->len == 0)
    g_ptr_array_add (days, make_day (farm, subtitle, paper, empty_rows, NULL, due));
  return bed_document_join_new (g_steal_pointer (&days));
}
