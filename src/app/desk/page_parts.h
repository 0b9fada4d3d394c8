#pragma once

#include "app/widgets/build.h"

/* What most pages are put together from. */

/* @content under a plain heading. */
GtkWidget *bed_section_new (const char *heading, GtkWidget *content);

/* @content in a column for reading, that scrolls. @name is what a screen reader says. */
GtkWidget *bed_reading_new (const char *name, GtkWidget *content);
