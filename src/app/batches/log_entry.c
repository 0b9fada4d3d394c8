#include "app/batches/log_entry.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "app/widgets/cells.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/diameters.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"

#define NEW (-1)

enum
{
  ROW_FELLING,
  ROW_LENGTH,
  ROW_DIAMETER,
  N_ROWS
};

struct _BedLogEntry
{
  BedPart parent_instance;
  BedFarm *farm;
  BedRecord *draft;
  GPtrArray *lines;
  GPtrArray *waiting; /* pasted, to be taken in when what stands in the entry is right */
  BedFieldRow *rows[N_ROWS];
  GtkWidget *count;
  GtkWidget *list;
  int changed; /* the line that is being put right, or NEW */
};

static void typing_init (BedTypingInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (BedLogEntry, bed_log_entry, BED_TYPE_PART,
                               G_IMPLEMENT_INTERFACE (BED_TYPE_TYPING, typing_init))

static const char *const row_fields[N_ROWS] = { "felling", "length", "small_diameter" };

static void
show_count (BedLogEntry *self)
{
  guint n = self->lines->len;
  g_autofree char *text = NULL;

  if (self->changed != NEW)
    text = bed_say (_ ("Log %d of %u is put right"), self->changed + 1, n);
  else if (n)
    text = bed_say (ngettext ("%u log", "%u logs", n), n);
  g_autofree char *waiting
      = bed_say (ngettext ("%s · %u pasted line waits for the one below",
                           "%s · %u pasted lines wait for the one below", self->waiting->len),
                 text ? text : _ ("Logs"), self->waiting->len);
  gtk_label_set_label (GTK_LABEL (self->count), self->waiting->len ? waiting
                                                : text             ? text
                                                                   : _ ("Logs"));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "typing.take-back", n > 0);
}

static GtkWidget *
make_line (BedLogEntry *self, guint at)
{
  BedRecord *log = self->lines->pdata[at];
  g_autofree char *diameter = bed_value_dup_sentence (self->farm, log, "small_diameter");
  g_autofree char *length = bed_value_dup_sentence (self->farm, log, "length");
  g_autofree char *felling = bed_value_dup_text (self->farm, log, "felling");
  /* Translators: one log on the measuring sheet: its number, diameter, length, felling. */
  g_autofree char *text = bed_say (_ ("%u.  %s × %s  %s"), at + 1, diameter, length, felling);

  return bed_line_new (text, "numeric");
}

/* The newest stands first, under the entry. */
static void
show_lines (BedLogEntry *self)
{
  GtkListBoxRow *row;

  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0)))
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  for (guint i = self->lines->len; i > 0; i--)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_line (self, i - 1));
  show_count (self);
  g_signal_emit_by_name (self, "changed");
}

/* To type the next one. */
static void
begin_line (BedLogEntry *self)
{
  self->changed = NEW;
  bed_record_unset (self->draft, "small_diameter");
  bed_field_row_set_draft (self->rows[ROW_DIAMETER], self->draft);
}

/* In place of the line that is put right, else behind all others. */
static void
put_line (BedLogEntry *self, gint64 diameter, int at)
{
  BedRecord *log = bed_record_copy (self->draft);

  bed_record_set_int (log, "small_diameter", diameter);
  g_ptr_array_insert (self->lines, at, log);
}

static void
take_out (BedLogEntry *self, guint at)
{
  g_ptr_array_remove_index (self->lines, at);
  begin_line (self);
  show_lines (self);
}

static GtkWidget *
get_entry (BedLogEntry *self, int at)
{
  return bed_editor_get_focus_widget (bed_field_row_get_editor (self->rows[at]));
}

static gboolean
is_within_limits (BedLogEntry *self, int at)
{
  const BedField *field = bed_field_row_get_field (self->rows[at]);
  g_autoptr (GError) error = NULL;

  if (bed_value_check_limits (self->farm, field, bed_record_get_int (self->draft, field->name),
                              &error))
    return TRUE;
  bed_field_row_set_fault (self->rows[at], BED_FAULT_ERROR, error->message);
  return FALSE;
}

static const char *
get_diameter_text (BedLogEntry *self)
{
  return bed_editor_get_text (bed_field_row_get_editor (self->rows[ROW_DIAMETER]));
}

static gboolean
is_there (BedLogEntry *self, int at)
{
  return bed_record_has (self->draft, row_fields[at])
         || (at == ROW_DIAMETER && *get_diameter_text (self)
             && bed_field_row_is_understood (self->rows[at]));
}

/* Whether the line is whole; else the fault stands at its field and the keyboard goes there. */
static gboolean
is_whole (BedLogEntry *self)
{
  for (int i = 0; i < N_ROWS; i++)
    {
      BedFieldRow *row = self->rows[i];
      gboolean there = is_there (self, i);

      if (there && (i != ROW_LENGTH || is_within_limits (self, i)))
        continue;
      if (!there && bed_field_row_is_understood (row))
        {
          g_autofree char *missing
              = g_strdup_printf (_ ("%s is missing."), _ (bed_field_row_get_field (row)->label));

          bed_field_row_set_fault (row, BED_FAULT_ERROR, missing);
        }
      gtk_widget_grab_focus (get_entry (self, i));
      return FALSE;
    }
  return TRUE;
}

/* FALSE when something is missing or wrong, which is then said at its field. */
static gboolean
take_in (BedLogEntry *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) diameters = NULL;
  int at = self->changed == NEW ? (int) self->lines->len : self->changed;

  if (!is_whole (self))
    return FALSE;
  diameters = bed_diameters_parse (self->farm, get_diameter_text (self), &error);
  if (!diameters)
    {
      bed_field_row_set_fault (self->rows[ROW_DIAMETER], BED_FAULT_ERROR, error->message);
      return FALSE;
    }
  if (self->changed != NEW)
    g_ptr_array_remove_index (self->lines, self->changed);
  for (guint i = 0; i < diameters->len; i++)
    put_line (self, g_array_index (diameters, gint64, i), at + (int) i);
  begin_line (self);
  show_lines (self);
  return TRUE;
}

static guint take_waiting (BedLogEntry *self);

/* An empty one ends what is put right, as it is; else it is the end of the sheet. What was pasted
 * behind it is next. */
static gboolean
diameter_entered_cb (BedLogEntry *self)
{
  gboolean typed = *get_diameter_text (self) != '\0', right = TRUE;

  if (!typed && self->changed == NEW && self->waiting->len == 0)
    return FALSE;
  if (typed)
    right = take_in (self);
  else
    begin_line (self);
  if (right)
    take_waiting (self);
  show_count (self);
  return TRUE;
}

/* What is typed into the diameter, where it is more than one. */
static char *
dup_understood (const char *text, gpointer data, GError **error)
{
  BedLogEntry *self = data;
  g_autoptr (GArray) diameters = bed_diameters_parse (self->farm, text, error);
  g_autoptr (BedRecord) log = bed_record_new (BED_KIND_LOG);

  if (!diameters)
    return NULL;
  for (guint i = 1; i < diameters->len; i++)
    if (g_array_index (diameters, gint64, i) != g_array_index (diameters, gint64, 0))
      return bed_say (ngettext ("%u log", "%u logs", diameters->len), diameters->len);
  bed_record_set_int (log, "small_diameter", g_array_index (diameters, gint64, 0));
  g_autofree char *each = bed_value_dup_sentence (self->farm, log, "small_diameter");
  /* Translators: how many, and the diameter of each of them. */
  return bed_say (ngettext ("%u log of %s", "%u logs of %s", diameters->len), diameters->len, each);
}

/* --- lines that are there ----------------------------------------------------------- */

static guint
get_at (BedLogEntry *self, GtkListBoxRow *row)
{
  return self->lines->len - 1 - (guint) gtk_list_box_row_get_index (row);
}

static void
change_cb (BedLogEntry *self, GtkListBoxRow *row)
{
  guint at = get_at (self, row);

  g_set_object (&self->draft, NULL);
  self->draft = bed_record_copy (self->lines->pdata[at]);
  for (int i = 0; i < N_ROWS; i++)
    bed_field_row_set_draft (self->rows[i], self->draft);
  self->changed = (int) at;
  show_count (self);
  gtk_widget_grab_focus (get_entry (self, ROW_DIAMETER));
}

static gboolean
list_key_cb (BedLogEntry *self, guint keyval, guint keycode, GdkModifierType state)
{
  GtkListBoxRow *row = gtk_list_box_get_selected_row (GTK_LIST_BOX (self->list));

  if (!row || (keyval != GDK_KEY_Delete && keyval != GDK_KEY_KP_Delete))
    return GDK_EVENT_PROPAGATE;
  gtk_widget_grab_focus (get_entry (self, ROW_DIAMETER));
  take_out (self, get_at (self, row));
  return GDK_EVENT_STOP;
}

/* From the empty diameter up to the lines, the newest first. */
static gboolean
entry_key_cb (BedLogEntry *self, guint keyval, guint keycode, GdkModifierType state)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);

  if (!row || (keyval != GDK_KEY_Up && keyval != GDK_KEY_Down) || *get_diameter_text (self))
    return GDK_EVENT_PROPAGATE;
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), row);
  return gtk_widget_grab_focus (GTK_WIDGET (row));
}

/* --- a block of cells ------------------------------------------------------------- */

static gboolean
take_cells (gpointer data, char **cells)
{
  BedLogEntry *self = data;

  if (cells[0] && cells[1] && *cells[1])
    bed_field_row_set_text (self->rows[ROW_LENGTH], cells[1]);
  bed_field_row_set_text (self->rows[ROW_DIAMETER], cells[0] ? cells[0] : "");
  return take_in (self);
}

/* Those that wait, up to one that has to be put right first. */
static guint
take_waiting (BedLogEntry *self)
{
  guint taken = bed_cells_take (self->waiting, take_cells, self);

  show_count (self);
  return taken;
}

static gboolean
pasted_cb (BedLogEntry *self, const char *text)
{
  bed_log_entry_paste (self, text);
  return TRUE;
}

static void
take_back_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  BedLogEntry *self = BED_LOG_ENTRY (widget);

  take_out (self, self->lines->len - 1);
}

static char *
dup_typing_words (BedTyping *typing)
{
  guint n = BED_LOG_ENTRY (typing)->lines->len;

  return n ? bed_say (ngettext ("%u log typed for a batch is not saved.",
                                "%u logs typed for a batch are not saved.", n),
                      n)
           : NULL;
}

static void
typing_init (BedTypingInterface *iface)
{
  iface->dup_words = dup_typing_words;
}

static void
bed_log_entry_finalize (GObject *object)
{
  BedLogEntry *self = BED_LOG_ENTRY (object);

  g_ptr_array_unref (self->lines);
  g_ptr_array_unref (self->waiting);
  g_clear_object (&self->draft);
  G_OBJECT_CLASS (bed_log_entry_parent_class)->finalize (object);
}

static void
bed_log_entry_class_init (BedLogEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_log_entry_finalize;
  gtk_widget_class_install_action (widget_class, "typing.take-back", NULL, take_back_cb);
  bed_signal_new (BED_TYPE_LOG_ENTRY, "changed", 0);
}

static void
bed_log_entry_init (BedLogEntry *self)
{
  self->lines = g_ptr_array_new_with_free_func (g_object_unref);
  self->waiting = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  self->changed = NEW;
}

static void
listen (GtkWidget *widget, GCallback pressed, BedLogEntry *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", pressed, self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (widget, keys);
}

static GtkWidget *
make_list (BedLogEntry *self)
{
  GtkWidget *scrolled;

  self->list = bed_named (bed_styled (gtk_list_box_new (), "log-lines"), _ ("Logs typed"));
  g_signal_connect_object (self->list, "row-activated", G_CALLBACK (change_cb), self,
                           G_CONNECT_SWAPPED);
  listen (self->list, G_CALLBACK (list_key_cb), self);
  gtk_list_box_set_placeholder (
      GTK_LIST_BOX (self->list),
      bed_words_new (_ ("Each diameter with Enter; ten of 12 are 10 x 12. Up leads to the lines, "
                        "Enter there puts one right, Delete takes it out."),
                     "dim-label"));
  scrolled = bed_named (bed_scrolled_new (self->list), _ ("Logs typed"));
  bed_styled (scrolled, "lines-4");
  gtk_widget_set_vexpand (scrolled, TRUE);
  return scrolled;
}

static GtkWidget *
make_rows (BedLogEntry *self, BedForm *form)
{
  GtkWidget *grid = bed_columns_new (120, N_ROWS);

  for (int i = 0; i < N_ROWS; i++)
    {
      self->rows[i]
          = bed_field_row_new (self->farm, bed_kind_find_field (BED_KIND_LOG, row_fields[i], NULL));
      bed_field_row_put_label_above (self->rows[i]);
      gtk_box_append (GTK_BOX (grid), GTK_WIDGET (self->rows[i]));
      bed_form_add_row (form, self->rows[i]);
    }
  return grid;
}

static void
build (BedLogEntry *self, BedForm *form)
{
  GtkWidget *rows = make_rows (self, form);
  GtkWidget *entry = get_entry (self, ROW_DIAMETER);

  self->count = bed_line_new (NULL, "heading");
  bed_field_row_set_reader (self->rows[ROW_DIAMETER], dup_understood, self);
  g_signal_connect_swapped (self->rows[ROW_DIAMETER], "entered", G_CALLBACK (diameter_entered_cb),
                            self);
  g_signal_connect_swapped (self->rows[ROW_DIAMETER], "pasted", G_CALLBACK (pasted_cb), self);
  listen (entry, G_CALLBACK (entry_key_cb), self);
  bed_part_set_child (BED_PART (self),
                      bed_column_new (3, self->count, rows, make_list (self), NULL));
}

BedLogEntry *
bed_log_entry_new (BedFarm *farm, BedForm *form)
{
  BedLogEntry *self = g_object_new (BED_TYPE_LOG_ENTRY, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  build (self, form);
  bed_log_entry_clear (self);
  return self;
}

GPtrArray *
bed_log_entry_get_lines (BedLogEntry *self)
{
  g_return_val_if_fail (BED_IS_LOG_ENTRY (self), NULL);
  return self->lines;
}

guint
bed_log_entry_paste (BedLogEntry *self, const char *text)
{
  g_return_val_if_fail (BED_IS_LOG_ENTRY (self), 0);
  g_autoptr (GPtrArray) lines = bed_cells_split (text);

  g_ptr_array_extend_and_steal (self->waiting, g_steal_pointer (&lines));
  return take_waiting (self);
}

GPtrArray *
bed_log_entry_take_pending (BedLogEntry *self)
{
  g_return_val_if_fail (BED_IS_LOG_ENTRY (self), NULL);
  if (!*get_diameter_text (self) || take_in (self))
    take_waiting (self);
  return self->lines;
}

void
bed_log_entry_clear (BedLogEntry *self)
{
  gint64 felling, length = 0;

  /* They are offers: the form, which reads, says that there are none. */
  if (!bed_query_one (self->farm, "SELECT id FROM felling ORDER BY felled_on DESC, id DESC LIMIT 1",
                      0, &felling, NULL)
      || !bed_query_one (self->farm, "SELECT length FROM log ORDER BY id DESC LIMIT 1", 0, &length,
                         NULL))
    felling = length = 0;
  g_set_object (&self->draft, NULL);
  self->draft = bed_record_new (BED_KIND_LOG);
  if (felling)
    bed_record_set_int (self->draft, "felling", felling);
  if (length)
    bed_record_set_int (self->draft, "length", length);
  for (int i = 0; i < N_ROWS; i++)
    bed_field_row_set_draft (self->rows[i], self->draft);
  g_ptr_array_set_size (self->lines, 0);
  g_ptr_array_set_size (self->waiting, 0);
  self->changed = NEW;
  show_lines (self);
}
