#include "report/book_chart.h"

#include <glib/gi18n-lib.h>

/* M. Okabe, K. Ito, Color Universal Design, 2008: bluish green, blue. */
#define GREEN 0x009E73
#define BLUE 0x0072B2
#define PALE 0xCFC4B2
#define INK 0x2E2A25
#define RULE 0xD9D2C5

/* Helpers */

static lxw_chart_series *
add_series (BedBook *book, lxw_chart *chart, const char *labels, const char *values)
{
  const char *categories = g_hash_table_lookup (book->ranges, labels);
  const char *range = g_hash_table_lookup (book->ranges, values);

  g_assert (categories && range);
  return chart_add_series (chart, categories, range);
}

/* A line chart whose lines are hidden and whose highest and lowest points are
 * joined. Not every program draws the join, so the ends have marks of their own. */
static void
add_whiskers (BedBook *book, lxw_chart *chart, const BedBookChart *spec)
{
  lxw_chart_line none = { .none = LXW_TRUE };
  lxw_chart_line whisker = { .color = BLUE, .width = 1.25 };
  lxw_chart_fill fill = { .color = BLUE };
  lxw_chart_fill end = { .color = PALE };
  const char *names[] = { spec->low, spec->values, spec->high };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      lxw_chart_series *series = add_series (book, chart, spec->labels, names[i]);

      chart_series_set_line (series, &none);
      /* Not a dash: libxlsxwriter 1.1.4 names those as the standard does not. */
      chart_series_set_marker_type (series,
                                    i == 1 ? LXW_CHART_MARKER_CIRCLE : LXW_CHART_MARKER_DIAMOND);
      chart_series_set_marker_size (series, i == 1 ? 8 : 5);
      chart_series_set_marker_fill (series, i == 1 ? &fill : &end);
      chart_series_set_marker_line (series, &whisker);
    }
  chart_set_high_low_lines (chart, &whisker);
}

/* What was expected stands pale behind what came. */
static void
add_bars (BedBook *book, lxw_chart *chart, const BedBookChart *spec)
{
  lxw_chart_fill pale = { .color = PALE };
  lxw_chart_fill fill = { .color = GREEN };
  lxw_chart_series *series;

  if (spec->expected)
    {
      series = add_series (book, chart, spec->labels, spec->expected);
      chart_series_set_fill (series, &pale);
      chart_series_set_name (series, _ ("expected"));
      chart_set_series_overlap (chart, 60);
    }
  series = add_series (book, chart, spec->labels, spec->values);
  chart_series_set_fill (series, &fill);
  chart_series_set_name (series, _ ("picked"));
  chart_set_series_gap (chart, 40);
}

static void
set_axes (BedBook *book, lxw_chart *chart, const BedBookChart *spec)
{
  lxw_chart_font font = { .size = 9, .color = INK };
  /* 360 is libxlsxwriter's way to say upright: the names of kinds wrap where they would be set
   * aslant. Codes would be broken by the letter instead. */
  lxw_chart_font names = { .size = 9, .color = INK, .rotation = spec->low ? 360 : 0 };
  lxw_chart_font unit = { .size = 9, .color = INK, .bold = LXW_EXPLICIT_FALSE };
  lxw_chart_line grid = { .color = RULE, .width = 0.5 };

  chart_axis_set_num_font (chart->x_axis, &names);
  chart_axis_set_num_font (chart->y_axis, &font);
  if (spec->every)
    {
      chart_axis_set_interval_unit (chart->x_axis, spec->every);
      chart_axis_set_interval_tick (chart->x_axis, spec->every);
    }
  chart_axis_set_name (chart->y_axis, book->units[spec->cell]);
  chart_axis_set_name_font (chart->y_axis, &unit);
  chart_axis_major_gridlines_set_visible (chart->y_axis, LXW_TRUE);
  chart_axis_major_gridlines_set_line (chart->y_axis, &grid);
  chart_axis_set_min (chart->y_axis, 0);
  if (spec->cell == BED_BOOK_CELL_PERCENT)
    {
      chart_axis_set_max (chart->y_axis, 1);
      chart_axis_set_num_format (chart->y_axis, "0%");
    }
  else
    chart_axis_set_num_format (chart->y_axis, "General");
}

/* Public */

void
bed_book_chart_draw (BedBook *book, lxw_worksheet *worksheet, const BedBookChart *spec)
{
  lxw_chart *chart
      = workbook_add_chart (book->workbook, spec->low ? LXW_CHART_LINE : LXW_CHART_COLUMN);
  lxw_chart_font title = { .size = 11, .color = INK, .bold = LXW_TRUE };
  lxw_chart_options place = { .x_offset = 16, .description = (char *) _ (spec->title) };

  if (spec->low)
    add_whiskers (book, chart, spec);
  else
    add_bars (book, chart, spec);
  set_axes (book, chart, spec);
  chart_title_set_name (chart, _ (spec->title));
  chart_title_set_name_font (chart, &title);
  if (spec->expected)
    chart_legend_set_position (chart, LXW_CHART_LEGEND_TOP);
  else
    chart_legend_set_position (chart, LXW_CHART_LEGEND_NONE);
  place.x_scale = spec->width / 480.0; /* libxlsxwriter's own size is 480 by 288 */
  place.y_scale = spec->height / 288.0;
  bed_book_check (book,
                  worksheet_insert_chart_opt (worksheet, spec->row, spec->column, chart, &place));
}
