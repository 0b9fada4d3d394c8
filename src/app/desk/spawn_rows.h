#pragma once

#include "app/form/form.h"
#include "app/widgets/part.h"
#include "model/farm/edit.h"
#include "model/season/batch_plan.h"
#include <gtk/gtk.h>

/* Which spawn lots go into a batch, and how much of each: a line for each lot, part of a form's
 * round of Enter. Most batches have one. */
#define BED_TYPE_SPAWN_ROWS (bed_spawn_rows_get_type ())
G_DECLARE_FINAL_TYPE (BedSpawnRows, bed_spawn_rows, BED, SPAWN_ROWS, BedPart)

BedSpawnRows *bed_spawn_rows_new (BedFarm *farm, BedForm *form);

/* Begins with what is stored for @batch; 0: one empty line. */
void bed_spawn_rows_load (BedSpawnRows *self, gint64 batch);

/* The lot of the first line, whose form the plan is for; 0 while none is chosen. */
gint64 bed_spawn_rows_get_lot (BedSpawnRows *self);

/* Whether spawn of that form ("sawdust"...) is counted in pieces, not weighed. */
gboolean bed_spawn_is_counted (const char *form);

/* What the plan still needs stands in the first empty amount, until one is typed. */
void bed_spawn_rows_offer (BedSpawnRows *self, const BedBatchTotals *totals);

/* Puts every line with a lot; stored ones that lost theirs are removed. The first empty amount
 * becomes what the plan still needs, once there are logs to plan for. */
void bed_spawn_rows_put (BedSpawnRows *self, BedEdit *edit, gint64 batch,
                         const BedBatchTotals *totals);
