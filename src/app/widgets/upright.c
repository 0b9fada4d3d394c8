#include "app/widgets/upright.h"

#include "app/widgets/build.h"

struct _BedUprightLayout
{
  GtkLayoutManager parent_instance;
};

BED_DEFINE_TYPE (BedUprightLayout, bed_upright_layout, GTK_TYPE_LAYOUT_MANAGER)

static GtkSizeRequestMode
bed_upright_layout_get_request_mode (GtkLayoutManager *layout, GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
bed_upright_layout_measure (GtkLayoutManager *layout, GtkWidget *widget, GtkOrientation orientation,
                            int for_size, int *least, int *natural, int *least_baseline,
                            int *natural_baseline)
{
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    for_size = -1;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    {
      int own_least, own_natural;

      if (!gtk_widget_should_layout (child))
        continue;
      gtk_widget_measure (child, orientation, for_size, &own_least, &own_natural, NULL, NULL);
      *least = MAX (*least, own_least);
      *natural = MAX (*natural, own_natural);
    }
}

static void
bed_upright_layout_allocate (GtkLayoutManager *layout, GtkWidget *widget, int width, int height,
                             int baseline)
{
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    if (gtk_widget_should_layout (child))
      gtk_widget_allocate (child, width, height, baseline, NULL);
}

static void
bed_upright_layout_class_init (BedUprightLayoutClass *klass)
{
  GtkLayoutManagerClass *layout_class = GTK_LAYOUT_MANAGER_CLASS (klass);

  layout_class->get_request_mode = bed_upright_layout_get_request_mode;
  layout_class->measure = bed_upright_layout_measure;
  layout_class->allocate = bed_upright_layout_allocate;
}
