#include "model/season/batch_plan.h"

#include <glib/gi18n-lib.h>

#include "model/season/own_use.h"
#include "model/season/pattern.h"

/* mm (40 in), of the log of a usual size that is drawn until the first is typed; common
 * practice, no source. */
#define USUAL_LENGTH 1000.0

typedef struct
{
  BedDrillWork how;
  BedDrillNorms norms;
} Work;

/* @log may be NULL. */
static BedDrill
make_drill (BedRecord *batch, BedRecord *log)
{
  BedDrill drill;

  if (log)
    bed_pattern_read (batch, log, &drill);
  else
    {
      bed_pattern_read_batch (batch, &drill);
      drill.large_diameter = drill.small_diameter = BED_DRILL_USUAL_DIAMETER;
      drill.length = USUAL_LENGTH;
    }
  return drill;
}

static gboolean
add_log (BedBatchTotals *totals, const BedDrill *drill, const Work *work, GError **error)
{
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (drill, error);
  BedDrillNeeds needs;

  if (!plan || !bed_drill_needs (drill, plan->holes->len, &work->how, &work->norms, &needs, error))
    return FALSE;
  totals->holes += plan->holes->len;
  totals->pieces += needs.pieces;
  totals->spawn_g += needs.spawn_g;
  totals->spawn_low_g += needs.spawn_low_g;
  totals->spawn_high_g += needs.spawn_high_g;
  totals->wax_g += needs.wax_g;
  totals->minutes += needs.minutes;
  return TRUE;
}

static int
compare_diameters (gconstpointer a, gconstpointer b)
{
  BedRecord *one = *(BedRecord *const *) a, *other = *(BedRecord *const *) b;
  gint64 difference = bed_record_get_int (one, "small_diameter")
                      - bed_record_get_int (other, "small_diameter");

  return difference < 0 ? -1 : difference > 0;
}

/* The log in the middle by thickness, or NULL. */
static BedRecord *
find_typical (GPtrArray *logs)
{
  g_autoptr (GPtrArray) sorted = NULL;

  if (!logs || logs->len == 0)
    return NULL;
  sorted = g_ptr_array_copy (logs, NULL, NULL);
  g_ptr_array_set_free_func (sorted, NULL);
  g_ptr_array_sort (sorted, compare_diameters);
  return g_ptr_array_index (sorted, sorted->len / 2);
}

static gboolean
check_whole (BedRecord *batch, GError **error)
{
  static const char *const needed[]
      = { "hole_diameter", "hole_depth", "along", "between", "margin" };

  if (!bed_pattern_has_holes (batch))
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                            _ ("Totems and wedges have no holes: nothing is planned for them."));
  for (guint i = 0; i < G_N_ELEMENTS (needed); i++)
    if (!bed_record_has (batch, needed[i]))
      return bed_farm_refuse (error, BED_FARM_ERROR_INVALID,
                              _ ("The plan is drawn when the hole and the spacings are in."));
  return TRUE;
}

static void
add_reserve (BedBatchTotals *totals, BedFarm *farm)
{
  totals->spawn_reserve_g
      = totals->spawn_g
        * (double) bed_record_get_int (bed_farm_get_settings (farm), "spawn_reserve") / 10000;
}

void
bed_batch_totals_clear (BedBatchTotals *totals)
{
  g_clear_pointer (&totals->plan, bed_drill_plan_free);
}

gboolean
bed_batch_totals_init (BedBatchTotals *totals, const BedBatchNeeds *needs, GError **error)
{
  const char *ends = bed_record_get_text (needs->batch, "ends_sealed");
  BedSpawnForm form = bed_pattern_find_form (needs->form);
  Work work = {
    .how.form = form < BED_N_SPAWN_FORMS ? form : BED_SPAWN_SAWDUST,
    .how.seal = g_strcmp0 (ends, "yes") == 0 ? BED_SEAL_HOLES_AND_ENDS : BED_SEAL_HOLES,
  };
  BedDrill typical = make_drill (needs->batch, find_typical (needs->logs));

  work.how.tool = bed_pattern_read_norms (bed_farm_get_settings (needs->farm), &work.norms);
  *totals = (BedBatchTotals){ .hole_diameter = typical.hole_diameter };
  if (!check_whole (needs->batch, error)
      || !bed_own_use_apply (needs->farm, bed_record_get_id (needs->batch), &work.how, &work.norms,
                             &totals->own, error))
    return FALSE;
  totals->plan = bed_drill_plan_new (&typical, error);
  if (!totals->plan)
    return FALSE;
  totals->logs = needs->logs ? needs->logs->len : 0;
  if (totals->logs == 0 && !add_log (totals, &typical, &work, error))
    return FALSE;
  for (guint i = 0; i < totals->logs; i++)
    {
      BedDrill drill = make_drill (needs->batch, g_ptr_array_index (needs->logs, i));

      if (!add_log (totals, &drill, &work, error))
        return FALSE;
    }
  add_reserve (totals, needs->farm);
  return TRUE;
}
