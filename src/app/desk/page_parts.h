#pragma once

#include "app/widgets/build.h"

/* What most pages are put together from. */

/* @content under a plain heading. */
GtkWidget *bed_section_new (const char *heading, GtkWidget *content);

/* @content in a column for reading, that scrolls. */
GtkWidget *bed_reading_new (GtkWidget *content);
