#include "app/host/wait.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/widgets/compat.h"
#include "model/farm/farm.h"

#define TRY_EVERY 200 /* ms */

typedef struct
{
  BedAttempt attempt;
  gpointer data;
  GError *error; /* of the last try */
  gboolean done;
  gboolean over;
} Wait;

static guint waiting;

static gboolean
is_busy (const GError *error)
{
  return g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY);
}

static void
take_attempt (Wait *wait)
{
  g_clear_error (&wait->error);
  wait->done = wait->attempt (wait->data, &wait->error);
  wait->over = wait->done || !is_busy (wait->error);
}

static gboolean
try_cb (gpointer data)
{
  Wait *wait = data;

  if (!wait->over)
    take_attempt (wait);
  return G_SOURCE_CONTINUE;
}

static void
give_up_cb (Wait *wait)
{
  wait->over = TRUE;
}

static GtkWidget *
make_dialog (GtkWindow *window, const char *heading, Wait *wait)
{
  GtkWidget *dialog
      = bed_message_new (window, heading, _ ("Waiting until it is done. What you typed stays."));
  GtkWidget *spinner = gtk_spinner_new ();

  gtk_spinner_start (GTK_SPINNER (spinner));
  gtk_box_append (GTK_BOX (adw_message_dialog_get_extra_child (ADW_MESSAGE_DIALOG (dialog))),
                  spinner);
  adw_message_dialog_add_response (ADW_MESSAGE_DIALOG (dialog), "cancel", _ ("Cancel"));
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect_swapped (dialog, "response", G_CALLBACK (give_up_cb), wait);
  gtk_window_present (GTK_WINDOW (dialog));
  return dialog;
}

/* The loop turns in here because whoever asked goes on right after, as if the farm had been free.
 * Nothing comes in between: the dialog takes all input, and no window looks for others' work.
 * SQLite itself is never in the middle of anything while the loop turns. */
gboolean
bed_wait (GtkWindow *window, const char *heading, BedAttempt attempt, gpointer data, GError **error)
{
  Wait wait = { attempt, data, NULL, FALSE, FALSE };

  take_attempt (&wait);
  if (!wait.over)
    {
      G_GNUC_UNUSED g_autoptr (GtkWindow) kept = g_object_ref (window);
      GtkWidget *dialog = make_dialog (window, heading, &wait);
      guint source = g_timeout_add (TRY_EVERY, try_cb, &wait);

      g_object_ref (dialog);
      waiting++;
      while (!wait.over)
        g_main_context_iteration (NULL, TRUE);
      waiting--;
      g_source_remove (source);
      g_signal_handlers_disconnect_by_data (dialog, &wait);
      gtk_window_destroy (GTK_WINDOW (dialog));
      g_object_unref (dialog);
    }
  if (wait.error)
    g_propagate_error (error, wait.error);
  return wait.done;
}

gboolean
bed_wait_to_write (GtkWidget *inside, BedAttempt attempt, gpointer data, GError **error)
{
  return bed_wait (GTK_WINDOW (gtk_widget_get_root (inside)),
                   _ ("Another program is writing to this farm"), attempt, data, error);
}

gboolean
bed_wait_is_on (void)
{
  return waiting > 0;
}
