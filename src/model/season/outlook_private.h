#pragma once

#include "model/season/season_logs_private.h"
#include "science/statistics.h"

/* The parts of bed_outlook_read(), a file each; their tables are made and empty, and the picks
 * of @all walked (picked_private.h). */
gboolean bed_outlook_read_coming (const BedSeasonLogs *all, GError **error);
gboolean bed_outlook_read_costs (const BedSeasonLogs *all, GError **error);
gboolean bed_outlook_read_weeks (const BedSeasonLogs *all, GError **error);

/* Rows for one of the tables: bind the parameters of @insert, add, and so on to the end.
 * An interval takes two parameters, NULL where it is not known. */
typedef struct
{
  BedFarm *farm;
  sqlite3_stmt *stmt;
  gboolean well;
} BedOutlookTable;

BedOutlookTable bed_outlook_table (BedFarm *farm, const char *insert);
void bed_outlook_bind_interval (BedOutlookTable *table, int parameter, const BedInterval *interval,
                                double factor);
void bed_outlook_add (BedOutlookTable *table);
gboolean bed_outlook_end (BedOutlookTable *table, GError **error);
