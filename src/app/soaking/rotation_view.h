#pragma once

#include "model/season/soak_plan.h"
#include <gtk/gtk.h>

/* The soaks, weeks across and groups down: a bar with its number of logs for each,
 * filled when done, outlined when planned; the rest after it as a thin line; this
 * week marked. Up and Down walk the groups, Enter opens the one that is marked.
 *
 * Signal "opened" (guint group): Enter or double click; index into the plan's groups. */
#define BED_TYPE_ROTATION_VIEW (bed_rotation_view_get_type ())
G_DECLARE_FINAL_TYPE (BedRotationView, bed_rotation_view, BED, ROTATION_VIEW, GtkWidget)

/* px of the groups' names, before the weeks. */
#define BED_ROTATION_VIEW_NAMES 214

/* @farm: whose batches they are, for their marks. */
BedRotationView *bed_rotation_view_new (BedFarm *farm);

/* Borrows @plan, which must live until another (or NULL) is set. */
void bed_rotation_view_set_plan (BedRotationView *self, const BedSoakPlan *plan);
