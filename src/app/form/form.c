#include "app/form/form_private.h"

#include <glib/gi18n.h>

#include "app/form/field_row.h"
#include "app/form/form_elsewhere.h"
#include "app/form/form_rows.h"
#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/caution_line.h"
#include "app/widgets/topic.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/season/draft.h"
#include "model/work/caution.h"

#define CHECK_AFTER 250 /* ms after the last key */

G_DEFINE_FINAL_TYPE_WITH_CODE (BedForm, bed_form, BED_TYPE_PART,
                               G_IMPLEMENT_INTERFACE (BED_TYPE_TYPING, bed_form_typing_init))

/* What could not be read is said where the form says what is wrong. */
static gboolean
end_reading (BedForm *self)
{
  g_autoptr (GError) error = NULL;
  gboolean read = bed_farm_end_reading (self->farm, &error);

  if (!read)
    gtk_label_set_label (GTK_LABEL (self->message), error->message);
  return read;
}

/* Who follows the draft asks the farm; while another program holds it, or it cannot be read, they
 * keep what they show, and follow later. */
static void
tell_draft (BedForm *self)
{
  self->behind = !bed_farm_begin_reading (self->farm);
  if (self->behind)
    return;
  g_signal_emit_by_name (self, "draft-changed");
  self->behind = !end_reading (self);
}

/* --- what is wrong --------------------------------------------------------- */

static const BedFault *
find_error (GPtrArray *faults)
{
  for (guint i = 0; i < faults->len; i++)
    {
      const BedFault *fault = g_ptr_array_index (faults, i);

      if (fault->severity == BED_FAULT_ERROR)
        return fault;
    }
  return NULL;
}

static void
say_on_button (BedForm *self, const BedFault *error)
{
  BedFieldRow *misread = bed_form_rows_find_misread (self->rows);
  BedFieldRow *row = !misread && error ? bed_form_rows_find_fault (self->rows, error) : misread;
  const BedField *field = row ? bed_field_row_get_field (row) : NULL;
  g_autofree char *text = NULL;

  if (field)
    text = g_strdup_printf (*bed_editor_get_text (bed_field_row_get_editor (row))
                                ? _ ("Save: look at “%s”")
                                : _ ("Save: “%s” is missing"),
                            _ (field->label));
  gtk_button_set_label (GTK_BUTTON (self->save), text ? text : _ ("Save"));
  if (field || error)
    gtk_widget_remove_css_class (self->save, "suggested-action");
  else
    gtk_widget_add_css_class (self->save, "suggested-action");
}

/* At the field when there is one, else beside the button. */
static void
show_fault (BedForm *self, const BedFault *fault)
{
  BedFieldRow *row = bed_form_rows_find_fault (self->rows, fault);

  if (fault->code == BED_FARM_ERROR_NOT_FOUND && fault->record
      && bed_record_get_id (fault->record) == bed_record_get_id (self->draft))
    gtk_widget_set_visible (self->anew, TRUE);
  if (row && fault->code == BED_FARM_ERROR_CONFLICT)
    bed_form_elsewhere_show (self->farm, row, fault);
  else if (!row || !gtk_widget_get_visible (GTK_WIDGET (row)))
    gtk_label_set_label (GTK_LABEL (self->message), fault->message);
  else if (self->tried || *bed_editor_get_text (bed_field_row_get_editor (row)))
    bed_field_row_set_fault (row, fault->severity, fault->message);
}

static void
show_faults (BedForm *self, GPtrArray *faults)
{
  gtk_label_set_label (GTK_LABEL (self->message), "");
  gtk_widget_set_visible (self->anew, FALSE);
  for (guint i = 0; i < self->rows->len; i++)
    bed_field_row_set_fault (g_ptr_array_index (self->rows, i), BED_FAULT_ERROR, NULL);
  bed_form_elsewhere_clear (self->rows, faults);
  /* The first of a field, the worst, is put in last. */
  for (guint i = faults->len; i > 0; i--)
    show_fault (self, g_ptr_array_index (faults, i - 1));
  g_signal_emit_by_name (self, "faults", faults);
  say_on_button (self, find_error (faults));
}

/* What the code will be when it is left empty. */
static void
show_coming_code (BedForm *self, BedRecord *record)
{
  const char *key = bed_kind_get_info (self->spec->kind)->key;
  BedFieldRow *row = key ? bed_form_rows_find (self->rows, key) : NULL;
  GtkWidget *entry = row ? bed_editor_get_focus_widget (bed_field_row_get_editor (row)) : NULL;

  if (GTK_IS_ENTRY (entry))
    bed_entry_hint (entry, bed_record_get_text (record, key));
}

static void
put_own (BedForm *self, BedEdit *edit, BedRecord *record)
{
  const char *lacking = self->spec->lacking;

  if (!lacking || bed_record_has (record, lacking))
    bed_edit_put (edit, record);
  else if (bed_record_get_id (record))
    bed_edit_remove (edit, self->spec->kind, bed_record_get_id (record));
}

void
bed_form_check (BedForm *self)
{
  g_autoptr (BedEdit) edit = bed_edit_new (self->farm);
  g_autoptr (BedRecord) record = bed_record_copy (self->draft); /* putting fills in id and code */
  g_autofree char *caution = bed_caution_dup (self->farm, record);

  g_clear_handle_id (&self->check_source, g_source_remove);
  put_own (self, edit, record);
  g_signal_emit_by_name (self, "check", edit, record);
  GPtrArray *faults = bed_edit_try (edit);
  const BedFault *first = find_error (faults);
  /* Another program holds the farm: what was said stays, saving will wait for it. */
  if (first && first->code == BED_FARM_ERROR_BUSY)
    return;
  show_faults (self, faults);
  show_coming_code (self, record);
  bed_caution_line_set (self->caution, caution);
}

static gboolean
check_due_cb (gpointer data)
{
  BedForm *self = BED_FORM (data);

  self->check_source = 0;
  bed_form_check (self);
  return G_SOURCE_REMOVE;
}

void
bed_form_check_soon (BedForm *self)
{
  g_clear_handle_id (&self->check_source, g_source_remove);
  self->check_source = g_timeout_add (CHECK_AFTER, check_due_cb, self);
}

static void
row_edited_cb (BedForm *self)
{
  self->typed = TRUE;
  bed_form_check_soon (self);
  tell_draft (self);
}

/* --- others at work on the same record ------------------------------------------- */

static void begin (BedForm *self, BedRecord *record);

static void
farm_changed_cb (BedForm *self, guint64 kinds)
{
  gboolean before = self->behind;

  if (before && self->typed)
    tell_draft (self);
  else if (before)
    begin (self, self->original);
  if (before && !self->behind)
    bed_form_check_soon (self);
  if (bed_record_get_origin (self->draft) != BED_RECORD_LOADED
      || !(kinds & BED_KIND_BIT (self->spec->kind)))
    return;
  bed_form_elsewhere_merge (self->farm, self->draft, self->rows);
  /* Later: a check writes and takes it back, and the views are being told. */
  bed_form_check_soon (self);
}

static void
row_settled_cb (BedFieldRow *row, guint side, BedForm *self)
{
  if (!bed_farm_begin_reading (self->farm))
    {
      gtk_label_set_label (GTK_LABEL (self->message),
                           _ ("Another program is writing to this farm. Choose again when it is "
                              "done."));
      return;
    }
  bed_form_elsewhere_settle (self->farm, row, side);
  self->behind = !end_reading (self);
  self->typed = TRUE;
  bed_form_check (self);
  tell_draft (self);
}

/* --- the draft --------------------------------------------------------------- */

static void
show_title (BedForm *self)
{
  BedKind kind = self->spec->kind;
  g_autofree char *title = NULL;

  if (self->spec->title)
    title = g_strdup (_ (self->spec->title));
  else if (bed_record_get_id (self->original) == 0)
    title = g_strdup (bed_kind_get_new (kind));
  else
    title = bed_kind_dup_change (kind, bed_record_get_name (self->original));
  gtk_label_set_label (GTK_LABEL (self->title), title);
}

static void
begin (BedForm *self, BedRecord *record)
{
  g_autoptr (GError) error = NULL;

  g_set_object (&self->original, record);
  g_clear_object (&self->draft);
  self->draft = bed_record_copy (record);
  self->typed = FALSE;
  self->tried = FALSE;
  gboolean reading = bed_farm_begin_reading (self->farm);
  for (guint i = 0; i < self->n_own; i++)
    bed_field_row_set_draft (g_ptr_array_index (self->rows, i), self->draft);
  gtk_widget_set_visible (self->kept, FALSE);
  show_title (self);
  g_signal_emit_by_name (self, "begun");
  gboolean begun = reading && bed_farm_end_reading (self->farm, &error);
  self->typed = FALSE;
  bed_form_check (self);
  tell_draft (self);
  self->behind = self->behind || !begun;
  if (error)
    gtk_label_set_label (GTK_LABEL (self->message), error->message);
}

/* Somebody agreed that what was typed is left. */
static void
begin_asked (BedForm *self)
{
  g_autoptr (BedRecord) record = g_steal_pointer (&self->next);

  begin (self, record);
  bed_form_focus (self, NULL);
}

/* New records are told apart by what they refer to: a weighing of another log is another one. */
static gboolean
is_about_same (BedForm *self, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (self->spec->kind);
  gint64 id = bed_record_get_id (record);

  if (id || bed_record_get_id (self->original))
    return id == bed_record_get_id (self->original);
  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].type == BED_FIELD_REFERENCE && bed_record_has (record, info->fields[i].name)
        && bed_record_get_int (record, info->fields[i].name)
               != bed_record_get_int (self->original, info->fields[i].name))
      return FALSE;
  return TRUE;
}

static void
begin_next (BedForm *self, BedRecord *saved)
{
  g_autoptr (BedRecord) next = bed_draft_new (self->farm, self->spec->kind);

  for (guint i = 0; self->spec->kept && self->spec->kept[i]; i++)
    bed_record_take_field (next, saved, self->spec->kept[i]);
  begin (self, next);
  bed_form_row_focus (bed_form_rows_find_next (self->rows, next, self->spec->kept));
}

static void
show_refusal (BedForm *self, GPtrArray *faults, const GError *refusal)
{
  const BedFault *error = find_error (faults);
  BedFieldRow *row = error ? bed_form_rows_find_fault (self->rows, error) : NULL;

  show_faults (self, faults);
  if (!error)
    gtk_label_set_label (GTK_LABEL (self->message), refusal->message);
  if (row)
    bed_form_row_focus (row);
}

/* --- keys ---------------------------------------------------------------------- */

static void
go_on (BedForm *self, int at)
{
  if (!bed_form_rows_focus_after (self->rows, at)
      && !(self->last && gtk_widget_grab_focus (self->last)))
    bed_form_save (self, bed_record_get_id (self->original) ? BED_FORM_THEN_LEAVE : self->then);
}

/* The field is done by what was made in a small form of its own. */
static void
row_done_cb (BedFieldRow *row, BedForm *self)
{
  guint at;

  if (g_ptr_array_find (self->rows, row, &at))
    bed_form_rows_focus_after (self->rows, (int) at);
}

static gboolean
key_pressed_cb (BedForm *self, guint keyval, guint keycode, GdkModifierType state)
{
  guint at = bed_form_rows_find_focused (self->rows);

  if (at == self->rows->len || (state & gtk_accelerator_get_default_mod_mask ())
      || bed_field_row_is_choosing (g_ptr_array_index (self->rows, at)))
    return GDK_EVENT_PROPAGATE;
  switch (keyval)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      if (bed_field_row_enter (g_ptr_array_index (self->rows, at)) == BED_EDITOR_GO_ON)
        go_on (self, (int) at);
      return GDK_EVENT_STOP;
    case GDK_KEY_Page_Down:
      if (!bed_form_rows_focus_group (self->rows, (int) at, 1) && self->last)
        gtk_widget_grab_focus (self->last);
      return GDK_EVENT_STOP;
    case GDK_KEY_Page_Up:
      bed_form_rows_focus_group (self->rows, (int) at, -1);
      return GDK_EVENT_STOP;
    default:
      return GDK_EVENT_PROPAGATE;
    }
}

static void
save_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  bed_form_save (BED_FORM (widget), BED_FORM_THEN_LEAVE);
}

static void
save_next_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  bed_form_save (BED_FORM (widget), BED_FORM_THEN_NEXT);
}

static void
leave_cb (GtkWidget *widget, const char *action, GVariant *parameter)
{
  g_signal_emit_by_name (widget, "left");
}

/* What was removed elsewhere stays removed; what is typed here becomes a record of its own. */
static void
anew_clicked_cb (BedForm *self)
{
  BedRecord *original = bed_record_copy (self->original);

  bed_record_set_id (original, 0);
  bed_record_set_id (self->draft, 0);
  g_object_unref (self->original);
  self->original = original;
  self->typed = TRUE;
  show_title (self);
  bed_form_check (self);
  bed_form_focus (self, NULL);
}

void
bed_form_listen (BedForm *self, BedFieldRow *row)
{
  g_signal_connect_object (row, "edited", G_CALLBACK (row_edited_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (row, "done", G_CALLBACK (row_done_cb), self, 0);
  g_signal_connect_object (row, "settled", G_CALLBACK (row_settled_cb), self, 0);
  g_signal_connect_object (row, "pasted", G_CALLBACK (bed_form_row_pasted_cb), self,
                           G_CONNECT_AFTER);
}

/* --- building -------------------------------------------------------------------- */

/* What was typed before and left is begun anew. */
static void
clear_clicked_cb (BedForm *self)
{
  g_autoptr (BedRecord) original = g_object_ref (self->original);

  begin (self, original);
  bed_form_focus (self, NULL);
}

static GtkWidget *
make_kept (BedForm *self)
{
  GtkWidget *words = bed_label_new (_ ("Typed before, not saved"), NULL);
  GtkWidget *clear = bed_button_new (_ ("Clear"), G_CALLBACK (clear_clicked_cb), self);

  gtk_widget_set_tooltip_text (clear, _ ("Takes out what was typed and begins anew"));
  self->kept = bed_row_new (12, words, clear, NULL);
  gtk_widget_set_visible (self->kept, FALSE);
  return self->kept;
}

static GtkWidget *
make_foot (BedForm *self)
{
  GtkWidget *leave = bed_action_button_new (_ ("Cancel"), "form.leave");

  gtk_widget_set_tooltip_text (leave, _ ("Esc: what you typed is kept"));
  self->message = bed_label_new ("", "error");
  gtk_label_set_wrap (GTK_LABEL (self->message), TRUE);
  gtk_widget_set_hexpand (self->message, TRUE);
  self->anew = bed_button_new (_ ("Save as a new one"), G_CALLBACK (anew_clicked_cb), self);
  gtk_widget_set_visible (self->anew, FALSE);
  self->save = bed_action_button_new (_ ("Save"), "form.save");
  gtk_widget_set_tooltip_text (
      self->save, _ ("Ctrl+S, or Enter in the last field; with Ctrl+Enter on to the next one"));
  self->caution = bed_caution_line_new (NULL);
  return bed_styled (bed_column_new (6, self->caution,
                                     bed_row_new (12, make_kept (self), self->message, leave,
                                                  self->anew, self->save, NULL),
                                     NULL),
                     "form-foot");
}

/* The aside stands still while the fields scroll: what it shows must be in view at the last. */
static void
build (BedForm *self)
{
  GtkWidget *scrolled;

  self->title = bed_line_new (NULL, "title-2");
  self->fields = bed_styled (gtk_box_new (GTK_ORIENTATION_VERTICAL, BED_FORM_GAP), "sheet");
  self->page = self->fields;
  gtk_box_append (GTK_BOX (self->fields), self->title);
  scrolled = bed_scrolled_new (self->fields);
  gtk_scrolled_window_set_propagate_natural_width (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_widget_set_hexpand (scrolled, TRUE);
  gtk_widget_set_vexpand (scrolled, TRUE);
  self->beside = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  gtk_box_append (GTK_BOX (self->beside), scrolled);
  bed_part_set_child (BED_PART (self), bed_column_new (0, self->beside, make_foot (self), NULL));
}

static void
bed_form_dispose (GObject *object)
{
  g_clear_handle_id (&BED_FORM (object)->check_source, g_source_remove);
  G_OBJECT_CLASS (bed_form_parent_class)->dispose (object);
}

static void
bed_form_finalize (GObject *object)
{
  BedForm *self = BED_FORM (object);

  g_clear_object (&self->draft);
  g_clear_object (&self->original);
  g_clear_object (&self->next);
  g_ptr_array_unref (self->rows);
  g_free (self->refusal);
  g_free (self->sentence);
  G_OBJECT_CLASS (bed_form_parent_class)->finalize (object);
}

/* Come back to. */
static void
bed_form_map (GtkWidget *widget)
{
  gtk_widget_set_visible (BED_FORM (widget)->kept, BED_FORM (widget)->typed);
  GTK_WIDGET_CLASS (bed_form_parent_class)->map (widget);
}

static void
bed_form_class_init (BedFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  widget_class->map = bed_form_map;
  G_OBJECT_CLASS (klass)->dispose = bed_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_form_finalize;
  gtk_widget_class_set_css_name (widget_class, "form");
  gtk_widget_class_install_action (widget_class, "form.save", NULL, save_cb);
  gtk_widget_class_install_action (widget_class, "form.save-next", NULL, save_next_cb);
  gtk_widget_class_install_action (widget_class, "form.leave", NULL, leave_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_s, GDK_CONTROL_MASK, "form.save",
                                       NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Return, GDK_CONTROL_MASK,
                                       "form.save-next", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_KP_Enter, GDK_CONTROL_MASK,
                                       "form.save-next", NULL);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "form.leave", NULL);

  bed_signal_new (BED_TYPE_FORM, "begun", 0);
  bed_signal_new (BED_TYPE_FORM, "draft-changed", 0);
  bed_signal_new (BED_TYPE_FORM, "gather", 2, G_TYPE_POINTER, BED_TYPE_RECORD);
  bed_signal_new (BED_TYPE_FORM, "check", 2, G_TYPE_POINTER, BED_TYPE_RECORD);
  bed_signal_new (BED_TYPE_FORM, "faults", 1, G_TYPE_POINTER);
  bed_signal_new (BED_TYPE_FORM, "saved", 1, BED_TYPE_RECORD);
  bed_signal_new (BED_TYPE_FORM, "left", 0);
}

static void
bed_form_init (BedForm *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->rows = g_ptr_array_new ();
  self->then = BED_FORM_THEN_NEXT;
  /* Before the entry, whose own Enter would only select its text, and what scrolls. */
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}

BedForm *
bed_form_new (BedFarm *farm, const BedFormSpec *spec)
{
  BedForm *self = g_object_new (BED_TYPE_FORM, NULL);
  g_autoptr (BedRecord) record = bed_draft_new (farm, spec->kind);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->spec = spec;
  bed_topic_set (GTK_WIDGET (self), bed_kind_get_info (spec->kind)->name);
  build (self);
  for (guint i = 0; i < spec->n_groups; i++)
    bed_form_add_group (self, &spec->groups[i]);
  begin (self, record);
  g_signal_connect_object (farm, "changed", G_CALLBACK (farm_changed_cb), self, G_CONNECT_SWAPPED);
  return self;
}

void
bed_form_edit (BedForm *self, BedRecord *record)
{
  g_return_if_fail (BED_IS_FORM (self) && BED_IS_RECORD (record));
  begin (self, record);
}

void
bed_form_resume (BedForm *self, BedRecord *record)
{
  g_return_if_fail (BED_IS_FORM (self));
  g_autoptr (BedRecord) begun = record ? g_object_ref (record)
                                       : bed_draft_new (self->farm, self->spec->kind);
  if (self->typed && (record ? is_about_same (self, record) : !bed_record_get_id (self->original)))
    {
      gtk_widget_set_visible (self->kept, TRUE);
      return;
    }
  g_set_object (&self->next, begun);
  if (!bed_typing_ask (GTK_WIDGET (self), G_CALLBACK (begin_asked), self))
    begin (self, begun);
}

static void
show_own_refusal (BedForm *self)
{
  gtk_label_set_label (GTK_LABEL (self->message), self->refusal);
  g_clear_pointer (&self->refusal, g_free);
  if (self->last)
    gtk_widget_grab_focus (self->last);
}

gboolean
bed_form_save (BedForm *self, BedFormThen then)
{
  g_autoptr (BedEdit) edit = bed_edit_new (self->farm);
  g_autoptr (BedRecord) record = bed_record_copy (self->draft);
  g_autofree char *sentence = NULL;
  g_autoptr (GError) error = NULL;
  BedFieldRow *misread = bed_form_rows_find_misread (self->rows);

  self->tried = TRUE;
  if (misread)
    {
      bed_form_row_focus (misread);
      say_on_button (self, NULL);
      return FALSE;
    }
  g_clear_handle_id (&self->check_source, g_source_remove);
  put_own (self, edit, record);
  g_signal_emit_by_name (self, "gather", edit, record);
  if (self->refusal)
    {
      show_own_refusal (self);
      return FALSE;
    }
  bed_edit_check (edit); /* fills in the code that the sentence names */
  sentence = bed_form_dup_sentence (self, record);
  if (!bed_host_commit (GTK_WIDGET (self), edit, sentence, &error))
    {
      show_refusal (self, bed_edit_get_faults (edit), error);
      return FALSE;
    }
  self->typed = FALSE;
  g_signal_emit_by_name (self, "saved", record);
  if (then == BED_FORM_THEN_NEXT)
    begin_next (self, record);
  else
    g_signal_emit_by_name (self, "left");
  return TRUE;
}
