#include "app/widgets/document_view.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"

/* Of a white page on a light ground, gone on a dark one. */
#define EDGE                                                                                       \
  {                                                                                                \
    0, 0, 0, 0.12                                                                                  \
  }

struct _BedDocumentView
{
  GtkWidget parent_instance;
  BedDocument *document;
  guint page;
};

BED_DEFINE_TYPE (BedDocumentView, bed_document_view, GTK_TYPE_WIDGET)

static void
bed_document_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedDocumentView *self = BED_DOCUMENT_VIEW (widget);
  double width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  const BedPaper *paper;
  graphene_rect_t page;
  GskRoundedRect edge;
  double scale;
  cairo_t *cr;

  if (!self->document)
    return;
  paper = bed_document_get_paper (self->document);
  scale = MIN ((width - 2) / paper->width, (height - 2) / paper->height);
  page = GRAPHENE_RECT_INIT ((width - scale * paper->width) / 2, 1, scale * paper->width,
                             scale * paper->height);
  gtk_snapshot_append_color (snapshot, &(GdkRGBA){ 1, 1, 1, 1 }, &page);
  gsk_rounded_rect_init_from_rect (&edge, &page, 0);
  gsk_rounded_rect_shrink (&edge, -1, -1, -1, -1);
  gtk_snapshot_append_border (snapshot, &edge, (float[4]){ 1, 1, 1, 1 },
                              (GdkRGBA[4]){ EDGE, EDGE, EDGE, EDGE });
  cr = gtk_snapshot_append_cairo (snapshot, &page);
  cairo_translate (cr, page.origin.x, page.origin.y);
  cairo_scale (cr, scale, scale);
  bed_document_draw (self->document, cr, self->page, NULL);
  cairo_destroy (cr);
}

static void
bed_document_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size,
                           int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_VERTICAL ? 260 : 200;
  *natural = orientation == GTK_ORIENTATION_VERTICAL ? 480 : 360;
}

static void
bed_document_view_finalize (GObject *object)
{
  g_clear_pointer (&BED_DOCUMENT_VIEW (object)->document, bed_document_free);
  G_OBJECT_CLASS (bed_document_view_parent_class)->finalize (object);
}

static void
bed_document_view_class_init (BedDocumentViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_document_view_finalize;
  widget_class->snapshot = bed_document_view_snapshot;
  widget_class->measure = bed_document_view_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedDocumentView *
bed_document_view_new (void)
{
  return g_object_new (BED_TYPE_DOCUMENT_VIEW, NULL);
}

void
bed_document_view_set_document (BedDocumentView *self, BedDocument *document)
{
  g_return_if_fail (BED_IS_DOCUMENT_VIEW (self));

  g_clear_pointer (&self->document, bed_document_free);
  self->document = document;
  bed_document_view_set_page (self, self->page);
}

guint
bed_document_view_get_n_pages (BedDocumentView *self)
{
  g_return_val_if_fail (BED_IS_DOCUMENT_VIEW (self), 0);
  return self->document ? bed_document_get_n_pages (self->document) : 0;
}

guint
bed_document_view_get_page (BedDocumentView *self)
{
  g_return_val_if_fail (BED_IS_DOCUMENT_VIEW (self), 0);
  return self->page;
}

void
bed_document_view_set_page (BedDocumentView *self, guint page)
{
  g_return_if_fail (BED_IS_DOCUMENT_VIEW (self));
  guint n = bed_document_view_get_n_pages (self);
  g_autofree char *name = NULL;

  self->page = MIN (page, MAX (n, 1) - 1);
  name = n ? g_strdup_printf (_ ("Page %u of %u"), self->page + 1, n)
           : g_strdup (_ ("No page to show"));
  bed_named (GTK_WIDGET (self), name);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

GtkWidget *
bed_document_view_stack_new (BedDocumentView *self, GtkWidget *words)
{
  GtkWidget *stack = gtk_stack_new ();

  gtk_widget_set_margin_start (words, 24);
  gtk_widget_set_margin_end (words, 24);
  gtk_stack_add_child (GTK_STACK (stack), GTK_WIDGET (self));
  gtk_stack_add_child (GTK_STACK (stack), words);
  gtk_widget_set_hexpand (stack, TRUE);
  gtk_widget_set_vexpand (stack, TRUE);
  return stack;
}
