#pragma once

#include <adwaita.h>

G_BEGIN_DECLS

/* What the window says in passing, one thing at a time. */
typedef struct _BedToasts BedToasts;

typedef enum
{
  BED_TOAST_PLAIN,
  BED_TOAST_UNDO, /* with a button for win.undo */
  BED_TOAST_REDO, /* with a button for win.redo */
} BedToastButton;

/* Borrows @overlay, which has to outlive it. */
BedToasts *bed_toasts_new (AdwToastOverlay *overlay);
void bed_toasts_free (BedToasts *self);

/* @text: plain, no markup. */
void bed_toasts_say (BedToasts *self, const char *text, BedToastButton button);

G_END_DECLS
