#include "app/paper/label_fields.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/settings.h"
#include "app/paper/sheet_dialog.h"
#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/units.h"

/* Lots that crates may be printed of, the newest ones. */
#define MOST_LOTS "40"

typedef enum
{
  START,
  COPIES,
  RIGHT,
  DOWN,
  MASS,
  PRICE,
  PACKED,
  N_FIELDS
} Field;

struct _BedLabelFields
{
  GtkBox parent_instance;
  BedFarm *farm;
  BedPrintOffer offer;
  GPtrArray *all, *sheets; /* BedSheet, those that are large enough borrowed from all */
  GtkWidget *sheet, *sheet_fault;
  GtkWidget *lot; /* of crates */
  GArray *lots;   /* gint64 */
  GtkWidget *crate_fields;
  GtkWidget *entries[N_FIELDS], *faults[N_FIELDS];
  char *own_fault; /* why the desk's own sheets are not among them; owned */
  guint setting;   /* more than 0 while fields are filled by the program */
};

G_DEFINE_FINAL_TYPE (BedLabelFields, bed_label_fields, GTK_TYPE_BOX)

static void
changed (BedLabelFields *self)
{
  if (self->setting == 0)
    g_signal_emit_by_name (self, "changed");
}

static const BedSheet *
get_sheet (BedLabelFields *self)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->sheet));

  return at < self->sheets->len ? self->sheets->pdata[at] : NULL;
}

/* --- reading ------------------------------------------------------------------------- */

static void
say_at (BedLabelFields *self, Field field, const char *message)
{
  gtk_label_set_label (GTK_LABEL (self->faults[field]), message);
  gtk_widget_set_visible (self->faults[field], message != NULL);
  if (message)
    gtk_widget_add_css_class (self->entries[field], "error");
  else
    gtk_widget_remove_css_class (self->entries[field], "error");
}

static void
say_at_sheet (BedLabelFields *self, const char *message)
{
  gtk_label_set_label (GTK_LABEL (self->sheet_fault), message ? message : self->own_fault);
  gtk_widget_set_visible (self->sheet_fault, message || self->own_fault);
}

static const char *
get_text (BedLabelFields *self, Field field)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->entries[field]));
}

/* An entry left empty is @value as it was. */
static gboolean
read_entry (BedLabelFields *self, Field field, BedMeasure measure, gint64 *value, GError **error)
{
  g_autoptr (GError) fault = NULL;
  const char *text = get_text (self, field);

  if (!*text
      || bed_measure_parse (measure, bed_farm_get_notation (self->farm), text, value, &fault))
    return TRUE;
  say_at (self, field, fault->message);
  g_propagate_error (error, g_steal_pointer (&fault));
  return FALSE;
}

static gboolean
read_packed (BedLabelFields *self, BedPrintOffer *offer, GError **error)
{
  g_autoptr (GError) fault = NULL;
  const char *text = get_text (self, PACKED);
  char *day = *text ? bed_date_parse (text, bed_farm_get_today (self->farm), &fault) : NULL;

  g_free ((char *) offer->day);
  offer->day = day;
  if (!fault)
    return TRUE;
  say_at (self, PACKED, fault->message);
  g_propagate_error (error, g_steal_pointer (&fault));
  return FALSE;
}

static gboolean
read_crates (BedLabelFields *self, BedPrintOffer *offer, BedPrintChoice *choice, GError **error)
{
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->lot));

  if (at < self->lots->len)
    offer->subject = g_array_index (self->lots, gint64, at);
  return read_entry (self, MASS, BED_MEASURE_MASS, &choice->mass, error)
         && read_entry (self, PRICE, BED_MEASURE_MONEY, &choice->price, error)
         && read_packed (self, offer, error);
}

/* --- filling -------------------------------------------------------------------------- */

static void
set_length (BedLabelFields *self, Field field, double mm)
{
  g_autofree char *text = bed_measure_format (
      BED_MEASURE_LENGTH_FINE, bed_farm_get_notation (self->farm), lround (mm * 1000));

  gtk_editable_set_text (GTK_EDITABLE (self->entries[field]), text);
}

static void
sheet_changed_cb (BedLabelFields *self)
{
  const BedSheet *sheet = get_sheet (self);
  double right = 0, down = 0;

  if (!sheet || self->setting)
    return;
  self->setting++;
  bed_settings_get_offsets (sheet->key, &right, &down);
  g_autofree char *start = g_strdup_printf ("%u", bed_settings_get_start (sheet->key));
  gtk_editable_set_text (GTK_EDITABLE (self->entries[START]), start);
  set_length (self, RIGHT, right);
  set_length (self, DOWN, down);
  self->setting--;
  changed (self);
}

/* The given ones alone where the desk's own cannot be read, which is said. */
static void
load_sheets (BedLabelFields *self)
{
  g_autofree char *path = bed_sheets_dup_path ();
  g_autoptr (GError) error = NULL;
  GPtrArray *sheets = bed_sheet_list_new_with (path, &error);

  g_ptr_array_set_size (self->sheets, 0);
  g_clear_pointer (&self->all, g_ptr_array_unref);
  self->all = sheets ? sheets : bed_sheet_list_new ();
  g_free (self->own_fault);
  self->own_fault = error ? g_strdup (error->message) : NULL;
  say_at_sheet (self, NULL);
}

/* Those that are large enough for what is printed. */
static void
list_sheets (BedLabelFields *self, const char *key)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  guint chosen = 0;

  g_ptr_array_set_size (self->sheets, 0);
  for (guint i = 0; i < self->all->len; i++)
    {
      const BedSheet *sheet = self->all->pdata[i];
      if (!bed_label_use_check_sheet (bed_print_get_use (self->offer.what), sheet, NULL))
        continue;
      if (g_strcmp0 (sheet->key, key) == 0)
        chosen = self->sheets->len;
      g_ptr_array_add (self->sheets, (gpointer) sheet);
      gtk_string_list_append (names, sheet->name);
    }
  self->setting++;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->sheet), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->sheet), chosen);
  self->setting--;
  sheet_changed_cb (self);
}

/* The lots there are, the offered one chosen; the newest where none was. */
static void
list_lots (BedLabelFields *self)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr (BedQuery) q = bed_query_new (
      self->farm, "SELECT id, code FROM (SELECT id, code, picked_on FROM lot WHERE id <> ?1"
                  " ORDER BY picked_on DESC, id DESC LIMIT " MOST_LOTS ")"
                  " UNION SELECT id, code FROM lot WHERE id = ?1 ORDER BY 1 DESC");
  guint chosen = 0;

  g_array_set_size (self->lots, 0);
  bed_query_bind_int (q, 1, self->offer.subject);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      if (id == self->offer.subject)
        chosen = self->lots->len;
      g_array_append_val (self->lots, id);
      gtk_string_list_append (names, bed_query_text (q, 1));
    }
  /* Making the pages asks again and tells. */
  if (!bed_query_finish (q, NULL))
    g_array_set_size (self->lots, 0);
  self->setting++;
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->lot), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->lot), chosen);
  self->setting--;
}

static void
sheet_added_cb (const char *key, gpointer data)
{
  BedLabelFields *self = data;

  load_sheets (self);
  list_sheets (self, key);
}

static void
add_sheet_cb (BedLabelFields *self)
{
  bed_sheet_dialog_show (GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self))),
                         bed_farm_get_notation (self->farm), sheet_added_cb, self);
}

/* As many of each as there is room for on the sheet begun. */
static void
fill_cb (BedLabelFields *self)
{
  BedPrintOffer offer = self->offer;
  BedPrintChoice choice = { 0 };

  offer.day = NULL;
  if (!bed_label_fields_read (self, &offer, &choice, NULL))
    return;
  choice.copies = 1;
  guint n = bed_print_count_labels (self->farm, &offer, &choice, NULL);
  guint room = choice.sheet->columns * choice.sheet->rows - MAX (choice.place.start, 1) + 1;
  g_autofree char *copies = g_strdup_printf ("%u", n ? MAX (room / n, 1) : 1);
  g_free ((char *) offer.day);
  gtk_editable_set_text (GTK_EDITABLE (self->entries[COPIES]), copies);
}

/* --- building ------------------------------------------------------------------------ */

/* Short in the dialog, whose width a long name does not change; whole in the list. */
static GtkWidget *
make_drop (GtkBox *box, const char *label)
{
  g_autoptr (GtkListItemFactory) brief = bed_text_factory_new (PANGO_ELLIPSIZE_END);
  g_autoptr (GtkListItemFactory) whole = bed_text_factory_new (PANGO_ELLIPSIZE_NONE);
  GtkWidget *drop = bed_drop_down_new (NULL, label);

  gtk_drop_down_set_factory (GTK_DROP_DOWN (drop), brief);
  gtk_drop_down_set_list_factory (GTK_DROP_DOWN (drop), whole);
  gtk_box_append (box, bed_label_new (label, "caption"));
  gtk_box_append (box, drop);
  return drop;
}

static GtkWidget *
make_fault (void)
{
  GtkWidget *fault = bed_words_new (NULL, "error");

  gtk_label_set_max_width_chars (GTK_LABEL (fault), 16);
  gtk_label_set_wrap_mode (GTK_LABEL (fault), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_visible (fault, FALSE);
  return fault;
}

/* Two short fields side by side: the dialog stays lower than a small screen. */
static GtkBox *
add_pair (GtkBox *box)
{
  GtkWidget *pair = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  gtk_box_set_homogeneous (GTK_BOX (pair), TRUE);
  gtk_box_append (box, pair);
  return GTK_BOX (pair);
}

static void
add_field (BedLabelFields *self, GtkBox *box, Field field, const char *label)
{
  GtkWidget *entry = bed_named (gtk_entry_new (), label);

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 6);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (changed), self);
  self->entries[field] = entry;
  self->faults[field] = make_fault ();
  gtk_box_append (
      box, bed_column_new (6, bed_label_new (label, "caption"), entry, self->faults[field], NULL));
}

static void
add_crate_fields (BedLabelFields *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  BedSystem system = bed_farm_get_notation (self->farm)->system;
  g_autofree char *mass
      = g_strdup_printf (_ ("In one crate (%s)"), bed_measure_unit (BED_MEASURE_MASS, system));
  g_autofree char *price = g_strdup_printf (
      _ ("Price (%s)"), bed_record_get_text (bed_farm_get_settings (self->farm), "currency"));

  self->crate_fields = box;
  self->lot = make_drop (GTK_BOX (box), _ ("Lot"));
  g_signal_connect_swapped (self->lot, "notify::selected", G_CALLBACK (changed), self);
  GtkBox *pair = add_pair (GTK_BOX (box));
  add_field (self, pair, MASS, mass);
  add_field (self, pair, PRICE, price);
  add_field (self, GTK_BOX (box), PACKED, _ ("Packed on"));
  bed_entry_hint (self->entries[MASS], _ ("the whole lot"));
  bed_entry_hint (self->entries[PRICE], _ ("none"));
  bed_entry_hint (self->entries[PACKED], _ ("as the lot says"));
  gtk_box_append (GTK_BOX (self), box);
}

static void
add_sheet_fields (BedLabelFields *self)
{
  GtkBox *box = GTK_BOX (self);
  const char *unit
      = bed_measure_unit (BED_MEASURE_LENGTH_FINE, bed_farm_get_notation (self->farm)->system);
  g_autofree char *right = g_strdup_printf (_ ("Move right (%s)"), unit);
  g_autofree char *down = g_strdup_printf (_ ("Move down (%s)"), unit);

  self->sheet = make_drop (box, _ ("Sheet"));
  self->sheet_fault = make_fault ();
  gtk_box_append (box, self->sheet_fault);
  gtk_widget_add_css_class (
      bed_button_add (GTK_WIDGET (box), _ ("Add your own sheet…"), G_CALLBACK (add_sheet_cb), self),
      "flat");
  GtkBox *pair = add_pair (box);
  add_field (self, pair, START, _ ("Start at label"));
  add_field (self, pair, COPIES, _ ("Copies of each"));
  gtk_widget_add_css_class (
      bed_button_add (GTK_WIDGET (box), _ ("Fill the sheet"), G_CALLBACK (fill_cb), self), "flat");
  pair = add_pair (box);
  add_field (self, pair, RIGHT, right);
  add_field (self, pair, DOWN, down);
  g_signal_connect_swapped (self->sheet, "notify::selected", G_CALLBACK (sheet_changed_cb), self);
}

static void
bed_label_fields_finalize (GObject *object)
{
  BedLabelFields *self = BED_LABEL_FIELDS (object);

  g_free (self->own_fault);
  g_clear_pointer (&self->all, g_ptr_array_unref);
  g_ptr_array_unref (self->sheets);
  g_array_unref (self->lots);
  g_clear_object (&self->farm);
  G_OBJECT_CLASS (bed_label_fields_parent_class)->finalize (object);
}

static void
bed_label_fields_class_init (BedLabelFieldsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_label_fields_finalize;
  bed_signal_new (BED_TYPE_LABEL_FIELDS, "changed", 0);
}

static void
bed_label_fields_init (BedLabelFields *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_box_set_spacing (GTK_BOX (self), 6);
  self->sheets = g_ptr_array_new ();
  self->lots = g_array_new (FALSE, FALSE, sizeof (gint64));
}

/* Public */

BedLabelFields *
bed_label_fields_new (BedFarm *farm)
{
  BedLabelFields *self = g_object_new (BED_TYPE_LABEL_FIELDS, NULL);

  self->farm = g_object_ref (farm);
  self->setting++;
  add_crate_fields (self);
  add_sheet_fields (self);
  gtk_editable_set_text (GTK_EDITABLE (self->entries[COPIES]), "1");
  load_sheets (self);
  self->setting--;
  return self;
}

void
bed_label_fields_set_offer (BedLabelFields *self, const BedPrintOffer *offer)
{
  g_return_if_fail (bed_print_is_label (offer->what));
  BedLabelUse use = bed_print_get_use (offer->what);
  BedSystem system = bed_farm_get_notation (self->farm)->system;
  g_autofree char *last = bed_settings_dup_sheet (bed_label_use_get_word (use));
  const BedSheet *sheet = last ? bed_sheet_list_find (self->all, last, NULL) : NULL;
  gboolean suits = sheet && bed_label_use_check_sheet (use, sheet, NULL);

  self->offer = *offer;
  gtk_widget_set_visible (self->crate_fields, use == BED_LABEL_CRATE);
  if (use == BED_LABEL_CRATE)
    list_lots (self);
  list_sheets (self, suits ? last : bed_label_use_get_sheet (use, system));
}

gboolean
bed_label_fields_read (BedLabelFields *self, BedPrintOffer *offer, BedPrintChoice *choice,
                       GError **error)
{
  gint64 start = 1, copies = 1, right = 0, down = 0;

  bed_label_fields_say (self, NULL);
  choice->sheet = get_sheet (self);
  if (!read_entry (self, START, BED_MEASURE_COUNT, &start, error)
      || !read_entry (self, COPIES, BED_MEASURE_COUNT, &copies, error)
      || !read_entry (self, RIGHT, BED_MEASURE_LENGTH_FINE, &right, error)
      || !read_entry (self, DOWN, BED_MEASURE_LENGTH_FINE, &down, error)
      || (bed_print_get_use (offer->what) == BED_LABEL_CRATE
          && !read_crates (self, offer, choice, error)))
    return FALSE;
  choice->copies = CLAMP (copies, 1, 500);
  choice->place.start = CLAMP (start, 0, G_MAXINT);
  choice->place.offset_x = right / 1000.0;
  choice->place.offset_y = down / 1000.0;
  return TRUE;
}

gboolean
bed_label_fields_say (BedLabelFields *self, const GError *error)
{
  const BedSheet *sheet = get_sheet (self);
  gint64 start = 0;

  if (!error)
    {
      say_at_sheet (self, NULL);
      for (Field field = 0; field < N_FIELDS; field++)
        say_at (self, field, NULL);
      return FALSE;
    }
  for (Field field = 0; field < N_FIELDS; field++)
    if (gtk_widget_get_visible (self->faults[field]))
      return TRUE;
  if (g_error_matches (error, BED_PRINT_ERROR, BED_PRINT_ERROR_AMOUNT))
    say_at (self, *get_text (self, MASS) ? COPIES : MASS, error->message);
  else if (!g_error_matches (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET))
    return FALSE;
  else if (sheet && read_entry (self, START, BED_MEASURE_COUNT, &start, NULL)
           && start > sheet->columns * sheet->rows)
    say_at (self, START, error->message);
  else
    say_at_sheet (self, error->message);
  return TRUE;
}

void
bed_label_fields_remember (BedLabelFields *self, const BedPrintChoice *choice, guint n)
{
  const BedSheet *sheet = choice->sheet;

  bed_settings_set_sheet (bed_label_use_get_word (bed_print_get_use (self->offer.what)),
                          sheet->key);
  bed_settings_set_offsets (sheet->key, choice->place.offset_x, choice->place.offset_y);
  bed_settings_set_start (sheet->key, bed_sheet_get_next_start (sheet, &choice->place, n));
}
