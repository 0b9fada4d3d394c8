#include "app/widgets/wrap_layout.h"

#include "app/widgets/build.h"
#include "app/widgets/plot.h"

#define BETWEEN 24 /* px, columns */
#define BELOW 4    /* px, their rows */

struct _BedWrapLayout
{
  GtkLayoutManager parent_instance;
  int spacing;
  int line_spacing;
  int column; /* least width of the equal columns; 0: each child has its own */
  int most;   /* columns */
  int widest; /* of them; 0: all the room there is */
};

BED_DEFINE_TYPE (BedWrapLayout, bed_wrap_layout, GTK_TYPE_LAYOUT_MANAGER)

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
  GtkWidget *end; /* ->first: nothing is seen from there on */
  int width;
  int height;
} Line;

static int
column_width (BedWrapLayout *self, int whole)
{
  GtkWidget *box = gtk_layout_manager_get_widget (GTK_LAYOUT_MANAGER (self));
  int column = bed_plot_to_px (box, self->column);
  int n = CLAMP ((whole + self->spacing) / (column + self->spacing), 1, self->most);
  int width = (whole - (n - 1) * self->spacing) / n;

  return self->widest ? MIN (width, bed_plot_to_px (box, self->widest)) : width;
}

static int
child_width (BedWrapLayout *self, GtkWidget *child, int whole)
{
  int natural, least;

  if (self->column)
    return column_width (self, whole);
  least = measure_child (child, GTK_ORIENTATION_HORIZONTAL, -1, &natural);
  return CLAMP (natural, least, MAX (whole, least));
}

/* GTK 4.18 warns where a height is asked for in less than the least width. */
static int
child_height (GtkWidget *child, int width)
{
  int least = measure_child (child, GTK_ORIENTATION_HORIZONTAL, -1, NULL), natural;

  measure_child (child, GTK_ORIENTATION_VERTICAL, MAX (width, least), &natural);
  return natural;
}

static Line
find_line (BedWrapLayout *self, GtkWidget *first, int most)
{
  Line line = { first, first, 0, 0 };

  for (GtkWidget *child = first; child; child = gtk_widget_get_next_sibling (child))
    {
      int width = child_width (self, child, most);
      gboolean begun = line.end != first;
      int gap = begun ? self->spacing : 0;
      if (!gtk_widget_should_layout (child))
        continue;
      if (begun && line.width + gap + width > most)
        break;
      line.width += gap + width;
      line.height = MAX (line.height, child_height (child, width));
      line.end = gtk_widget_get_next_sibling (child);
    }
  return line;
}

static int
measure_height (BedWrapLayout *self, GtkWidget *widget, int width)
{
  int height = 0;
  Line line;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = line.end)
    {
      line = find_line (self, child, width);
      if (line.end == child)
        break;
      height += (height ? self->line_spacing : 0) + line.height;
    }
  return height;
}

static void
measure_width (BedWrapLayout *self, GtkWidget *widget, int *minimum, int *natural)
{
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    {
      int width;
      if (!gtk_widget_should_layout (child))
        continue;
      *minimum = MAX (*minimum, measure_child (child, GTK_ORIENTATION_HORIZONTAL, -1, &width));
      *natural += width + (*natural ? self->spacing : 0);
    }
  if (self->column)
    *natural = MAX (*minimum, self->most * (bed_plot_to_px (widget, self->column) + self->spacing)
                                  - self->spacing);
}

static void
bed_wrap_layout_measure (GtkLayoutManager *manager, GtkWidget *widget, GtkOrientation orientation,
                         int for_size, int *minimum, int *natural, int *minimum_baseline,
                         int *natural_baseline)
{
  BedWrapLayout *self = BED_WRAP_LAYOUT (manager);

  *minimum = *natural = 0;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    measure_width (self, widget, minimum, natural);
  else if (for_size >= 0)
    *minimum = *natural = measure_height (self, widget, for_size);
  else
    {
      /* No width may need less, to which GTK 4.18 holds windows; a dialog opens with room for one
       * column. */
      *minimum = *natural = measure_height (self, widget, G_MAXINT / 2);
      if (self->column)
        *natural
            = MAX (*minimum, measure_height (self, widget, bed_plot_to_px (widget, self->column)));
    }
}

static void
allocate_line (BedWrapLayout *self, const Line *line, int y, int whole)
{
  int x = 0;

  for (GtkWidget *child = line->first; child && child != line->end;
       child = gtk_widget_get_next_sibling (child))
    {
      int width = child_width (self, child, whole);
      if (!gtk_widget_should_layout (child))
        continue;
      if (!gtk_widget_get_next_sibling (child) && gtk_widget_get_halign (child) == GTK_ALIGN_END)
        x = MAX (x, whole - width);
      /* The first stands where reading begins. */
      int left = gtk_widget_get_direction (child) == GTK_TEXT_DIR_RTL ? whole - x - width : x;
      gtk_widget_size_allocate (child, &(GtkAllocation){ left, y, width, line->height }, -1);
      x += width + self->spacing;
    }
}

static void
bed_wrap_layout_allocate (GtkLayoutManager *manager, GtkWidget *widget, int width, int height,
                          int baseline)
{
  BedWrapLayout *self = BED_WRAP_LAYOUT (manager);
  int y = 0;
  Line line;

  for (GtkWidget *child = gtk_widget_get_first_child (widget); child; child = line.end)
    {
      line = find_line (self, child, width);
      if (line.end == child)
        break;
      allocate_line (self, &line, y, width);
      y += line.height + self->line_spacing;
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

static GtkWidget *
make_box (BedWrapLayout *layout)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  gtk_widget_set_layout_manager (box, GTK_LAYOUT_MANAGER (layout));
  return box;
}

GtkWidget *
bed_wrap_new (int spacing, int line_spacing)
{
  BedWrapLayout *self = g_object_new (BED_TYPE_WRAP_LAYOUT, NULL);

  self->spacing = spacing;
  self->line_spacing = line_spacing;
  return make_box (self);
}

GtkWidget *
bed_columns_new (int width, int most)
{
  BedWrapLayout *self = g_object_new (BED_TYPE_WRAP_LAYOUT, NULL);

  self->spacing = BETWEEN;
  self->line_spacing = BELOW;
  self->column = width;
  self->most = most;
  return make_box (self);
}

void
bed_columns_set_widest (GtkWidget *columns, int width)
{
  BedWrapLayout *self = BED_WRAP_LAYOUT (gtk_widget_get_layout_manager (columns));

  self->widest = width;
  gtk_widget_queue_resize (columns);
}
