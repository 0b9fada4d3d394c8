#include "app/toasts.h"

#include <glib/gi18n.h>

#define SECONDS 6

struct _BedToasts
{
  AdwToastOverlay *overlay;
  AdwToast *seen; /* weak */
  guint source;
};

static const struct
{
  const char *label;  /* N_() */
  const char *action;
} buttons[] = {
  [BED_TOAST_PLAIN] = { NULL, NULL },
  [BED_TOAST_UNDO] = { N_ ("Undo"), "win.undo" },
  [BED_TOAST_REDO] = { N_ ("Redo"), "win.redo" },
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
  if (self->seen)
    g_signal_handlers_disconnect_by_data (self->seen, self);
  g_clear_weak_pointer (&self->seen);
  g_free (self);
}

/* One at a time: what an older one would undo is no longer the last. The one that is seen says
 * the new thing: libadwaita 1.2 uses freed memory when a toast is dismissed while it comes in. */
void
bed_toasts_say (BedToasts *self, const char *text, BedToastButton button)
{
  g_autofree char *plain = g_markup_escape_text (text, -1);
  gboolean fresh = self->seen == NULL;
  AdwToast *toast = fresh ? adw_toast_new (plain) : self->seen;
  const char *label = buttons[button].label;

  adw_toast_set_title (toast, plain);
  adw_toast_set_button_label (toast, label ? _ (label) : NULL);
  adw_toast_set_action_name (toast, buttons[button].action);
  g_clear_handle_id (&self->source, g_source_remove);
  self->source = g_timeout_add_seconds (SECONDS, time_cb, self);
  if (!fresh)
    return;
  adw_toast_set_timeout (toast, 0);
  g_signal_connect (toast, "dismissed", G_CALLBACK (dismissed_cb), self);
  g_set_weak_pointer (&self->seen, toast);
  adw_toast_overlay_add_toast (self->overlay, toast);
}
