#include "model/work/care_dry_mass.h"

#include "model/farm/query.h"
#include "model/farm/woods.h"
#include "science/moisture.h"

/* The disc that speaks for a log (@log, an id): one weighed near its day, since the wood loses
 * water in weeks. The green weight is that of inoculation day, or of felling while there is no
 * batch. */
#define DISC(log)                                                                                  \
  " FROM log o JOIN disc d ON d.batch = o.batch OR d.felling = o.felling JOIN ("                   \
  " SELECT weighed_on AS day, mass AS mg FROM weighing WHERE log = " log " UNION ALL"              \
  " SELECT coalesce (b.inoculated_on, f.felled_on), g.green_mass FROM log g"                       \
  " JOIN felling f ON f.id = g.felling LEFT JOIN batch b ON b.id = g.batch"                        \
  " WHERE g.id = " log " AND g.green_mass IS NOT NULL) m"                                          \
  " ON abs (julianday (m.day) - julianday (d.cut_on)) <= 21 WHERE o.id = " log                     \
  " ORDER BY d.cut_on DESC, abs (julianday (m.day) - julianday (d.cut_on)), d.id LIMIT 1"

/* A weighing speaks for a season's quarter. Our own choice. */
#define WEIGHED_DAYS "90"

/* What a log weighs says what is in it: the last weighing of each up to a day. A bare column
 * beside max() is of the row that has it (SQLite). */
#define WEIGHED                                                                                    \
  "SELECT w.log, l.batch, w.mass, l.small_diameter, l.large_diameter, l.length, f.wood,"           \
  " (SELECT d.fresh_mass" DISC ("w.log") "), (SELECT d.dry_mass" DISC (                            \
      "w.log") "),"                                                                                \
               " (SELECT m.mg" DISC (                                                              \
                   "w.log") ")"                                                                    \
                            " FROM (SELECT log, mass, max (weighed_on) FROM weighing"              \
                            " WHERE weighed_on <= ?1"                                              \
                            " AND weighed_on > date (?1, '-" WEIGHED_DAYS " days')"                \
                            " GROUP BY log) w JOIN log l ON l.id = w.log"                          \
                            " JOIN felling f ON f.id = l.felling ORDER BY w.log"

static gboolean
ask_disc (BedFarm *farm, gint64 log, double *dry_kg, gboolean *found, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT d.fresh_mass, d.dry_mass, m.mg" DISC ("?1"));

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
weigh_species (const BedWoodNumbers *given, gint64 small_um, gint64 large_um, gint64 length_um,
               double *dry_kg, GError **error)
{
  double small = (double) small_um / 1000, large = (double) large_um / 1000;
  BedLogSize size = { .large_diameter = large > 0 ? large : small,
                      .small_diameter = small,
                      .length = (double) length_um / 1000 };
  BedWoodNumbers numbers = bed_wood_numbers_complete (given);
  BedLogMass mass;
  double litres;

  if (!bed_log_volume (&size, &litres, error) || !bed_log_mass (&numbers, litres, &mass, error))
    return FALSE;
  *dry_kg = mass.dry_kg;
  return TRUE;
}

static gboolean
work_out (BedFarm *farm, gint64 id, double *dry_kg, GError **error)
{
  g_autoptr (BedRecord) log = bed_farm_load (farm, BED_KIND_LOG, id, error);
  g_autoptr (BedRecord) felling
      = log ? bed_farm_load (farm, BED_KIND_FELLING, bed_record_get_int (log, "felling"), error)
            : NULL;
  g_auto (BedWood) wood = { 0 };

  return felling && bed_woods_read (farm, bed_record_get_int (felling, "wood"), &wood, error)
         && weigh_species (&wood.numbers, bed_record_get_int (log, "small_diameter"),
                           bed_record_get_int (log, "large_diameter"),
                           bed_record_get_int (log, "length"), dry_kg, error);
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

/* --- all that were weighed ------------------------------------------------------------- */

/* Its numbers, read once for all logs of it; NULL when it cannot be read. */
static const BedWoodNumbers *
find_wood (BedFarm *farm, GHashTable *woods, gint64 id)
{
  const BedWoodNumbers *known = g_hash_table_lookup (woods, &id);
  g_auto (BedWood) wood = { 0 };

  if (known || !bed_woods_read (farm, id, &wood, NULL))
    return known;
  g_hash_table_insert (woods, g_memdup2 (&id, sizeof id),
                       g_memdup2 (&wood.numbers, sizeof wood.numbers));
  return g_hash_table_lookup (woods, &id);
}

/* As bed_care_dry_mass(), of the row. */
static gboolean
find_dry_mass (BedFarm *farm, GHashTable *woods, BedQuery *q, double *dry_kg)
{
  if (!bed_query_is_null (q, 7)
      && bed_moisture_from_disc ((double) bed_query_int (q, 7) / 1e6,
                                 (double) bed_query_int (q, 8) / 1e6,
                                 (double) bed_query_int (q, 9) / 1e6, dry_kg, NULL))
    return TRUE;
  const BedWoodNumbers *wood = find_wood (farm, woods, bed_query_int (q, 6));
  return wood
         && weigh_species (wood, bed_query_int (q, 3), bed_query_int (q, 4), bed_query_int (q, 5),
                           dry_kg, NULL);
}

GArray *
bed_care_weighed_read (BedFarm *farm, const char *day, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && day != NULL, NULL);
  g_autoptr (GHashTable) woods
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (BedCareWeighed));
  g_autoptr (BedQuery) q = bed_query_new (farm, WEIGHED);

  bed_query_bind_text (q, 1, day);
  while (bed_query_next (q))
    {
      BedCareWeighed one = { bed_query_int (q, 0), bed_query_int (q, 1), 0 };
      BedMoisture moisture;
      double dry_kg;
      if (!find_dry_mass (farm, woods, q, &dry_kg)
          || !bed_moisture_from_mass ((double) bed_query_int (q, 2) / 1e6, dry_kg, &moisture, NULL))
        continue;
      one.wet_pct = moisture.wet_pct;
      g_array_append_val (all, one);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&all) : NULL;
}
