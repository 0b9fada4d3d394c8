#pragma once

#include "app/widgets/run_chart.h"
#include "model/farm/farm.h"

/* Shows in @chart what the last of @seasons (bed_season_weeks_read()) gave week by week and how
 * that adds up, beside the seasons before it and what was expected of it when it began. Totals of
 * no week come at the end. */
gboolean bed_season_run_show (BedRunChart *chart, BedFarm *farm, GArray *seasons, GError **error);
