#pragma once

#include "app/widgets/part.h"

/* The season that a page tells of, with the ones before and after it.
 *
 * Signal "changed" (): another one was chosen */
#define BED_TYPE_SEASON_CHOOSER (bed_season_chooser_get_type ())
G_DECLARE_FINAL_TYPE (BedSeasonChooser, bed_season_chooser, BED, SEASON_CHOOSER, BedPart)

/* Begins with the season that runs. */
BedSeasonChooser *bed_season_chooser_new (BedFarm *farm);

/* The farm changed: there may be others now. */
gboolean bed_season_chooser_refresh (BedSeasonChooser *self, GError **error);

/* The year it began in. */
int bed_season_chooser_get (BedSeasonChooser *self);
