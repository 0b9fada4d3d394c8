#pragma once

#include <gio/gio.h>

/* What is asked of bed_workbook_write(). */

/* @fraction is 0 to 1, @doing the sheet being written (borrowed, translated). */
typedef void (*BedWorkbookProgress) (double fraction, const char *doing, gpointer user_data);

/* Maps of the yard, asked for when their sheet is written: GBytes, PNG, 150 dpi, borrowed;
 * or NULL and an error. */
typedef GPtrArray *(*BedWorkbookMaps) (gpointer user_data, GError **error);

/* Whether long lists are printed, too: what each pick was and each log gave is for the screen. */
typedef enum
{
  BED_WORKBOOK_LISTS_SHOWN,
  BED_WORKBOOK_LISTS_PRINTED,
} BedWorkbookLists;

typedef struct
{
  int season;       /* the year it began, as the SQL function bed_season() counts */
  const char *path; /* the .xlsx to write; replaced whole, or left as it was */
  BedWorkbookLists lists;
  BedWorkbookMaps yard_maps; /* for the organic file; may be NULL */
  gpointer yard_maps_data;
  BedWorkbookProgress progress; /* may be NULL */
  gpointer progress_data;
  GCancellable *cancellable; /* may be NULL */
} BedWorkbookPlan;
