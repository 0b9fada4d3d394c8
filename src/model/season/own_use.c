#include "model/season/own_use.h"

#include <math.h>

#include "model/farm/query.h"

#define LEAST_BATCHES 2
#define MG_PER_G 1000.0
#define ROUNDED_G 0.001

/* Of each batch all of whose logs have their holes counted: logs, holes, squares of the diameters
 * of holes and of ends, whether those are waxed; then what it took: spawn of one form alone, wax,
 * minutes if all three tasks are in. Micrometres, milligrams. */
static const char question[]
    = "SELECT count (*), sum (l.holes), b.hole_diameter, b.hole_depth,"
      " sum (l.small_diameter * l.small_diameter + coalesce (l.large_diameter, l.small_diameter)"
      " * coalesce (l.large_diameter, l.small_diameter)), b.ends_sealed IS 'yes',"
      " (SELECT sum (u.mass) FROM spawn_used u JOIN spawn s ON s.id = u.spawn"
      "  WHERE u.batch = b.id HAVING min (s.form) = ?2 AND max (s.form) = ?2), b.wax_mass,"
      " (SELECT sum (h.minutes) FROM hours h WHERE h.batch = b.id"
      "  AND h.task IN ('drilling', 'filling', 'waxing') HAVING count (DISTINCT h.task) = 3)"
      " FROM batch b JOIN log l ON l.batch = b.id WHERE b.method = 'drilled' AND b.id <> ?1"
      " AND b.hole_diameter > 0 AND b.hole_depth > 0 AND b.inoculated_on <= bed_today ()"
      " GROUP BY b.id HAVING count (*) = count (l.holes) AND sum (l.holes) > 0 ORDER BY b.id";

/* Used and planned, over batches that tell it. */
typedef struct
{
  double used, planned, low, high;
  guint batches;
} Own;

static void
add (Own *own, double used, double planned)
{
  if (used <= 0 || planned <= 0)
    return;
  own->used += used;
  own->planned += planned;
  own->low = own->batches ? MIN (own->low, used / planned) : used / planned;
  own->high = MAX (own->high, used / planned);
  own->batches++;
}

static double
share_of (const Own *own)
{
  return own->batches >= LEAST_BATCHES ? own->used / own->planned : 0;
}

/* What a form was saved with where nothing was typed is the plan's own number, to the milligram: by
 * the norms, or by what the batches before it told. It teaches nothing. */
static gboolean
is_planned (const Own *own, double used_g, double planned_g)
{
  double share = share_of (own);

  return fabs (used_g - planned_g) < ROUNDED_G
         || (share > 0 && fabs (used_g - share * planned_g) < ROUNDED_G);
}

static const char *
name_form (BedSpawnForm form)
{
  static const char *const names[BED_N_SPAWN_FORMS] = { "sawdust", "dowel", "thimble", "grain" };

  return names[form];
}

/* What the norms say of the batch @q stands at. */
static BedDrillNeeds
plan (BedQuery *q, const BedDrillWork *how, const BedDrillNorms *norms)
{
  double logs = bed_query_real (q, 0), holes = bed_query_real (q, 1);
  double bore_mm = bed_query_real (q, 2) / 1000, depth_mm = bed_query_real (q, 3) / 1000;
  gboolean ends = bed_query_int (q, 5) != 0;
  double ends_cm2 = ends ? G_PI / 4 * bed_query_real (q, 4) / 1e8 : 0;
  gboolean loose = how->form == BED_SPAWN_SAWDUST || how->form == BED_SPAWN_GRAIN;

  return (BedDrillNeeds){
    .spawn_g = holes * G_PI / 4 * bore_mm * bore_mm * depth_mm / 1000
               * norms->spawn_g_per_ml[how->form] * (loose ? 1 + norms->spawn_loss : 1),
    .wax_g = holes * norms->wax_g_per_hole + ends_cm2 * norms->wax_g_per_cm2,
    .minutes = logs * (norms->minutes_per_log + (ends ? 2 * norms->wax_minutes_per_end : 0))
               + holes
                     * (norms->drill_minutes[how->tool] + norms->fill_minutes[how->form]
                        + norms->wax_minutes_per_hole),
  };
}

/* A pace the grower timed is better known than hours noted by the batch. */
static gboolean
has_pace (BedFarm *farm)
{
  static const char *const paces[]
      = { "drill_pace", "fill_pace", "wax_pace", "end_pace", "handle_pace" };
  BedRecord *settings = bed_farm_get_settings (farm);

  for (guint i = 0; i < G_N_ELEMENTS (paces); i++)
    if (bed_record_has (settings, paces[i]))
      return TRUE;
  return FALSE;
}

gboolean
bed_own_use_apply (BedFarm *farm, gint64 but, const BedDrillWork *how, BedDrillNorms *norms,
                   guint *batches, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && how && norms && batches, FALSE);
  Own spawn = { 0 }, wax = { 0 }, minutes = { 0 };
  g_autoptr (BedQuery) q = bed_query_new (farm, question);

  bed_query_bind_int (q, 1, but);
  bed_query_bind_text (q, 2, name_form (how->form));
  while (bed_query_next (q))
    {
      BedDrillNeeds planned = plan (q, how, norms);

      double spawn_g = bed_query_real (q, 6) / MG_PER_G;

      if (!is_planned (&spawn, spawn_g, planned.spawn_g))
        add (&spawn, spawn_g, planned.spawn_g);
      add (&wax, bed_query_real (q, 7) / MG_PER_G, planned.wax_g);
      add (&minutes, bed_query_real (q, 8), planned.minutes);
    }
  BedDrillShare share = { share_of (&spawn), spawn.low, spawn.high, share_of (&wax),
                          has_pace (farm) ? 0 : share_of (&minutes) };
  *batches = spawn.batches >= LEAST_BATCHES ? spawn.batches : 0;
  bed_drill_norms_scale (norms, &share);
  return bed_query_finish (q, error);
}
