#include "app/batches/batch_cells.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/batch_mark.h"
#include "app/desk/style_palette.h"
#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"
#include "model/farm/stage.h"
#include "model/season/batch_glance.h"
#include "model/season/figures.h"
#include "print/yard/yard_palette.h"

#define DAYS_LEAST 1826 /* of the scale of lives: five years, which most logs last */
#define WIDTH 44        /* px, least */
#define HEIGHT 14
#define END 4 /* px, of the stage now */
#define ROW "bed-batch-row"

/* What a cell draws; it is used again for other rows. */
typedef struct
{
  BedFarm *farm;
  gint64 batch;
  BedStage stage;
} Cell;

static void
free_cell (gpointer data)
{
  g_object_unref (((Cell *) data)->farm);
  g_free (data);
}

/* NULL for a batch that is not inoculated yet, and for what the page has not read yet or could
 * not, which it says. */
static const BedBatchGlance *
find (const Cell *cell, const BedBatchGlances **all)
{
  *all = bed_batch_glances_peek (cell->farm);
  return *all ? g_hash_table_lookup ((*all)->batches, &cell->batch) : NULL;
}

static GtkWidget *
new_cell (BedFarm *farm, GtkDrawingAreaDrawFunc draw)
{
  GtkWidget *area
      = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  Cell *cell = g_new0 (Cell, 1);

  cell->farm = g_object_ref (farm);
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), WIDTH);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw, cell, free_cell);
  g_object_set_data (G_OBJECT (area), ROW, cell);
  gtk_widget_set_valign (area, GTK_ALIGN_CENTER);
  bed_ink_follow (area);
  return area;
}

static Cell *
begin (GtkWidget *area, BedRow *row)
{
  Cell *cell = g_object_get_data (G_OBJECT (area), ROW);

  cell->batch = bed_row_int (row, "id");
  cell->stage = bed_stage_from_key (bed_row_text (row, "stage"));
  gtk_widget_queue_draw (area);
  return cell;
}

/* --- the mark ------------------------------------------------------------------ */

GtkWidget *
bed_batch_cell_mark_new (BedFarm *farm)
{
  return bed_batch_mark_new (farm);
}

void
bed_batch_cell_mark_show (GtkWidget *cell, BedRow *row)
{
  bed_batch_mark_show (BED_BATCH_MARK (cell), bed_row_int (row, "id"), bed_row_text (row, "code"));
}

/* --- the life ------------------------------------------------------------------ */

static void
fill (cairo_t *cr, const GdkRGBA *colour, double x, double y, double width, double height)
{
  gdk_cairo_set_source_rgba (cr, colour);
  cairo_rectangle (cr, x, y, width, height);
  cairo_fill (cr);
}

/* As high as the share of its logs that live: from one loss to the next. */
static void
draw_lived (cairo_t *cr, const BedBatchGlance *glance, double a_day, int height)
{
  const BedInk *ink = bed_ink_get ();
  int run = glance->first_day < 0 ? glance->age : MIN (glance->first_day, glance->age);
  double alive = 1;
  int from = 0;

  for (guint i = 0; i <= glance->losses->len; i++)
    {
      const BedBatchLoss *loss
          = i < glance->losses->len ? &g_array_index (glance->losses, BedBatchLoss, i) : NULL;
      int until = loss ? MIN (loss->day, glance->age) : glance->age;
      double top = height * (1 - alive);
      if (from < run)
        fill (cr, &ink->wood, from * a_day, top, (MIN (until, run) - from) * a_day, height - top);
      if (until > run)
        fill (cr, &ink->bark, MAX (from, run) * a_day, top, (until - MAX (from, run)) * a_day,
              height - top);
      from = until;
      alive = loss ? loss->alive : alive;
    }
}

static void
draw_life_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Cell *cell = data;
  const BedBatchGlances *all;
  const BedBatchGlance *glance = find (cell, &all);
  BedLogLook look = bed_stage_look (cell->stage, bed_style_palette ());

  if (!glance)
    return;
  double a_day = (width - END) / (double) MAX (all->oldest, DAYS_LEAST);
  bed_plot_turn_cairo (GTK_WIDGET (area), cr);
  fill (cr, &bed_ink_get ()->line, 0, height - 1, width, 1);
  draw_lived (cr, glance, a_day, height);
  cairo_rectangle (cr, glance->age * a_day, 0, END, height);
  bed_colour_fill (cr, &look.colour, 1);
}

GtkWidget *
bed_batch_cell_life_new (BedFarm *farm)
{
  return new_cell (farm, draw_life_cb);
}

/* "fruiting, day 474; 27 of 30 logs alive" */
void
bed_batch_cell_life_show (GtkWidget *area, BedRow *row)
{
  const Cell *cell = begin (area, row);
  gint64 logs = bed_row_int (row, "logs");
  g_autofree char *words = bed_say (
      ngettext ("%s, day %d; %d of %d log alive", "%s, day %d; %d of %d logs alive", (gulong) logs),
      bed_stage_get_word (cell->stage), (int) bed_row_int (row, "age_days"),
      (int) bed_row_int (row, "logs_alive"), (int) logs);

  bed_named (area, words);
  gtk_widget_set_tooltip_text (area, words);
}

/* --- the weeks ----------------------------------------------------------------- */

static void
draw_weeks_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const BedInk *ink = bed_ink_get ();
  const BedBatchGlances *all;
  const BedBatchGlance *glance = find (data, &all);

  if (!glance)
    return;
  int n = (int) G_N_ELEMENTS (glance->weeks);
  double pitch = width / (double) n;
  bed_plot_turn_cairo (GTK_WIDGET (area), cr);
  fill (cr, &ink->line, 0, height - 1, width, 1);
  for (int i = 0; i < n && all->most > 0; i++)
    {
      double tall = glance->weeks[i] > 0 ? MAX (round (height * glance->weeks[i] / all->most), 1)
                                         : 0;
      fill (cr, &ink->bark, floor (i * pitch), height - tall, MAX (floor (pitch), 1), tall);
    }
}

GtkWidget *
bed_batch_cell_weeks_new (BedFarm *farm)
{
  return new_cell (farm, draw_weeks_cb);
}

/* "18.4 lb picked in a year, 5.2 lb of it in the best week" */
void
bed_batch_cell_weeks_show (GtkWidget *area, BedRow *row)
{
  const Cell *cell = begin (area, row);
  const BedBatchGlances *all;
  const BedBatchGlance *glance = find (cell, &all);
  double sum = 0, best = 0;

  if (!all)
    return;
  for (guint i = 0; glance && i < G_N_ELEMENTS (glance->weeks); i++)
    {
      sum += glance->weeks[i];
      best = MAX (best, glance->weeks[i]);
    }
  g_autofree char *unit = bed_figure_dup_unit (cell->farm, BED_FIGURE_PICKED);
  g_autofree char *year = bed_figure_dup_text (cell->farm, BED_FIGURE_PICKED, sum);
  g_autofree char *week = bed_figure_dup_text (cell->farm, BED_FIGURE_PICKED, best);
  g_autofree char *words
      = sum > 0 ? g_strdup_printf (_ ("%s %s picked in a year, %s %s of it in the best week"), year,
                                   unit, week, unit)
                : g_strdup (_ ("nothing picked in a year"));
  bed_named (area, words);
  gtk_widget_set_tooltip_text (area, words);
}
