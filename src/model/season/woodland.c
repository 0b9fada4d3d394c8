#include "model/season/woodland.h"

#include <glib/gi18n-lib.h>

#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/woods.h"
#include "science/tree.h"

#define BOLT_MM 1016.0 /* 40 in: D. B. Hill, University of Kentucky FOR-77, has 3 to 4 ft */
#define TOP_MM 76.2    /* 3 in, the least the trade drills; common practice, no source */
#define STUMP_MM 152.4 /* 6 in; common practice, no source */
#define CM2_PER_HA 1e8

/* Sets INVALID when a field of @needed is unset, and says which. */
static gboolean
check_fields (BedRecord *record, const char *const *needed, GError **error)
{
  for (; *needed; needed++)
    if (!bed_record_has (record, *needed))
      {
        const BedField *field = bed_kind_find_field (bed_record_get_kind (record), *needed, NULL);

        return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("%s is not set"),
                                _ (field->label));
      }
  return TRUE;
}

/* Trees cut are cut to the farm's own length. */
static gboolean
read_bolt (BedFarm *farm, double *mm, GError **error)
{
  gint64 usual;
  gboolean well = bed_query_one (farm,
                                 "SELECT avg (length) FROM (SELECT length FROM log"
                                 " ORDER BY id DESC LIMIT 100)",
                                 0, &usual, error);

  *mm = usual ? (double) usual / 1000 : BOLT_MM;
  return well;
}

gboolean
bed_woodland_bolts_read (BedFarm *farm, BedRecord *felling, BedWoodlandBolts *bolts, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && felling != NULL && bolts != NULL, FALSE);
  static const char *const needed[] = { "wood", "dbh", "height", NULL };
  g_auto (BedWood) wood = { 0 };
  double bolt_mm;

  if (!check_fields (felling, needed, error) || !read_bolt (farm, &bolt_mm, error)
      || !bed_woods_read (farm, bed_record_get_int (felling, "wood"), &wood, error))
    return FALSE;
  BedTree tree = { (double) bed_record_get_int (felling, "dbh") / 1000,
                   (double) bed_record_get_int (felling, "height") / 1000, STUMP_MM, bolt_mm,
                   TOP_MM };
  g_autoptr (BedTreeYield) yield = bed_tree_yield_new (&wood, &tree, error);
  if (!yield || !bed_tree_second_rule (&wood, &tree, &bolts->second, error))
    return FALSE;
  bolts->trees = MAX (bed_record_get_int (felling, "trees"), 1);
  bolts->bolts = yield->bolts->len;
  bolts->bolt_mm = tree.bolt;
  bolts->top_mm = TOP_MM;
  bolts->wood_l = yield->wood_l;
  bolts->by = yield->by;
  return TRUE;
}

gboolean
bed_woodland_stand_read (BedRecord *stand, BedWoodlandStand *found, GError **error)
{
  g_return_val_if_fail (stand != NULL && found != NULL, FALSE);
  static const char *const needed[] = { "area", "basal_area", "trees", NULL };

  *found = (BedWoodlandStand){ 0 };
  if (!check_fields (stand, needed, error))
    return FALSE;
  double hectares = (double) bed_record_get_int (stand, "area") / CM2_PER_HA;
  double residual = (double) bed_record_get_int (stand, "residual") / 1e4;
  if (hectares <= 0)
    return bed_farm_refuse (error, BED_FARM_ERROR_INVALID, _ ("The area is nothing"));
  found->trees_ha = (double) bed_record_get_int (stand, "trees") / hectares;
  BedStand per_ha = { (double) bed_record_get_int (stand, "basal_area") / 1e4, found->trees_ha };
  if (!bed_stand_state (&per_ha, &found->state, error))
    return FALSE;
  if (!bed_record_has (stand, "residual") || residual >= per_ha.basal_area)
    return TRUE;
  if (!bed_stand_thin (&per_ha, residual, &found->thinning, error))
    return FALSE;
  found->plan = BED_WOODLAND_THINNING;
  found->take_trees = found->thinning.remove_trees * hectares;
  return TRUE;
}
