#include "app/form/field_row.h"

#include <glib/gi18n.h>
#include <string.h>

#include "app/widgets/build.h"
#include "app/widgets/cells.h"
#include "app/widgets/drop_down.h"
#include "app/widgets/in_view.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"

#define LABEL_CHARS 14  /* of the label beside a field */
#define LABEL_LINES 3   /* at most; two are as high as the field */
#define WHOLE_AFTER 700 /* ms after the last key */
#define WHOLE_CHARS 44  /* of a long fault's lines */

struct _BedFieldRow
{
  GtkWidget parent_instance;
  BedFarm *farm;
  const BedField *field;
  BedRecord *draft;
  GtkWidget *label;
  GtkWidget *editor;
  GtkWidget *message;
  GtkWidget *whole;         /* a popover: what the message has no room for */
  GtkWidget *sides;         /* the two buttons of a torn row, or NULL */
  BedFieldRowReader reader; /* of text that is more than the field, or NULL */
  gpointer reader_data;
  char *read;    /* what it understood, or NULL */
  char *misread; /* why the text was not understood, or NULL */
  char *fault;   /* what the rules say, or NULL */
  BedFaultSeverity severity;
  guint view_source;
  guint whole_source;
  gboolean focused; /* help is said only where one is */
  gboolean above;   /* the label stands over the field, not beside it */
};

G_DEFINE_FINAL_TYPE (BedFieldRow, bed_field_row, GTK_TYPE_WIDGET)

/* Said only where it tells more than the text does: another unit, a weekday. */
static char *
dup_understood (BedFieldRow *self)
{
  const char *text = bed_editor_get_text (BED_EDITOR (self->editor));
  g_autofree char *value = NULL;

  if (self->read)
    return g_strdup (self->read);
  if (!self->draft || !*text || !bed_record_has (self->draft, self->field->name))
    return NULL;
  switch (self->field->type)
    {
    case BED_FIELD_MEASURE:
      if (strspn (text, "0123456789.,-/ ") == strlen (text))
        return NULL;
      value = bed_value_dup_sentence (self->farm, self->draft, self->field->name);
      return g_strdup_printf ("= %s", value);
    case BED_FIELD_DATE:
    case BED_FIELD_MOMENT:
      value = g_strndup (bed_record_get_text (self->draft, self->field->name), 10);
      return bed_date_format_whole (value);
    case BED_FIELD_TEXT:
    case BED_FIELD_NOTE:
    case BED_FIELD_CHOICE:
    case BED_FIELD_REFERENCE:
    default:
      return NULL;
    }
}

/* Nothing moves for a long fault: its line has the beginning, and when one has stopped typing all
 * of it stands over the row before. */
static gboolean
show_whole_cb (gpointer data)
{
  BedFieldRow *self = data;

  self->whole_source = 0;
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_popover_popup (GTK_POPOVER (self->whole));
  return G_SOURCE_REMOVE;
}

/* In a window that is not the active one nobody is told of it. */
static gboolean
has_keyboard (BedFieldRow *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;

  return self->focused
         || (focus && !gtk_window_is_active (GTK_WINDOW (root))
             && gtk_widget_is_ancestor (focus, GTK_WIDGET (self)));
}

static void
show_whole (BedFieldRow *self, const char *wrong)
{
  GtkWidget *label = gtk_popover_get_child (GTK_POPOVER (self->whole));
  int width;

  gtk_widget_measure (self->message, GTK_ORIENTATION_HORIZONTAL, -1, NULL, &width, NULL, NULL);
  if (!wrong || !has_keyboard (self) || width <= gtk_widget_get_width (GTK_WIDGET (self)))
    wrong = "";
  if (strcmp (wrong, gtk_label_get_label (GTK_LABEL (label))) == 0)
    return;
  gtk_label_set_label (GTK_LABEL (label), wrong);
  g_clear_handle_id (&self->whole_source, g_source_remove);
  gtk_popover_popdown (GTK_POPOVER (self->whole));
  if (*wrong)
    self->whole_source = g_timeout_add (WHOLE_AFTER, show_whole_cb, self);
}

/* @wide: in columns. */
static void
place (BedFieldRow *self, GtkWidget *child, int column, int row, int wide)
{
  GtkLayoutManager *grid = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  GtkGridLayoutChild *at
      = GTK_GRID_LAYOUT_CHILD (gtk_layout_manager_get_layout_child (grid, child));

  gtk_grid_layout_child_set_column (at, column);
  gtk_grid_layout_child_set_row (at, row);
  gtk_grid_layout_child_set_column_span (at, wide);
}

/* What was understood stands under what was typed; help and faults need the room. */
static void
place_message (BedFieldRow *self, const char *understood)
{
  int column = understood && !self->above ? 1 : 0;

  place (self, self->message, column, 2, 2 - column);
}

static void
say (BedFieldRow *self, const char *text, const char *style)
{
  gtk_label_set_label (GTK_LABEL (self->message), text);
  gtk_widget_set_tooltip_text (self->message, *text ? text : NULL);
  gtk_widget_set_css_classes (self->message, (const char *[]){ "message", style, NULL });
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->message), GTK_ACCESSIBLE_STATE_HIDDEN,
                               *text == '\0', -1);
}

static void
tell (BedFieldRow *self)
{
  GtkWidget *focus = bed_editor_get_focus_widget (BED_EDITOR (self->editor));
  const char *wrong = self->misread ? self->misread : self->fault;
  g_autofree char *understood = wrong ? NULL : dup_understood (self);
  const char *help = self->field->help && self->focused ? _ (self->field->help) : "";
  gboolean warning = !self->misread && self->fault && self->severity == BED_FAULT_WARNING;

  place_message (self, understood);
  say (self,
       wrong        ? wrong
       : understood ? understood
                    : help,
       warning ? "warning"
       : wrong ? "error"
               : "dim-label");
  show_whole (self, wrong);
  if (wrong && !warning)
    gtk_widget_add_css_class (focus, "error");
  else
    gtk_widget_remove_css_class (focus, "error");
  gtk_accessible_update_state (
      GTK_ACCESSIBLE (focus), GTK_ACCESSIBLE_STATE_INVALID,
      wrong && !warning ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static void
forget (BedFieldRow *self)
{
  g_clear_pointer (&self->read, g_free);
  g_clear_pointer (&self->misread, g_free);
  g_clear_pointer (&self->fault, g_free);
}

static void
read_text (BedFieldRow *self)
{
  g_autoptr (GError) error = NULL;
  const char *text = bed_editor_get_text (BED_EDITOR (self->editor));

  forget (self);
  if (self->draft && !bed_value_parse (self->farm, self->draft, self->field->name, text, &error))
    {
      bed_record_unset (self->draft, self->field->name);
      if (self->reader)
        {
          g_clear_error (&error);
          self->read = self->reader (text, self->reader_data, &error);
        }
      self->misread = error ? g_strdup (error->message) : NULL;
    }
  tell (self);
}

static void
edited_cb (BedFieldRow *self)
{
  read_text (self);
  g_signal_emit_by_name (self, "edited");
}

static gboolean
bring_in_view_cb (gpointer data)
{
  BedFieldRow *self = data;

  self->view_source = 0;
  bed_bring_in_view (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

static void
focus_moved_cb (BedFieldRow *self, GParamSpec *pspec, GtkEventControllerFocus *focus)
{
  self->focused = gtk_event_controller_focus_contains_focus (focus);
  tell (self);
  if (self->focused && !self->view_source)
    self->view_source = g_idle_add (bring_in_view_cb, self);
}

static void
bed_field_row_dispose (GObject *object)
{
  BedFieldRow *self = BED_FIELD_ROW (object);

  g_clear_handle_id (&self->view_source, g_source_remove);
  g_clear_handle_id (&self->whole_source, g_source_remove);
  g_clear_pointer (&self->label, gtk_widget_unparent);
  g_clear_pointer (&self->editor, gtk_widget_unparent);
  g_clear_pointer (&self->message, gtk_widget_unparent);
  g_clear_pointer (&self->whole, gtk_widget_unparent);
  g_clear_pointer (&self->sides, gtk_widget_unparent);
  g_clear_object (&self->draft);
  g_clear_object (&self->farm);
  G_OBJECT_CLASS (bed_field_row_parent_class)->dispose (object);
}

static void
bed_field_row_finalize (GObject *object)
{
  BedFieldRow *self = BED_FIELD_ROW (object);

  forget (self);
  G_OBJECT_CLASS (bed_field_row_parent_class)->finalize (object);
}

static void
bed_field_row_class_init (BedFieldRowClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = bed_field_row_dispose;
  object_class->finalize = bed_field_row_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_GRID_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "field");
  bed_signal_new (BED_TYPE_FIELD_ROW, "edited", 0);
  g_signal_new ("entered", BED_TYPE_FIELD_ROW, G_SIGNAL_RUN_LAST, 0,
                g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 0);
  g_signal_new ("pasted", BED_TYPE_FIELD_ROW, G_SIGNAL_RUN_LAST, 0,
                g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 1, G_TYPE_STRING);
  bed_signal_new (BED_TYPE_FIELD_ROW, "done", 0);
  bed_signal_new (BED_TYPE_FIELD_ROW, "settled", 1, G_TYPE_UINT);
}

static void
done_cb (BedFieldRow *self)
{
  g_signal_emit_by_name (self, "done");
}

static void
bed_field_row_init (BedFieldRow *self)
{
  GtkEventController *focus = gtk_event_controller_focus_new ();

  g_signal_connect_swapped (focus, "notify::contains-focus", G_CALLBACK (focus_moved_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
}

static void
add (BedFieldRow *self, GtkWidget *child, int column, int row, int wide)
{
  gtk_widget_set_parent (child, GTK_WIDGET (self));
  place (self, child, column, row, wide);
}

/* All labels of a form are as wide as each other. */
static GtkWidget *
make_label (const char *text)
{
  GtkWidget *label = bed_words_new (text, "field-label");

  gtk_label_set_lines (GTK_LABEL (label), LABEL_LINES);
  bed_cut_off (label);
  gtk_label_set_width_chars (GTK_LABEL (label), LABEL_CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (label), LABEL_CHARS);
  /* GTK 4.14 would set its first line on that of what is typed. */
  gtk_widget_set_valign (label, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (label, text);
  return label;
}

static GtkWidget *
make_whole (BedFieldRow *self)
{
  GtkWidget *whole = gtk_popover_new ();
  GtkWidget *label = bed_words_new (NULL, "message");

  gtk_label_set_max_width_chars (GTK_LABEL (label), WHOLE_CHARS);
  gtk_popover_set_child (GTK_POPOVER (whole), label);
  gtk_popover_set_autohide (GTK_POPOVER (whole), FALSE); /* one types on */
  gtk_popover_set_position (GTK_POPOVER (whole), GTK_POS_TOP);
  gtk_widget_set_can_focus (whole, FALSE);
  gtk_widget_set_parent (whole, GTK_WIDGET (self));
  return whole;
}

static void
name_for_screen_readers (BedFieldRow *self)
{
  GtkWidget *focus = bed_editor_get_focus_widget (BED_EDITOR (self->editor));

  /* This makes the label the accessible name; a name set beside it would be read twice. */
  gtk_label_set_mnemonic_widget (GTK_LABEL (self->label), focus);
  if (GTK_IS_DROP_DOWN (focus))
    bed_drop_down_set_name (GTK_DROP_DOWN (focus), _ (self->field->label));
  gtk_accessible_update_property (GTK_ACCESSIBLE (focus), GTK_ACCESSIBLE_PROPERTY_REQUIRED,
                                  self->field->required, -1);
  gtk_accessible_update_relation (GTK_ACCESSIBLE (focus), GTK_ACCESSIBLE_RELATION_DESCRIBED_BY,
                                  self->message, NULL, -1);
}

static gboolean
pasted_cb (const char *text, gpointer self)
{
  gboolean taken = FALSE;

  g_signal_emit_by_name (self, "pasted", text, &taken);
  return taken;
}

BedFieldRow *
bed_field_row_new (BedFarm *farm, const BedField *field)
{
  BedFieldRow *self = g_object_new (BED_TYPE_FIELD_ROW, NULL);

  self->farm = g_object_ref (farm);
  self->field = field;
  self->label = make_label (_ (field->label));
  self->editor = bed_editor_new (farm, field);
  self->message = bed_line_new ("", NULL);
  self->whole = make_whole (self);
  gtk_widget_set_hexpand (self->editor, TRUE);
  add (self, self->label, 0, 1, 1);
  add (self, self->editor, 1, 1, 1);
  add (self, self->message, 0, 2, 2);
  name_for_screen_readers (self);
  if (GTK_IS_EDITABLE (bed_editor_get_focus_widget (BED_EDITOR (self->editor))))
    bed_cells_watch (bed_editor_get_focus_widget (BED_EDITOR (self->editor)), pasted_cb, self);
  g_signal_connect_swapped (self->editor, "edited", G_CALLBACK (edited_cb), self);
  g_signal_connect_swapped (self->editor, "done", G_CALLBACK (done_cb), self);
  tell (self);
  return self;
}

void
bed_field_row_put_label_above (BedFieldRow *self)
{
  g_return_if_fail (BED_IS_FIELD_ROW (self));
  self->above = TRUE;
  gtk_label_set_lines (GTK_LABEL (self->label), 1);
  place (self, self->label, 0, 0, 1);
  place (self, self->editor, 0, 1, 1);
}

const BedField *
bed_field_row_get_field (BedFieldRow *self)
{
  return self->field;
}

BedEditor *
bed_field_row_get_editor (BedFieldRow *self)
{
  return BED_EDITOR (self->editor);
}

void
bed_field_row_set_draft (BedFieldRow *self, BedRecord *draft)
{
  g_autofree char *text = bed_value_dup_text (self->farm, draft, self->field->name);

  g_set_object (&self->draft, draft);
  forget (self);
  bed_editor_set_text (BED_EDITOR (self->editor), text);
  tell (self);
}

void
bed_field_row_set_reader (BedFieldRow *self, BedFieldRowReader reader, gpointer user_data)
{
  g_return_if_fail (BED_IS_FIELD_ROW (self));
  self->reader = reader;
  self->reader_data = user_data;
}

BedRecord *
bed_field_row_get_draft (BedFieldRow *self)
{
  g_return_val_if_fail (BED_IS_FIELD_ROW (self), NULL);
  return self->draft;
}

void
bed_field_row_set_text (BedFieldRow *self, const char *text)
{
  bed_editor_set_text (BED_EDITOR (self->editor), text);
  edited_cb (self);
}

gboolean
bed_field_row_is_understood (BedFieldRow *self)
{
  return self->misread == NULL;
}

void
bed_field_row_set_fault (BedFieldRow *self, BedFaultSeverity severity, const char *message)
{
  g_free (self->fault);
  self->fault = g_strdup (message);
  self->severity = severity;
  tell (self);
}

gboolean
bed_field_row_is_wrong (BedFieldRow *self)
{
  return self->misread || (self->fault && self->severity == BED_FAULT_ERROR);
}

static void
mine_cb (BedFieldRow *self)
{
  g_signal_emit_by_name (self, "settled", BED_FIELD_ROW_MINE);
}

static void
theirs_cb (BedFieldRow *self)
{
  g_signal_emit_by_name (self, "settled", BED_FIELD_ROW_THEIRS);
}

static void
add_side (BedFieldRow *self, const char *label, const char *format, GCallback clicked)
{
  GtkWidget *button = bed_styled (bed_button_add (self->sides, label, clicked, self), "side");
  g_autofree char *name = g_strdup_printf (format, _ (self->field->label));

  bed_named (button, name);
}

void
bed_field_row_set_torn (BedFieldRow *self, const char *message)
{
  g_return_if_fail (BED_IS_FIELD_ROW (self));

  if (message && !self->sides)
    {
      self->sides = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
      add (self, self->sides, 0, 3, 2);
      /* Translators: %s is the label of a field. */
      add_side (self, _ ("Keep mine"), _ ("Keep mine: %s"), G_CALLBACK (mine_cb));
      add_side (self, _ ("Take theirs"), _ ("Take theirs: %s"), G_CALLBACK (theirs_cb));
    }
  if (!message && self->sides)
    {
      if (bed_field_row_is_choosing (self))
        gtk_widget_grab_focus (bed_editor_get_focus_widget (BED_EDITOR (self->editor)));
      g_clear_pointer (&self->sides, gtk_widget_unparent);
    }
  if (message)
    bed_field_row_set_fault (self, BED_FAULT_ERROR, message);
}

gboolean
bed_field_row_is_choosing (BedFieldRow *self)
{
  g_return_val_if_fail (BED_IS_FIELD_ROW (self), FALSE);
  return self->sides && gtk_widget_get_focus_child (GTK_WIDGET (self)) == self->sides;
}

BedEditorEnter
bed_field_row_enter (BedFieldRow *self)
{
  gboolean stay = FALSE;

  if (bed_editor_enter (BED_EDITOR (self->editor)) == BED_EDITOR_STAY)
    return BED_EDITOR_STAY;
  g_signal_emit_by_name (self, "entered", &stay);
  return stay ? BED_EDITOR_STAY : BED_EDITOR_GO_ON;
}
