#include "model/farm/woods.h"

#include <gio/gio.h>
#include <math.h>

#include "model_resources.h"

GPtrArray *
bed_woods_get (void)
{
  static gsize table;

  if (g_once_init_enter (&table))
    {
      g_autoptr (GBytes) csv = g_resource_lookup_data (model_get_resource (),
                                                       "/org/bedlog/model/wood-table.csv",
                                                       G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
      g_autoptr (GError) error = NULL;
      /* Resources end with a zero byte that their size does not count. */
      GPtrArray *woods = csv ? bed_wood_table_new (g_bytes_get_data (csv, NULL), &error) : NULL;

      if (!woods)
        g_error ("data/wood.csv: %s", error ? error->message : "not in the program");
      g_once_init_leave (&table, (gsize) woods);
    }
  return (GPtrArray *) table;
}

static const BedWood *
find (BedRecord *record)
{
  const char *latin = bed_record_get_text (record, "latin_name");
  const BedWood *wood = latin ? bed_wood_find (bed_woods_get (), latin, NULL) : NULL;

  if (!wood)
    wood = bed_wood_find (bed_woods_get (), bed_record_get_text (record, "common_name"), NULL);
  return wood;
}

gboolean
bed_woods_read (BedFarm *farm, gint64 wood, BedWood *known, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && known != NULL, FALSE);
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_WOOD, wood, error);

  if (!record)
    return FALSE;
  const BedWood *species = find (record);
  *known = species ? *species
                   : (BedWood){ .numbers = { NAN, NAN, NAN, NAN, NAN }, .density_12 = NAN };
  known->name = g_strdup (bed_record_get_text (record, "common_name"));
  known->latin = g_strdup (bed_record_get_text (record, "latin_name"));
  if (bed_record_has (record, "basic_density"))
    known->numbers.basic_density = (double) bed_record_get_int (record, "basic_density") / 1000;
  if (bed_record_has (record, "green_moisture"))
    known->numbers.moisture_pct = (double) bed_record_get_int (record, "green_moisture") / 100;
  if (bed_record_has (record, "bark_share"))
    known->numbers.bark_pct = (double) bed_record_get_int (record, "bark_share") / 100;
  return TRUE;
}

void
bed_woods_clear (BedWood *known)
{
  g_clear_pointer (&known->name, g_free);
  g_clear_pointer (&known->latin, g_free);
}
