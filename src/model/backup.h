#pragma once

#include "model/farm.h"

G_BEGIN_DECLS

/* Whole copies of the farm file, made with SQLite's online backup, so that what is
 * copied is one moment of the farm even while another program reads it.
 *
 * Dated ones lie beside the file in a folder of its name, "Hill.bedlog" in
 * "Hill backups/Hill 2026-05-18.bedlog", at most one a day. Kept are those of the
 * last 7 days, the newest of each week (Monday to Sunday) for 4 weeks before, the newest
 * of each month for a year before that; older ones are removed. Nothing else in the
 * folder is touched. */

/* Copies the farm to @path. EXISTS when there is a file at it already; READ_ONLY,
 * FULL or FAILED when it cannot be written, and then nothing is left there. */
gboolean bed_backup_write (BedFarm *farm, const char *path, GError **error);

/* Today's dated copy, and prunes. Call it before the first change of a day, as after
 * opening a farm to write to. @path (may be NULL) gets where it is, or NULL when there
 * was no need: one of today is there, or nothing has changed since the last. */
gboolean bed_backup_daily (BedFarm *farm, char **path, GError **error);

/* Which of @dates (YYYY-MM-DD, ends with NULL, any order) are kept on the day @today:
 * those it names, newest first, to be freed with g_strfreev(). */
char **bed_backup_keep (const char *const *dates, const char *today);

G_END_DECLS
