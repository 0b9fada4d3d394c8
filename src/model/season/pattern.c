#include "model/season/pattern.h"

#define UM_PER_MM 1000.0
#define MG_PER_G 1000.0

static double
get_mm (BedRecord *record, const char *field)
{
  return bed_record_get_int (record, field) / UM_PER_MM;
}

static BedClosing
get_closing (BedRecord *batch)
{
  const char *key = bed_record_get_text (batch, "closing");

  if (g_strcmp0 (key, "even") == 0)
    return BED_CLOSING_EVEN;
  return g_strcmp0 (key, "helical") == 0 ? BED_CLOSING_HELIX : BED_CLOSING_NEAREST;
}

BedSpawnForm
bed_pattern_find_form (const char *form)
{
  static const char *const forms[BED_N_SPAWN_FORMS] = {
    [BED_SPAWN_SAWDUST] = "sawdust",
    [BED_SPAWN_DOWEL] = "dowel",
    [BED_SPAWN_THIMBLE] = "thimble",
    [BED_SPAWN_GRAIN] = "grain",
  };
  BedSpawnForm found = 0;

  while (found < BED_N_SPAWN_FORMS && g_strcmp0 (forms[found], form) != 0)
    found++;
  return found;
}

void
bed_pattern_read_batch (BedRecord *batch, BedDrill *drill)
{
  g_return_if_fail (BED_IS_RECORD (batch) && drill != NULL);

  *drill = (BedDrill){
    .along = get_mm (batch, "along"),
    .between = get_mm (batch, "between"),
    .margin = get_mm (batch, "margin"),
    .hole_diameter = get_mm (batch, "hole_diameter"),
    .hole_depth = get_mm (batch, "hole_depth"),
    .closing = get_closing (batch),
  };
}

void
bed_pattern_read (BedRecord *batch, BedRecord *log, BedDrill *drill)
{
  g_return_if_fail (BED_IS_RECORD (batch) && BED_IS_RECORD (log) && drill != NULL);

  bed_pattern_read_batch (batch, drill);
  drill->length = get_mm (log, "length");
  drill->small_diameter = get_mm (log, "small_diameter");
  drill->large_diameter = bed_record_has (log, "large_diameter") ? get_mm (log, "large_diameter")
                                                                 : drill->small_diameter;
}

BedDrillTool
bed_pattern_read_norms (BedRecord *settings, BedDrillNorms *norms)
{
  g_return_val_if_fail (BED_IS_RECORD (settings) && norms != NULL, BED_DRILL_GRINDER);
  const BedDrillPace pace = {
    .holes_drilled = bed_record_get_int (settings, "drill_pace"),
    .holes_filled = bed_record_get_int (settings, "fill_pace"),
    .holes_waxed = bed_record_get_int (settings, "wax_pace"),
    .ends_waxed = bed_record_get_int (settings, "end_pace"),
    .logs_handled = bed_record_get_int (settings, "handle_pace"),
    .wax_g_100_holes = bed_record_get_int (settings, "wax_holes") / MG_PER_G,
    .wax_g_ends = bed_record_get_int (settings, "wax_ends") / MG_PER_G,
    .spawn_g_litre = bed_record_get_int (settings, "spawn_litre") / MG_PER_G,
  };
  const char *tool = bed_record_get_text (settings, "drill_tool");

  bed_drill_norms_init (norms);
  bed_drill_norms_measure (norms, &pace);
  return g_strcmp0 (tool, "drill") == 0 ? BED_DRILL_HAND : BED_DRILL_GRINDER;
}

gboolean
bed_pattern_has_holes (BedRecord *batch)
{
  const char *method = bed_record_get_text (batch, "method");

  return method == NULL || g_str_equal (method, "drilled");
}

int
bed_pattern_count_holes (BedRecord *batch, BedRecord *log)
{
  BedDrill drill;

  if (!bed_pattern_has_holes (batch))
    return 0;
  bed_pattern_read (batch, log, &drill);
  if (drill.along <= 0 || drill.between <= 0)
    return 0;
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, NULL);
  return plan ? (int) plan->holes->len : 0;
}
