#include "app/widgets/first_rows.h"

#define FIRST 32 /* rows of the height of a large monitor */
#define MORE 16  /* in each further frame */
#define MADE 256 /* GTK makes rows for no more */

typedef struct
{
  GtkSliceListModel *rows;
  gboolean painted; /* with the first of them */
} Growth;

static void
free_growth (gpointer data)
{
  g_object_unref (((Growth *) data)->rows);
  g_free (data);
}

void
bed_first_rows_reach (GtkSliceListModel *self, guint at)
{
  g_return_if_fail (GTK_IS_SLICE_LIST_MODEL (self));
  if (at >= gtk_slice_list_model_get_size (self))
    gtk_slice_list_model_set_size (self, at < FIRST ? FIRST : G_MAXUINT);
}

/* Called before each frame: the second time the first is painted. */
static gboolean
more_cb (GtkWidget *view, GdkFrameClock *clock, gpointer data)
{
  Growth *growth = data;
  guint shown = gtk_slice_list_model_get_size (growth->rows);
  guint all = g_list_model_get_n_items (gtk_slice_list_model_get_model (growth->rows));

  if (!gtk_widget_get_mapped (view) || shown == G_MAXUINT)
    return G_SOURCE_REMOVE;
  if (growth->painted)
    gtk_slice_list_model_set_size (growth->rows,
                                   shown < MIN (all, MADE) ? shown + MORE : G_MAXUINT);
  growth->painted = TRUE;
  return G_SOURCE_CONTINUE;
}

static void
see_cb (GtkSliceListModel *self, GtkWidget *view)
{
  if (gtk_slice_list_model_get_size (self) == G_MAXUINT)
    return;
  bed_first_rows_reach (self, 0);
  Growth *growth = g_new0 (Growth, 1);
  growth->rows = g_object_ref (self);
  gtk_widget_add_tick_callback (view, more_cb, growth, free_growth);
}

GtkSliceListModel *
bed_first_rows_new (GListModel *rows, GtkWidget *view)
{
  GtkSliceListModel *self = gtk_slice_list_model_new (rows, 0, 0);

  g_signal_connect_object (view, "map", G_CALLBACK (see_cb), self, G_CONNECT_SWAPPED);
  if (gtk_widget_get_mapped (view))
    see_cb (self, view);
  return self;
}
