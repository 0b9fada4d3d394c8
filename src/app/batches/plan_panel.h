#pragma once

#include "app/widgets/part.h"
#include "model/season/batch_plan.h"
#include <gtk/gtk.h>

/* The drilling plan: bark, then rows, holes, spawn, wax and hours. It keeps its
 * size whatever it shows. */
#define BED_TYPE_PLAN_PANEL (bed_plan_panel_get_type ())
G_DECLARE_FINAL_TYPE (BedPlanPanel, bed_plan_panel, BED, PLAN_PANEL, BedPart)

BedPlanPanel *bed_plan_panel_new (BedFarm *farm);

/* The logs of @batch, for its needs (element BedRecord); none for 0. (transfer full). */
GPtrArray *bed_plan_load_logs (BedFarm *farm, gint64 batch, GError **error);

/* @spawn: the spawn lot it is filled from, 0 for none yet: what is in store is set beside the
 * need. */
void bed_plan_panel_show (BedPlanPanel *self, const BedBatchNeeds *needs, gint64 spawn);

/* What was last shown; plan NULL when it could not be. Borrowed. */
const BedBatchTotals *bed_plan_panel_get_totals (BedPlanPanel *self);
