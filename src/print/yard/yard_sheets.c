#include "print/yard/yard_sheets.h"

#include <math.h>

#define POINTS_PER_METRE (72 / 0.0254)
#define LARGEST_POWER 100000000
#define SLACK 1e-6 /* points: a yard that fits exactly does */

const guint bed_sheets_scales[] = { 20, 25, 50, 100, 200, 250, 500, 1000, 2000, 0 };

static gboolean
fits (const BedExtent *extent, double scale, double width, double height)
{
  return extent->width * POINTS_PER_METRE / scale <= width + SLACK
         && extent->height * POINTS_PER_METRE / scale <= height + SLACK;
}

guint
bed_sheets_find_scale (const BedExtent *extent, double width, double height)
{
  static const guint steps[] = { 1, 2, 5 };
  const guint *scale = bed_sheets_scales;
  guint far = 0;

  while (*scale && !fits (extent, *scale, width, height))
    scale++;
  if (*scale)
    return *scale;
  for (guint power = 1000; power < LARGEST_POWER; power *= 10)
    for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
      {
        far = power * steps[i];
        if (fits (extent, far, width, height))
          return far;
      }
  return far;
}

/* So many of @sheet that overlap hold @all; of what is no length, one. */
static guint
count_sheets (double all, double sheet)
{
  if (!(all > sheet + SLACK))
    return 1;
  return (guint) CLAMP (ceil ((all - BED_SHEETS_OVERLAP - SLACK) / (sheet - BED_SHEETS_OVERLAP)), 2,
                        1e6);
}

void
bed_sheets_lay (BedSheets *self, const BedExtent *extent, guint scale, double width, double height)
{
  g_return_if_fail (scale > 0 && MIN (width, height) > 2 * BED_SHEETS_OVERLAP);
  *self = (BedSheets){ *extent, scale, width, height, 1, 1 };
  self->across = count_sheets (extent->width * bed_sheets_get_points (self), width);
  self->down = count_sheets (extent->height * bed_sheets_get_points (self), height);
}

BedExtent
bed_sheets_get (const BedSheets *self, guint index)
{
  double points = bed_sheets_get_points (self);
  const BedExtent *all = &self->extent;
  double width = self->width / points, height = self->height / points;
  double step_x = (self->width - BED_SHEETS_OVERLAP) / points;
  double step_y = (self->height - BED_SHEETS_OVERLAP) / points;
  double left = index % self->across * step_x, top = index / self->across * step_y;

  width = MIN (width, all->width - left);
  height = MIN (height, all->height - top);
  return (BedExtent){ all->x + left, all->y + all->height - top - height, width, height };
}

char *
bed_sheets_dup_name (const BedSheets *self, guint index)
{
  guint row = index / self->across;
  char first[2] = { row >= 26 ? (char) ('A' + row / 26 - 1) : '\0', '\0' };

  return g_strdup_printf ("%s%c%u", first, 'A' + row % 26, index % self->across + 1);
}

double
bed_sheets_get_points (const BedSheets *self)
{
  return POINTS_PER_METRE / self->scale;
}
