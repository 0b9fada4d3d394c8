#include "app/window/first_frame.h"

#define LONGEST 1000 /* ms: of a window that is not seen no frame may ever be asked for */

static void
painted_cb (gboolean *over)
{
  *over = TRUE;
}

static gboolean
give_up_cb (gpointer data)
{
  *(gboolean *) data = TRUE;
  return G_SOURCE_CONTINUE;
}

/* The loop turns in here, as in bed_wait(): whoever opens a farm goes on with the window of it. */
void
bed_first_frame (GtkWindow *window)
{
  g_return_if_fail (GTK_IS_WINDOW (window));
  G_GNUC_UNUSED g_autoptr (GtkWindow) kept = g_object_ref (window);
  gboolean seen = gtk_widget_get_mapped (GTK_WIDGET (window)), over = FALSE;

  gtk_window_present (window);
  GdkFrameClock *clock = gtk_widget_get_frame_clock (GTK_WIDGET (window));
  if (seen || !clock)
    return;
  g_object_ref (clock);
  gulong handler = g_signal_connect_swapped (clock, "after-paint", G_CALLBACK (painted_cb), &over);
  guint source = g_timeout_add (LONGEST, give_up_cb, &over);
  while (!over)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (source);
  /* A window that was closed meanwhile has taken its clock's handlers along. */
  if (g_signal_handler_is_connected (clock, handler))
    g_signal_handler_disconnect (clock, handler);
  g_object_unref (clock);
}
