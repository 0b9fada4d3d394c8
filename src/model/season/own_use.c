#include "model/season/own_use.h"

#include <math.h>

#include "model/farm/query.h"
#include "model/season/pattern.h"

#define LEAST_BATCHES 2
#define MG_PER_G 1000.0
#define ROUNDED_G 0.001

#define KEPT "own-use"

/* Of each batch all of whose logs have their holes counted: logs, holes, squares of the diameters
 * of holes and of ends, whether those are waxed; then what it took: spawn and its form if it is one
 * alone, wax, minutes if all three tasks are in. Micrometres, milligrams. */
static const char question[]
    = "SELECT b.id, count (*), sum (l.holes), b.hole_diameter, b.hole_depth,"
      " sum (l.small_diameter * l.small_diameter + coalesce (l.large_diameter, l.small_diameter)"
      " * coalesce (l.large_diameter, l.small_diameter)), b.ends_sealed IS 'yes',"
      " (SELECT sum (u.mass) FROM spawn_used u WHERE u.batch = b.id), b.wax_mass,"
      " (SELECT sum (h.minutes) FROM hours h WHERE h.batch = b.id"
      "  AND h.task IN ('drilling', 'filling', 'waxing') HAVING max (h.task = 'drilling')"
      "  AND max (h.task = 'filling') AND max (h.task = 'waxing')),"
      " (SELECT min (s.form) FROM spawn_used u JOIN spawn s ON s.id = u.spawn"
      "  WHERE u.batch = b.id HAVING min (s.form) = max (s.form))"
      " FROM batch b JOIN log l ON l.batch = b.id WHERE b.method = 'drilled'"
      " AND b.hole_diameter > 0 AND b.hole_depth > 0 AND b.inoculated_on <= bed_today ()"
      " GROUP BY b.id HAVING count (*) = count (l.holes) AND sum (l.holes) > 0 ORDER BY b.id";

/* A row of it, in the units of the drill. */
typedef struct
{
  gint64 batch;
  double logs, holes, bore_mm, depth_mm;
  double ends_cm2; /* of those that are waxed */
  double spawn_g, wax_g, minutes;
  gboolean ends;
  BedSpawnForm form; /* BED_N_SPAWN_FORMS: none or several */
} Took;

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

static Took
read_took (BedQuery *q)
{
  return (Took){
    .batch = bed_query_int (q, 0),
    .logs = bed_query_real (q, 1),
    .holes = bed_query_real (q, 2),
    .bore_mm = bed_query_real (q, 3) / 1000,
    .depth_mm = bed_query_real (q, 4) / 1000,
    .ends = bed_query_int (q, 6) != 0,
    .ends_cm2 = bed_query_int (q, 6) ? G_PI / 4 * bed_query_real (q, 5) / 1e8 : 0,
    .spawn_g = bed_query_real (q, 7) / MG_PER_G,
    .wax_g = bed_query_real (q, 8) / MG_PER_G,
    .minutes = bed_query_real (q, 9),
    .form = bed_pattern_find_form (bed_query_text (q, 10)),
  };
}

/* Of all batches: a form asks at each key. Kept by the farm. */
static GArray *
get_took (BedFarm *farm, GError **error)
{
  GArray *took = bed_farm_get_kept (farm, KEPT);

  if (took)
    return took;
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (Took));
  g_autoptr (BedQuery) q = bed_query_new (farm, question);
  while (bed_query_next (q))
    {
      Took one = read_took (q);
      g_array_append_val (all, one);
    }
  if (!bed_query_finish (q, error))
    return NULL;
  took = all;
  bed_farm_keep (farm, KEPT, g_steal_pointer (&all), (GDestroyNotify) g_array_unref);
  return took;
}

/* What the norms say of that batch. */
static BedDrillNeeds
plan (const Took *took, const BedDrillWork *how, const BedDrillNorms *norms)
{
  gboolean loose = how->form == BED_SPAWN_SAWDUST || how->form == BED_SPAWN_GRAIN;
  double wax_minutes = took->ends ? 2 * norms->wax_minutes_per_end : 0;

  return (BedDrillNeeds){
    .spawn_g = took->holes * G_PI / 4 * took->bore_mm * took->bore_mm * took->depth_mm / 1000
               * norms->spawn_g_per_ml[how->form] * (loose ? 1 + norms->spawn_loss : 1),
    .wax_g = took->holes * norms->wax_g_per_hole + took->ends_cm2 * norms->wax_g_per_cm2,
    .minutes = took->logs * (norms->minutes_per_log + wax_minutes)
               + took->holes
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
  const GArray *all = get_took (farm, error);

  for (guint i = 0; all && i < all->len; i++)
    {
      const Took *took = &g_array_index (all, Took, i);

      if (took->batch == but)
        continue;
      BedDrillNeeds planned = plan (took, how, norms);
      if (took->form == how->form && !is_planned (&spawn, took->spawn_g, planned.spawn_g))
        add (&spawn, took->spawn_g, planned.spawn_g);
      add (&wax, took->wax_g, planned.wax_g);
      add (&minutes, took->minutes, planned.minutes);
    }
  BedDrillShare share = { share_of (&spawn), spawn.low, spawn.high, share_of (&wax),
                          has_pace (farm) ? 0 : share_of (&minutes) };
  *batches = spawn.batches >= LEAST_BATCHES ? spawn.batches : 0;
  bed_drill_norms_scale (norms, &share);
  return all != NULL;
}
