#include "yard/corner.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/kinds.h"

static GArray *
get_points (const BedYard *yard, gint64 feature)
{
  if (feature == 0)
    return yard->outline;
  for (guint i = 0; i < yard->features->len; i++)
    {
      const BedYardFeature *there = yard->features->pdata[i];

      if (there->id == feature)
        return there->ground.points;
    }
  return NULL;
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

      any |= find_nearer (feature->ground.points, feature->id, at, &reach, corner);
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

static char *
dup_sentence (BedRecord *record)
{
  gboolean area = bed_record_get_kind (record) == BED_KIND_AREA;
  const char *label = bed_record_get_text (record, area ? "name" : "label");

  if (!label)
    label = bed_field_choice_label (bed_kind_find_field (BED_KIND_FEATURE, "kind", NULL),
                                    bed_record_get_text (record, "kind"));
  /* Translators: an area or a thing in the yard, of which a corner was moved. */
  return g_strdup_printf (_ ("Shaped %s"), label);
}

BedYardChange *
bed_corner_move (BedFarm *farm, const BedYard *yard, const BedCorner *corner, BedPoint to,
                 GError **error)
{
  BedKind kind = corner->feature ? BED_KIND_FEATURE : BED_KIND_AREA;
  GArray *points = get_points (yard, corner->feature);
  g_autoptr (BedRecord) record
      = bed_farm_load (farm, kind, corner->feature ? corner->feature : yard->id, error);

  if (!record)
    return NULL;
  g_return_val_if_fail (points != NULL && corner->at < points->len, NULL);
  g_autoptr (GArray) moved = g_array_copy (points);
  g_array_index (moved, BedPoint, corner->at) = to;
  g_autofree char *outline = bed_outline_format (moved);
  bed_record_set_text (record, "outline", outline);
  return bed_yard_change_new (farm, record, dup_sentence (record));
}
