#include "app/window/keeper.h"
#include "app/host/host.h"

#define HOUR (60 * 60) /* seconds */

struct _BedKeeper
{
  GtkWindow *window; /* borrowed */
  BedFarm *farm;
  guint timer;
  gulong changed_handler;
  gboolean changed; /* since the last copy was begun */
};

typedef struct
{
  char *path;
  BedBackupWhen when;
  BedKept kept;
  GWeakRef teller;
} Job;

static void
free_job (Job *job)
{
  g_weak_ref_clear (&job->teller);
  g_free (job->path);
  g_free (job);
}

static void
free_made (BedBackupMade *made)
{
  bed_backup_made_clear (made);
  g_free (made);
}

static void
make (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  GError *error = NULL;
  g_autoptr (BedFarm) farm = bed_farm_open (job->path, &error);
  BedBackupMade *made = g_new0 (BedBackupMade, 1);

  if (farm && bed_backup_make (farm, job->when, made, &error))
    g_task_return_pointer (task, made, (GDestroyNotify) free_made);
  else
    {
      free_made (made);
      g_task_return_error (task, error);
    }
}

static void
made_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GtkWidget) teller = g_weak_ref_get (&job->teller);
  g_autoptr (GError) error = NULL;
  BedBackupMade *made = g_task_propagate_pointer (G_TASK (result), &error);

  job->kept (made, error, teller);
  g_clear_pointer (&made, free_made);
  if (g_application_get_default ())
    g_application_release (g_application_get_default ());
}

static void
said_cb (const BedBackupMade *made, const GError *error, GtkWidget *window)
{
  const char *text = error ? error->message : made->note;

  if (text && window)
    bed_host_say (window, text);
  else if (text)
    g_message ("%s", text);
}

static void
begin (BedKeeper *self, BedBackupWhen when)
{
  self->changed = FALSE;
  bed_keeper_make (bed_farm_get_path (self->farm), when, said_cb, GTK_WIDGET (self->window));
}

static gboolean
hour_cb (gpointer data)
{
  BedKeeper *self = data;

  if (self->changed)
    begin (self, BED_BACKUP_HOUR);
  return G_SOURCE_CONTINUE;
}

static void
changed_cb (BedKeeper *self)
{
  self->changed = TRUE;
}

/* --- public ------------------------------------------------------------------------ */

BedKeeper *
bed_keeper_new (GtkWindow *window, BedFarm *farm)
{
  BedKeeper *self = g_new0 (BedKeeper, 1);

  self->window = window;
  self->farm = g_object_ref (farm);
  self->changed_handler = g_signal_connect_swapped (farm, "changed", G_CALLBACK (changed_cb), self);
  self->timer = g_timeout_add_seconds (HOUR, hour_cb, self);
  begin (self, BED_BACKUP_OPENING);
  return self;
}

void
bed_keeper_free (BedKeeper *self)
{
  g_signal_handler_disconnect (self->farm, self->changed_handler);
  g_source_remove (self->timer);
  begin (self, BED_BACKUP_DIFFERS);
  g_object_unref (self->farm);
  g_free (self);
}

void
bed_keeper_make (const char *path, BedBackupWhen when, BedKept kept, GtkWidget *teller)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, made_cb, NULL);
  Job *job = g_new0 (Job, 1);

  job->path = g_strdup (path);
  job->when = when;
  job->kept = kept;
  g_weak_ref_init (&job->teller, teller);
  g_task_set_task_data (task, job, (GDestroyNotify) free_job);
  if (g_application_get_default ())
    g_application_hold (g_application_get_default ());
  g_task_run_in_thread (task, make);
}
