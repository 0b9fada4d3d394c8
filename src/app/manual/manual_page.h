#pragma once

#include <gtk/gtk.h>

/* A page of the manual as it is read: @text as docs/manual has it. A link that is pressed calls
 * @go (target, @user_data), its picture files are those of the program. */
typedef void (*BedManualGo) (const char *target, gpointer user_data);

GtkWidget *bed_manual_page_new (const char *text, BedManualGo go, gpointer user_data);
