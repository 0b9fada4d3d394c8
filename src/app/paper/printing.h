#pragma once

#include "print/page/document.h"
#include <gtk/gtk.h>

/* Paper from the desk. Both take the document over, and say in a toast when it
 * cannot be drawn. */
void bed_print_document (GtkWidget *inside, BedDocument *document);

/* Asks where; @name: suggested, without ".pdf". @created (YYYY-MM-DDTHH:MM) is written into the
 * file: at the same moment the tool makes the same bytes. */
void bed_save_document (GtkWidget *inside, BedDocument *document, const char *name,
                        const char *created);

/* Likewise the only page as a .png or .svg; of more than one it says so. */
void bed_save_picture (GtkWidget *inside, BedDocument *document, const char *name);
