#include "report/book_sheet.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Each map has a page to itself, and lies in one column with nothing else: where it ends is said
 * as a distance from the edges of its cells, so that no program that has other widths for its
 * columns stretches it, and its bars measure it. Breaks are kept only where the sheet is not fitted
 * to pages. */
#define COLUMN_WIDTH 130 /* characters, 915 pixels: a page of either paper, lying, has 960 */
#define MAP_WIDTH 890.0  /* pixels at 96 to the inch */
#define MAP_HEIGHT 530.0
#define ROW_PIXELS 21
#define MOST_MAPS 60

/* Big-endian, at bytes 16 and 20 of every PNG. */
static guint
get_size (const guint8 *png, gsize size, gsize at)
{
  return size < 24 ? 1 : (guint) png[at] << 24 | png[at + 1] << 16 | png[at + 2] << 8 | png[at + 3];
}

static lxw_row_t
draw_map (BedBook *book, lxw_worksheet *worksheet, lxw_row_t row, GBytes *map)
{
  gsize size;
  const guint8 *png = g_bytes_get_data (map, &size);
  guint height = get_size (png, size, 20);
  double scale = MIN (MAP_WIDTH / get_size (png, size, 16), MAP_HEIGHT / height);
  lxw_image_options options = { .x_offset = 8,
                                .x_scale = scale,
                                .y_scale = scale,
                                .description = (char *) _ ("Map of the yard with its boundaries") };

  bed_book_check (book, worksheet_insert_image_buffer_opt (worksheet, row, 0, png, size, &options));
  return row + ceil (height * scale / ROW_PIXELS) + 1;
}

static void
draw (BedBook *book, lxw_worksheet *worksheet, lxw_row_t row)
{
  const BedWorkbookPlan *plan = book->plan;
  GPtrArray *maps = plan->yard_maps ? plan->yard_maps (plan->yard_maps_data, &book->error) : NULL;
  guint n = maps ? MIN (maps->len, MOST_MAPS) : 0;
  lxw_row_t breaks[MOST_MAPS] = { 0 };

  worksheet_set_print_scale (worksheet, 100);
  worksheet_set_landscape (worksheet);
  bed_book_check (book, worksheet_set_column (worksheet, 0, 0, COLUMN_WIDTH, NULL));
  for (guint i = 0; i < n; i++)
    {
      if (i > 0)
        breaks[i - 1] = row;
      row = draw_map (book, worksheet, row, maps->pdata[i]);
    }
  if (n > 1)
    bed_book_check (book, worksheet_set_h_pagebreaks (worksheet, breaks));
  bed_book_check (book, worksheet_print_area (worksheet, 0, 0, MAX (row, 1) - 1, 0));
}

static const char *const notes[] = {
  N_ ("Measure with the two bars of each map: they were drawn with it, and hold in any print."),
  NULL,
};

static const BedBlock blocks[] = { { .notes = notes } };

const BedBookSheet bed_sheet_maps = {
  .name = N_ ("Maps"),
  .question = N_ ("Every area of the yard to scale, at the end of the season or today."),
  BED_BLOCKS (blocks),
  .draw = draw,
};
