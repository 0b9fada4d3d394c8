#include "app/widgets/toasts.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"

#define SECONDS 6
#define SECONDS_WRITTEN 20 /* one looks at the file's name first */
#define COLUMN_CHARS 18

struct _BedToasts
{
  GtkWidget *strip; /* owned; seen while something is said */
  GtkWidget *label;
  GtkWidget *button;
  BedToastButton says; /* what the button does */
  gint64 change;       /* that the button is for */
  guint source;
};

static const struct
{
  const char *label; /* N_() */
  const char *action;
} buttons[] = {
  [BED_TOAST_PLAIN] = { NULL, NULL },
  [BED_TOAST_UNDO] = { N_ ("Undo"), "win.undo-change" },
  [BED_TOAST_REDO] = { N_ ("Redo"), "win.redo-change" },
  [BED_TOAST_OPEN] = { N_ ("Open"), "win.open-written" },
};

static void
hide (BedToasts *self)
{
  g_clear_handle_id (&self->source, g_source_remove);
  gtk_widget_set_visible (self->strip, FALSE);
  gtk_label_set_label (GTK_LABEL (self->label), "");
}

/* Whoever is there, with the pointer or the keyboard, has not done with it. */
static gboolean
time_cb (gpointer data)
{
  BedToasts *self = data;

  if (gtk_widget_get_state_flags (self->strip)
      & (GTK_STATE_FLAG_PRELIGHT | GTK_STATE_FLAG_FOCUS_WITHIN))
    return G_SOURCE_CONTINUE;
  self->source = 0;
  hide (self);
  return G_SOURCE_REMOVE;
}

BedToasts *
bed_toasts_new (void)
{
  BedToasts *self = g_new0 (BedToasts, 1);
  GtkWidget *close = bed_icon_button_new ("window-close-symbolic", _ ("Close this message"));

  self->label = bed_words_new (NULL, NULL);
  self->button = gtk_button_new ();
  /* What is being typed keeps the keyboard: the next Enter is meant for it. */
  gtk_widget_set_focus_on_click (self->button, FALSE);
  gtk_widget_set_focus_on_click (close, FALSE);
  gtk_label_set_wrap_mode (GTK_LABEL (self->label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (self->label, TRUE);
  gtk_widget_set_halign (self->button, GTK_ALIGN_START);
  gtk_widget_set_halign (close, GTK_ALIGN_END);
  self->strip = g_object_ref_sink (g_object_new (
      GTK_TYPE_BOX, "accessible-role", GTK_ACCESSIBLE_ROLE_ALERT, "spacing", 6, "visible", FALSE,
      "css-classes", (const char *[]){ "said", NULL }, "hexpand", FALSE, NULL));
  gtk_box_append (GTK_BOX (self->strip), self->label);
  gtk_box_append (GTK_BOX (self->strip), bed_row_new (6, self->button, close, NULL));
  g_signal_connect_swapped (close, "clicked", G_CALLBACK (hide), self);
  return self;
}

void
bed_toasts_free (BedToasts *self)
{
  g_clear_handle_id (&self->source, g_source_remove);
  g_signal_handlers_disconnect_by_data (
      gtk_widget_get_last_child (gtk_widget_get_last_child (self->strip)), self);
  g_object_unref (self->strip);
  g_free (self);
}

void
bed_toasts_stand_in (BedToasts *self, AdwBin *place, GtkOrientation orientation)
{
  GtkWidget *from = gtk_widget_get_parent (self->strip);
  gboolean is_column = orientation == GTK_ORIENTATION_VERTICAL;

  /* A column is no wider for what it says. */
  gtk_label_set_max_width_chars (GTK_LABEL (self->label), is_column ? COLUMN_CHARS : -1);
  gtk_widget_set_hexpand (self->button, is_column);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->strip), orientation);
  if (from == GTK_WIDGET (place))
    return;
  if (from)
    adw_bin_set_child (ADW_BIN (from), NULL);
  adw_bin_set_child (place, self->strip);
}

/* @about: what the button is for, NULL when there is none. */
static void
set_button (BedToasts *self, BedToastButton button, GVariant *about)
{
  const char *label = about ? buttons[button].label : NULL;
  GtkActionable *actionable = GTK_ACTIONABLE (self->button);

  self->says = button;
  self->change = about && button != BED_TOAST_OPEN ? g_variant_get_int64 (about) : 0;
  gtk_widget_set_visible (self->button, label != NULL);
  gtk_button_set_label (GTK_BUTTON (self->button), label ? _ (label) : "");
  /* An action that is about something is never seen without it, nor with what another is about. */
  gtk_actionable_set_action_name (actionable, NULL);
  gtk_actionable_set_action_target_value (actionable, about);
  if (label)
    gtk_actionable_set_action_name (actionable, buttons[button].action);
}

/* One at a time: what an older one would undo is no longer the last. */
static void
say (BedToasts *self, const char *text, BedToastButton button, GVariant *about)
{
  gtk_label_set_label (GTK_LABEL (self->label), text);
  bed_named (self->strip, text);
  set_button (self, button, about);
  gtk_widget_set_visible (self->strip, TRUE);
  g_clear_handle_id (&self->source, g_source_remove);
  self->source
      = g_timeout_add_seconds (button == BED_TOAST_OPEN ? SECONDS_WRITTEN : SECONDS, time_cb, self);
}

void
bed_toasts_say (BedToasts *self, const char *text, BedToastButton button, gint64 change)
{
  say (self, text, button, change ? g_variant_new_int64 (change) : NULL);
}

void
bed_toasts_say_written (BedToasts *self, const char *text, const char *path)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);

  say (self, text, BED_TOAST_OPEN, g_variant_new_take_string (g_file_get_uri (file)));
}

void
bed_toasts_keep (BedToasts *self, gint64 undo, gint64 redo)
{
  if (self->change && self->change != (self->says == BED_TOAST_UNDO ? undo : redo))
    set_button (self, BED_TOAST_PLAIN, NULL);
}
