#include "app/season/workbook_button.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "model/farm/functions.h"
#include "print/yard/yard_picture.h"
#include "report/workbook.h"

#define LOOK_EVERY 100 /* ms */

struct _BedWorkbookButton
{
  BedPart parent_instance;
  BedFarm *farm;
  int season;
  GtkWidget *stack; /* "button", "bar" */
  GtkWidget *bar;
  GtkWidget *lists;          /* whether they are printed, too */
  GCancellable *cancellable; /* while writing */
  gpointer job;              /* Job, of the task that writes */
  guint look_source;
};

BED_DEFINE_TYPE (BedWorkbookButton, bed_workbook_button, BED_TYPE_PART)

/* What the thread and the window both see. The task keeps it. */
typedef struct
{
  BedFarmTwin *twin;
  char *path;
  int season;
  BedWorkbookLists lists;
  GMutex lock;
  double fraction;
  char *doing;
} Job;

static void
free_job (Job *job)
{
  bed_farm_twin_free (job->twin);
  g_free (job->path);
  g_free (job->doing);
  g_mutex_clear (&job->lock);
  g_free (job);
}

static void
progress_cb (double fraction, const char *doing, gpointer data)
{
  Job *job = data;

  g_mutex_lock (&job->lock);
  job->fraction = fraction;
  g_free (job->doing);
  job->doing = g_strdup (doing);
  g_mutex_unlock (&job->lock);
}

static void
write_book (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  GError *error = NULL;
  BedFarm *farm = bed_farm_twin_open (job->twin, &error);
  BedWorkbookPlan plan = { .season = job->season,
                           .path = job->path,
                           .lists = job->lists,
                           .progress = progress_cb,
                           .progress_data = job,
                           .cancellable = cancellable };
  g_autofree char *day = farm ? bed_workbook_map_date (farm, job->season) : NULL;
  g_autoptr (BedYardPictures) maps = farm ? bed_yard_pictures_begin (farm, day) : NULL;
  gboolean written;

  plan.yard_maps = bed_yard_pictures_wait;
  plan.yard_maps_data = maps;
  written = farm && bed_workbook_write (farm, &plan, &error);

  g_clear_object (&farm);
  if (written)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static gboolean
look_cb (gpointer data)
{
  BedWorkbookButton *self = data;
  Job *job = self->job;

  g_mutex_lock (&job->lock);
  gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (self->bar), job->fraction);
  gtk_progress_bar_set_text (GTK_PROGRESS_BAR (self->bar), job->doing ? job->doing : "");
  g_mutex_unlock (&job->lock);
  return G_SOURCE_CONTINUE;
}

static void
rest (BedWorkbookButton *self)
{
  g_clear_handle_id (&self->look_source, g_source_remove);
  g_clear_object (&self->cancellable);
  self->job = NULL;
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "button");
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  BedWorkbookButton *self = BED_WORKBOOK_BUTTON (source);
  Job *job = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  g_autofree char *name = g_path_get_basename (job->path);
  g_autofree char *said = NULL;

  rest (self);
  if (g_task_propagate_boolean (G_TASK (result), &error))
    said = g_strdup_printf (_ ("Wrote %s"), name);
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    said = g_strdup (_ ("Cancelled: no workbook was written"));
  if (!gtk_widget_get_root (GTK_WIDGET (self)))
    return;
  if (said && !error)
    bed_host_say_written (GTK_WIDGET (self), said, job->path);
  else
    bed_host_say (GTK_WIDGET (self), said ? said : error->message);
}

static void
begin (BedWorkbookButton *self, const char *path)
{
  g_autoptr (GTask) task = NULL;
  Job *job;

  if (self->cancellable)
    return;
  job = g_new0 (Job, 1);
  g_mutex_init (&job->lock);
  job->twin = bed_farm_twin_new (self->farm);
  job->path = g_strdup (path);
  job->season = self->season;
  job->lists = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->lists))
                   ? BED_WORKBOOK_LISTS_PRINTED
                   : BED_WORKBOOK_LISTS_SHOWN;
  job->doing = g_strdup (_ ("Drawing the yard"));
  self->job = job;
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, written_cb, NULL);
  /* The thread tidies up before it answers that it was cancelled. */
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, job, (GDestroyNotify) free_job);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "bar");
  self->look_source = g_timeout_add (LOOK_EVERY, look_cb, self);
  g_task_run_in_thread (task, write_book);
}

static void
chosen_cb (const char *path, gpointer data)
{
  g_autoptr (BedWorkbookButton) self = data;

  if (path && gtk_widget_get_root (GTK_WIDGET (self)))
    begin (self, path);
}

static void
clicked_cb (BedWorkbookButton *self)
{
  const char *farm_name = bed_record_get_text (bed_farm_get_settings (self->farm), "name");
  g_autofree char *season = bed_season_dup_name (self->farm, self->season);
  g_autofree char *name = g_strdup_printf ("%s %s.xlsx", farm_name, season);
  BedFileAsk ask = { _ ("Write the season workbook"), _ ("Write"), name, "xlsx", _ ("Workbooks") };

  bed_ask_save_file (GTK_WIDGET (self), &ask, chosen_cb, g_object_ref (self));
}

static void
cancel_cb (BedWorkbookButton *self)
{
  if (self->cancellable)
    g_cancellable_cancel (self->cancellable);
}

static void
bed_workbook_button_dispose (GObject *object)
{
  BedWorkbookButton *self = BED_WORKBOOK_BUTTON (object);

  cancel_cb (self);
  g_clear_handle_id (&self->look_source, g_source_remove);
  g_clear_object (&self->cancellable);
  G_OBJECT_CLASS (bed_workbook_button_parent_class)->dispose (object);
}

static void
bed_workbook_button_class_init (BedWorkbookButtonClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_workbook_button_dispose;
}

static GtkWidget *
make_bar (BedWorkbookButton *self)
{
  GtkWidget *cancel = bed_button_new (_ ("Cancel"), G_CALLBACK (cancel_cb), self);

  self->bar = gtk_progress_bar_new ();
  gtk_progress_bar_set_show_text (GTK_PROGRESS_BAR (self->bar), TRUE);
  gtk_progress_bar_set_ellipsize (GTK_PROGRESS_BAR (self->bar), PANGO_ELLIPSIZE_END);
  bed_styled (self->bar, "doing");
  gtk_widget_set_valign (self->bar, GTK_ALIGN_CENTER);
  bed_named (self->bar, _ ("Writing the workbook"));
  return bed_row_new (12, self->bar, cancel, NULL);
}

BedWorkbookButton *
bed_workbook_button_new (BedFarm *farm)
{
  BedWorkbookButton *self = g_object_new (BED_TYPE_WORKBOOK_BUTTON, NULL);
  GtkWidget *button = bed_button_new (_ ("Write workbook…"), G_CALLBACK (clicked_cb), self);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->stack = gtk_stack_new ();
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_widget_add_css_class (button, "suggested-action");
  gtk_widget_set_halign (button, GTK_ALIGN_END);
  self->lists = gtk_check_button_new_with_label (_ ("Print long lists"));
  gtk_widget_set_tooltip_text (self->lists,
                               _ ("The workbook has each pick and each log in any case. Printed, "
                                  "they take many pages."));
  gtk_stack_add_named (GTK_STACK (self->stack), bed_row_new (12, self->lists, button, NULL),
                       "button");
  gtk_stack_add_named (GTK_STACK (self->stack), make_bar (self), "bar");
  bed_part_set_child (BED_PART (self), self->stack);
  return self;
}

void
bed_workbook_button_set_season (BedWorkbookButton *self, int season)
{
  g_return_if_fail (BED_IS_WORKBOOK_BUTTON (self));
  self->season = season;
}
