#include "print/drill/drill_farm.h"

#include <glib/gi18n-lib.h>

#include "model/farm/query.h"
#include "model/season/pattern.h"

/* D. B. Hill, Step by Step in Pictures (FOR-77), University of Kentucky, 1999/2010, gives 15 cm
 * along and 7.6 cm between (6 in by 3 in). */
#define ALONG 150.0
#define BETWEEN 75.0
#define MARGIN 50.0

/* While the batch has no log, mm: see the header. */
#define USUAL_DIAMETER 100.0
#define USUAL_LENGTH 1000.0

/* Public */

gboolean
bed_drill_read_batch (BedFarm *farm, gint64 batch, BedDrill *drill, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && drill != NULL, FALSE);
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_BATCH, batch, error);

  if (!record)
    return FALSE;
  if (!bed_pattern_has_holes (record))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("Totems and wedges have no holes: there is nothing to drill."));
  bed_pattern_read_batch (record, drill);
  drill->large_diameter = drill->small_diameter = USUAL_DIAMETER;
  drill->length = USUAL_LENGTH;
  drill->along = bed_record_has (record, "along") ? drill->along : ALONG;
  drill->between = bed_record_has (record, "between") ? drill->between : BETWEEN;
  drill->margin = bed_record_has (record, "margin") ? drill->margin : MARGIN;
  g_autoptr (BedQuery) query = bed_query_new (
      farm, "SELECT avg (length), avg (small_diameter), "
            "avg (coalesce (large_diameter, small_diameter)) FROM log WHERE batch = ?1");
  bed_query_bind_int (query, 1, batch);
  if (bed_query_next (query) && !bed_query_is_null (query, 0))
    {
      drill->length = bed_query_real (query, 0) / 1000;
      drill->small_diameter = bed_query_real (query, 1) / 1000;
      drill->large_diameter = MAX (bed_query_real (query, 2) / 1000, drill->small_diameter);
    }
  return bed_query_finish (query, error);
}
