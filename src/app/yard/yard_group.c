#include "app/yard/yard_group.h"

#include <glib/gi18n.h>
#include <math.h>

#define MICROMETRES(m) ((gint64) round ((m) *1e6))
#define HUNDREDTHS(radians) ((gint64) round ((radians) *180 / G_PI * 100))

static BedRecord *
load (BedFarm *farm, const BedYardThing *thing, GError **error)
{
  return bed_farm_load (farm, thing->kind, thing->id, error);
}

/* To the drawing's own fineness, as bed_yard_move_stack() does. */
static void
move_stack (BedRecord *record, const BedYard *yard, const BedYardCarried *carried)
{
  const BedYardStack *stack = bed_yard_find_stack (yard, bed_record_get_id (record), NULL);

  if (!stack)
    return;
  BedPose pose = bed_yard_carried_pose (carried, &stack->pose);
  bed_record_set_int (record, "x", MICROMETRES (round (pose.x * 1e4) / 1e4));
  bed_record_set_int (record, "y", MICROMETRES (round (pose.y * 1e4) / 1e4));
  bed_record_set_int (record, "turn", HUNDREDTHS (pose.turn) / 10 * 10);
}

static void
move_feature (BedRecord *record, const BedYardCarried *carried)
{
  g_autoptr (GArray) points = bed_outline_parse (bed_record_get_text (record, "outline"), NULL);

  if (!points)
    return;
  for (guint i = 0; i < points->len; i++)
    {
      BedPoint *point = &g_array_index (points, BedPoint, i);
      BedPose pose = bed_yard_carried_pose (carried, &(BedPose){ point->x, point->y, 0 });
      *point = (BedPoint){ pose.x, pose.y };
    }
  g_autofree char *outline = bed_outline_format (points);
  bed_record_set_text (record, "outline", outline);
}

BedYardChange *
bed_yard_group_move (BedFarm *farm, const BedYard *yard, const BedYardCarried *carried,
                     GError **error)
{
  g_autoptr (BedYardChange) change = NULL;
  guint n = carried->things->len;

  for (guint i = 0; i < n; i++)
    {
      const BedYardThing *thing = &g_array_index (carried->things, BedYardThing, i);
      g_autoptr (BedRecord) record = load (farm, thing, error);
      if (!record)
        return NULL;
      if (thing->kind == BED_KIND_STACK)
        move_stack (record, yard, carried);
      else
        move_feature (record, carried);
      if (!change)
        change = bed_yard_change_new (farm, record, NULL);
      else
        bed_edit_put (change->edit, record);
    }
  if (change && n == 1 && g_array_index (carried->things, BedYardThing, 0).kind == BED_KIND_STACK)
    {
      const BedYardThing *one = &g_array_index (carried->things, BedYardThing, 0);
      const BedYardStack *stack = bed_yard_find_stack (yard, one->id, NULL);
      change->sentence = g_strdup_printf (_ ("Moved %s"), stack->name);
    }
  else if (change)
    change->sentence = g_strdup_printf (ngettext ("Moved %u thing", "Moved %u things", n), n);
  return g_steal_pointer (&change);
}
