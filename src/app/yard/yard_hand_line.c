#include "app/yard/yard_hand_line.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/host/host.h"
#include "app/widgets/build.h"
#include "science/units.h"

#define NUMBER_CHARS 6
#define CODE_CHARS 12

struct _BedYardHandLine
{
  BedPart parent_instance;
  BedFarm *farm;
  BedYardView *view;
  GtkWidget *sentence;
  GtkWidget *labels[BED_HAND_FIELDS];
  GtkWidget *numbers[BED_HAND_FIELDS];
  GtkWidget *code;
  BedHandField fields[BED_HAND_FIELDS];
  guint n;
  BedNotation notation;
};

G_DEFINE_FINAL_TYPE (BedYardHandLine, bed_yard_hand_line, BED_TYPE_PART)

static gint64
to_stored (const BedHandField *field)
{
  return field->measure == BED_MEASURE_ANGLE ? (gint64) round (field->value * 180 / G_PI * 100)
                                             : (gint64) round (field->value * 1e6);
}

static double
from_stored (const BedHandField *field, gint64 value)
{
  return field->measure == BED_MEASURE_ANGLE ? (double) value / 100 * G_PI / 180
                                             : (double) value / 1e6;
}

static void
show_number (BedYardHandLine *self, guint i)
{
  const BedHandField *field = &self->fields[i];
  int decimals = field->measure == BED_MEASURE_ANGLE ? 0 : 2;
  g_autofree char *text
      = bed_measure_format_rounded (field->measure, &self->notation, decimals, to_stored (field));
  g_autofree char *label = g_strdup_printf (
      "%s (%s)", field->label, bed_measure_unit (field->measure, self->notation.system));

  gtk_label_set_label (GTK_LABEL (self->labels[i]), label);
  bed_named (self->numbers[i], field->label);
  if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (self->numbers[i])), text) != 0)
    gtk_editable_set_text (GTK_EDITABLE (self->numbers[i]), text);
}

static gboolean
is_typing (BedYardHandLine *self)
{
  for (guint i = 0; i < BED_HAND_FIELDS; i++)
    if (gtk_widget_get_focus_child (self->numbers[i]))
      return TRUE;
  return FALSE;
}

/* What was not typed keeps the exact number behind what is shown. */
static gboolean
read_number (BedYardHandLine *self, guint i, double *value, GError **error)
{
  const BedHandField *field = &self->fields[i];
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->numbers[i]));
  int decimals = field->measure == BED_MEASURE_ANGLE ? 0 : 2;
  g_autofree char *shown
      = bed_measure_format_rounded (field->measure, &self->notation, decimals, to_stored (field));
  gint64 stored;

  *value = field->value;
  if (g_strcmp0 (text, shown) == 0)
    return TRUE;
  if (!bed_measure_parse (field->measure, &self->notation, text, &stored, error))
    return FALSE;
  *value = from_stored (field, stored);
  return TRUE;
}

static void hand_cb (BedYardHandLine *self);

/* What was set is shown as it became. */
static void
leave (BedYardHandLine *self)
{
  bed_yard_view_focus_selected (self->view);
  hand_cb (self);
}

/* A comma alone may be a decimal mark. */
static char **
split (GtkWidget *number)
{
  return g_regex_split_simple (";|,\\s+", gtk_editable_get_text (GTK_EDITABLE (number)), 0, 0);
}

/* "12 m, 8 m": one side after the other. FALSE when it is no such list. */
static gboolean
set_sides (BedYardHandLine *self, GError **error)
{
  g_auto (GStrv) parts = split (self->numbers[0]);
  guint n = self->n > 0 && self->fields[0].is_side ? g_strv_length (parts) : 0;
  double values[BED_HAND_FIELDS] = { 0 };
  g_autofree gint64 *lengths = g_new0 (gint64, n);

  if (n < 2)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!bed_measure_parse (BED_MEASURE_LENGTH_LONG, &self->notation, g_strstrip (parts[i]),
                            &lengths[i], error))
      return TRUE;
  for (guint i = 1; i < self->n; i++)
    if (!read_number (self, i, &values[i], error))
      return TRUE;
  for (guint i = 0; i < n; i++)
    {
      values[0] = from_stored (&self->fields[0], lengths[i]);
      bed_yard_view_set_fields (self->view, values);
    }
  leave (self);
  return TRUE;
}

/* "10 ft, 6 ft": the second is the next number. */
static void
spread (BedYardHandLine *self, GtkWidget *number)
{
  g_auto (GStrv) parts = split (number);
  guint n = g_strv_length (parts), at = 0;

  while (at < self->n && self->numbers[at] != number)
    at++;
  for (guint i = 0; at + n <= self->n && i < n; i++)
    gtk_editable_set_text (GTK_EDITABLE (self->numbers[at + i]), g_strstrip (parts[i]));
}

/* A scanner types its code wherever the keyboard is: what is no number may be one. */
static void
number_set_cb (BedYardHandLine *self, GtkWidget *number)
{
  double values[BED_HAND_FIELDS] = { 0 };
  g_autoptr (GError) error = NULL;

  if (set_sides (self, &error))
    {
      if (error)
        bed_host_say_error (GTK_WIDGET (self), error);
      return;
    }
  spread (self, number);
  for (guint i = 0; i < self->n; i++)
    if (!read_number (self, i, &values[i], &error))
      {
        const char *text = gtk_editable_get_text (GTK_EDITABLE (self->numbers[i]));
        if (strchr (text, '-') && text[0] != '-')
          g_signal_emit_by_name (self, "find", text);
        else
          bed_host_say_error (GTK_WIDGET (self), error);
        return;
      }
  bed_yard_view_set_fields (self->view, values);
  leave (self);
}

static void
code_set_cb (BedYardHandLine *self)
{
  g_autofree char *text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->code)));

  g_strstrip (text);
  gtk_editable_set_text (GTK_EDITABLE (self->code), "");
  if (*text)
    g_signal_emit_by_name (self, "find", text);
}

static gboolean
key_cb (BedYardHandLine *self, guint key)
{
  if (key != GDK_KEY_Escape)
    return FALSE;
  gtk_editable_set_text (GTK_EDITABLE (self->code), "");
  for (guint i = 0; i < self->n; i++)
    show_number (self, i);
  bed_yard_view_focus_selected (self->view);
  return TRUE;
}

static GtkWidget *
entry_new (BedYardHandLine *self, int chars, GCallback activate)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), chars);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), chars);
  g_signal_connect_object (entry, "activate", activate, self, G_CONNECT_SWAPPED);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_object (keys, "key-pressed", G_CALLBACK (key_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_add_controller (entry, keys);
  return entry;
}

static void
bed_yard_hand_line_class_init (BedYardHandLineClass *klass)
{
  bed_signal_new (BED_TYPE_YARD_HAND_LINE, "find", 1, G_TYPE_STRING);
}

static void
bed_yard_hand_line_init (BedYardHandLine *self)
{
  GtkWidget *box = bed_styled (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), "yard-hand");

  self->sentence = bed_line_new (NULL, NULL);
  gtk_widget_set_hexpand (self->sentence, TRUE);
  gtk_box_append (GTK_BOX (box), self->sentence);
  for (guint i = 0; i < BED_HAND_FIELDS; i++)
    {
      self->labels[i] = bed_styled (gtk_label_new (NULL), "dim-label");
      self->numbers[i]
          = bed_styled (entry_new (self, NUMBER_CHARS, G_CALLBACK (number_set_cb)), "numeric");
      gtk_box_append (GTK_BOX (box), self->labels[i]);
      gtk_box_append (GTK_BOX (box), self->numbers[i]);
      gtk_widget_set_visible (self->labels[i], FALSE);
      gtk_widget_set_visible (self->numbers[i], FALSE);
    }
  self->code = bed_named (entry_new (self, CODE_CHARS, G_CALLBACK (code_set_cb)),
                          _ ("Code of a log, or a stack's name"));
  bed_entry_hint (self->code, _ ("Code"));
  gtk_box_append (GTK_BOX (box), self->code);
  bed_part_set_child (BED_PART (self), box);
}

/* --- what the map says ----------------------------------------------------------- */

/* What is half typed stays as it is typed. */
static void
hand_cb (BedYardHandLine *self)
{
  BedHandField fields[BED_HAND_FIELDS];
  guint n = bed_yard_view_get_fields (self->view, fields);
  gboolean typing = is_typing (self) && n == self->n
                    && (n == 0 || g_strcmp0 (fields[0].label, self->fields[0].label) == 0);

  self->notation = *bed_farm_get_notation (self->farm);
  self->n = n;
  g_autofree char *sentence = bed_yard_view_dup_hand (self->view, &self->notation);
  gtk_label_set_label (GTK_LABEL (self->sentence), sentence);
  for (guint i = 0; i < BED_HAND_FIELDS; i++)
    {
      if (i < n)
        self->fields[i] = fields[i];
      gtk_widget_set_visible (self->labels[i], i < n);
      gtk_widget_set_visible (self->numbers[i], i < n);
      if (i < n && !typing)
        show_number (self, i);
    }
}

/* A digit begins the first number, or where that is none a code; F, nothing but the code. */
static void
typed_cb (BedYardHandLine *self, guint character)
{
  gboolean number = self->n > 0 && g_unichar_isdigit (character);
  GtkWidget *entry = number ? self->numbers[0] : self->code;
  char text[7] = { 0 };

  if (g_unichar_tolower (character) != 'f')
    g_unichar_to_utf8 (character, text);
  gtk_entry_grab_focus_without_selecting (GTK_ENTRY (entry));
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  gtk_editable_set_position (GTK_EDITABLE (entry), -1);
}

/* --- public --------------------------------------------------------------------- */

GtkWidget *
bed_yard_hand_line_new (BedFarm *farm, BedYardView *view)
{
  BedYardHandLine *self = g_object_new (BED_TYPE_YARD_HAND_LINE, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->view = view;
  g_signal_connect_object (view, "hand", G_CALLBACK (hand_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (view, "typed", G_CALLBACK (typed_cb), self, G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}
