#pragma once

#include "app/widgets/toasts.h"
#include "model/farm/edit.h"

/* The undo and redo of a window: its two buttons, its two keys and the buttons of its toasts.
 * Each does exactly what it names: a button whose change is no longer the newest is gone, and one
 * pressed before that was seen is refused in words. */
typedef struct _BedUndo BedUndo;

/* Borrows all; @window has the actions win.undo and win.redo. */
BedUndo *bed_undo_new (GtkWindow *window, GtkWidget *undo_button, GtkWidget *redo_button,
                       BedToasts *toasts);
void bed_undo_free (BedUndo *self);

/* Reads what can be undone and redone now. @farm: NULL when there is none. */
void bed_undo_show (BedUndo *self, BedFarm *farm);

/* @change: 0 for what the button names now. */
void bed_undo_undo (BedUndo *self, gint64 change);
void bed_undo_redo (BedUndo *self, gint64 change);

/* Commits, waiting for another program over the window @over, and says @sentence with Undo of that
 * very change, or that nothing was changed. FALSE and nothing said when refused. */
gboolean bed_undo_commit (BedUndo *self, GtkWindow *over, BedEdit *edit, const char *sentence,
                          GError **error);

/* Says the newest change, with Undo. */
void bed_undo_say_newest (BedUndo *self);
