#include "app/picking/sale_form.h"

#include <glib/gi18n.h>

#include "app/desk/page_parts.h"
#include "app/form/field_row.h"
#include "app/form/forms.h"
#include "app/host/host.h"
#include "app/widgets/cells.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/units.h"

#define NAME "bed-sale-lines"
#define FAULT "bed-sale-fault" /* on a line that was taken in: what is wrong with it */

/* Form and use seldom change: they come after the price, which Enter takes the line in at. */
static const char *const fields[] = { "lot", "mass", "price", "form", "use" };
#define N_FIELDS G_N_ELEMENTS (fields)
#define N_TYPED 3 /* those that a line begins without */

/* Lives as long as its form. */
typedef struct
{
  BedForm *form; /* borrowed */
  BedFarm *farm;
  BedFieldRow *rows[N_FIELDS];
  BedRecord *typed;   /* the line being typed */
  GPtrArray *lines;   /* BedRecord, taken in or stored */
  GPtrArray *waiting; /* pasted, to be taken in when the line being typed is right */
  GArray *removed;    /* gint64, stored lines to take out */
  GtkWidget *list;
  GtkWidget *total;
  GtkWidget *wait;
} SaleLines;

static void
free_lines (SaleLines *self)
{
  g_clear_object (&self->typed);
  g_ptr_array_unref (self->lines);
  g_ptr_array_unref (self->waiting);
  g_array_unref (self->removed);
  g_object_unref (self->farm);
  g_free (self);
}

/* What people mean by a sale, until they say otherwise. */
static void
begin_line (SaleLines *self)
{
  g_clear_object (&self->typed);
  self->typed = bed_record_new (BED_KIND_LINE);
  bed_record_set_text (self->typed, "form", "fresh");
  bed_record_set_text (self->typed, "use", "sold");
  for (guint i = 0; i < N_FIELDS; i++)
    bed_field_row_set_draft (self->rows[i], self->typed);
}

static gboolean
is_empty (SaleLines *self)
{
  for (guint i = 0; i < N_TYPED; i++)
    if (*bed_editor_get_text (bed_field_row_get_editor (self->rows[i])))
      return FALSE;
  return TRUE;
}

static char *
dup_line (SaleLines *self, BedRecord *line)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < N_FIELDS; i++)
    if (bed_record_has (line, fields[i]))
      {
        g_autofree char *value = bed_value_dup_sentence (self->farm, line, fields[i]);
        g_string_append_printf (text, "%s%s", text->len ? " · " : "", value);
      }
  return g_string_free (text, FALSE);
}

static void show_lines (SaleLines *self);

static void
remove_cb (GtkButton *button, SaleLines *self)
{
  BedRecord *line = g_object_get_data (G_OBJECT (button), NAME);
  gint64 id = bed_record_get_id (line);

  if (id)
    g_array_append_val (self->removed, id);
  g_ptr_array_remove (self->lines, line);
  show_lines (self);
  bed_form_touch (self->form);
  bed_form_focus (self->form, fields[0]);
}

/* What is wrong with it stands under it. */
static GtkWidget *
make_line (SaleLines *self, BedRecord *line)
{
  const char *fault = g_object_get_data (G_OBJECT (line), FAULT);
  GtkWidget *drop = bed_styled (gtk_button_new_from_icon_name ("user-trash-symbolic"), "flat");
  g_autofree char *text = dup_line (self, line);
  g_autofree char *name = g_strdup_printf (_ ("Remove %s"), text);
  GtkWidget *label = bed_words_new (text, "numeric");

  gtk_widget_set_hexpand (label, TRUE);
  gtk_widget_set_focus_on_click (drop, FALSE);
  gtk_widget_set_tooltip_text (drop, _ ("Remove this line"));
  bed_named (drop, name);
  g_object_set_data (G_OBJECT (drop), NAME, line);
  g_signal_connect (drop, "clicked", G_CALLBACK (remove_cb), self);
  GtkWidget *row = bed_row_new (12, label, drop, NULL);
  return fault ? bed_column_new (0, row, bed_words_new (fault, "error"), NULL) : row;
}

static void
show_lines (SaleLines *self)
{
  const BedNotation *notation = bed_farm_get_notation (self->farm);
  gint64 mass = 0, price = 0;

  bed_box_clear (self->list);
  for (guint i = 0; i < self->lines->len; i++)
    {
      BedRecord *line = self->lines->pdata[i];
      gtk_box_append (GTK_BOX (self->list), make_line (self, line));
      mass += bed_record_get_int (line, "mass");
      price += bed_record_get_int (line, "price");
    }
  g_autofree char *sold = bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 2, mass);
  g_autofree char *money = bed_measure_format (BED_MEASURE_MONEY, notation, price);
  /* Translators: mass, money, currency. */
  g_autofree char *text
      = g_strdup_printf (_ ("Together %s, %s %s"), sold, money,
                         bed_record_get_text (bed_farm_get_settings (self->farm), "currency"));
  gtk_label_set_label (GTK_LABEL (self->total), self->lines->len ? text : "");
  g_autofree char *waiting
      = bed_say (ngettext ("%u pasted line waits for the one above",
                           "%u pasted lines wait for the one above", self->waiting->len),
                 self->waiting->len);
  gtk_label_set_label (GTK_LABEL (self->wait), self->waiting->len ? waiting : "");
  gtk_widget_set_visible (self->wait, self->waiting->len > 0);
}

/* The first row that something is wrong at, or NULL. */
static BedFieldRow *
find_wrong (SaleLines *self)
{
  static const guint needed[] = { 0, 1 };

  for (guint i = 0; i < G_N_ELEMENTS (needed); i++)
    if (!bed_record_has (self->typed, fields[needed[i]])
        && bed_field_row_is_understood (self->rows[needed[i]]))
      bed_field_row_set_fault (self->rows[needed[i]], BED_FAULT_ERROR, _ ("This is missing."));
  for (guint i = 0; i < N_FIELDS; i++)
    if (bed_field_row_is_wrong (self->rows[i]))
      return self->rows[i];
  return NULL;
}

/* A line that is wrong stays where it is typed, with the keyboard at what is wrong. */
static void
take_line (SaleLines *self)
{
  BedFieldRow *wrong;

  bed_form_check (self->form);
  wrong = find_wrong (self);
  if (!wrong)
    {
      g_ptr_array_add (self->lines, g_steal_pointer (&self->typed));
      begin_line (self);
      show_lines (self);
    }
  gtk_widget_grab_focus (
      bed_editor_get_focus_widget (bed_field_row_get_editor (wrong ? wrong : self->rows[0])));
}

/* --- cells ------------------------------------------------------------------------ */

/* In the order of the fields. */
static gboolean
take_cells (gpointer data, char **cells)
{
  SaleLines *self = data;

  for (guint i = 0; i < N_FIELDS && cells[i]; i++)
    if (*cells[i])
      bed_field_row_set_text (self->rows[i], cells[i]);
  take_line (self);
  return is_empty (self);
}

static void
take_waiting (SaleLines *self)
{
  bed_cells_take (self->waiting, take_cells, self);
  show_lines (self);
}

static gboolean
pasted_cb (SaleLines *self, const char *text)
{
  g_autoptr (GPtrArray) lines = bed_cells_split (text);

  g_ptr_array_extend_and_steal (self->waiting, g_steal_pointer (&lines));
  take_waiting (self);
  return TRUE;
}

/* --- keys ------------------------------------------------------------------------- */

static gboolean
price_entered_cb (SaleLines *self)
{
  if (is_empty (self))
    return FALSE;
  take_line (self);
  if (is_empty (self))
    take_waiting (self);
  return TRUE;
}

static gboolean
lot_entered_cb (SaleLines *self)
{
  if (!is_empty (self) || !self->lines->len)
    return FALSE;
  bed_form_save (self->form, BED_FORM_THEN_LEAVE);
  return TRUE;
}

/* --- with the record ----------------------------------------------------------- */

static gboolean
load_lines (SaleLines *self, gint64 sale)
{
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT id FROM line WHERE sale = ?1 ORDER BY id");

  g_ptr_array_set_size (self->lines, 0);
  g_ptr_array_set_size (self->waiting, 0);
  g_array_set_size (self->removed, 0);
  bed_query_bind_int (q, 1, sale);
  while (bed_query_next (q))
    {
      BedRecord *line = bed_farm_load (self->farm, BED_KIND_LINE, bed_query_int (q, 0), NULL);
      if (!line)
        return FALSE;
      g_ptr_array_add (self->lines, line);
    }
  return bed_query_finish (q, NULL);
}

/* Before the lines are checked; "draft-changed" comes again when the farm could not be read. */
static void
begun_cb (BedForm *form, SaleLines *self)
{
  BedRecord *original = bed_form_get_original (form);

  if (g_object_get_data (G_OBJECT (original), NAME))
    return;
  g_object_set_data (G_OBJECT (original), NAME, self);
  /* Said by the form, which reads, and which comes again. */
  if (!load_lines (self, bed_record_get_id (original)))
    g_object_set_data (G_OBJECT (original), NAME, NULL);
  begin_line (self);
  show_lines (self);
}

static void
put_line (SaleLines *self, BedEdit *edit, BedRecord *sale, BedRecord *line)
{
  g_autoptr (BedRecord) copy = bed_form_dup_draft (self->form, line);

  bed_record_set_int (copy, "sale", bed_record_get_id (sale));
  bed_edit_put (edit, copy);
}

static void
remove_lines (SaleLines *self, BedEdit *edit)
{
  for (guint i = 0; i < self->removed->len; i++)
    bed_edit_remove (edit, BED_KIND_LINE, g_array_index (self->removed, gint64, i));
}

static void
gather_cb (BedForm *form, BedEdit *edit, BedRecord *sale, SaleLines *self)
{
  remove_lines (self, edit);
  for (guint i = 0; i < self->lines->len; i++)
    put_line (self, edit, sale, self->lines->pdata[i]);
  if (!is_empty (self))
    put_line (self, edit, sale, self->typed);
  if (self->waiting->len)
    bed_form_refuse (form, gtk_label_get_label (GTK_LABEL (self->wait)));
}

/* The newest first: of lines that are too much together, it is said at the first. */
static void
check_cb (BedForm *form, BedEdit *edit, BedRecord *sale, SaleLines *self)
{
  remove_lines (self, edit);
  if (!is_empty (self))
    put_line (self, edit, sale, self->typed);
  for (guint i = self->lines->len; i > 0; i--)
    put_line (self, edit, sale, self->lines->pdata[i - 1]);
}

static void
faults_cb (BedForm *form, GPtrArray *faults, SaleLines *self)
{
  for (guint i = 0; i < self->lines->len; i++)
    {
      GObject *line = self->lines->pdata[i];

      g_object_set_data (line, FAULT, NULL);
      for (guint f = 0; f < faults->len; f++)
        if (bed_form_is_fault_of (faults->pdata[f], BED_RECORD (line)))
          g_object_set_data_full (line, FAULT, g_strdup (((BedFault *) faults->pdata[f])->message),
                                  g_free);
    }
  show_lines (self);
}

static GtkWidget *
make_below (SaleLines *self)
{
  GtkWidget *grid = bed_columns_new (140, N_FIELDS);

  for (guint i = 0; i < N_FIELDS; i++)
    {
      self->rows[i]
          = bed_field_row_new (self->farm, bed_kind_find_field (BED_KIND_LINE, fields[i], NULL));
      bed_field_row_put_label_above (self->rows[i]);
      gtk_box_append (GTK_BOX (grid), GTK_WIDGET (self->rows[i]));
      bed_form_add_row (self->form, self->rows[i]);
      g_signal_connect_swapped (self->rows[i], "pasted", G_CALLBACK (pasted_cb), self);
    }
  g_signal_connect_swapped (self->rows[0], "entered", G_CALLBACK (lot_entered_cb), self);
  for (guint i = N_TYPED - 1; i < N_FIELDS; i++)
    g_signal_connect_swapped (self->rows[i], "entered", G_CALLBACK (price_entered_cb), self);
  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  self->wait = bed_words_new (NULL, "warning");
  self->total = bed_styled (bed_words_new (NULL, "heading"), "numeric");
  GtkWidget *box = bed_column_new (6, grid,
                                   bed_words_new (_ ("Enter after the price adds the line; "
                                                     "Enter in the empty lot saves the sale. What "
                                                     "was lost or given away has no price: Tab "
                                                     "leads to its use."),
                                                  "dim-label"),
                                   self->wait, self->list, self->total, NULL);
  return bed_section_new (_ ("What was sold"), box);
}

BedForm *
bed_sale_form_new (BedFarm *farm)
{
  BedForm *form = bed_form_new (farm, bed_forms_get_spec (BED_KIND_SALE));
  SaleLines *self = g_new0 (SaleLines, 1);

  self->form = form;
  self->farm = g_object_ref (farm);
  self->lines = g_ptr_array_new_with_free_func (g_object_unref);
  self->waiting = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  self->removed = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_object_set_data_full (G_OBJECT (form), NAME, self, (GDestroyNotify) free_lines);
  bed_form_set_below (form, make_below (self));
  bed_form_set_then (form, BED_FORM_THEN_LEAVE);
  g_signal_connect (form, "begun", G_CALLBACK (begun_cb), self);
  g_signal_connect (form, "draft-changed", G_CALLBACK (begun_cb), self);
  g_signal_connect (form, "gather", G_CALLBACK (gather_cb), self);
  g_signal_connect (form, "check", G_CALLBACK (check_cb), self);
  g_signal_connect (form, "faults", G_CALLBACK (faults_cb), self);
  begun_cb (form, self);
  return form;
}

void
bed_sale_form_offer_lot (BedForm *form, const char *lot)
{
  SaleLines *self = g_object_get_data (G_OBJECT (form), NAME);
  g_autoptr (GError) error = NULL;
  gint64 id, rest;

  g_return_if_fail (self != NULL && lot != NULL);
  if (!is_empty (self))
    return;
  id = bed_farm_find (self->farm, BED_KIND_LOT, lot, &error);
  if (!id
      || !bed_query_one (self->farm, "SELECT rest FROM lot_left WHERE id = ?1", id, &rest, &error))
    {
      bed_host_say_error (GTK_WIDGET (form), error);
      return;
    }
  begin_line (self);
  bed_record_set_int (self->typed, "lot", id);
  if (rest > 0)
    bed_record_set_int (self->typed, "mass", rest);
  for (guint i = 0; i < N_TYPED; i++)
    bed_field_row_set_draft (self->rows[i], self->typed);
}
