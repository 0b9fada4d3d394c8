#pragma once

#include "app/desk/page.h"
#include "app/window/actions.h"

/* The page of keys, made from the table of actions and the keys of @page (may be NULL). */
void bed_shortcuts_show (GtkWidget *inside, const BedAction *actions, guint n, BedPage *page);
