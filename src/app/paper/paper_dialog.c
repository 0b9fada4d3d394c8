#include "app/paper/paper_dialog.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/paper/label_fields.h"
#include "app/paper/map_fields.h"
#include "app/paper/printing.h"
#include "app/widgets/build.h"
#include "app/widgets/document_view.h"
#include "app/widgets/drop_down.h"
#include "app/widgets/topic.h"

/* Lives as long as its window. */
typedef struct
{
  GtkWidget *window;
  BedFarm *farm;
  GArray *offers; /* BedPrintOffer, what they hold owned */
  GtkWidget *what;
  BedLabelFields *label_fields; /* shown for labels */
  GtkWidget *map_fields;        /* shown for maps, as is ->picture */
  GtkWidget *test_page;
  GtkWidget *message;
  GtkWidget *note; /* what is left out, and letters that no font has */
  GtkWidget *save;
  GtkWidget *picture;
  GtkWidget *print;
  GtkWidget *title;
  GtkWidget *seen; /* stack of the view and the message */
  BedDocumentView *view;
  GtkWidget *page; /* "Page 1 of 3" */
  GtkWidget *earlier;
  GtkWidget *later;
  guint preview; /* source of the next one */
} Dialog;

static void
free_dialog (gpointer data)
{
  Dialog *self = data;

  for (guint i = 0; i < self->offers->len; i++)
    {
      BedPrintOffer *offer = &g_array_index (self->offers, BedPrintOffer, i);

      g_free ((char *) offer->day);
      g_clear_pointer (&offer->logs, g_array_unref);
      g_clear_pointer (&offer->stacks, g_array_unref);
    }
  g_clear_handle_id (&self->preview, g_source_remove);
  g_array_unref (self->offers);
  g_object_unref (self->farm);
  g_free (self);
}

static BedPrintOffer *
get_offer (Dialog *self)
{
  guint at = self->what ? gtk_drop_down_get_selected (GTK_DROP_DOWN (self->what)) : 0;

  return &g_array_index (self->offers, BedPrintOffer, MIN (at, self->offers->len - 1));
}

/* --- reading ------------------------------------------------------------------------- */

static gboolean
read_choice (Dialog *self, BedPrintChoice *choice, GError **error)
{
  BedPrintOffer *offer = get_offer (self);

  bed_map_fields_read (self->map_fields, choice);
  return !bed_print_is_label (offer->what)
         || bed_label_fields_read (self->label_fields, offer, choice, error);
}

static BedDocument *
make_document (Dialog *self, BedPrintChoice *choice, GError **error)
{
  if (!read_choice (self, choice, error))
    return NULL;
  /* Where another program holds the farm the first question says so. */
  gboolean reading = bed_farm_begin_reading (self->farm);
  g_autoptr (BedDocument) document = bed_print_make (self->farm, get_offer (self), choice, error);
  g_autofree char *about = bed_print_dup_file_name (self->farm, get_offer (self));
  adw_window_title_set_subtitle (ADW_WINDOW_TITLE (self->title), about);
  if (reading && !bed_farm_end_reading (self->farm, document ? error : NULL))
    return NULL;
  return g_steal_pointer (&document);
}

/* --- the preview ---------------------------------------------------------------------- */

static void
show_page_number (Dialog *self)
{
  guint n = bed_document_view_get_n_pages (self->view);
  guint page = bed_document_view_get_page (self->view);
  g_autofree char *text = n ? g_strdup_printf (_ ("Page %u of %u"), page + 1, n) : NULL;

  gtk_label_set_label (GTK_LABEL (self->page), text);
  gtk_widget_set_visible (self->earlier, n > 1);
  gtk_widget_set_visible (self->later, n > 1);
  gtk_widget_set_sensitive (self->earlier, page > 0);
  gtk_widget_set_sensitive (self->later, page + 1 < n);
}

/* What keeps it from being printed; NULL when nothing does. At its field where it has one. */
static void
say (Dialog *self, const GError *error)
{
  gboolean at_field = bed_print_is_label (get_offer (self)->what)
                      && bed_label_fields_say (self->label_fields, error);

  gtk_label_set_label (GTK_LABEL (self->message), error && !at_field ? error->message : NULL);
  gtk_stack_set_visible_child (GTK_STACK (self->seen),
                               error ? self->message : GTK_WIDGET (self->view));
  gtk_widget_set_sensitive (self->save, error == NULL);
  gtk_widget_set_sensitive (self->picture, error == NULL);
  gtk_widget_set_sensitive (self->print, error == NULL);
}

/* What is not printed as it was asked for. */
static void
show_note (Dialog *self, BedDocument *document)
{
  g_autofree char *note = document ? bed_document_dup_note (document) : NULL;

  gtk_label_set_label (GTK_LABEL (self->note), note);
  gtk_widget_set_visible (self->note, note != NULL);
}

/* Labels with the outlines of their sheet, as they lie on it. */
static BedDocument *
make_seen (Dialog *self, BedDocument *document, const BedPrintChoice *choice)
{
  return bed_print_is_label (get_offer (self)->what)
             ? bed_sheet_preview_new (choice->sheet, &choice->place, document)
             : document;
}

static gboolean
preview_cb (gpointer data)
{
  Dialog *self = data;
  g_autoptr (GError) error = NULL;
  BedPrintChoice choice = { 0 };
  g_autoptr (BedDocument) document = make_document (self, &choice, &error);

  if (document && !bed_document_check (document, &error))
    g_clear_pointer (&document, bed_document_free);
  show_note (self, document);
  bed_document_view_set_document (
      self->view, document ? make_seen (self, g_steal_pointer (&document), &choice) : NULL);
  show_page_number (self);
  say (self, error);
  self->preview = 0;
  return G_SOURCE_REMOVE;
}

/* Once for all that changes together: planning a week or drawing a thousand tags takes a while. */
static void
queue_preview (Dialog *self)
{
  if (!self->preview)
    self->preview = g_idle_add (preview_cb, self);
}

/* Fewer pages than there were: from the first. */
static void
fields_changed_cb (Dialog *self)
{
  bed_document_view_set_page (self->view, 0);
  queue_preview (self);
}

static void
turn (Dialog *self, int by)
{
  guint n = bed_document_view_get_n_pages (self->view);
  int page = (int) bed_document_view_get_page (self->view) + by;

  if (page < 0 || page >= (int) n)
    return;
  bed_document_view_set_page (self->view, page);
  show_page_number (self);
}

static void
earlier_cb (Dialog *self)
{
  turn (self, -1);
}

static void
later_cb (Dialog *self)
{
  turn (self, 1);
}

/* --- doing --------------------------------------------------------------------------- */

static void
what_changed_cb (Dialog *self)
{
  const BedPrintOffer *offer = get_offer (self);
  gboolean label = bed_print_is_label (offer->what);

  bed_document_view_set_page (self->view, 0);
  if (label)
    bed_label_fields_set_offer (self->label_fields, offer);
  gtk_widget_set_visible (GTK_WIDGET (self->label_fields), label);
  gtk_widget_set_visible (self->test_page, label);
  gtk_widget_set_visible (self->map_fields, offer->what == BED_PRINT_MAP);
  gtk_widget_set_visible (self->picture, offer->what == BED_PRINT_MAP);
  bed_map_fields_set_chosen (self->map_fields, offer->stacks ? offer->stacks->len : 0);
  queue_preview (self);
}

/* NULL, and said why, when it cannot be printed as it is chosen. What is printed or saved of labels
 * is remembered of their sheet. */
static BedDocument *
take_document (Dialog *self)
{
  g_autoptr (GError) error = NULL;
  BedPrintChoice choice = { 0 };
  const BedPrintOffer *offer = get_offer (self);
  g_autoptr (BedDocument) document = make_document (self, &choice, &error);

  if (!document || !bed_document_check (document, &error))
    {
      say (self, error);
      return NULL;
    }
  if (bed_print_is_label (offer->what))
    bed_label_fields_remember (self->label_fields, &choice,
                               bed_print_count_labels (self->farm, offer, &choice, NULL));
  return g_steal_pointer (&document);
}

static void
print_cb (Dialog *self)
{
  BedDocument *document = take_document (self);

  if (document)
    bed_print_document (self->window, document);
}

static void
save_cb (Dialog *self)
{
  g_autofree char *name = bed_print_dup_file_name (self->farm, get_offer (self));
  BedDocument *document = take_document (self);

  if (document)
    bed_save_document (self->window, document, name, bed_farm_get_now (self->farm));
}

static void
save_picture_cb (Dialog *self)
{
  g_autofree char *name = bed_print_dup_file_name (self->farm, get_offer (self));
  BedDocument *document = take_document (self);

  if (document)
    bed_save_picture (self->window, document, name);
}

static void
test_page_cb (Dialog *self)
{
  g_autoptr (GError) error = NULL;
  BedPrintChoice choice = { 0 };
  BedDocument *document = read_choice (self, &choice, &error)
                              ? bed_sheet_test_page_new (choice.sheet, &choice.place, &error)
                              : NULL;

  if (document)
    bed_print_document (self->window, document);
  else
    say (self, error);
}

/* --- building ------------------------------------------------------------------------ */

static GtkWidget *
add_row (GtkWidget *box, const char *label, GtkWidget *entry)
{
  GtkWidget *name = bed_label_new (label, "caption");

  bed_named (entry, label);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), entry);
  return entry;
}

static GtkWidget *
make_what (Dialog *self)
{
  GtkStringList *names = gtk_string_list_new (NULL);

  for (guint i = 0; i < self->offers->len; i++)
    gtk_string_list_append (names,
                            bed_print_title (g_array_index (self->offers, BedPrintOffer, i).what));
  GtkWidget *drop = bed_drop_down_new (names, _ ("What"));
  g_signal_connect_swapped (drop, "notify::selected", G_CALLBACK (what_changed_cb), self);
  return drop;
}

static GtkWidget *
make_fields (Dialog *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  GtkWidget *space = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  bed_styled (box, "paper-fields");
  if (self->offers->len > 1)
    self->what = add_row (box, _ ("What"), make_what (self));
  self->label_fields = bed_label_fields_new (self->farm);
  g_signal_connect_swapped (self->label_fields, "changed", G_CALLBACK (queue_preview), self);
  self->map_fields = bed_map_fields_new (G_CALLBACK (fields_changed_cb), self);
  gtk_box_append (GTK_BOX (box), self->map_fields);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->label_fields));
  gtk_widget_set_vexpand (space, TRUE);
  gtk_box_append (GTK_BOX (box), space);
  self->test_page = bed_button_add (box, _ ("Print test page…"), G_CALLBACK (test_page_cb), self);
  self->save = bed_button_add (box, _ ("Save PDF…"), G_CALLBACK (save_cb), self);
  self->picture = bed_button_add (box, _ ("Save picture…"), G_CALLBACK (save_picture_cb), self);
  self->print = bed_button_add (box, _ ("Print…"), G_CALLBACK (print_cb), self);
  gtk_widget_add_css_class (self->print, "suggested-action");
  return box;
}

static GtkWidget *
make_turn_button (Dialog *self, const char *icon, const char *label, GCallback clicked)
{
  GtkWidget *button = bed_icon_button_new (icon, label);

  g_signal_connect_swapped (button, "clicked", clicked, self);
  return button;
}

static GtkWidget *
make_preview (Dialog *self)
{
  GtkWidget *line;

  self->view = bed_document_view_new ();
  self->message = bed_words_new (NULL, "error");
  self->note = bed_words_new (NULL, "warning");
  self->seen = bed_document_view_stack_new (self->view, self->message);
  self->earlier = make_turn_button (self, "go-previous-symbolic", _ ("Previous page (Page Up)"),
                                    G_CALLBACK (earlier_cb));
  self->page = gtk_label_new (NULL);
  gtk_widget_add_css_class (self->page, "caption");
  gtk_widget_add_css_class (self->page, "numeric");
  self->later = make_turn_button (self, "go-next-symbolic", _ ("Next page (Page Down)"),
                                  G_CALLBACK (later_cb));
  line = bed_row_new (6, self->earlier, self->page, self->later, NULL);
  gtk_widget_set_halign (line, GTK_ALIGN_CENTER);
  bed_styled (line, "paper-line"); /* as high as with the buttons: the page does not jump */
  return bed_column_new (6, self->seen, self->note, line, NULL);
}

static gboolean
key_cb (GtkWidget *widget, GVariant *by, gpointer self)
{
  turn (self, g_variant_get_int32 (by));
  return TRUE;
}

static void
add_keys (Dialog *self)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();
  const struct
  {
    guint key;
    int by;
  } turns[] = { { GDK_KEY_Page_Up, -1 }, { GDK_KEY_Page_Down, 1 } };

  for (gsize i = 0; i < G_N_ELEMENTS (turns); i++)
    {
      GtkShortcut *shortcut = gtk_shortcut_new (gtk_keyval_trigger_new (turns[i].key, 0),
                                                gtk_callback_action_new (key_cb, self, NULL));
      gtk_shortcut_set_arguments (shortcut, g_variant_new_int32 (turns[i].by));
      gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), shortcut);
    }
  gtk_widget_add_controller (self->window, keys);
  bed_window_close_on_escape (self->window);
}

static GtkWidget *
make_window (Dialog *self, GtkWidget *inside)
{
  GtkWidget *window = adw_window_new ();
  GtkWidget *fields;
  GtkWidget *content;
  GtkWidget *bar;

  self->window = window;
  self->title = adw_window_title_new (_ ("Print"), NULL);
  fields = make_fields (self);
  content = bed_styled (bed_row_new (24, fields, make_preview (self), NULL), "page");
  bar = bed_window_build (window, inside, _ ("Print"), content);
  bed_topic_set (window, "paper");
  adw_header_bar_set_title_widget (ADW_HEADER_BAR (bar), self->title);
  bed_window_set_size (window, 780, 660);
  add_keys (self);
  return window;
}

void
bed_paper_dialog_show (GtkWidget *inside, BedFarm *farm, const BedPrintOffer *offers,
                       guint n_offers)
{
  g_return_if_fail (n_offers > 0);
  Dialog *self = g_new0 (Dialog, 1);

  self->farm = g_object_ref (farm);
  self->offers = g_array_new (FALSE, FALSE, sizeof (BedPrintOffer));
  for (guint i = 0; i < n_offers; i++)
    {
      BedPrintOffer offer = offers[i];
      offer.day = g_strdup (offer.day);
      if (offer.logs)
        g_array_ref (offer.logs);
      if (offer.stacks)
        g_array_ref (offer.stacks);
      g_array_append_val (self->offers, offer);
    }
  g_object_set_data_full (G_OBJECT (make_window (self, inside)), "dialog", self, free_dialog);
  what_changed_cb (self);
  gtk_window_present (GTK_WINDOW (self->window));
}

void
bed_paper_dialog_show_page (GtkWidget *page, BedFarm *farm, const char *title)
{
  BedPrintOffer offer = { .what = BED_PRINT_SHOWN, .shown = page, .day = title };

  bed_paper_dialog_show (page, farm, &offer, 1);
}
