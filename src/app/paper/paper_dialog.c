#include "app/paper/paper_dialog.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/page_parts.h"
#include "app/desk/settings.h"
#include "app/paper/map_fields.h"
#include "app/paper/printing.h"
#include "app/paper/sheet_dialog.h"
#include "app/widgets/document_view.h"
#include "app/widgets/topic.h"
#include "science/units.h"

/* Lives as long as its window. */
typedef struct
{
  GtkWidget *window;
  BedFarm *farm;
  GArray *offers; /* BedPrintOffer, what they hold owned */
  GPtrArray *sheets;
  GtkWidget *what;
  GtkWidget *label_fields; /* shown for labels */
  GtkWidget *crate_fields; /* shown for crates */
  GtkWidget *map_fields;   /* shown for maps, as is ->picture */
  GtkWidget *sheet;
  GtkWidget *sheet_fault; /* why the desk's own sheets are not among them */
  GtkWidget *start;
  GtkWidget *copies;
  GtkWidget *right;
  GtkWidget *down;
  GtkWidget *mass;
  GtkWidget *price;
  GtkWidget *test_page;
  GtkWidget *message;
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
  g_ptr_array_unref (self->sheets);
  g_object_unref (self->farm);
  g_free (self);
}

static const BedPrintOffer *
get_offer (Dialog *self)
{
  guint at = self->what ? gtk_drop_down_get_selected (GTK_DROP_DOWN (self->what)) : 0;

  return &g_array_index (self->offers, BedPrintOffer, MIN (at, self->offers->len - 1));
}

static const BedSheet *
get_sheet (Dialog *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->sheet));

  return g_ptr_array_index (self->sheets, MIN (at, self->sheets->len - 1));
}

/* --- reading ------------------------------------------------------------------------- */

/* An entry left empty is @value as it was. */
static gboolean
read_entry (Dialog *self, GtkWidget *entry, BedMeasure measure, gint64 *value, GError **error)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));

  return !*text
         || bed_measure_parse (measure, bed_farm_get_notation (self->farm), text, value, error);
}

static gboolean
read_place (Dialog *self, BedSheetPlace *place, GError **error)
{
  gint64 start = 1, right = 0, down = 0;

  if (!read_entry (self, self->start, BED_MEASURE_COUNT, &start, error)
      || !read_entry (self, self->right, BED_MEASURE_LENGTH_FINE, &right, error)
      || !read_entry (self, self->down, BED_MEASURE_LENGTH_FINE, &down, error))
    return FALSE;
  place->start = CLAMP (start, 0, G_MAXINT);
  place->offset_x = right / 1000.0;
  place->offset_y = down / 1000.0;
  return TRUE;
}

static gboolean
read_choice (Dialog *self, BedPrintChoice *choice, GError **error)
{
  gint64 copies = 1;

  choice->sheet = get_sheet (self);
  bed_map_fields_read (self->map_fields, choice);
  if (!read_place (self, &choice->place, error)
      || !read_entry (self, self->copies, BED_MEASURE_COUNT, &copies, error)
      || !read_entry (self, self->mass, BED_MEASURE_MASS, &choice->mass, error)
      || !read_entry (self, self->price, BED_MEASURE_MONEY, &choice->price, error))
    return FALSE;
  choice->copies = CLAMP (copies, 1, 500);
  return TRUE;
}

static BedDocument *
make_document (Dialog *self, GError **error)
{
  BedPrintChoice choice = { 0 };

  if (!read_choice (self, &choice, error))
    return NULL;
  /* Where another program holds the farm the first question says so. */
  gboolean reading = bed_farm_begin_reading (self->farm);
  g_autoptr (BedDocument) document = bed_print_make (self->farm, get_offer (self), &choice, error);
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

/* What keeps it from being printed; NULL when nothing does. */
static void
say (Dialog *self, const GError *error)
{
  gtk_label_set_label (GTK_LABEL (self->message), error ? error->message : NULL);
  gtk_stack_set_visible_child (GTK_STACK (self->seen),
                               error ? self->message : GTK_WIDGET (self->view));
  gtk_widget_set_sensitive (self->save, error == NULL);
  gtk_widget_set_sensitive (self->picture, error == NULL);
  gtk_widget_set_sensitive (self->print, error == NULL);
}

static gboolean
preview_cb (gpointer data)
{
  Dialog *self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) document = make_document (self, &error);

  if (document && bed_document_check (document, &error))
    bed_document_view_set_document (self->view, g_steal_pointer (&document));
  else
    bed_document_view_set_document (self->view, NULL);
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

/* The sheet such labels were last printed on, else a usual one. */
static void
choose_sheet (Dialog *self, BedPrint what)
{
  BedLabelUse use = bed_print_get_use (what);
  BedSystem system = bed_farm_get_notation (self->farm)->system;
  g_autofree char *last = bed_settings_dup_sheet (bed_label_use_get_word (use));
  const BedSheet *sheet = last ? bed_sheet_list_find (self->sheets, last, NULL) : NULL;
  guint at = 0;

  if (!sheet)
    sheet = bed_sheet_list_find (self->sheets, bed_label_use_get_sheet (use, system), NULL);
  if (g_ptr_array_find (self->sheets, sheet, &at))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->sheet), at);
}

static void
what_changed_cb (Dialog *self)
{
  const BedPrintOffer *offer = get_offer (self);
  gboolean label = bed_print_is_label (offer->what);

  bed_document_view_set_page (self->view, 0);
  if (label)
    choose_sheet (self, offer->what);

  gtk_widget_set_visible (self->label_fields, label);
  gtk_widget_set_visible (self->test_page, label);
  gtk_widget_set_visible (self->crate_fields, offer->what == BED_PRINT_CRATES);
  gtk_widget_set_visible (self->map_fields, offer->what == BED_PRINT_MAP);
  gtk_widget_set_visible (self->picture, offer->what == BED_PRINT_MAP);
  bed_map_fields_set_chosen (self->map_fields, offer->stacks ? offer->stacks->len : 0);
  queue_preview (self);
}

/* Printers are off by their own amount on each sheet: what was set is kept for it, and where
 * the labels go on. */
static void
remember (Dialog *self)
{
  const BedPrintOffer *offer = get_offer (self);
  const BedSheet *sheet = get_sheet (self);
  BedPrintChoice choice = { 0 };
  guint n;

  if (!bed_print_is_label (offer->what) || !read_choice (self, &choice, NULL))
    return;
  n = bed_print_count_labels (self->farm, offer, &choice, NULL);
  bed_settings_set_sheet (bed_label_use_get_word (bed_print_get_use (offer->what)), sheet->key);
  bed_settings_set_offsets (sheet->key, choice.place.offset_x, choice.place.offset_y);
  bed_settings_set_start (sheet->key, bed_sheet_get_next_start (sheet, &choice.place, n));
}

/* NULL, and said why, when it cannot be printed as it is chosen. */
static BedDocument *
take_document (Dialog *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) document = make_document (self, &error);

  if (!document || !bed_document_check (document, &error))
    {
      say (self, error);
      return NULL;
    }
  remember (self);
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
  BedSheetPlace place = { 0 };
  BedDocument *document = read_place (self, &place, &error)
                              ? bed_sheet_test_page_new (get_sheet (self), &place, &error)
                              : NULL;

  if (document)
    bed_print_document (self->window, document);
  else
    say (self, error);
}

static void
sheet_changed_cb (Dialog *self)
{
  const BedNotation *notation = bed_farm_get_notation (self->farm);
  double right = 0, down = 0;

  bed_settings_get_offsets (get_sheet (self)->key, &right, &down);
  g_autofree char *x
      = bed_measure_format (BED_MEASURE_LENGTH_FINE, notation, lround (right * 1000));
  g_autofree char *y = bed_measure_format (BED_MEASURE_LENGTH_FINE, notation, lround (down * 1000));
  g_autofree char *start = g_strdup_printf ("%u", bed_settings_get_start (get_sheet (self)->key));
  gtk_editable_set_text (GTK_EDITABLE (self->start), start);
  gtk_editable_set_text (GTK_EDITABLE (self->right), x);
  gtk_editable_set_text (GTK_EDITABLE (self->down), y);
  queue_preview (self);
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
make_entry (Dialog *self, const char *text)
{
  GtkWidget *entry = gtk_entry_new ();

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 6);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (queue_preview), self);
  return entry;
}

static void
set_up_whole_cb (GtkListItemFactory *factory, GtkListItem *item)
{
  gtk_list_item_set_child (item, bed_label_new (NULL, NULL));
}

static void
set_up_brief_cb (GtkListItemFactory *factory, GtkListItem *item)
{
  gtk_list_item_set_child (item, bed_line_new (NULL, NULL));
}

static void
bind_name_cb (GtkListItemFactory *factory, GtkListItem *item)
{
  GtkStringObject *name = gtk_list_item_get_item (item);

  gtk_label_set_label (GTK_LABEL (gtk_list_item_get_child (item)),
                       gtk_string_object_get_string (name));
}

static GtkListItemFactory *
make_factory (GCallback set_up)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();

  g_signal_connect (factory, "setup", set_up, NULL);
  g_signal_connect (factory, "bind", G_CALLBACK (bind_name_cb), NULL);
  return factory;
}

static GtkStringList *
list_sheets (Dialog *self)
{
  GtkStringList *names = gtk_string_list_new (NULL);

  for (guint i = 0; i < self->sheets->len; i++)
    gtk_string_list_append (names, ((BedSheet *) self->sheets->pdata[i])->name);
  return names;
}

/* Short in the dialog, whose width a long name does not change; whole in the list. */
static GtkWidget *
make_sheets (Dialog *self)
{
  g_autoptr (GtkListItemFactory) brief = make_factory (G_CALLBACK (set_up_brief_cb));
  g_autoptr (GtkListItemFactory) whole = make_factory (G_CALLBACK (set_up_whole_cb));
  GtkWidget *drop = gtk_drop_down_new (G_LIST_MODEL (list_sheets (self)), NULL);

  gtk_drop_down_set_factory (GTK_DROP_DOWN (drop), brief);
  gtk_drop_down_set_list_factory (GTK_DROP_DOWN (drop), whole);
  return drop;
}

/* The given ones alone where the desk's own cannot be read, which is said. */
static void
load_sheets (Dialog *self)
{
  g_autofree char *path = bed_sheets_dup_path ();
  g_autoptr (GError) error = NULL;
  GPtrArray *sheets = bed_sheet_list_new_with (path, &error);

  g_clear_pointer (&self->sheets, g_ptr_array_unref);
  self->sheets = sheets ? sheets : bed_sheet_list_new ();
  gtk_label_set_label (GTK_LABEL (self->sheet_fault), error ? error->message : NULL);
  gtk_widget_set_visible (self->sheet_fault, error != NULL);
}

static void
sheet_added_cb (const char *key, gpointer data)
{
  Dialog *self = data;
  guint at = 0;

  load_sheets (self);
  const BedSheet *sheet = bed_sheet_list_find (self->sheets, key, NULL);
  g_autoptr (GtkStringList) names = list_sheets (self);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->sheet), G_LIST_MODEL (names));
  if (g_ptr_array_find (self->sheets, sheet, &at))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->sheet), at);
}

static void
add_sheet_cb (Dialog *self)
{
  bed_sheet_dialog_show (self->window, bed_farm_get_notation (self->farm), sheet_added_cb, self);
}

static GtkWidget *
make_what (Dialog *self)
{
  GtkStringList *names = gtk_string_list_new (NULL);

  for (guint i = 0; i < self->offers->len; i++)
    gtk_string_list_append (names,
                            bed_print_title (g_array_index (self->offers, BedPrintOffer, i).what));
  GtkWidget *drop = gtk_drop_down_new (G_LIST_MODEL (names), NULL);
  g_signal_connect_swapped (drop, "notify::selected", G_CALLBACK (what_changed_cb), self);
  return drop;
}

static GtkWidget *
make_crate_fields (Dialog *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  BedSystem system = bed_farm_get_notation (self->farm)->system;
  g_autofree char *mass
      = g_strdup_printf (_ ("In one crate (%s)"), bed_measure_unit (BED_MEASURE_MASS, system));
  g_autofree char *price = g_strdup_printf (
      _ ("Price (%s)"), bed_record_get_text (bed_farm_get_settings (self->farm), "currency"));

  self->mass = add_row (box, mass, make_entry (self, ""));
  self->price = add_row (box, price, make_entry (self, ""));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->mass), _ ("the whole lot"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->price), _ ("none"));
  return box;
}

static GtkWidget *
make_label_fields (Dialog *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  const char *unit
      = bed_measure_unit (BED_MEASURE_LENGTH_FINE, bed_farm_get_notation (self->farm)->system);
  g_autofree char *right = g_strdup_printf (_ ("Move right (%s)"), unit);
  g_autofree char *down = g_strdup_printf (_ ("Move down (%s)"), unit);

  self->sheet_fault = bed_words_new (NULL, "error");
  gtk_label_set_max_width_chars (GTK_LABEL (self->sheet_fault), 30);
  gtk_label_set_wrap_mode (GTK_LABEL (self->sheet_fault), PANGO_WRAP_WORD_CHAR);
  load_sheets (self);
  self->sheet = add_row (box, _ ("Sheet"), make_sheets (self));
  gtk_box_append (GTK_BOX (box), self->sheet_fault);
  gtk_widget_add_css_class (
      bed_button_add (box, _ ("Add your own sheet…"), G_CALLBACK (add_sheet_cb), self), "flat");
  self->start = add_row (box, _ ("Start at label"), make_entry (self, "1"));
  self->copies = add_row (box, _ ("Copies of each"), make_entry (self, "1"));
  self->right = add_row (box, right, make_entry (self, "0"));
  self->down = add_row (box, down, make_entry (self, "0"));
  return box;
}

static GtkWidget *
make_fields (Dialog *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  GtkWidget *space = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_widget_set_size_request (box, 250, -1);
  if (self->offers->len > 1)
    self->what = add_row (box, _ ("What"), make_what (self));
  self->crate_fields = make_crate_fields (self);
  self->label_fields = make_label_fields (self);
  self->map_fields = bed_map_fields_new (G_CALLBACK (fields_changed_cb), self);
  gtk_box_append (GTK_BOX (box), self->crate_fields);
  gtk_box_append (GTK_BOX (box), self->map_fields);
  gtk_box_append (GTK_BOX (box), self->label_fields);
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
  gtk_widget_set_size_request (line, -1, 34); /* as with the buttons: the page does not jump */
  return bed_column_new (6, self->seen, line, NULL);
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
  gtk_window_set_default_size (GTK_WINDOW (window), 780, 660);
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
  /* Not before everything it reads is there. */
  g_signal_connect_swapped (self->sheet, "notify::selected", G_CALLBACK (sheet_changed_cb), self);
  what_changed_cb (self);
  sheet_changed_cb (self);
  gtk_window_present (GTK_WINDOW (self->window));
}
