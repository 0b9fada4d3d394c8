#pragma once

#include "model/farm/backup.h"
#include <sqlite3.h>

/* For the model room only. */

/* backup_name.c: "Hill" of "…/Hill.bedlog"; "…/Hill backups" in @place. */
char *bed_backup_dup_stem (const char *path);
char *bed_backup_dup_folder_in (const char *place, const char *path);

/* Whether @name is that of a copy of the farm "@stem.bedlog"; @made as in BedBackup, owned. */
gboolean bed_backup_read_name (const char *name, const char *stem, char **made);

/* "@folder/@stem @label.bedlog", or with letters behind the label when that is there. Names
 * sort as they were made. */
char *bed_backup_free_name (const char *folder, const char *stem, const char *label);

/* "2026-05-18 14-30" of YYYY-MM-DDTHH:MM. */
char *bed_backup_dup_label (const char *moment);

/* backup_place.c: where the copies of the farm at @path may lie, the one in use first; NULL at
 * the end. @missing gets the chosen place when it is not there. */
char **bed_backup_dup_folders (const char *path, char **missing);

/* backup_copy.c: all pages of @from into @to; @path: for the message. */
gboolean bed_backup_copy_pages (sqlite3 *from, sqlite3 *to, const char *path, GError **error);

/* A file of its own at @path with what @from holds and the permissions of @mode, on disk.
 * What was there is written over. */
gboolean bed_backup_copy_file (sqlite3 *from, const char *path, guint mode, GError **error);

/* FULL or FAILED, by errno: @path cannot be written. FALSE. */
gboolean bed_backup_fail (GError **error, const char *path);

/* One program at a time works on the copies in a folder: a descriptor to close, or -1. */
int bed_backup_lock_folder (const char *folder, GError **error);

/* Behind the name of the farm: the copy that is about to take its place (restore.c). */
#define BED_BACKUP_STAGED ".restoring"

/* Removes what a restoring that was cut off left beside the farm at @path; waits for one that is
 * under way. Not from within one. */
void bed_backup_tidy (const char *path);

/* Permissions of the file, or 0600 when it is not there. */
guint bed_backup_mode_of (const char *path);

/* backup_list.c: those in @folder, as bed_backup_list(). */
GPtrArray *bed_backup_list_in (const char *folder, const char *stem);
/* What a farm file holds, as a copy of it would tell. */
BedBackup *bed_backup_describe (sqlite3 *db);

/* backup_keep.c: which of @copies (BedBackup of one line, newest first) are no longer kept;
 * borrowed. @at: of the farm's last change, @today: by the clock. */
GPtrArray *bed_backup_spare (GPtrArray *copies, const char *at, const char *today);

/* Whether what @copy holds is what the farm once held. */
gboolean bed_backup_is_of_line (sqlite3 *farm, const BedBackup *copy);

/* A copy of the file at @path before its schema is changed, beside the dated ones, named after
 * its schema version and never removed. */
gboolean bed_backup_before_migration (sqlite3 *db, const char *path, int version, GError **error);
