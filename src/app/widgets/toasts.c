#include "app/widgets/toasts.h"

#include <glib/gi18n.h>

#define SECONDS 6
#define COMING_IN 600 /* ms; the animation takes 250 */

struct _BedToasts
{
  AdwToastOverlay *overlay;
  AdwToast *seen; /* weak */
  BedToastButton button;
  gint64 change; /* that the button is for */
  guint source;
  guint coming; /* source; while the toast comes in */
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

static gboolean
time_cb (gpointer data)
{
  BedToasts *self = data;

  self->source = 0;
  if (self->seen)
    adw_toast_dismiss (self->seen);
  return G_SOURCE_REMOVE;
}

/* What libadwaita laid over the content, the toast: whether a pointer meets it. */
static void
set_met (BedToasts *self, gboolean met)
{
  GtkWidget *content = adw_toast_overlay_get_child (self->overlay);

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self->overlay)); child;
       child = gtk_widget_get_next_sibling (child))
    if (child != content)
      gtk_widget_set_can_target (child, met);
}

static gboolean
come_cb (gpointer data)
{
  BedToasts *self = data;

  self->coming = 0;
  set_met (self, TRUE);
  return G_SOURCE_REMOVE;
}

/* What is on its way out says nothing new. */
static void
dismissed_cb (AdwToast *toast, BedToasts *self)
{
  g_clear_weak_pointer (&self->seen);
}

BedToasts *
bed_toasts_new (AdwToastOverlay *overlay)
{
  BedToasts *self = g_new0 (BedToasts, 1);

  self->overlay = overlay;
  return self;
}

void
bed_toasts_free (BedToasts *self)
{
  g_clear_handle_id (&self->source, g_source_remove);
  g_clear_handle_id (&self->coming, g_source_remove);
  if (self->seen)
    g_signal_handlers_disconnect_by_data (self->seen, self);
  g_clear_weak_pointer (&self->seen);
  g_free (self);
}

/* The line that is being typed keeps the keyboard: the next Enter is meant for it, and not for a
 * button that was clicked. */
static void
leave_keyboard (GtkWidget *inside, GtkWidget *content)
{
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    if (child != content)
      {
        gtk_widget_set_focus_on_click (child, FALSE);
        leave_keyboard (child, content);
      }
}

/* @about: what the button is for, NULL when there is none. */
static void
set_button (BedToasts *self, AdwToast *toast, BedToastButton button, GVariant *about)
{
  const char *label = about ? buttons[button].label : NULL;

  self->button = button;
  self->change = about && button != BED_TOAST_OPEN ? g_variant_get_int64 (about) : 0;
  adw_toast_set_button_label (toast, label ? _ (label) : NULL);
  /* An action that is about something is never seen without it, nor with what another is about. */
  adw_toast_set_action_name (toast, NULL);
  adw_toast_set_action_target_value (toast, about);
  if (label)
    adw_toast_set_action_name (toast, buttons[button].action);
}

/* One at a time: what an older one would undo is no longer the last. The one that is seen says
 * the new thing: libadwaita 1.2 uses freed memory when a toast is dismissed while it comes in. So
 * no pointer meets it either until it is there. */
static void
say (BedToasts *self, const char *text, BedToastButton button, GVariant *about)
{
  g_autofree char *plain = g_markup_escape_text (text, -1);
  gboolean fresh = self->seen == NULL;
  AdwToast *toast = fresh ? adw_toast_new (plain) : self->seen;

  adw_toast_set_title (toast, plain);
  set_button (self, toast, button, about);
  g_clear_handle_id (&self->source, g_source_remove);
  self->source = g_timeout_add_seconds (SECONDS, time_cb, self);
  if (!fresh)
    return;
  adw_toast_set_timeout (toast, 0);
  g_signal_connect (toast, "dismissed", G_CALLBACK (dismissed_cb), self);
  g_set_weak_pointer (&self->seen, toast);
  adw_toast_overlay_add_toast (self->overlay, toast);
  leave_keyboard (GTK_WIDGET (self->overlay), adw_toast_overlay_get_child (self->overlay));
  set_met (self, FALSE);
  g_clear_handle_id (&self->coming, g_source_remove);
  self->coming = g_timeout_add (COMING_IN, come_cb, self);
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
  if (self->seen && self->change && self->change != (self->button == BED_TOAST_UNDO ? undo : redo))
    set_button (self, self->seen, BED_TOAST_PLAIN, NULL);
}
