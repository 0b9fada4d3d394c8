#include "yard/corner.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "yard/features.h"

/* The points one can take; NULL when it has none, or is gone. */
static GArray *
get_points (const BedYard *yard, gint64 feature)
{
  BedGround ground;

  if (!bed_feature_get_ground (yard, feature, &ground))
    return NULL;
  return ground.form == BED_GROUND_BAND || ground.form == BED_GROUND_POLYGON ? ground.points : NULL;
}

/* A corner of @feature nearer than *@reach, which then is how near. */
static gboolean
find_nearer (GArray *points, gint64 feature, BedPoint at, double *reach, BedCorner *found)
{
  gboolean any = FALSE;

  for (guint i = 0; i < points->len; i++)
    {
      const BedPoint *point = &g_array_index (points, BedPoint, i);
      double far = hypot (point->x - at.x, point->y - at.y);

      if (far > *reach)
        continue;
      *reach = far;
      *found = (BedCorner){ feature, i };
      any = TRUE;
    }
  return any;
}

gboolean
bed_corner_hit (const BedYard *yard, BedPoint at, double reach, BedCorner *corner)
{
  gboolean any = FALSE;

  for (guint i = 0; i < yard->features->len; i++)
    {
      const BedYardFeature *feature = yard->features->pdata[i];

      GArray *points = get_points (yard, feature->id);

      any |= points && find_nearer (points, feature->id, at, &reach, corner);
    }
  return any || find_nearer (yard->outline, 0, at, &reach, corner);
}

BedPoint *
bed_corner_get_point (const BedYard *yard, const BedCorner *corner)
{
  GArray *points = get_points (yard, corner->feature);

  return points && corner->at < points->len ? &g_array_index (points, BedPoint, corner->at) : NULL;
}

BedPoint
bed_corner_snap (BedPoint at, double step)
{
  return (BedPoint){ round (at.x / step) * step, round (at.y / step) * step };
}

BedYardChange *
bed_corner_move (BedFarm *farm, const BedYard *yard, const BedCorner *corner, BedPoint to,
                 GError **error)
{
  BedGround ground;
  GArray *points = get_points (yard, corner->feature);

  if (!points || corner->at >= points->len)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
                   _ ("That corner is no longer in the yard."));
      return NULL;
    }
  bed_feature_get_ground (yard, corner->feature, &ground);
  g_autoptr (GArray) moved = g_array_copy (points);
  g_array_index (moved, BedPoint, corner->at) = to;
  ground.points = moved;
  return bed_feature_shape (farm, yard, corner->feature, &ground, error);
}
