#include "print/page/document.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "model/farm/habits.h"
#include "model/farm/output.h"

G_DEFINE_QUARK (bed - print - error - quark, bed_print_error)

const BedPaper bed_paper_a4 = { 210 * BED_POINTS_PER_MM, 297 * BED_POINTS_PER_MM };
const BedPaper bed_paper_letter = { 612, 792 };

struct _BedDocument
{
  BedDocumentSpec spec; /* its title is owned */
};

/* A file being written. The first fault is kept and stops cairo. */
typedef struct
{
  GOutputStream *stream;
  GError *error;
} Sink;

static void
clear_sink (Sink *sink)
{
  g_clear_object (&sink->stream);
  g_clear_error (&sink->error);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Sink, clear_sink)

/* Cairo writes a few bytes at a time, hence the buffer. */
static gboolean
open_sink (Sink *sink, const char *path, GError **error)
{
  g_autofree char *target = bed_output_dup_target (path, BED_OUTPUT_PAPER, error);

  if (!target)
    return FALSE;
  g_autoptr (GFile) file = g_file_new_for_path (target);
  /* Else GIO writes into a file of several names in place, and what fails has destroyed it. */
  GFileOutputStream *stream
      = g_file_replace (file, NULL, FALSE, G_FILE_CREATE_REPLACE_DESTINATION, NULL, error);
  if (!stream)
    return FALSE;
  sink->stream = g_buffered_output_stream_new_sized (G_OUTPUT_STREAM (stream), 1 << 16);
  g_object_unref (stream);
  return TRUE;
}

static cairo_status_t
write_cb (void *data, const unsigned char *bytes, unsigned int length)
{
  Sink *sink = data;

  if (sink->error)
    return CAIRO_STATUS_WRITE_ERROR;
  g_output_stream_write_all (sink->stream, bytes, length, NULL, NULL, &sink->error);
  return sink->error ? CAIRO_STATUS_WRITE_ERROR : CAIRO_STATUS_SUCCESS;
}

static gboolean
check_status (cairo_status_t status, GError **error)
{
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_DRAW, _ ("The page could not be drawn: %s."),
               cairo_status_to_string (status));
  return FALSE;
}

/* Closing a replaced file puts it in the old one's place, whether or not the
 * buffer's last bytes could be written, hence the flush; closing it cancelled
 * leaves the old one as it was. */
static gboolean
close_sink (Sink *sink, gboolean drawn, GError **error)
{
  g_autoptr (GCancellable) stop = g_cancellable_new ();

  if (drawn && !sink->error && g_output_stream_flush (sink->stream, NULL, &sink->error))
    return g_output_stream_close (sink->stream, NULL, error);
  g_cancellable_cancel (stop);
  g_output_stream_close (sink->stream, stop, NULL);
  if (sink->error)
    {
      /* The disk is the cause, whatever the drawing said after it. */
      g_clear_error (error);
      g_propagate_error (error, g_steal_pointer (&sink->error));
    }
  return FALSE;
}

/* Draws pages @first up to @last on @surface and closes it. */
static gboolean
draw_pages (BedDocument *self, cairo_surface_t *surface, guint first, guint last, GError **error)
{
  cairo_t *cr = cairo_create (surface);
  gboolean drawn = TRUE;

  for (guint page = first; drawn && page <= last; page++)
    {
      drawn = bed_document_draw (self, cr, page, error);
      cairo_show_page (cr);
    }
  drawn = drawn && check_status (cairo_status (cr), error);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  return drawn && check_status (cairo_surface_status (surface), error);
}

static gboolean
ends_with (const char *path, const char *ending)
{
  gsize length = strlen (path), tail = strlen (ending);

  return length > tail && !g_ascii_strcasecmp (path + length - tail, ending);
}

static gboolean
draw_joined_cb (cairo_t *cr, guint page, gpointer data, GError **error)
{
  GPtrArray *documents = data;
  guint i = 0;

  while (page >= bed_document_get_n_pages (documents->pdata[i]))
    page -= bed_document_get_n_pages (documents->pdata[i++]);
  return bed_document_draw (documents->pdata[i], cr, page, error);
}

/* What one of them has to say is likely said by all. */
static char *
dup_joined_note_cb (gpointer data)
{
  GPtrArray *documents = data;
  char *note = NULL;

  for (guint i = 0; i < documents->len && !note; i++)
    note = bed_document_dup_note (documents->pdata[i]);
  return note;
}

/* Public */

BedDocument *
bed_document_new (const BedDocumentSpec *spec)
{
  g_return_val_if_fail (spec != NULL && spec->draw != NULL && spec->n_pages > 0, NULL);
  BedDocument *self = g_new0 (BedDocument, 1);

  self->spec = *spec;
  self->spec.title = g_strdup (spec->title);
  return self;
}

BedDocument *
bed_document_join_new (GPtrArray *documents)
{
  g_return_val_if_fail (documents != NULL && documents->len > 0, NULL);
  BedDocumentSpec spec = ((BedDocument *) documents->pdata[0])->spec;

  spec.n_pages = 0;
  for (guint i = 0; i < documents->len; i++)
    spec.n_pages += bed_document_get_n_pages (documents->pdata[i]);
  spec.draw = draw_joined_cb;
  spec.dup_note = dup_joined_note_cb;
  spec.data = documents;
  spec.free_data = (GDestroyNotify) g_ptr_array_unref;
  return bed_document_new (&spec);
}

void
bed_document_free (BedDocument *self)
{
  if (!self)
    return;
  if (self->spec.free_data)
    self->spec.free_data (self->spec.data);
  g_free ((char *) self->spec.title);
  g_free (self);
}

const char *
bed_document_get_title (const BedDocument *self)
{
  return self->spec.title;
}

BedPaper
bed_paper_usual (BedSystem system)
{
  return bed_habits_has_letter (system) ? bed_paper_letter : bed_paper_a4;
}

const BedPaper *
bed_document_get_paper (const BedDocument *self)
{
  return &self->spec.paper;
}

guint
bed_document_get_n_pages (const BedDocument *self)
{
  return self->spec.n_pages;
}

gboolean
bed_document_draw (BedDocument *self, cairo_t *cr, guint page, GError **error)
{
  g_return_val_if_fail (self != NULL && cr != NULL && page < self->spec.n_pages, FALSE);
  cairo_save (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  gboolean drawn = self->spec.draw (cr, page, self->spec.data, error);
  cairo_restore (cr);
  return drawn;
}

gboolean
bed_document_check (BedDocument *self, GError **error)
{
  g_return_val_if_fail (self != NULL, FALSE);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A1, 1, 1);
  gboolean drawn = draw_pages (self, surface, 0, self->spec.n_pages - 1, error);

  cairo_surface_destroy (surface);
  return drawn;
}

cairo_surface_t *
bed_document_picture_new (BedDocument *self, guint page, double dpi, GError **error)
{
  g_return_val_if_fail (self != NULL && dpi >= 36 && dpi <= 1200, NULL);
  double scale = dpi / 72;
  cairo_surface_t *surface = cairo_image_surface_create (
      CAIRO_FORMAT_RGB24, (int) round (self->spec.paper.width * scale),
      (int) round (self->spec.paper.height * scale));
  cairo_t *cr = cairo_create (surface);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_scale (cr, scale, scale);
  if (!bed_document_draw (self, cr, page, error) || !check_status (cairo_status (cr), error))
    g_clear_pointer (&surface, cairo_surface_destroy);
  cairo_destroy (cr);
  return surface;
}

char *
bed_document_dup_note (BedDocument *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  return self->spec.dup_note ? self->spec.dup_note (self->spec.data) : NULL;
}

gboolean
bed_document_write_pdf (BedDocument *self, const char *path, const char *created, GError **error)
{
  g_return_val_if_fail (self != NULL && path != NULL, FALSE);
  g_auto (Sink) sink = { 0 };

  if (!open_sink (&sink, path, error))
    return FALSE;
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (
      write_cb, &sink, self->spec.paper.width, self->spec.paper.height);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Bedlog");
  if (self->spec.title)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, self->spec.title);
  if (created)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, created);
  gboolean drawn = draw_pages (self, surface, 0, self->spec.n_pages - 1, error);
  cairo_surface_destroy (surface);
  return close_sink (&sink, drawn, error);
}

gboolean
bed_document_write_png (BedDocument *self, guint page, double dpi, const char *path, GError **error)
{
  g_return_val_if_fail (self != NULL && path != NULL && page < self->spec.n_pages, FALSE);
  g_auto (Sink) sink = { 0 };
  cairo_surface_t *surface = bed_document_picture_new (self, page, dpi, error);
  gboolean opened = surface && open_sink (&sink, path, error);
  gboolean drawn
      = opened
        && check_status (cairo_surface_write_to_png_stream (surface, write_cb, &sink), error);

  g_clear_pointer (&surface, cairo_surface_destroy);
  return opened && close_sink (&sink, drawn, error);
}

gboolean
bed_document_write_svg (BedDocument *self, guint page, const char *path, GError **error)
{
  g_return_val_if_fail (self != NULL && path != NULL && page < self->spec.n_pages, FALSE);
  g_auto (Sink) sink = { 0 };

  if (!open_sink (&sink, path, error))
    return FALSE;
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (
      write_cb, &sink, self->spec.paper.width, self->spec.paper.height);
  cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PT);
  gboolean drawn = draw_pages (self, surface, page, page, error);
  cairo_surface_destroy (surface);
  return close_sink (&sink, drawn, error);
}

gboolean
bed_document_write (BedDocument *self, const char *path, const char *created, GError **error)
{
  g_return_val_if_fail (self != NULL && path != NULL, FALSE);

  if (ends_with (path, ".pdf"))
    return bed_document_write_pdf (self, path, created, error);
  if (!ends_with (path, ".png") && !ends_with (path, ".svg"))
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_FILE,
                 _ ("The name of the file must end in .pdf, .png or .svg: “%s”"), path);
  else if (self->spec.n_pages > 1)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_FILE,
                 _ ("These are %u pages: write them to a .pdf."), self->spec.n_pages);
  else
    return ends_with (path, ".png")
               ? bed_document_write_png (self, 0, BED_DOCUMENT_DPI, path, error)
               : bed_document_write_svg (self, 0, path, error);
  return FALSE;
}
