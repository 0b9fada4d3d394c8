#include "app/import/import_kind.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/import/import_asides.h"
#include "app/import/import_words.h"
#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "model/farm/kinds.h"

struct _BedImportKind
{
  GtkWidget parent_instance;
  GtkWidget *box;
  GtkWidget *kind; /* drop-down */
  GtkWidget *said;
  GtkWidget *why;
  GtkWidget *look; /* toggle */
  GtkWidget *asides;
  BedImportSheet *sheet;
  GArray *kinds; /* BedKind, as in the drop-down */
  gboolean showing;
};

G_DEFINE_FINAL_TYPE (BedImportKind, bed_import_kind, GTK_TYPE_WIDGET)

static void
kind_chosen_cb (BedImportKind *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind));
  g_autoptr (GError) error = NULL;

  if (self->showing || at >= self->kinds->len)
    return;
  BedKind kind = g_array_index (self->kinds, BedKind, at);
  if (!bed_notebook_set_kind (bed_import_sheet_begin_decision (self->sheet), kind, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
  bed_import_sheet_end_decision (self->sheet);
}

static void
look_cb (BedImportKind *self)
{
  gtk_widget_set_visible (self->asides,
                          gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->look)));
}

/* The order of likelihood is that of the first look: what is chosen does not move the others. */
static gboolean
has_kinds (BedImportKind *self, const BedKind *kinds, guint n)
{
  if (self->kinds->len != n)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      guint at = 0;

      while (at < n && g_array_index (self->kinds, BedKind, at) != kinds[i])
        at++;
      if (at == n)
        return FALSE;
    }
  return TRUE;
}

static void
fill_kinds (BedImportKind *self, const BedKind *kinds, guint n)
{
  g_autoptr (GtkStringList) words = gtk_string_list_new (NULL);

  g_array_set_size (self->kinds, 0);
  g_array_append_vals (self->kinds, kinds, n);
  for (guint i = 0; i < n; i++)
    gtk_string_list_append (words, _ (bed_kind_get_info (kinds[i])->plural));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->kind), G_LIST_MODEL (words));
}

static char *
dup_why (BedImportKind *self, BedNotebook *notebook)
{
  if (bed_import_sheet_is_matched (self->sheet))
    return g_strdup (_ ("Decided as for the last sheet with these columns. Back asks you again."));
  return g_strdup (bed_notebook_get_kind_why (notebook));
}

static void
show_kind (BedImportKind *self, BedNotebook *notebook)
{
  g_autofree char *why = dup_why (self, notebook);
  guint n, selected = GTK_INVALID_LIST_POSITION;
  const BedKind *kinds = bed_notebook_get_kinds (notebook, &n);

  if (!has_kinds (self, kinds, n))
    fill_kinds (self, kinds, n);
  for (guint i = 0; i < n; i++)
    if (g_array_index (self->kinds, BedKind, i) == bed_notebook_get_kind (notebook, NULL))
      selected = i;
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind), selected);
  gtk_label_set_label (GTK_LABEL (self->why), why);
}

static void
show_asides (BedImportKind *self, BedNotebook *notebook)
{
  guint n;
  g_autofree char *aside = bed_import_dup_aside (notebook);

  gtk_label_set_label (GTK_LABEL (self->said), aside ? aside : _ ("None set aside"));
  bed_notebook_get_aside (notebook, &n);
  gtk_widget_set_visible (self->look, n > 0);
  bed_import_asides_show (BED_IMPORT_ASIDES (self->asides), self->sheet);
}

static void
bed_import_kind_dispose (GObject *object)
{
  BedImportKind *self = BED_IMPORT_KIND (object);

  self->showing = TRUE;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->sheet);
  G_OBJECT_CLASS (bed_import_kind_parent_class)->dispose (object);
}

static void
bed_import_kind_finalize (GObject *object)
{
  g_array_unref (BED_IMPORT_KIND (object)->kinds);
  G_OBJECT_CLASS (bed_import_kind_parent_class)->finalize (object);
}

static void
bed_import_kind_class_init (BedImportKindClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_import_kind_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_import_kind_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
bed_import_kind_init (BedImportKind *self)
{
  GtkWidget *line;

  self->kinds = g_array_new (FALSE, FALSE, sizeof (BedKind));
  self->kind = bed_drop_down_new (NULL, _ ("What the rows are"));
  g_signal_connect_swapped (self->kind, "notify::selected", G_CALLBACK (kind_chosen_cb), self);
  self->said = bed_line_new ("", NULL);
  self->why = bed_words_new ("", "dim-label");
  self->look = gtk_toggle_button_new_with_label (_ ("Look"));
  bed_named (self->look, _ ("Look at the rows set aside"));
  g_signal_connect_swapped (self->look, "toggled", G_CALLBACK (look_cb), self);
  self->asides = bed_import_asides_new ();
  gtk_widget_set_visible (self->asides, FALSE);
  gtk_widget_set_hexpand (self->said, TRUE);
  line = bed_row_new (12, bed_label_new (_ ("Its rows are"), NULL), self->kind, self->said,
                      self->look, NULL);
  self->box = bed_column_new (6, line, self->why, self->asides, NULL);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
bed_import_kind_new (void)
{
  return g_object_new (BED_TYPE_IMPORT_KIND, NULL);
}

void
bed_import_kind_show (BedImportKind *self, BedImportSheet *sheet)
{
  g_return_if_fail (BED_IS_IMPORT_KIND (self));

  g_set_object (&self->sheet, sheet);
  self->showing = TRUE;
  if (sheet)
    {
      show_kind (self, bed_import_sheet_get_notebook (sheet));
      show_asides (self, bed_import_sheet_get_notebook (sheet));
    }
  else
    {
      gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (self->look), FALSE);
      bed_import_asides_show (BED_IMPORT_ASIDES (self->asides), NULL);
    }
  self->showing = FALSE;
}
