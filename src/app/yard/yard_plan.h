#pragma once

#include "app/widgets/part.h"
#include "yard/planned_farm.h"

/* Beside the yard: what is planned for a coming day, in working order; what was done is ticked and
 * carried out, the rest stays planned.
 *
 * Signal "day" (): another day is asked for. */
#define BED_TYPE_YARD_PLAN (bed_yard_plan_get_type ())
G_DECLARE_FINAL_TYPE (BedYardPlan, bed_yard_plan, BED, YARD_PLAN, BedPart)

GtkWidget *bed_yard_plan_new (BedFarm *farm);

/* YYYY-MM-DD; borrowed. Before one was asked for, the first that anything is planned for, or a week
 * from now. */
const char *bed_yard_plan_get_day (BedYardPlan *self);

/* Reads what is planned for it. */
gboolean bed_yard_plan_show (BedYardPlan *self, GError **error);
