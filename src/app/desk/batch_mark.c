#include "app/desk/batch_mark.h"

#include "app/desk/style_palette.h"
#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "print/yard/yard_palette.h"
#include "yard/marks.h"

#define WIDTH 22
#define HEIGHT 14
#define PITCH 5 /* px between the lines of a hatch */
#define INK 0.75
#define CORNER 3
#define BARE (-1)    /* of a batch that never lay in a stack */
#define UNKNOWN (-2) /* until the marks are read */

struct _BedBatchMark
{
  GtkWidget parent_instance;
  BedFarm *farm;
  gint64 batch;
  int mark; /* as it was last drawn */
  GtkWidget *swatch;
  GtkWidget *code;
};

BED_DEFINE_TYPE (BedBatchMark, bed_batch_mark, GTK_TYPE_WIDGET)

static int
get_mark (BedFarm *farm, gint64 batch, int unread)
{
  GHashTable *marks = bed_marks_peek (farm);
  gpointer mark;

  if (!marks)
    return unread;
  return g_hash_table_lookup_extended (marks, &batch, NULL, &mark) ? GPOINTER_TO_INT (mark) : BARE;
}

gboolean
bed_batch_mark_read (BedFarm *farm, GError **error)
{
  return bed_marks_get (farm, error) != NULL;
}

static void
draw_mark (cairo_t *cr, int mark, const GdkRectangle *box)
{
  BedLogLook look = bed_mark_look (mark, bed_style_palette ());
  BedHatch hatch = { 0, 0, box->width, box->height, PITCH, INK };

  cairo_save (cr);
  cairo_translate (cr, box->x, box->y);
  cairo_new_sub_path (cr);
  cairo_arc (cr, CORNER, CORNER, CORNER, G_PI, 1.5 * G_PI);
  cairo_arc (cr, box->width - CORNER, CORNER, CORNER, -0.5 * G_PI, 0);
  cairo_arc (cr, box->width - CORNER, box->height - CORNER, CORNER, 0, 0.5 * G_PI);
  cairo_arc (cr, CORNER, box->height - CORNER, CORNER, 0.5 * G_PI, G_PI);
  cairo_close_path (cr);
  cairo_clip_preserve (cr);
  bed_colour_fill (cr, &look.colour, 1);
  bed_look_hatch (cr, &look, &hatch);
  cairo_restore (cr);
}

void
bed_batch_mark_draw (cairo_t *cr, BedFarm *farm, gint64 batch, const GdkRectangle *box)
{
  draw_mark (cr, get_mark (farm, batch, BARE), box);
}

/* While the marks are read anew the one before stays. */
static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  BedBatchMark *self = data;

  self->mark = get_mark (self->farm, self->batch, self->mark);
  if (self->mark != UNKNOWN)
    draw_mark (cr, self->mark, &(GdkRectangle){ 0, 0, width, height });
}

static void
bed_batch_mark_dispose (GObject *object)
{
  BedBatchMark *self = BED_BATCH_MARK (object);
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self));

  g_clear_pointer (&child, gtk_widget_unparent);
  G_OBJECT_CLASS (bed_batch_mark_parent_class)->dispose (object);
}

static void
bed_batch_mark_finalize (GObject *object)
{
  g_clear_object (&BED_BATCH_MARK (object)->farm);
  G_OBJECT_CLASS (bed_batch_mark_parent_class)->finalize (object);
}

static void
bed_batch_mark_class_init (BedBatchMarkClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_batch_mark_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_batch_mark_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

GtkWidget *
bed_batch_mark_new (BedFarm *farm)
{
  BedBatchMark *self = g_object_new (BED_TYPE_BATCH_MARK, NULL);
  GtkWidget *row;

  self->farm = g_object_ref (farm);
  self->mark = UNKNOWN;
  self->swatch = bed_sketch_new (WIDTH, HEIGHT, draw_cb, self, NULL);
  gtk_widget_set_valign (self->swatch, GTK_ALIGN_CENTER);
  bed_ink_follow (self->swatch);
  self->code = bed_label_new (NULL, NULL);
  row = bed_row_new (6, self->swatch, self->code, NULL);
  gtk_widget_set_parent (row, GTK_WIDGET (self));
  return GTK_WIDGET (self);
}

void
bed_batch_mark_show (BedBatchMark *self, gint64 batch, const char *code)
{
  g_return_if_fail (BED_IS_BATCH_MARK (self));
  if (batch != self->batch)
    self->mark = UNKNOWN;
  self->batch = batch;
  gtk_label_set_label (GTK_LABEL (self->code), code ? code : "");
  gtk_widget_queue_draw (self->swatch);
}
