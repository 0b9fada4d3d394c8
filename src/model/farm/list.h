#pragma once

#include "model/farm/farm.h"
#include <gio/gio.h>

/* A GListModel over a question. It holds ids only and fetches a row when it is
 * asked for, so 200,000 rows open as fast as 20. It follows the farm: on
 * "changed" rows that stayed are told (BedRow emits "changed"), and only the
 * differing middle is spliced. A new sort or filter is a new BedList.
 *
 * Signal "trouble" (): bed_list_get_trouble() answers otherwise than before. */
#define BED_TYPE_ROW (bed_row_get_type ())
G_DECLARE_FINAL_TYPE (BedRow, bed_row, BED, ROW, GObject)

#define BED_TYPE_LIST (bed_list_get_type ())
G_DECLARE_FINAL_TYPE (BedList, bed_list, BED, LIST, GObject)

/* @source: a table or view with a column id; @where (may be NULL) and @order are
 * SQL over its columns, @argument and @second (may be NULL) are ?1 and ?2
 * in @where. @kinds: which kinds of record it depends on (BED_KIND_BIT), 0 for all. */
typedef struct
{
  const char *source;
  const char *where;
  const char *argument;
  const char *order;
  guint64 kinds;
  const char *second;
} BedListSpec;

/* Keeps a reference to @farm and copies @spec; owned by the caller. */
BedList *bed_list_new (BedFarm *farm, const BedListSpec *spec);

/* What rows are shown with beside their own columns is there now: "changed" of all that somebody
 * shows. */
void bed_list_show_again (BedList *self);

/* Place of the row with that id, or -1; the id of the row at a place there is. */
int bed_list_find (BedList *self, gint64 id);
gint64 bed_list_get_id (BedList *self, guint position);

/* Why the rows or some of them could not be read when they were last asked for, or NULL: what was
 * there stays. Not that another program holds the farm, which the farm tells. Borrowed. */
const GError *bed_list_get_trouble (BedList *self);

/* Columns by name; unset reads as NULL, 0. Texts are borrowed until the row changes. */
gboolean bed_row_has (BedRow *self, const char *column);
const char *bed_row_text (BedRow *self, const char *column);
gint64 bed_row_int (BedRow *self, const char *column);
