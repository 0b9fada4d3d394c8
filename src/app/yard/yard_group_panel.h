#pragma once

#include "app/widgets/part.h"
#include "app/yard/yard_view.h"

/* Beside the yard, when one thing on the ground or several things are chosen: what they are, and
 * what can be done with all of them at once.
 *
 * Signals: "align" (guint BedAlign), "distribute" (guint BedAlong), "copy" (guint n, guint
 * BedAlign: towards which side), "remove" (), "kind" (guint BedFeatureKind), "details" (gint64
 * feature). */
#define BED_TYPE_YARD_GROUP_PANEL (bed_yard_group_panel_get_type ())
G_DECLARE_FINAL_TYPE (BedYardGroupPanel, bed_yard_group_panel, BED, YARD_GROUP_PANEL, BedPart)

GtkWidget *bed_yard_group_panel_new (void);

/* Reads @yard and @chosen (element BedThing), keeps neither. */
void bed_yard_group_panel_show (BedYardGroupPanel *self, const BedYard *yard, const GArray *chosen,
                                const BedNotation *notation, BedYardMode mode);
