#pragma once

#include "model/farm/backup.h"
#include <gtk/gtk.h>

/* Makes the copies of the farm that a window has open: at opening, after every hour with
 * changes, and at closing. Each is made in a thread with a farm of its own, so that nothing
 * waits for it; the program does not end before it is done. */
typedef struct _BedKeeper BedKeeper;

/* Begins with the copy of opening. Borrows @window, which has to outlive it; what goes wrong
 * is said there. */
BedKeeper *bed_keeper_new (GtkWindow *window, BedFarm *farm);

/* Ends with the copy of closing. */
void bed_keeper_free (BedKeeper *self);

/* One of @made and @error; @teller NULL: it has gone meanwhile. Borrowed. */
typedef void (*BedKept) (const BedBackupMade *made, const GError *error, GtkWidget *teller);

/* Makes a copy of the farm at @path when it is due, and calls @kept on the main loop when that is
 * done. @teller is kept weakly. */
void bed_keeper_make (const char *path, BedBackupWhen when, BedKept kept, GtkWidget *teller);
