#include "app/widgets/bark_view.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"
#include "print/drill/bark.h"

#define LEAST_WIDTH 240
#define USUAL_WIDTH 440
#define LEAST_HEIGHT 180
#define WIDEST 20000
#define MOST_HEIGHT 400
#define RIM 6
#define TEXT_SIZE 12.0 /* px */

struct _BedBarkView
{
  GtkWidget parent_instance;
  const BedDrillPlan *plan;
  double hole_diameter;
  char *distance;
  BedTypesetter *type;
};

BED_DEFINE_TYPE (BedBarkView, bed_bark_view, GTK_TYPE_WIDGET)

static void
bed_bark_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedBarkView *self = BED_BARK_VIEW (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  /* The cross of the farthest point is often on a rim: room for its arms. */
  BedBox box = { RIM, RIM, MAX (width - 2 * RIM, 1), MAX (height - 2 * RIM, 1) };
  BedBark bark = {
    .plan = self->plan,
    .hole_diameter = self->hole_diameter,
    .colours = adw_style_manager_get_dark (adw_style_manager_get_default ()) ? &bed_bark_dark
                                                                             : &bed_bark_light,
    .type = self->type,
    .distance = self->distance,
    .text_size = bed_plot_to_px (widget, TEXT_SIZE),
  };
  cairo_t *cr;

  if (!self->plan)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, width, height));
  bed_bark_draw (&bark, cr, &box);
  cairo_destroy (cr);
}

/* By its width alone, not by the log: what stands under it must not jump while one types. */
static GtkSizeRequestMode
bed_bark_view_get_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
bed_bark_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                       int *natural, int *minimum_baseline, int *natural_baseline)
{
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = LEAST_WIDTH;
      *natural = USUAL_WIDTH;
    }
  else
    {
      /* GTK asks with widths that no screen has, and warns where that takes more than any does. */
      gboolean unknown = for_size < 0 || for_size > WIDEST;

      *natural = CLAMP ((unknown ? USUAL_WIDTH : for_size) * 9 / 20, LEAST_HEIGHT, MOST_HEIGHT);
      /* All of it: a page that scrolls gives the least. */
      *minimum = unknown ? LEAST_HEIGHT : *natural;
    }
}

static void
bed_bark_view_finalize (GObject *object)
{
  BedBarkView *self = BED_BARK_VIEW (object);

  g_free (self->distance);
  bed_typesetter_free (self->type);
  G_OBJECT_CLASS (bed_bark_view_parent_class)->finalize (object);
}

static void
bed_bark_view_class_init (BedBarkViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_bark_view_finalize;
  widget_class->snapshot = bed_bark_view_snapshot;
  widget_class->measure = bed_bark_view_measure;
  widget_class->get_request_mode = bed_bark_view_get_request_mode;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedBarkView *
bed_bark_view_new (void)
{
  BedBarkView *self = g_object_new (BED_TYPE_BARK_VIEW, NULL);

  self->type = bed_typesetter_new ();
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  bed_ink_follow (GTK_WIDGET (self));
  return self;
}

static void
describe (BedBarkView *self)
{
  g_autofree char *text = NULL;

  if (self->plan)
    /* Translators: what the drawing of the unrolled bark shows; rows, holes, a length. */
    text = bed_say (_ ("Unrolled bark: %d rows, %u holes; farthest from a hole %s"),
                    self->plan->rows, self->plan->holes->len, self->distance);
  bed_named (GTK_WIDGET (self), text ? text : _ ("Unrolled bark"));
}

void
bed_bark_view_set_plan (BedBarkView *self, const BedDrillPlan *plan, double hole_diameter,
                        const char *distance)
{
  g_return_if_fail (BED_IS_BARK_VIEW (self));

  self->plan = plan;
  self->hole_diameter = hole_diameter;
  g_free (self->distance);
  self->distance = g_strdup (distance ? distance : "");
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
