/* What a new farm starts with: its settings, and the woods and mushrooms of
 * data/given, which are records like any other and may be edited. The numbers of a wood
 * come from the species table (model/woods.h), which alone holds them. Their names are those of the
 * reader's language; from then on they are the farm's. */
#include "model/farm/given.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "model/farm/csv_read.h"
#include "model/farm/edit.h"
#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/known.h"
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
  const char *name = bed_known_get_given (kind, bed_record_get_text (record, "latin_name"));
  if (name)
    bed_record_set_text (record, "common_name", name);
  return g_steal_pointer (&record);
}

/* The rows of a list that is part of the program. */
static BedCsvTable *
read_list (BedKind kind)
{
  const char *name = bed_kind_get_info (kind)->name;
  g_autofree char *path = g_strdup_printf ("/org/bedlog/model/%s.csv", name);
  g_autoptr (GBytes) bytes
      = g_resource_lookup_data (model_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_autoptr (GPtrArray) faults
      = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_csv_fault_free);
  gsize length = 0;
  const char *text = bytes ? g_bytes_get_data (bytes, &length) : "";
  BedCsvTable *table = bed_csv_table_parse (path, text, length, faults);

  g_assert (table != NULL);
  return table;
}

static gboolean
read_given (BedEdit *edit, BedFarm *farm, BedKind kind, GError **error)
{
  g_autoptr (BedCsvTable) table = read_list (kind);

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

BedRecord *
bed_given_new_wood (BedFarm *farm, const char *name)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && name != NULL, NULL);
  const char *const *latin = NULL;
  gboolean one = bed_known_find (BED_KIND_WOOD, name, &latin) == BED_KNOWN_ONE;
  const BedWood *wood = bed_wood_find (bed_woods_get (), one ? latin[0] : name, NULL);

  /* "roble" is in "roble beech", and several trees besides. */
  if (wood && !one && g_ascii_strcasecmp (wood->name, name) != 0)
    wood = NULL;
  g_autoptr (BedCsvTable) table = wood ? read_list (BED_KIND_WOOD) : NULL;

  for (guint i = 1; table && i < table->rows->len; i++)
    {
      const BedCsvRow *row = table->rows->pdata[i];

      if (strcmp (row->cells[0], wood->name) == 0)
        return read_row (farm, BED_KIND_WOOD, table->rows->pdata[0], row, NULL);
    }
  return NULL;
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
