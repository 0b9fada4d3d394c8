#include "app/window/undo.h"

#include <glib/gi18n.h>

#include "app/host/wait.h"
#include "model/farm/history.h"

/* What one of the two buttons names. */
typedef struct
{
  const char *action; /* "win.undo" */
  GtkWidget *button;
  gint64 change; /* 0: nothing */
} Side;

struct _BedUndo
{
  GtkWindow *window;
  BedToasts *toasts;
  BedFarm *farm; /* borrowed from the window, or NULL */
  Side undo;
  Side redo;
  GtkEventController *keys;
  guint forget_source;
};

typedef struct
{
  BedFarm *farm;
  gint64 change;
  char *sentence;
  gboolean (*reverse) (BedFarm *farm, gint64 change, char **sentence, GError **error);
} Step;

typedef struct
{
  BedEdit *edit;
  const char *sentence;
} Commit;

static void
show_side (BedUndo *self, Side *side, const char *format, const char *nothing)
{
  g_autofree char *sentence = side->change ? bed_history_dup_sentence (self->farm, side->change)
                                           : NULL;
  g_autofree char *tip = sentence ? g_strdup_printf (format, sentence) : g_strdup (nothing);

  gtk_widget_action_set_enabled (GTK_WIDGET (self->window), side->action,
                                 side->change && !bed_farm_get_read_only_why (self->farm));
  gtk_widget_set_tooltip_text (side->button, tip);
}

static gboolean
attempt_cb (gpointer data, GError **error)
{
  Step *step = data;

  return step->reverse (step->farm, step->change, &step->sentence, error);
}

/* NULL when refused, which is said. */
static char *
take_step (BedUndo *self, Step *step)
{
  g_autoptr (BedFarm) farm = self->farm ? g_object_ref (self->farm) : NULL;
  g_autoptr (GError) error = NULL;

  if (!farm || !step->change)
    return NULL;
  step->farm = farm;
  if (bed_wait_to_write (GTK_WIDGET (self->window), attempt_cb, step, &error))
    return step->sentence;
  bed_toasts_say (self->toasts, error->message, BED_TOAST_PLAIN, 0);
  return NULL;
}

static gboolean
commit_cb (gpointer data, GError **error)
{
  Commit *commit = data;

  return bed_edit_commit (commit->edit, commit->sentence, error);
}

/* --- typing and the farm ------------------------------------------------------------- */

/* What is typed is undone first; TRUE when there was something. An empty entry has nothing: what
 * was typed in it is saved. */
static gboolean
step_in_entry (GtkText *entry, const char *action)
{
  g_autofree char *before = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));

  if (!*before)
    return FALSE;
  gtk_widget_activate_action (GTK_WIDGET (entry), action, NULL);
  return strcmp (before, gtk_editable_get_text (GTK_EDITABLE (entry))) != 0;
}

static gboolean
step_in_note (GtkTextView *note, gboolean undo)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (note);

  if (gtk_text_buffer_get_char_count (buffer) == 0)
    return FALSE;
  if (undo && gtk_text_buffer_get_can_undo (buffer))
    gtk_text_buffer_undo (buffer);
  else if (!undo && gtk_text_buffer_get_can_redo (buffer))
    gtk_text_buffer_redo (buffer);
  else
    return FALSE;
  return TRUE;
}

/* Before the entries, which would keep the key even where they have nothing to undo. */
static gboolean
key_pressed_cb (BedUndo *self, guint keyval, guint keycode, GdkModifierType state)
{
  GtkWidget *focus = gtk_window_get_focus (self->window);
  guint held = state & gtk_accelerator_get_default_mod_mask ();
  gboolean undo = held == GDK_CONTROL_MASK;

  if ((keyval != GDK_KEY_z && keyval != GDK_KEY_Z)
      || (!undo && held != (GDK_CONTROL_MASK | GDK_SHIFT_MASK)))
    return GDK_EVENT_PROPAGATE;
  if (GTK_IS_TEXT (focus) && step_in_entry (GTK_TEXT (focus), undo ? "text.undo" : "text.redo"))
    return GDK_EVENT_STOP;
  if (GTK_IS_TEXT_VIEW (focus) && step_in_note (GTK_TEXT_VIEW (focus), undo))
    return GDK_EVENT_STOP;
  /* Lines that are typed one by one have a last one of their own, before they are saved. */
  if (undo && focus && gtk_widget_activate_action (focus, "typing.take-back", NULL))
    return GDK_EVENT_STOP;
  gtk_widget_activate_action (GTK_WIDGET (self->window), undo ? "win.undo" : "win.redo", NULL);
  return GDK_EVENT_STOP;
}

/* What stands in the next line was not typed there: the next Ctrl+Z takes back the saved one. */
static gboolean
forget_typing_cb (gpointer data)
{
  BedUndo *self = data;
  GtkWidget *focus = gtk_window_get_focus (self->window);

  self->forget_source = 0;
  if (!GTK_IS_TEXT (focus))
    return G_SOURCE_REMOVE;
  gtk_editable_set_enable_undo (GTK_EDITABLE (focus), FALSE);
  gtk_editable_set_enable_undo (GTK_EDITABLE (focus), TRUE);
  return G_SOURCE_REMOVE;
}

/* Once whoever saved it has begun the next line. */
static void
forget_typing (BedUndo *self)
{
  if (!self->forget_source)
    self->forget_source = g_idle_add_full (G_PRIORITY_HIGH, forget_typing_cb, self, NULL);
}

BedUndo *
bed_undo_new (GtkWindow *window, GtkWidget *undo_button, GtkWidget *redo_button, BedToasts *toasts)
{
  BedUndo *self = g_new0 (BedUndo, 1);
  GtkEventController *keys = gtk_event_controller_key_new ();

  self->window = window;
  self->toasts = toasts;
  self->undo = (Side){ "win.undo", undo_button, 0 };
  self->redo = (Side){ "win.redo", redo_button, 0 };
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (window), keys);
  self->keys = keys;
  return self;
}

void
bed_undo_free (BedUndo *self)
{
  g_clear_handle_id (&self->forget_source, g_source_remove);
  gtk_widget_remove_controller (GTK_WIDGET (self->window), self->keys);
  g_free (self);
}

void
bed_undo_show (BedUndo *self, BedFarm *farm)
{
  g_autoptr (GError) error = NULL;

  self->farm = farm;
  /* Held by another program: what was said stays. */
  if (farm && !bed_farm_begin_reading (farm))
    return;
  self->undo.change = farm ? bed_history_find_undo (farm) : 0;
  self->redo.change = farm ? bed_history_find_redo (farm) : 0;
  show_side (self, &self->undo, _ ("Undo: %s"), _ ("Nothing to undo"));
  show_side (self, &self->redo, _ ("Redo: %s"), _ ("Nothing to redo"));
  bed_toasts_keep (self->toasts, self->undo.change, self->redo.change);
  if (farm && !bed_farm_end_reading (farm, &error))
    bed_toasts_say (self->toasts, error->message, BED_TOAST_PLAIN, 0);
}

void
bed_undo_undo (BedUndo *self, gint64 change)
{
  Step step = { .change = change ? change : self->undo.change, .reverse = bed_history_undo_named };
  g_autofree char *sentence = take_step (self, &step);
  g_autofree char *text = sentence ? g_strdup_printf (_ ("Undone: %s"), sentence) : NULL;

  if (text)
    bed_toasts_say (self->toasts, text, BED_TOAST_REDO, self->redo.change);
}

void
bed_undo_redo (BedUndo *self, gint64 change)
{
  Step step = { .change = change ? change : self->redo.change, .reverse = bed_history_redo_named };
  g_autofree char *sentence = take_step (self, &step);

  if (sentence)
    bed_toasts_say (self->toasts, sentence, BED_TOAST_UNDO, self->undo.change);
}

gboolean
bed_undo_commit (BedUndo *self, GtkWindow *over, BedEdit *edit, const char *sentence,
                 GError **error)
{
  Commit commit = { edit, sentence };
  G_GNUC_UNUSED g_autoptr (GtkWindow) kept = g_object_ref (self->window);

  if (!bed_wait_to_write (GTK_WIDGET (over), commit_cb, &commit, error))
    return FALSE;
  forget_typing (self);
  if (bed_edit_get_change (edit))
    bed_toasts_say (self->toasts, sentence, BED_TOAST_UNDO, bed_edit_get_change (edit));
  else
    bed_toasts_say (self->toasts, _ ("Nothing was changed: it stands like that already"),
                    BED_TOAST_PLAIN, 0);
  return TRUE;
}

void
bed_undo_say_newest (BedUndo *self)
{
  g_autofree char *sentence
      = self->undo.change ? bed_history_dup_sentence (self->farm, self->undo.change) : NULL;

  forget_typing (self);
  if (sentence)
    bed_toasts_say (self->toasts, sentence, BED_TOAST_UNDO, self->undo.change);
}
