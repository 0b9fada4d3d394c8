#pragma once

#include <glib.h>

/* What became of the farm that was there. */
typedef struct
{
  char *before; /* the copy that holds it; NULL when there was none, or it could not be opened */
  char *aside;  /* the damaged file, kept under this name with what lay beside it; or NULL */
  char *note;   /* as in BedBackupMade */
} BedRestored;

void bed_restored_clear (BedRestored *restored);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (BedRestored, bed_restored_clear)

/* Puts the farm in @copy in the place of the one at @path, which may be damaged or gone. What
 * is there is copied first, or kept aside when it cannot be opened; a journal beside it never
 * meets the new farm. The copy is written beside, checked as at opening, and put on disk
 * before it takes the name: whenever this is cut off, the farm is the old or the new one.
 *
 * Nobody may have the farm in use: BUSY when another program is writing to it. One that only
 * has it open finds its file replaced, and SQLite refuses it to write there.
 *
 * Else CORRUPT or NOT_A_FARM when @copy is no whole farm, INVALID when it is the farm itself,
 * READ_ONLY, FULL or FAILED; then nothing was changed. @restored (may be NULL) is filled;
 * clear it. */
gboolean bed_restore (const char *path, const char *copy, BedRestored *restored, GError **error);
