#include "app/yard/yard_legend.h"

#include <glib/gi18n.h>

#include "app/desk/style_palette.h"
#include "app/widgets/build.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/say.h"

#define END_SIZE 20
#define COLUMNS 2
#define WIDTH 110  /* px, least, of a column */
#define AT_ONCE 16 /* lines */

/* One line, as it is drawn. */
typedef struct
{
  BedKeyLine *key; /* of the key, which outlives it */
  BedColourBy by;
  BedSystem system;
} Line;

static void
draw_end_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  const Line *line = data;
  BedYardStyle style = { bed_style_palette (), NULL, line->by, 11, line->system, BED_DETAIL_ALL };

  bed_log_end_draw (cr, &line->key->sample, (BedPoint){ width / 2.0, height / 2.0 },
                    MIN (width, height) / 2.0 - 0.5, &style);
}

static GtkWidget *
line_new (BedKeyLine *key, BedColourBy by, BedSystem system)
{
  Line *line = g_new0 (Line, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *end = bed_sketch_new (END_SIZE, END_SIZE, draw_end_cb, line, g_free);
  g_autofree char *number = bed_say ("%u", key->n);
  GtkWidget *count = gtk_label_new (number);

  *line = (Line){ key, by, system };
  gtk_widget_set_valign (end, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (count, "dim-label");
  gtk_widget_add_css_class (count, "numeric");
  gtk_box_append (GTK_BOX (box), end);
  gtk_box_append (GTK_BOX (box), gtk_label_new (key->word));
  gtk_box_append (GTK_BOX (box), count);
  if (by != BED_COLOUR_BY_BATCH || !key->sample.batch)
    return box;
  GtkWidget *button = bed_styled (gtk_button_new (), "flat");
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "yard-batch");
  bed_named (button, key->word);
  gtk_widget_set_tooltip_text (button, _ ("Choose the stacks it lies in"));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "yard.batch");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", key->word);
  return button;
}

/* The lines that are still to be shown: a farm of many batches has more than one may wait for. */
typedef struct
{
  GtkWidget *box; /* borrowed: it takes this along when it goes */
  GPtrArray *key; /* borrowed from the box */
  BedColourBy by;
  BedSystem system;
  guint at;
} Rest;

static gboolean
show_some (gpointer data)
{
  Rest *rest = data;

  for (guint n = 0; n < AT_ONCE && rest->at < rest->key->len; n++, rest->at++)
    gtk_box_append (GTK_BOX (rest->box),
                    line_new (rest->key->pdata[rest->at], rest->by, rest->system));
  if (rest->at < rest->key->len)
    return G_SOURCE_CONTINUE;
  g_object_set_data (G_OBJECT (rest->box), "rest", NULL);
  return G_SOURCE_REMOVE;
}

static void
stop_rest (gpointer source)
{
  g_source_destroy (source);
  g_source_unref (source);
}

/* What one sees first is there at once. */
static void
show_lines (const Rest *all)
{
  Rest *rest = g_memdup2 (all, sizeof *all);
  GSource *source = g_idle_source_new ();
  GObject *box = G_OBJECT (rest->box);

  g_source_set_callback (source, show_some, rest, g_free);
  g_object_set_data_full (box, "rest", source, stop_rest);
  if (show_some (rest))
    show_some (rest);
  if (g_object_get_data (box, "rest"))
    g_source_attach (source, NULL);
}

GtkWidget *
bed_yard_legend_new (const BedYard *yard, BedColourBy by, BedSystem system)
{
  GtkWidget *box = bed_columns_new (WIDTH, COLUMNS);
  Rest rest = { box, bed_yard_key_new (yard, by, system), by, system, 0 };

  /* The drawings borrow their line; the box holds on to them until after its children. */
  g_object_set_data_full (G_OBJECT (box), "key", rest.key, (GDestroyNotify) g_ptr_array_unref);
  show_lines (&rest);
  return box;
}
