#include "model/work/care_dry_mass.h"

#include "model/farm/query.h"
#include "model/farm/woods.h"
#include "science/moisture.h"

/* A disc speaks for a log weighed near its day: the wood loses water in weeks. The green
 * weight is that of inoculation day, or of felling while there is no batch. */
#define DISC                                                                                       \
  "WITH mass (day, mg) AS ("                                                                       \
  " SELECT weighed_on, mass FROM weighing WHERE log = ?1"                                          \
  " UNION ALL SELECT coalesce (b.inoculated_on, f.felled_on), l.green_mass FROM log l"             \
  " JOIN felling f ON f.id = l.felling LEFT JOIN batch b ON b.id = l.batch"                        \
  " WHERE l.id = ?1 AND l.green_mass IS NOT NULL)"                                                 \
  " SELECT d.fresh_mass, d.dry_mass, m.mg FROM log l"                                              \
  " JOIN disc d ON d.batch = l.batch OR d.felling = l.felling"                                     \
  " JOIN mass m ON abs (julianday (m.day) - julianday (d.cut_on)) <= 21"                           \
  " WHERE l.id = ?1 ORDER BY d.cut_on DESC,"                                                       \
  " abs (julianday (m.day) - julianday (d.cut_on)), d.id LIMIT 1"

static gboolean
ask_disc (BedFarm *farm, gint64 log, double *dry_kg, gboolean *found, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, DISC);

  *found = FALSE;
  bed_query_bind_int (q, 1, log);
  if (bed_query_next (q))
    {
      double kg = (double) bed_query_int (q, 2) / 1e6;
      *found = bed_moisture_from_disc ((double) bed_query_int (q, 0) / 1e6,
                                       (double) bed_query_int (q, 1) / 1e6, kg, dry_kg, NULL);
    }
  return bed_query_finish (q, error);
}

static gboolean
work_out (BedFarm *farm, gint64 id, double *dry_kg, GError **error)
{
  g_autoptr (BedRecord) log = bed_farm_load (farm, BED_KIND_LOG, id, error);
  g_autoptr (BedRecord) felling
      = log ? bed_farm_load (farm, BED_KIND_FELLING, bed_record_get_int (log, "felling"), error)
            : NULL;
  g_auto (BedWood) wood = { 0 };
  BedLogMass mass;
  double litres;

  if (!felling || !bed_woods_read (farm, bed_record_get_int (felling, "wood"), &wood, error))
    return FALSE;
  double small = (double) bed_record_get_int (log, "small_diameter") / 1000;
  double large = (double) bed_record_get_int (log, "large_diameter") / 1000;
  BedLogSize size = { .large_diameter = large > 0 ? large : small,
                      .small_diameter = small,
                      .length = (double) bed_record_get_int (log, "length") / 1000 };
  BedWoodNumbers numbers = bed_wood_numbers_complete (&wood.numbers);
  if (!bed_log_volume (&size, &litres, error) || !bed_log_mass (&numbers, litres, &mass, error))
    return FALSE;
  *dry_kg = mass.dry_kg;
  return TRUE;
}

gboolean
bed_care_dry_mass (BedFarm *farm, gint64 log, double *dry_kg, BedCareBasis *basis, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && dry_kg != NULL && basis != NULL, FALSE);
  gboolean found;

  if (!ask_disc (farm, log, dry_kg, &found, error))
    return FALSE;
  *basis = found ? BED_CARE_BY_DISC : BED_CARE_BY_SPECIES;
  return found || work_out (farm, log, dry_kg, error);
}
