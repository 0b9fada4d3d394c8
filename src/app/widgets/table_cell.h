#pragma once

#include "app/widgets/table.h"
#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The cells of a table's columns. */
GtkListItemFactory *bed_table_cell_factory_new (BedFarm *farm, const BedTableColumn *column);

/* "Length (cm)". */
char *bed_table_cell_dup_title (BedFarm *farm, const BedTableColumn *column);

/* Stands right, in tabular figures. */
gboolean bed_table_cell_is_number (const BedTableColumn *column);

/* Takes what room is left over. */
gboolean bed_table_cell_is_wide (const BedTableColumn *column);

/* What a cell shows; owned by the caller. */
char *bed_table_cell_dup_text (BedFarm *farm, const BedTableColumn *column, BedRow *row);

G_END_DECLS
