#include "app/paper/printing.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/compat.h"
#include "model/farm/output.h"

typedef struct
{
  BedDocument *document;
  GtkWidget *inside;
  gboolean (*write) (BedDocument *, const char *path, const char *created, GError **);
  char *created; /* of a PDF */
} Job;

static void
free_job (Job *job)
{
  bed_document_free (job->document);
  g_object_unref (job->inside);
  g_free (job->created);
  g_free (job);
}

static Job *
make_job (GtkWidget *inside, BedDocument *document)
{
  Job *job = g_new0 (Job, 1);

  job->document = document;
  job->inside = g_object_ref (inside);
  return job;
}

static void
draw_page_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, Job *job)
{
  g_autoptr (GError) error = NULL;

  /* The operation's unit is set to the point, as the document's is. */
  if (!bed_document_draw (job->document, gtk_print_context_get_cairo_context (context), page,
                          &error))
    {
      bed_host_say_error (job->inside, error);
      gtk_print_operation_cancel (operation);
    }
}

/* "Print to file" writes where no guard of ours stands. */
static void
begin_print_cb (GtkPrintOperation *operation, GtkPrintContext *context, GtkWidget *inside)
{
  GtkPrintSettings *settings = gtk_print_operation_get_print_settings (operation);
  const char *uri = settings ? gtk_print_settings_get (settings, GTK_PRINT_SETTINGS_OUTPUT_URI)
                             : NULL;
  g_autofree char *path = uri ? g_filename_from_uri (uri, NULL, NULL) : NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *target = path ? bed_output_dup_target (path, BED_OUTPUT_PAPER, &error) : NULL;

  if (!path || target)
    return;
  bed_host_say_error (inside, error);
  gtk_print_operation_cancel (operation);
}

static GtkPageSetup *
make_setup (BedDocument *document)
{
  const BedPaper *paper = bed_document_get_paper (document);
  GtkPageSetup *setup = gtk_page_setup_new ();
  GtkPaperSize *size = gtk_paper_size_new_custom ("bedlog", bed_document_get_title (document),
                                                  paper->width, paper->height, GTK_UNIT_POINTS);

  gtk_page_setup_set_paper_size_and_default_margins (setup, size);
  gtk_paper_size_free (size);
  return setup;
}

static void
free_job_notify (gpointer data, GClosure *closure)
{
  free_job (data);
}

void
bed_print_document (GtkWidget *inside, BedDocument *document)
{
  g_autoptr (GtkPrintOperation) operation = gtk_print_operation_new ();
  g_autoptr (GtkPageSetup) setup = make_setup (document);
  g_autoptr (GError) error = NULL;
  GtkRoot *root = gtk_widget_get_root (inside);

  g_signal_connect_data (operation, "draw-page", G_CALLBACK (draw_page_cb),
                         make_job (inside, document), free_job_notify, 0);
  g_signal_connect_object (operation, "begin-print", G_CALLBACK (begin_print_cb), inside, 0);
  if (!bed_document_check (document, &error))
    {
      bed_host_say_error (inside, error);
      return;
    }
  gtk_print_operation_set_n_pages (operation, bed_document_get_n_pages (document));
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_job_name (operation, bed_document_get_title (document));
  gtk_print_operation_set_default_page_setup (operation, setup);
  if (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG,
                               GTK_WINDOW (root), &error)
      == GTK_PRINT_OPERATION_RESULT_ERROR)
    bed_host_say_error (inside, error);
}

static void
path_chosen_cb (const char *path, gpointer data)
{
  Job *job = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *said = NULL;

  if (path && !job->write (job->document, path, job->created, &error))
    bed_host_say_error (job->inside, error);
  else if (path)
    {
      g_autofree char *name = g_path_get_basename (path);

      said = g_strdup_printf (_ ("Saved %s"), name);
      bed_host_say_written (job->inside, said, path);
      /* What it says stands in the window under the dialog. */
      gtk_window_close (GTK_WINDOW (gtk_widget_get_root (job->inside)));
    }
  free_job (job);
}

void
bed_save_document (GtkWidget *inside, BedDocument *document, const char *name, const char *created)
{
  g_autofree char *suggested = g_strconcat (name, ".pdf", NULL);
  BedFileAsk ask = { _ ("Save as PDF"), _ ("Save"), suggested, "pdf", _ ("PDF files") };

  Job *job = make_job (inside, document);

  job->write = bed_document_write_pdf;
  job->created = g_strdup (created);
  bed_ask_save_file (inside, &ask, path_chosen_cb, job);
}

void
bed_save_picture (GtkWidget *inside, BedDocument *document, const char *name)
{
  g_autofree char *suggested = g_strconcat (name, ".png", NULL);
  BedFileAsk ask
      = { _ ("Save as picture"), _ ("Save"), suggested, "png svg", _ ("Pictures: .png or .svg") };
  Job *job = make_job (inside, document);

  job->write = bed_document_write;
  bed_ask_save_file (inside, &ask, path_chosen_cb, job);
}
