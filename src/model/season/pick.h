#pragma once

#include "model/farm/edit.h"

/* Picks and the lots they go into. */

/* The lot that a pick of @day (YYYY-MM-DD) goes into: the last one opened for that day, or 0. */
gint64 bed_pick_find_lot (BedFarm *farm, const char *day);

/* Its code, or the code it will have: (transfer full). */
char *bed_pick_dup_lot_code (BedFarm *farm, const char *day);

/* Puts @pick into @edit. One without a lot gets that of its day, which is opened in the same
 * edit when there is none. */
void bed_pick_put (BedFarm *farm, BedEdit *edit, BedRecord *pick);

/* "210 g A from 26A-001-K", of what is known of it: (transfer full). */
char *bed_pick_dup_words (BedFarm *farm, BedRecord *pick);

/* Opens a further lot for @day, which picks go into from now on. */
gboolean bed_pick_open_lot (BedFarm *farm, const char *day, GError **error);
