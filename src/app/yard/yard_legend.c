#include "app/yard/yard_legend.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/widgets/build.h"

#define END_SIZE 20
#define COLUMNS 2
#define AT_ONCE 16 /* lines */

/* One line: what is alike, how often. */
typedef struct
{
  BedYardLog sample; /* its texts are not its own */
  BedColourBy colour_by;
  char *word;
  guint n;
} Line;

static void
line_free (gpointer data)
{
  g_free (((Line *) data)->word);
  g_free (data);
}

static void
draw_end_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Line *line = data;
  gboolean dark = adw_style_manager_get_dark (adw_style_manager_get_default ());
  BedYardStyle style = { bed_palette_get (dark ? BED_PALETTE_DARK : BED_PALETTE_LIGHT), NULL,
                         line->colour_by, 11 };

  bed_log_end_draw (cr, &line->sample, (BedPoint){ width / 2.0, height / 2.0 },
                    MIN (width, height) / 2.0 - 0.5, &style);
}

static void
count_log (GPtrArray *lines, GHashTable *by_word, const BedYardLog *log, BedColourBy colour_by)
{
  const char *word = colour_by == BED_COLOUR_BY_STAGE ? bed_stage_get_word (log->stage)
                     : log->batch                     ? log->batch
                                                      : _ ("no batch");
  Line *known = g_hash_table_lookup (by_word, word);

  if (known)
    {
      known->n++;
      return;
    }
  Line *line = g_new0 (Line, 1);
  line->sample = (BedYardLog){ .mark = log->mark,
                               .stage = log->stage,
                               .colonised = -1,
                               .retired = colour_by == BED_COLOUR_BY_STAGE && log->retired };
  line->colour_by = colour_by;
  line->word = g_strdup (word);
  line->n = 1;
  g_hash_table_insert (by_word, line->word, line);
  g_ptr_array_add (lines, line);
}

static GtkWidget *
line_new (Line *line)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *end = gtk_drawing_area_new ();
  g_autofree char *number = g_strdup_printf ("%u", line->n);
  GtkWidget *count = gtk_label_new (number);

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (end), END_SIZE);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (end), END_SIZE);
  gtk_widget_set_valign (end, GTK_ALIGN_CENTER);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (end), draw_end_cb, line, line_free);
  gtk_widget_add_css_class (count, "dim-label");
  gtk_widget_add_css_class (count, "numeric");
  gtk_box_append (GTK_BOX (box), end);
  gtk_box_append (GTK_BOX (box), gtk_label_new (line->word));
  gtk_box_append (GTK_BOX (box), count);
  if (line->colour_by != BED_COLOUR_BY_BATCH || line->sample.mark < 0)
    return box;
  GtkWidget *button = bed_styled (gtk_button_new (), "flat");
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "yard-batch");
  bed_named (button, line->word);
  gtk_widget_set_tooltip_text (button, _ ("Choose the stacks it lies in"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "yard.batch");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", line->word);
  return button;
}

/* The lines that are still to be shown: a farm of many batches has more than one may wait for. */
typedef struct
{
  GtkWidget *grid;  /* borrowed: it takes this along when it goes */
  GPtrArray *lines; /* Line; each is handed to its drawing */
  guint at;
} Rest;

static void
rest_free (gpointer data)
{
  Rest *rest = data;

  for (; rest->at < rest->lines->len; rest->at++)
    line_free (rest->lines->pdata[rest->at]);
  g_ptr_array_unref (rest->lines);
  g_free (rest);
}

static gboolean
show_some (gpointer data)
{
  Rest *rest = data;

  for (guint n = 0; n < AT_ONCE && rest->at < rest->lines->len; n++, rest->at++)
    gtk_grid_attach (GTK_GRID (rest->grid), line_new (rest->lines->pdata[rest->at]),
                     (int) (rest->at % COLUMNS), (int) (rest->at / COLUMNS), 1, 1);
  if (rest->at < rest->lines->len)
    return G_SOURCE_CONTINUE;
  g_object_set_data (G_OBJECT (rest->grid), "rest", NULL);
  return G_SOURCE_REMOVE;
}

static void
stop_rest (gpointer source)
{
  g_source_destroy (source);
  g_source_unref (source);
}

/* Takes @lines; what one sees first is there at once. */
static void
show_lines (GtkWidget *grid, GPtrArray *lines)
{
  Rest *rest = g_new0 (Rest, 1);
  GSource *source = g_idle_source_new ();

  rest->grid = grid;
  rest->lines = lines;
  g_source_set_callback (source, show_some, rest, rest_free);
  g_object_set_data_full (G_OBJECT (grid), "rest", source, stop_rest);
  if (show_some (rest))
    show_some (rest);
  if (g_object_get_data (G_OBJECT (grid), "rest"))
    g_source_attach (source, NULL);
}

GtkWidget *
bed_yard_legend_new (const BedYard *yard, BedColourBy colour_by)
{
  g_autoptr (GHashTable) by_word = g_hash_table_new (g_str_hash, g_str_equal);
  GPtrArray *lines = g_ptr_array_new ();
  GtkWidget *grid = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 6);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  for (guint i = 0; i < yard->stacks->len; i++)
    {
      const BedYardStack *stack = yard->stacks->pdata[i];
      for (guint j = 0; j < stack->logs->len; j++)
        count_log (lines, by_word, stack->logs->pdata[j], colour_by);
    }
  show_lines (grid, lines);
  return grid;
}
