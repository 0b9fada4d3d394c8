#pragma once

#include "app/widgets/table_cell.h"

/* What the menu of a table offers to do with a row. */
typedef struct
{
  gboolean open;
  gboolean change;
  gboolean remove;
} BedTableDeeds;

/* That menu, with sorting by each column either way: the actions table.open, table.change,
 * table.remove and table.sort (i), the column from 1, less than nought for the last first;
 * (transfer full). */
GMenu *bed_table_menu_new (const BedTableDeeds *deeds, const BedTableColumn *columns,
                           guint n_columns);
