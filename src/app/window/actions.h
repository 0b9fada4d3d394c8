#pragma once

#include <gtk/gtk.h>

/* One thing the window does: the action, its key, and its line on the shortcuts
 * page come from the same row. */
typedef struct
{
  const char *name;        /* "win.undo" */
  const char *accelerator; /* "<Control>z", or NULL */
  const char *title;       /* N_() */
  const char *target;      /* of the action, type s; NULL for none */
} BedAction;
