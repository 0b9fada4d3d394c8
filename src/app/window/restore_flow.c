/* A copy takes the place of the farm, from the question to the windows that show it anew. */
#include "app/window/restore_flow.h"
#include "app/host/host.h"

#include <glib/gi18n.h>

#include "app/widgets/compat.h"
#include "model/farm/backup.h"
#include "model/farm/restore.h"

typedef struct
{
  GtkWindow *window;
  GtkWindow *over; /* may be the window */
  char *path;
  char *copy;
  GPtrArray *shown; /* GtkWindow, those that show the farm */
} Flow;

static void
flow_free (Flow *flow)
{
  g_object_unref (flow->window);
  g_object_unref (flow->over);
  g_free (flow->path);
  g_free (flow->copy);
  g_ptr_array_unref (flow->shown);
  g_free (flow);
}

static void
free_restored (BedRestored *restored)
{
  bed_restored_clear (restored);
  g_free (restored);
}

static gboolean
shows (GtkWindow *window, const char *path)
{
  BedFarm *farm = bed_host_get_farm (GTK_WIDGET (window));
  g_autofree char *own = farm ? g_canonicalize_filename (bed_farm_get_path (farm), NULL) : NULL;
  g_autofree char *other = g_canonicalize_filename (path, NULL);

  return g_strcmp0 (own, other) == 0;
}

/* Nobody may have the file open while another takes its name. */
static void
leave_farm (Flow *flow)
{
  GApplication *application = g_application_get_default ();
  GList *windows = application ? gtk_application_get_windows (GTK_APPLICATION (application)) : NULL;

  for (GList *at = windows; at; at = at->next)
    if (BED_IS_HOST (at->data) && shows (at->data, flow->path))
      g_ptr_array_add (flow->shown, g_object_ref (at->data));
  if (!application && shows (flow->window, flow->path))
    g_ptr_array_add (flow->shown, g_object_ref (flow->window));
  for (guint i = 0; i < flow->shown->len; i++)
    bed_host_set_farm (GTK_WIDGET (flow->shown->pdata[i]), NULL);
}

/* The window of a copy becomes that of the farm, unless the farm has one. */
static void
show_again (Flow *flow, gboolean done)
{
  for (guint i = 0; i < flow->shown->len; i++)
    bed_host_open (GTK_WIDGET (flow->shown->pdata[i]), flow->path);
  if (!done)
    return;
  if (flow->shown->len == 0)
    bed_host_open (GTK_WIDGET (flow->window), flow->path);
  else if (!shows (flow->window, flow->path))
    gtk_window_close (GTK_WINDOW (flow->window));
  if (flow->over != GTK_WINDOW (flow->window))
    gtk_window_close (flow->over);
}

static char *
dup_outcome (const BedRestored *restored)
{
  g_autofree char *before = restored->before ? g_filename_display_basename (restored->before)
                                             : NULL;
  g_autofree char *aside = restored->aside ? g_filename_display_basename (restored->aside) : NULL;

  if (before)
    return g_strdup_printf (_ ("Restored. As it was before: %s"), before);
  if (aside)
    return g_strdup_printf (_ ("Restored. The damaged file is kept: %s"), aside);
  return g_strdup (_ ("Restored"));
}

static void
restore (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Flow *flow = data;
  BedRestored *restored = g_new0 (BedRestored, 1);
  GError *error = NULL;

  if (bed_restore (flow->path, flow->copy, restored, &error))
    g_task_return_pointer (task, restored, (GDestroyNotify) free_restored);
  else
    {
      free_restored (restored);
      g_task_return_error (task, error);
    }
}

static void
restored_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Flow *flow = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  BedRestored *restored = g_task_propagate_pointer (G_TASK (result), &error);
  GtkWindow *teller = flow->shown->len ? flow->shown->pdata[0] : flow->window;

  show_again (flow, restored != NULL);
  gtk_widget_set_sensitive (GTK_WIDGET (flow->over), TRUE);
  if (restored)
    {
      g_autofree char *outcome = dup_outcome (restored);

      bed_host_say (GTK_WIDGET (teller), outcome);
      free_restored (restored);
    }
  else
    bed_tell (GTK_WIDGET (flow->over), _ ("The copy could not be restored"), error->message);
  if (g_application_get_default ())
    g_application_release (g_application_get_default ());
}

/* The question, which goes now, hands its flow over. */
static void
agreed_cb (Flow *flow, const char *response, GObject *question)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, restored_cb, NULL);

  g_task_set_task_data (task, g_object_steal_data (question, "flow"), (GDestroyNotify) flow_free);
  leave_farm (flow);
  gtk_widget_set_sensitive (GTK_WIDGET (flow->over), FALSE);
  if (g_application_get_default ())
    g_application_hold (g_application_get_default ());
  g_task_run_in_thread (task, restore);
}

static char *
dup_question (const char *path)
{
  g_autofree char *farm = g_filename_display_name (path);

  return g_strdup_printf (_ ("It takes the place of %s. What is there now is kept as a copy first, "
                             "so that you can come back to it. What stands unsaved in a form is "
                             "lost."),
                          farm);
}

void
bed_restore_flow_begin (GtkWindow *window, GtkWindow *over, const char *path, const char *copy)
{
  g_return_if_fail (BED_IS_HOST (window) && GTK_IS_WINDOW (over) && path && copy);
  Flow *flow = g_new0 (Flow, 1);
  g_autofree char *text = dup_question (path);
  BedQuestion question = { _ ("Restore this copy?"), text, _ ("Restore"), _ ("Cancel") };

  flow->window = g_object_ref (window);
  flow->over = g_object_ref (over);
  flow->path = g_strdup (path);
  flow->copy = g_strdup (copy);
  flow->shown = g_ptr_array_new_with_free_func (g_object_unref);
  GtkWidget *dialog = bed_ask (GTK_WIDGET (over), &question, G_CALLBACK (agreed_cb), flow);
  g_object_set_data_full (G_OBJECT (dialog), "flow", flow, (GDestroyNotify) flow_free);
}
