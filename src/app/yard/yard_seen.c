#include "app/yard/yard_seen.h"

#include "model/farm/query.h"
#include "yard/load.h"
#include "yard/load_logs.h"
#include "yard/planned_farm.h"

gboolean
bed_yard_seen_find_area (BedFarm *farm, gint64 *area, GError **error)
{
  /* The one with most stacks is the one people mean. */
  return bed_query_one (farm,
                        "SELECT a.id FROM area a LEFT JOIN stack k"
                        " ON k.area = a.id AND k.taken_down_on IS NULL GROUP BY a.id"
                        " ORDER BY a.id = ?1 DESC, count (k.id) DESC, a.name LIMIT 1",
                        *area, area, error);
}

BedYard *
bed_yard_seen_load (const BedYardSeen *seen, GError **error)
{
  g_autoptr (BedYard) yard = seen->plan
                                 ? bed_planned_yard (seen->farm, seen->area, seen->plan, error)
                                 : bed_yard_load (seen->farm, seen->area, seen->day, error);

  if (!yard || !bed_colour_by_read (seen->colour_by, yard, seen->farm, seen->day, error)
      || (seen->staged && !bed_yard_load_stages (yard, seen->farm, seen->day, error)))
    return NULL;
  return g_steal_pointer (&yard);
}
