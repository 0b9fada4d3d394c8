#include "app/tags_dialog.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/document_view.h"
#include "app/printing.h"
#include "app/window.h"
#include "model/query.h"
#include "model/value.h"
#include "print/label.h"

/* Lives as long as its window. */
typedef struct
{
  GtkWidget *window;
  GtkWidget *over; /* weak: where toasts go */
  BedFarm *farm;
  gint64 batch;
  GPtrArray *sheets;
  GtkWidget *sheet;
  GtkWidget *start;
  GtkWidget *right;
  GtkWidget *down;
  GtkWidget *message;
  BedDocumentView *view;
} Tags;

static void
free_tags (gpointer data)
{
  Tags *self = data;

  g_clear_weak_pointer (&self->over);
  g_ptr_array_unref (self->sheets);
  g_object_unref (self->farm);
  g_free (self);
}

static const BedSheet *
get_sheet (Tags *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->sheet));

  return g_ptr_array_index (self->sheets, MIN (at, self->sheets->len - 1));
}

static gboolean
read_offset (Tags *self, GtkWidget *entry, double *mm, GError **error)
{
  gint64 um;

  if (!bed_measure_parse (BED_MEASURE_LENGTH_FINE, bed_farm_get_notation (self->farm),
                          gtk_editable_get_text (GTK_EDITABLE (entry)), &um, error))
    return FALSE;
  *mm = um / 1000.0;
  return TRUE;
}

static gboolean
read_place (Tags *self, BedSheetPlace *place, GError **error)
{
  gint64 start;

  if (!bed_measure_parse (BED_MEASURE_COUNT, bed_farm_get_notation (self->farm),
                          gtk_editable_get_text (GTK_EDITABLE (self->start)), &start, error)
      || !read_offset (self, self->right, &place->offset_x, error)
      || !read_offset (self, self->down, &place->offset_y, error))
    return FALSE;
  place->start = CLAMP (start, 0, G_MAXINT);
  return TRUE;
}

static BedLabels *
make_labels (Tags *self)
{
  BedLabels *labels = bed_labels_new (_ ("Log tags"));
  g_autoptr (BedQuery) query
      = bed_query_new (self->farm, "SELECT code, wood_name, strain_name, inoculated_on"
                                   " FROM log_today WHERE batch = ?1 AND stage <> 'retired'"
                                   " ORDER BY code");

  bed_query_bind_int (query, 1, self->batch);
  while (bed_query_next (query))
    {
      g_autofree char *date = bed_date_format (bed_query_text (query, 3));
      BedLogTag tag = { bed_query_text (query, 0), bed_query_text (query, 1),
                        bed_query_text (query, 2), date };

      bed_labels_add_log_tag (labels, &tag);
    }
  bed_query_finish (query, NULL);
  return labels;
}

static BedDocument *
make_document (Tags *self, GError **error)
{
  BedSheetPlace place = { 0 };

  if (!read_place (self, &place, error))
    return NULL;
  return bed_labels_document_new (make_labels (self), get_sheet (self), &place, error);
}

static void
show_preview (Tags *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) document = make_document (self, &error);
  g_autofree char *pages = NULL;

  if (document && bed_document_check (document, &error))
    {
      guint n = bed_document_get_n_pages (document);

      pages = g_strdup_printf (ngettext ("%u sheet", "%u sheets", n), n);
      bed_document_view_set_document (self->view, g_steal_pointer (&document));
    }
  else
    bed_document_view_set_document (self->view, NULL);
  gtk_label_set_label (GTK_LABEL (self->message), error ? error->message : pages);
}

static void
print_cb (Tags *self)
{
  g_autoptr (GError) error = NULL;
  BedDocument *document = make_document (self, &error);

  if (document)
    bed_print_document (self->window, document);
  else
    gtk_label_set_label (GTK_LABEL (self->message), error->message);
}

static void
save_cb (Tags *self)
{
  g_autofree char *code = bed_farm_dup_name (self->farm, BED_KIND_BATCH, self->batch);
  g_autofree char *name = g_strdup_printf (_ ("Tags %s"), code);
  g_autoptr (GError) error = NULL;
  BedDocument *document = make_document (self, &error);

  if (document)
    bed_save_document (self->window, document, name);
  else
    gtk_label_set_label (GTK_LABEL (self->message), error->message);
}

static void
test_page_cb (Tags *self)
{
  g_autoptr (GError) error = NULL;
  BedSheetPlace place = { 0 };
  BedDocument *document = read_place (self, &place, &error)
                              ? bed_sheet_test_page_new (get_sheet (self), &place, &error) : NULL;

  if (document)
    bed_print_document (self->window, document);
  else
    gtk_label_set_label (GTK_LABEL (self->message), error->message);
}

/* --- building ------------------------------------------------------------------------ */

static GtkWidget *
add_row (GtkWidget *box, const char *label, GtkWidget *entry)
{
  GtkWidget *name = gtk_label_new (label);

  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_widget_add_css_class (name, "caption");
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  -1);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), entry);
  return entry;
}

static GtkWidget *
make_entry (Tags *self, const char *text)
{
  GtkWidget *entry = gtk_entry_new ();

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 6);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (show_preview), self);
  return entry;
}

static GtkWidget *
make_sheets (Tags *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  GtkWidget *drop;

  for (guint i = 0; i < self->sheets->len; i++)
    gtk_string_list_append (names, ((BedSheet *) g_ptr_array_index (self->sheets, i))->name);
  drop = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&names)), NULL);
  g_signal_connect_swapped (drop, "notify::selected", G_CALLBACK (show_preview), self);
  return drop;
}

static void
add_button (GtkWidget *box, const char *label, GCallback clicked, Tags *self)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  g_signal_connect_swapped (button, "clicked", clicked, self);
  gtk_box_append (GTK_BOX (box), button);
}

static GtkWidget *
make_fields (Tags *self)
{
  const char *unit = bed_measure_unit (BED_MEASURE_LENGTH_FINE,
                                       bed_farm_get_notation (self->farm)->system);
  g_autofree char *right = g_strdup_printf (_ ("Move right (%s)"), unit);
  g_autofree char *down = g_strdup_printf (_ ("Move down (%s)"), unit);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  self->sheet = add_row (box, _ ("Sheet"), make_sheets (self));
  self->start = add_row (box, _ ("Begin at label"), make_entry (self, "1"));
  self->right = add_row (box, right, make_entry (self, "0"));
  self->down = add_row (box, down, make_entry (self, "0"));
  self->message = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->message), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->message), 0);
  gtk_label_set_max_width_chars (GTK_LABEL (self->message), 30);
  gtk_widget_set_vexpand (self->message, TRUE);
  gtk_label_set_yalign (GTK_LABEL (self->message), 0);
  gtk_box_append (GTK_BOX (box), self->message);
  add_button (box, _ ("Print test page"), G_CALLBACK (test_page_cb), self);
  add_button (box, _ ("Save as PDF"), G_CALLBACK (save_cb), self);
  add_button (box, _ ("Print tags"), G_CALLBACK (print_cb), self);
  gtk_widget_add_css_class (gtk_widget_get_last_child (box), "suggested-action");
  return box;
}

static GtkWidget *
make_window (Tags *self)
{
  GtkWidget *window = adw_window_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *content = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 24);

  self->window = window;
  self->view = bed_document_view_new ();
  gtk_widget_set_hexpand (GTK_WIDGET (self->view), TRUE);
  gtk_widget_set_vexpand (content, TRUE);
  gtk_widget_add_css_class (content, "page");
  gtk_box_append (GTK_BOX (content), make_fields (self));
  gtk_box_append (GTK_BOX (content), GTK_WIDGET (self->view));
  gtk_box_append (GTK_BOX (box), adw_header_bar_new ());
  gtk_box_append (GTK_BOX (box), content);
  adw_window_set_content (ADW_WINDOW (window), box);
  gtk_window_set_title (GTK_WINDOW (window), _ ("Print tags"));
  gtk_window_set_default_size (GTK_WINDOW (window), 760, 620);
  gtk_window_set_modal (GTK_WINDOW (window), TRUE);
  gtk_window_set_transient_for (GTK_WINDOW (window),
                                GTK_WINDOW (gtk_widget_get_root (self->over)));
  return window;
}

void
bed_tags_dialog_show (GtkWidget *inside, BedFarm *farm, gint64 batch)
{
  Tags *self = g_new0 (Tags, 1);

  g_set_weak_pointer (&self->over, inside);
  self->farm = g_object_ref (farm);
  self->batch = batch;
  self->sheets = bed_sheet_list_new ();
  g_object_set_data_full (G_OBJECT (make_window (self)), "tags", self, free_tags);
  show_preview (self);
  gtk_window_present (GTK_WINDOW (self->window));
}
