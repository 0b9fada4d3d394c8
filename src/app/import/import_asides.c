#include "app/import/import_asides.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/build.h"

struct _BedImportAsides
{
  GtkWidget parent_instance;
  GtkWidget *grid;
  BedImportSheet *sheet;
};

G_DEFINE_FINAL_TYPE (BedImportAsides, bed_import_asides, GTK_TYPE_WIDGET)

static void
take_cb (BedImportAsides *self, GtkWidget *button)
{
  guint line = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (button), "line"));
  g_autoptr (GError) error = NULL;
  BedNotebook *notebook = bed_import_sheet_begin_decision (self->sheet);

  if (!bed_notebook_set_aside (notebook, line, BED_ASIDE_NOT, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  bed_import_sheet_end_decision (self->sheet);
}

static void
add_row (BedImportAsides *self, const BedNotebookAside *aside, int row)
{
  g_autofree char *line = g_strdup_printf (_ ("Line %u"), aside->line);
  g_autofree char *name = g_strdup_printf (_ ("Take line %u"), aside->line);
  GtkWidget *text = bed_line_new (aside->text, NULL);
  GtkWidget *take = bed_button_new (_ ("Take it"), G_CALLBACK (take_cb), self);

  g_object_set_data (G_OBJECT (take), "line", GUINT_TO_POINTER (aside->line));
  bed_named (take, name);
  gtk_widget_set_hexpand (text, TRUE);
  gtk_grid_attach (GTK_GRID (self->grid), bed_label_new (line, "numeric"), 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid),
                   bed_label_new (bed_aside_get_word (aside->why), "dim-label"), 1, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), text, 2, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), take, 3, row, 1, 1);
}

static void
bed_import_asides_dispose (GObject *object)
{
  BedImportAsides *self = BED_IMPORT_ASIDES (object);

  g_clear_pointer (&self->grid, gtk_widget_unparent);
  g_clear_object (&self->sheet);
  G_OBJECT_CLASS (bed_import_asides_parent_class)->dispose (object);
}

static void
bed_import_asides_class_init (BedImportAsidesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_asides_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
bed_import_asides_init (BedImportAsides *self)
{
  self->grid = bed_grid_new (12, 3);
  gtk_widget_set_parent (self->grid, GTK_WIDGET (self));
}

GtkWidget *
bed_import_asides_new (void)
{
  return g_object_new (BED_TYPE_IMPORT_ASIDES, NULL);
}

void
bed_import_asides_show (BedImportAsides *self, BedImportSheet *sheet)
{
  g_return_if_fail (BED_IS_IMPORT_ASIDES (self));
  guint n = 0;
  const BedNotebookAside *asides = NULL;

  g_set_object (&self->sheet, sheet);
  bed_box_clear (self->grid);
  if (sheet)
    asides = bed_notebook_get_aside (bed_import_sheet_get_notebook (sheet), &n);
  for (guint i = 0; i < n; i++)
    add_row (self, &asides[i], i);
}
