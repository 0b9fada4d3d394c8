#include "app/widgets/columns_layout.h"

#define BETWEEN 24 /* px, columns */
#define BELOW 6    /* px, rows */

struct _BedColumnsLayout
{
  GtkLayoutManager parent_instance;
  int width;
  int most;
};

G_DEFINE_FINAL_TYPE (BedColumnsLayout, bed_columns_layout, GTK_TYPE_LAYOUT_MANAGER)

static int
count_columns (BedColumnsLayout *self, int width)
{
  return CLAMP ((width + BETWEEN) / (self->width + BETWEEN), 1, self->most);
}

static int
column_width (int width, int columns)
{
  return (width - (columns - 1) * BETWEEN) / columns;
}

/* The height of the row that begins with *@child; moves it to the next row's first. */
static int
measure_row (GtkWidget **child, int columns, int width)
{
  int height = 0;

  for (int i = 0; i < columns && *child; *child = gtk_widget_get_next_sibling (*child))
    {
      int least, natural;

      if (!gtk_widget_should_layout (*child))
        continue;
      gtk_widget_measure (*child, GTK_ORIENTATION_VERTICAL, width, &least, &natural, NULL, NULL);
      height = MAX (height, natural);
      i++;
    }
  return height;
}

static void
measure_height (BedColumnsLayout *self, GtkWidget *widget, int for_size, int *height)
{
  int width = for_size < 0 ? self->width : for_size;
  int columns = count_columns (self, width);
  GtkWidget *child = gtk_widget_get_first_child (widget);

  *height = 0;
  while (child)
    {
      int row = measure_row (&child, columns, column_width (width, columns));

      *height += row + (*height > 0 && row > 0 ? BELOW : 0);
    }
}

static void
measure_width (BedColumnsLayout *self, GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 0;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    {
      int least;

      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
      *minimum = MAX (*minimum, least);
    }
  *natural = MAX (*minimum, self->most * (self->width + BETWEEN) - BETWEEN);
}

static void
bed_columns_layout_measure (GtkLayoutManager *manager, GtkWidget *widget,
                            GtkOrientation orientation, int for_size, int *minimum, int *natural,
                            int *minimum_baseline, int *natural_baseline)
{
  BedColumnsLayout *self = BED_COLUMNS_LAYOUT (manager);

  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    measure_width (self, widget, minimum, natural);
  else
    {
      measure_height (self, widget, for_size, minimum);
      *natural = *minimum;
    }
}

static void
bed_columns_layout_allocate (GtkLayoutManager *manager, GtkWidget *widget, int width, int height,
                             int baseline)
{
  int columns = count_columns (BED_COLUMNS_LAYOUT (manager), width);
  int each = column_width (width, columns), y = 0;
  GtkWidget *child = gtk_widget_get_first_child (widget), *next = child;

  while (child)
    {
      int row = measure_row (&next, columns, each);
      int x = 0;

      for (; child != next; child = gtk_widget_get_next_sibling (child))
        if (gtk_widget_should_layout (child))
          {
            gtk_widget_size_allocate (child, &(GtkAllocation){ x, y, each, row }, -1);
            x += each + BETWEEN;
          }
      y += row + BELOW;
    }
}

static GtkSizeRequestMode
bed_columns_layout_get_request_mode (GtkLayoutManager *manager, GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
bed_columns_layout_class_init (BedColumnsLayoutClass *klass)
{
  GtkLayoutManagerClass *manager_class = GTK_LAYOUT_MANAGER_CLASS (klass);

  manager_class->measure = bed_columns_layout_measure;
  manager_class->allocate = bed_columns_layout_allocate;
  manager_class->get_request_mode = bed_columns_layout_get_request_mode;
}

static void
bed_columns_layout_init (BedColumnsLayout *self)
{
}

GtkLayoutManager *
bed_columns_layout_new (int width, int most)
{
  BedColumnsLayout *self = g_object_new (BED_TYPE_COLUMNS_LAYOUT, NULL);

  self->width = width;
  self->most = most;
  return GTK_LAYOUT_MANAGER (self);
}
