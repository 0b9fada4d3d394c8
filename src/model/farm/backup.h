#pragma once

#include "model/farm/farm.h"

/* Whole copies of the farm file, made with SQLite's online backup, so that what is copied is
 * one moment of the farm even while another program writes to it.
 *
 * Dated ones lie in a folder named after the file, beside it or in a place chosen for this
 * farm on this machine: "Hill.bedlog" in "Hill backups/Hill 2026-05-18 14-30.bedlog". What
 * they hold tells them apart, never the clock: a copy is newer when the last change in it is.
 *
 * The newest ten are always kept; of the others those of the 7 days before the last change,
 * the newest of each week (Monday to Sunday) for 4 weeks before, the newest of each month for
 * a year before that. Nothing else in the folder is touched, nor a copy that cannot be read,
 * nor one of another line (as after going back to an older copy), nor anything at all while
 * the clock contradicts the farm. */

typedef enum
{
  BED_BACKUP_OPENING, /* when none is of today yet */
  BED_BACKUP_HOUR,    /* when none is of the last hour */
  BED_BACKUP_DIFFERS, /* whenever the farm differs from the newest copy: at closing, when asked */
} BedBackupWhen;

/* What came of it. */
typedef struct
{
  char *path; /* of the copy made; NULL when there was no need */
  char *same; /* where there was none: the copy that holds the same, or NULL */
  char *note; /* that it lies elsewhere than was chosen, and why, in words; or NULL */
} BedBackupMade;

void bed_backup_made_clear (BedBackupMade *made);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BedBackupMade, bed_backup_made_clear)

/* Makes a dated copy when it is due and the farm differs from the newest one, then thins.
 * It is on disk before it bears its name. @made (may be NULL) is filled; clear it. BUSY,
 * READ_ONLY, FULL or FAILED when there was need and it could not be made; then nothing of it
 * is left behind. */
gboolean bed_backup_make (BedFarm *farm, BedBackupWhen when, BedBackupMade *made, GError **error);

/* Copies the farm to @path. EXISTS when there is a file at it already; READ_ONLY,
 * FULL or FAILED when it cannot be written, and then nothing is left there. */
gboolean bed_backup_write (BedFarm *farm, const char *path, GError **error);

/* --- what there is */

typedef struct
{
  char *path;
  char *made;     /* by its name: YYYY-MM-DDTHH:MM, or YYYY-MM-DD; NULL before a new version */
  int version;    /* of its tables */
  gint64 change;  /* the last in it; 0 when it holds none, or cannot be read */
  char *at;       /* of that change, YYYY-MM-DDTHH:MM; NULL without one */
  char *sentence; /* of that change; of the work itself when it took work back */
  gboolean undo;  /* whether it did */
  gint64 pages;
  char *fault; /* why it cannot be read, or NULL */
} BedBackup;

void bed_backup_free (BedBackup *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedBackup, bed_backup_free)

/* The copies of the farm at @path, which need not be there any more: beside it and in the
 * place chosen. Newest first by what they hold, those that cannot be read last; element
 * BedBackup. */
GPtrArray *bed_backup_list (const char *path);

/* How many changes @farm holds beyond @copy; -1 when the copy is of another line. */
gint64 bed_backup_changes_since (BedFarm *farm, const BedBackup *copy);

/* "18/05/26 14:30": when a copy was made, for people; owned by the caller. */
char *bed_backup_dup_words (const BedBackup *copy);

/* What was last done in it, for people; owned by the caller. */
char *bed_backup_dup_last (const BedBackup *copy);

/* Why the file at @path is a copy and no farm to write to, in words: it bears the name of one
 * and lies in a folder for them. NULL when it is none. Its bytes are those of a farm, so that
 * moved elsewhere it is one. */
char *bed_backup_dup_why (const char *path);

/* The farm that a copy at @path is of, which need not be there; NULL when @path is no copy. */
char *bed_backup_dup_farm (const char *path);

/* --- where they lie */

/* The folder chosen for the copies of the farm at @path on this machine, which need not be
 * there; NULL when they lie beside it. */
char *bed_backup_dup_place (const char *path);

/* Chooses @place, an existing folder that can be written to; NULL goes back to beside the
 * farm. Copies made before stay where they are. INVALID or FAILED. */
gboolean bed_backup_set_place (const char *path, const char *place, GError **error);
