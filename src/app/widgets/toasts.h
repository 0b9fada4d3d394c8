#pragma once

#include <adwaita.h>

/* What a window says in passing, one thing at a time, in a strip for which it keeps a place: it
 * lies over nothing, and nothing moves when it comes and goes. */
typedef struct _BedToasts BedToasts;

typedef enum
{
  BED_TOAST_PLAIN,
  BED_TOAST_UNDO, /* with a button that takes the change back, by win.undo-change */
  BED_TOAST_REDO, /* and forward again, by win.redo-change */
  BED_TOAST_OPEN, /* that opens what was written, by win.open-written */
} BedToastButton;

BedToasts *bed_toasts_new (void);
void bed_toasts_free (BedToasts *self);

/* The strip, from where it stood before, into @place; its button under or beside what it says. */
void bed_toasts_stand_in (BedToasts *self, AdwBin *place, GtkOrientation orientation);

/* @text: plain, no markup. @change: what the button is for, 0 when there is none. */
void bed_toasts_say (BedToasts *self, const char *text, BedToastButton button, gint64 change);

/* @text, with a button that opens the file at @path in the program that the desktop has for it. */
void bed_toasts_say_written (BedToasts *self, const char *text, const char *path);

/* @undo and @redo are what could be undone and redone now: a button for anything else goes. */
void bed_toasts_keep (BedToasts *self, gint64 undo, gint64 redo);
