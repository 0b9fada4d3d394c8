/* What a new farm starts with: its settings, and the woods and mushrooms of
 * data/given, which are records like any other and may be edited. The numbers of a wood
 * come from the species table (model/woods.h), which alone holds them. */
#include "model/farm/farm_private.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/csv_read.h"
#include "model/farm/edit.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"
#include "model/farm/woods.h"
#include "model_resources.h"

/* The heads are ours, so their form is known: name, or name (unit). */
static gboolean
read_cell (BedFarm *farm, BedRecord *record, const char *head, const char *cell, GError **error)
{
  g_auto (GStrv) parts = g_strsplit_set (head, "()", 3);
  BedValueReading reading = { *bed_farm_get_notation (farm), parts[1] };

  if (bed_value_parse_csv (farm, record, g_strstrip (parts[0]), &reading, cell, error))
    return TRUE;
  g_prefix_error (error, "%s: ", head);
  return FALSE;
}

static void
set_number (BedRecord *record, const char *field, double value)
{
  if (!isnan (value))
    bed_record_set_int (record, field, llround (value));
}

static gboolean
fill_wood (BedRecord *record, GError **error)
{
  const BedWood *wood
      = bed_wood_find (bed_woods_get (), bed_record_get_text (record, "common_name"), error);

  if (!wood)
    return FALSE;
  bed_record_set_text (record, "latin_name", wood->latin);
  set_number (record, "basic_density", wood->numbers.basic_density * 1000);
  set_number (record, "green_moisture", wood->numbers.moisture_pct * 100);
  set_number (record, "bark_share", wood->numbers.bark_pct * 100);
  return TRUE;
}

static BedRecord *
read_row (BedFarm *farm, BedKind kind, const BedCsvRow *head, const BedCsvRow *row, GError **error)
{
  g_autoptr (BedRecord) record = bed_record_new (kind);

  for (guint i = 0; i < MIN (head->n_cells, row->n_cells); i++)
    if (!read_cell (farm, record, head->cells[i], row->cells[i], error))
      return NULL;
  if (kind == BED_KIND_WOOD && !fill_wood (record, error))
    return NULL;
  return g_steal_pointer (&record);
}

static gboolean
read_given (BedEdit *edit, BedFarm *farm, BedKind kind, GError **error)
{
  const char *name = bed_kind_get_info (kind)->name;
  g_autofree char *path = g_strdup_printf ("/org/bedlog/model/%s.csv", name);
  g_autoptr (GBytes) bytes
      = g_resource_lookup_data (model_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, error);
  g_autoptr (GPtrArray) faults
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_csv_fault_free);

  if (!bytes)
    return FALSE;
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);
  g_autoptr (BedCsvTable) table = bed_csv_table_parse (path, text, length, faults);
  g_assert (table != NULL); /* it is part of the program */
  for (guint i = 1; i < table->rows->len; i++)
    {
      g_autoptr (BedRecord) record
          = read_row (farm, kind, table->rows->pdata[0], table->rows->pdata[i], error);
      if (!record)
        return FALSE;
      bed_edit_put (edit, record);
    }
  return TRUE;
}

gboolean
bed_given_add (BedFarm *farm, BedRecord *settings, GError **error)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (GError) why = NULL;
  const char *name = bed_record_get_text (settings, "name");
  g_autoptr (BedRecord) own = bed_record_copy (settings);
  g_autofree char *sentence = g_strdup_printf (_ ("Opened the farm book of %s"), name ? name : "");

  /* They may be those of another farm: here they are new. */
  bed_record_set_id (own, 0);
  bed_edit_put (edit, own);
  if (!read_given (edit, farm, BED_KIND_WOOD, &why)
      || !read_given (edit, farm, BED_KIND_MUSHROOM, &why)
      || !bed_edit_commit (edit, sentence, &why))
    {
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  return TRUE;
}
