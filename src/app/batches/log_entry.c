#include "app/batches/log_entry.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <string.h>

#include "app/host/host.h"
#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/wrap_layout.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

#define LIST_HEIGHT 72 /* px, least, of the logs that were typed */

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
  GtkWidget *box;
  BedFieldRow *rows[N_ROWS];
  GtkWidget *running; /* owned: count, button and list */
  GtkWidget *count;
  GtkWidget *back;
  GtkWidget *list;
};

static void typing_init (BedTypingInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (BedLogEntry, bed_log_entry, BED_TYPE_PART,
                               G_IMPLEMENT_INTERFACE (BED_TYPE_TYPING, typing_init))

static const char *const row_fields[N_ROWS] = { "felling", "length", "small_diameter" };

static void
show_count (BedLogEntry *self)
{
  guint n = self->lines->len;
  g_autofree char *text = n ? g_strdup_printf (ngettext ("%u log", "%u logs", n), n)
                            : g_strdup (_ ("No log typed yet"));

  gtk_label_set_label (GTK_LABEL (self->count), text);
  gtk_widget_set_visible (self->back, n > 0);
}

static GtkWidget *
make_line (BedLogEntry *self, BedRecord *log)
{
  g_autofree char *diameter = bed_value_dup_sentence (self->farm, log, "small_diameter");
  g_autofree char *length = bed_value_dup_sentence (self->farm, log, "length");
  g_autofree char *felling = bed_value_dup_text (self->farm, log, "felling");
  /* Translators: one log on the measuring sheet: its number, diameter, length, felling. */
  g_autofree char *text
      = g_strdup_printf (_ ("%u.  %s × %s  %s"), self->lines->len, diameter, length, felling);

  return bed_styled (bed_line_new (text, "numeric"), "log-line");
}

/* The newest stands first, under the entry. */
static void
add_line (BedLogEntry *self)
{
  g_autoptr (BedRecord) log = bed_record_copy (self->draft);

  g_ptr_array_add (self->lines, g_object_ref (log));
  gtk_box_prepend (GTK_BOX (self->list), make_line (self, log));
  bed_record_unset (self->draft, "small_diameter");
  bed_field_row_set_draft (self->rows[ROW_DIAMETER], self->draft);
  show_count (self);
  g_signal_emit_by_name (self, "changed");
}

static gboolean
take_back (BedLogEntry *self)
{
  GtkWidget *last = gtk_widget_get_first_child (self->list);

  if (self->lines->len == 0)
    return FALSE;
  g_ptr_array_set_size (self->lines, self->lines->len - 1);
  gtk_box_remove (GTK_BOX (self->list), last);
  show_count (self);
  g_signal_emit_by_name (self, "changed");
  return TRUE;
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

/* Whether the line is whole; else the fault stands at its field and the keyboard goes there. */
static gboolean
is_whole (BedLogEntry *self)
{
  for (int i = 0; i < N_ROWS; i++)
    {
      BedFieldRow *row = self->rows[i];
      gboolean there = bed_record_has (self->draft, row_fields[i]);

      if (there && (i == ROW_FELLING || is_within_limits (self, i)))
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

static gboolean
is_diameter_empty (BedLogEntry *self)
{
  return *bed_editor_get_text (bed_field_row_get_editor (self->rows[ROW_DIAMETER])) == '\0';
}

static gboolean
diameter_entered_cb (BedLogEntry *self)
{
  if (is_diameter_empty (self))
    return FALSE;
  if (is_whole (self))
    add_line (self);
  return TRUE;
}

/* --- a block of cells ------------------------------------------------------------- */

static gboolean
take_cells (BedLogEntry *self, const char *line)
{
  g_auto (GStrv) cells = g_strsplit (line, "\t", 3);

  if (cells[1] && *g_strstrip (cells[1]))
    bed_field_row_set_text (self->rows[ROW_LENGTH], cells[1]);
  bed_field_row_set_text (self->rows[ROW_DIAMETER], g_strstrip (cells[0]));
  if (!is_whole (self))
    return FALSE;
  add_line (self);
  return TRUE;
}

static void
pasted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (BedLogEntry) self = data;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
  GtkEditable *entry;
  int at;

  if (!text)
    return;
  g_strchomp (text);
  if (strpbrk (text, "\n\t"))
    {
      bed_log_entry_paste (self, text);
      return;
    }
  entry = GTK_EDITABLE (get_entry (self, ROW_DIAMETER));
  gtk_editable_delete_selection (entry);
  at = gtk_editable_get_position (entry);
  gtk_editable_insert_text (entry, text, -1, &at);
  gtk_editable_set_position (entry, at);
}

/* An entry would take the first line and drop the others without a word. */
static void
paste_cb (GtkWidget *text, BedLogEntry *self)
{
  g_signal_stop_emission_by_name (text, "paste-clipboard");
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (text), NULL, pasted_cb,
                                 g_object_ref (self));
}

static gboolean
take_back_cb (GtkWidget *widget, GVariant *parameters, gpointer user_data)
{
  return take_back (BED_LOG_ENTRY (widget));
}

static char *
dup_typing_words (BedTyping *typing)
{
  guint n = BED_LOG_ENTRY (typing)->lines->len;

  return n ? g_strdup_printf (ngettext ("%u log typed for a batch is not saved.",
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
  g_clear_object (&self->running);
  g_clear_object (&self->draft);
  G_OBJECT_CLASS (bed_log_entry_parent_class)->finalize (object);
}

static void
bed_log_entry_class_init (BedLogEntryClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_log_entry_finalize;
  gtk_widget_class_add_binding (widget_class, GDK_KEY_z, GDK_CONTROL_MASK, take_back_cb, NULL);
  bed_signal_new (BED_TYPE_LOG_ENTRY, "changed", 0);
}

static void
bed_log_entry_init (BedLogEntry *self)
{
  self->lines = g_ptr_array_new_with_free_func (g_object_unref);
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  bed_part_set_child (BED_PART (self), self->box);
}

static GtkWidget *
make_running (BedLogEntry *self)
{
  GtkWidget *head;
  GtkWidget *scrolled;

  self->count = bed_line_new (NULL, "heading");
  gtk_widget_set_hexpand (self->count, TRUE);
  self->back = bed_styled (gtk_button_new_with_label (_ ("Take back the last line")), "flat");
  gtk_widget_set_tooltip_text (self->back, _ ("Ctrl+Z in the empty diameter"));
  gtk_widget_set_focus_on_click (self->back, FALSE);
  g_signal_connect_object (self->back, "clicked", G_CALLBACK (take_back), self, G_CONNECT_SWAPPED);
  head = bed_row_new (12, self->count, self->back, NULL);

  self->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  scrolled = bed_scrolled_new (self->list);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (scrolled), LIST_HEIGHT);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return bed_column_new (6, head, scrolled, NULL);
}

static void
build (BedLogEntry *self, BedForm *form)
{
  GtkWidget *heading = bed_label_new (_ ("Logs"), "heading");
  GtkWidget *grid = bed_columns_new (150, 3);

  gtk_box_append (GTK_BOX (self->box), heading);
  for (int i = 0; i < N_ROWS; i++)
    {
      self->rows[i]
          = bed_field_row_new (self->farm, bed_kind_find_field (BED_KIND_LOG, row_fields[i], NULL));
      gtk_box_append (GTK_BOX (grid), GTK_WIDGET (self->rows[i]));
      bed_form_add_row (form, self->rows[i]);
    }
  gtk_entry_set_placeholder_text (GTK_ENTRY (get_entry (self, ROW_DIAMETER)), _ ("one per Enter"));
  g_signal_connect_object (
      gtk_editable_get_delegate (GTK_EDITABLE (get_entry (self, ROW_DIAMETER))), "paste-clipboard",
      G_CALLBACK (paste_cb), self, 0);
  g_signal_connect_swapped (self->rows[ROW_DIAMETER], "entered", G_CALLBACK (diameter_entered_cb),
                            self);
  gtk_box_append (GTK_BOX (self->box), grid);
  self->running = g_object_ref_sink (make_running (self));
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

GtkWidget *
bed_log_entry_get_list (BedLogEntry *self)
{
  g_return_val_if_fail (BED_IS_LOG_ENTRY (self), NULL);
  return self->running;
}

guint
bed_log_entry_paste (BedLogEntry *self, const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  guint taken = 0;

  g_return_val_if_fail (BED_IS_LOG_ENTRY (self), 0);
  for (guint i = 0; lines[i]; i++)
    {
      g_autofree char *said = NULL;

      if (!*g_strchomp (lines[i]))
        continue;
      if (take_cells (self, lines[i]))
        {
          taken++;
          continue;
        }
      said = g_strdup_printf (ngettext ("Pasted %u log, up to the line that stands in the entry",
                                        "Pasted %u logs, up to the line that stands in the entry",
                                        taken),
                              taken);
      bed_host_say (GTK_WIDGET (self), said);
      break;
    }
  return taken;
}

GPtrArray *
bed_log_entry_take_pending (BedLogEntry *self)
{
  g_return_val_if_fail (BED_IS_LOG_ENTRY (self), NULL);
  if (!is_diameter_empty (self) && is_whole (self))
    add_line (self);
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
  bed_box_clear (self->list);
  show_count (self);
}
