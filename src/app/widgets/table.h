#pragma once

#include "app/widgets/part.h"
#include "app/widgets/table_cell.h"
#include <gtk/gtk.h>

/* A table over a question: sorts and filters in SQL, Enter or double click opens, Delete removes,
 * headers sort, Tab leaves it. The menu key, Shift+F10 and the right button show what can be done
 * with a row, and sort. Numbers stand right with their unit in the head.
 *
 * Signals; what nobody handles is not offered:
 *   "selected" (gint64 id)   the selection moved; 0 for none
 *   "opened" (gint64 id)     Enter or double click
 *   "change" (gint64 id)     from the menu; Enter or double click where "opened" has no handler
 *   "remove" ()              Delete, or from the menu: those that are selected */
#define BED_TYPE_TABLE (bed_table_get_type ())
G_DECLARE_FINAL_TYPE (BedTable, bed_table, BED, TABLE, BedPart)

typedef enum
{
  BED_TABLE_SELECT_ONE,
  BED_TABLE_SELECT_MANY,
} BedTableSelect;

typedef struct
{
  const char *label;  /* N_(), accessible name: "Batches" */
  const char *source; /* table or view with a column id */
  BedKind kind;       /* of the rows, where columns name its fields */
  const BedTableColumn *columns;
  guint n_columns;
  const char *where;  /* SQL: which of its rows; NULL: all */
  const char *order;  /* at first: "inoculated_on DESC" */
  const char *search; /* SQL text that the filter looks into: "code || ' ' || wood_name" */
  const char *empty;  /* N_(): said where there are no rows; NULL: "Nothing here yet" */
  guint64 kinds;      /* see BedListSpec */
  BedTableSelect select;
} BedTableSpec;

/* @spec is static. */
BedTable *bed_table_new (BedFarm *farm, const BedTableSpec *spec);

/* The same of what belongs to one record: no rows, and no question asked of all of them, until
 * bed_table_set_where() says of which. */
BedTable *bed_table_new_of_one (BedFarm *farm, const BedTableSpec *spec);

/* Further condition, SQL without parameters ("batch = 12"), or NULL; with a text that is ?2 in it
 * ("picked_on = ?2"). */
void bed_table_set_where (BedTable *self, const char *where);
void bed_table_set_where_text (BedTable *self, const char *where, const char *text);

/* Filter as people type it; every word must be found. */
void bed_table_set_filter (BedTable *self, const char *text);

/* The table's name, translated, and its columns, for paper; both borrowed. */
const char *bed_table_get_label (BedTable *self);
const BedTableColumn *bed_table_get_columns (BedTable *self, guint *n);

/* The rows there are now; borrowed, replaced by a new sort, filter or where. */
BedList *bed_table_get_list (BedTable *self);

/* The selected record or 0 (SELECT_MANY: the first). */
gint64 bed_table_get_selected (BedTable *self);

/* Ids of all selected rows (element gint64), in the table's order. */
GArray *bed_table_dup_selected (BedTable *self);

/* Selects the row and scrolls to it; FALSE when it is not among the rows. */
gboolean bed_table_select (BedTable *self, gint64 id);
