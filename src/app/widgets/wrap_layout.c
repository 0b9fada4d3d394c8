#include "app/widgets/wrap_layout.h"

struct _BedWrapLayout
{
  GtkLayoutManager parent_instance;
  int spacing;
  int line_spacing;
};

G_DEFINE_FINAL_TYPE (BedWrapLayout, bed_wrap_layout, GTK_TYPE_LAYOUT_MANAGER)

/* A child's least and natural size. */
static int
measure_child (GtkWidget *child, GtkOrientation orientation, int for_size, int *natural)
{
  int least;

  gtk_widget_measure (child, orientation, for_size, &least, natural, NULL, NULL);
  return least;
}

/* One line: the children from ->first up to, not with, ->end. */
typedef struct
{
  GtkWidget *first;
  GtkWidget *end;
  int width;
  int height;
} Line;

static int
child_width (GtkWidget *child, int most)
{
  int natural;
  int least = measure_child (child, GTK_ORIENTATION_HORIZONTAL, -1, &natural);

  return CLAMP (natural, least, MAX (most, least));
}

static Line
find_line (BedWrapLayout *self, GtkWidget *first, int most)
{
  Line line = { first, first, 0, 0 };

  for (GtkWidget *child = first; child; child = gtk_widget_get_next_sibling (child))
    {
      int width = child_width (child, most), natural, gap = child == first ? 0 : self->spacing;
      if (!gtk_widget_should_layout (child))
        continue;
      if (child != first && line.width + gap + width > most)
        break;
      measure_child (child, GTK_ORIENTATION_VERTICAL, width, &natural);
      line.width += gap + width;
      line.height = MAX (line.height, natural);
      line.end = gtk_widget_get_next_sibling (child);
    }
  return line;
}

static int
measure_height (BedWrapLayout *self, GtkWidget *widget, int width)
{
  int height = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;)
    {
      Line line = find_line (self, child, width);
      height += (height ? self->line_spacing : 0) + line.height;
      child = line.end == child ? gtk_widget_get_next_sibling (child) : line.end;
    }
  return height;
}

static void
bed_wrap_layout_measure (GtkLayoutManager *manager, GtkWidget *widget, GtkOrientation orientation,
                         int for_size, int *minimum, int *natural, int *minimum_baseline,
                         int *natural_baseline)
{
  BedWrapLayout *self = BED_WRAP_LAYOUT (manager);

  *minimum = *natural = 0;
  if (orientation == GTK_ORIENTATION_VERTICAL)
    {
      *minimum = *natural = measure_height (self, widget, for_size < 0 ? G_MAXINT / 2 : for_size);
      return;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    {
      int width;
      if (!gtk_widget_should_layout (child))
        continue;
      *minimum = MAX (*minimum, measure_child (child, orientation, -1, &width));
      *natural += width + (*natural ? self->spacing : 0);
    }
}

static void
allocate_line (BedWrapLayout *self, const Line *line, int y, int whole)
{
  int x = 0;

  for (GtkWidget *child = line->first; child && child != line->end;
       child = gtk_widget_get_next_sibling (child))
    {
      int width = child_width (child, whole);
      if (!gtk_widget_should_layout (child))
        continue;
      if (!gtk_widget_get_next_sibling (child) && gtk_widget_get_halign (child) == GTK_ALIGN_END)
        x = MAX (x, whole - width);
      gtk_widget_size_allocate (child, &(GtkAllocation){ x, y, width, line->height }, -1);
      x += width + self->spacing;
    }
}

static void
bed_wrap_layout_allocate (GtkLayoutManager *manager, GtkWidget *widget, int width, int height,
                          int baseline)
{
  BedWrapLayout *self = BED_WRAP_LAYOUT (manager);
  int y = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;)
    {
      Line line = find_line (self, child, width);
      allocate_line (self, &line, y, width);
      y += line.height + self->line_spacing;
      child = line.end == child ? gtk_widget_get_next_sibling (child) : line.end;
    }
}

static GtkSizeRequestMode
bed_wrap_layout_get_request_mode (GtkLayoutManager *manager, GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
bed_wrap_layout_class_init (BedWrapLayoutClass *klass)
{
  GtkLayoutManagerClass *layout_class = GTK_LAYOUT_MANAGER_CLASS (klass);

  layout_class->measure = bed_wrap_layout_measure;
  layout_class->allocate = bed_wrap_layout_allocate;
  layout_class->get_request_mode = bed_wrap_layout_get_request_mode;
}

static void
bed_wrap_layout_init (BedWrapLayout *self)
{
}

GtkLayoutManager *
bed_wrap_layout_new (int spacing, int line_spacing)
{
  BedWrapLayout *self = g_object_new (BED_TYPE_WRAP_LAYOUT, NULL);

  self->spacing = spacing;
  self->line_spacing = line_spacing;
  return GTK_LAYOUT_MANAGER (self);
}
