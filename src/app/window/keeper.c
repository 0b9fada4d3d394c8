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
  gpointer user_data;
} Job;

static void
free_job (Job *job)
{
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
  g_autoptr (GError) error = NULL;
  BedBackupMade *made = g_task_propagate_pointer (G_TASK (result), &error);

  if (job->kept)
    job->kept (made, error, job->user_data);
  g_clear_pointer (&made, free_made);
  if (g_application_get_default ())
    g_application_release (g_application_get_default ());
}

/* The window may have gone meanwhile. */
static void
said_cb (const BedBackupMade *made, const GError *error, gpointer user_data)
{
  GWeakRef *window = user_data;
  g_autoptr (GtkWidget) over = g_weak_ref_get (window);
  const char *text = error ? error->message : made->note;

  if (text && over)
    bed_host_say (over, text);
  else if (text)
    g_message ("%s", text);
  g_weak_ref_clear (window);
  g_free (window);
}

static void
begin (BedKeeper *self, BedBackupWhen when)
{
  GWeakRef *window = g_new0 (GWeakRef, 1);

  g_weak_ref_init (window, self->window);
  self->changed = FALSE;
  bed_keeper_make (bed_farm_get_path (self->farm), when, said_cb, window);
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
bed_keeper_make (const char *path, BedBackupWhen when, BedKept kept, gpointer user_data)
{
  g_autoptr (GTask) task = g_task_new (NULL, NULL, made_cb, NULL);
  Job *job = g_new (Job, 1);

  *job = (Job){ g_strdup (path), when, kept, user_data };
  g_task_set_task_data (task, job, (GDestroyNotify) free_job);
  if (g_application_get_default ())
    g_application_hold (g_application_get_default ());
  g_task_run_in_thread (task, make);
}
