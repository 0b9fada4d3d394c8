#include "model/work/caution.h"

#include <glib/gi18n-lib.h>

#include "model/farm/given.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

#define FELLING                                                                                    \
  N_ ("Felling is dangerous: it is for trained, equipped and licensed people, as local rules say.")

/* Common practice, no source, where docs/safety.md names none. */
static const char *const cautions[BED_N_KINDS] = {
  [BED_KIND_STAND] = FELLING,
  [BED_KIND_FELLING] = FELLING,
  [BED_KIND_BATCH]
  = N_ ("Grinder: guard, side handle, eye and ear protection. Wax: never leave it over heat, no "
        "water near it, stop when it smokes. Lift with bent knees, or with two people. The makers' "
        "instructions and local rules come first."),
  [BED_KIND_STACK] = N_ ("Logs roll and crush: level ground, wedges, no higher than your chest. "
                         "Local rules for safe work come first."),
  [BED_KIND_WEIGHING] = N_ ("Wet logs are heavy: hang the scale from what holds ten of them, and "
                            "stand clear. Local rules for safe work come first."),
  [BED_KIND_SOAK] = N_ ("Wet logs are heavy: two people or a cart. A tank drowns: cover or fence "
                        "it, keep children away. Local rules come first."),
  [BED_KIND_PICK] = N_ ("Pick only what you know to be the mushroom you inoculated: some that "
                        "fruit on old logs are poisonous. Spores harm lungs: moving air, or a "
                        "mask. Local food rules come first."),
  [BED_KIND_LOT] = N_ ("Cool the mushrooms soon, keep hands, knives and boxes clean. Local food "
                       "rules say how, and for how long you may keep them."),
  [BED_KIND_DRYING] = N_ ("Dry until they snap, keep them dry and airtight: mould grows in what is "
                          "half dry. In many places drying makes a processed food: local rules "
                          "say who may sell it."),
  [BED_KIND_SALE] = N_ ("Sell only what you know to be the mushroom you inoculated, and keep the "
                        "lot's code with it. Local rules say which licence, label, scales and "
                        "records selling food needs."),
};

#define UNTESTED                                                                                   \
  N_ ("Pond or stream water that nobody tested can bring germs onto food: have it tested and "     \
      "write the day under its area, or use drinking water. Local rules say which water may "      \
      "touch food.")

static gboolean
is_open_water (BedRecord *record)
{
  static const char *const open[] = { "pond", "stream", NULL };
  const char *water = bed_record_get_text (record, "water");

  return water && g_strv_contains (open, water);
}

/* A test of the farm's pond is one, whichever area it is written under. */
static gboolean
is_soak_untested (BedFarm *farm, BedRecord *soak)
{
  gint64 tested = 0;

  if (!is_open_water (soak))
    return FALSE;
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT count (*) FROM area WHERE water = ?1 AND water_tested_on IS NOT NULL");
  bed_query_bind_text (q, 1, bed_record_get_text (soak, "water"));
  if (bed_query_next (q))
    tested = bed_query_int (q, 0);
  return bed_query_finish (q, NULL) && !tested;
}

static gboolean
is_watering_untested (BedFarm *farm, BedRecord *watering)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT count (*) FROM area a LEFT JOIN stack k ON k.area = a.id AND k.id = ?2"
            " WHERE (a.id = ?1 OR k.id IS NOT NULL) AND a.water IN ('pond', 'stream')"
            " AND a.water_tested_on IS NULL");
  gint64 untested = 0;

  bed_query_bind_int (q, 1, bed_record_get_int (watering, "area"));
  bed_query_bind_int (q, 2, bed_record_get_int (watering, "stack"));
  if (bed_query_next (q))
    untested = bed_query_int (q, 0);
  return bed_query_finish (q, NULL) && untested;
}

static gboolean
is_water_untested (BedFarm *farm, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);

  if (kind == BED_KIND_SOAK)
    return is_soak_untested (farm, record);
  if (kind == BED_KIND_WATERING)
    return is_watering_untested (farm, record);
  return kind == BED_KIND_AREA && is_open_water (record)
         && !bed_record_has (record, "water_tested_on");
}

static char *
dup_of_wood (BedFarm *farm, BedRecord *record)
{
  gint64 id = bed_record_get_kind (record) == BED_KIND_FELLING ? bed_record_get_int (record, "wood")
                                                               : 0;
  g_autoptr (BedRecord) wood = id ? bed_farm_load (farm, BED_KIND_WOOD, id, NULL) : NULL;

  /* A farm may be older than what is told of its woods. */
  if (wood && !bed_record_has (wood, "cautions"))
    {
      const char *name = bed_record_get_text (wood, "latin_name");
      g_autoptr (BedRecord) given = name ? bed_given_new_wood (farm, name) : NULL;
      return given ? g_strdup (bed_record_get_text (given, "cautions")) : NULL;
    }
  return wood ? g_strdup (bed_record_get_text (wood, "cautions")) : NULL;
}

char *
bed_caution_dup (BedFarm *farm, BedRecord *record)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && BED_IS_RECORD (record), NULL);
  const char *usual = cautions[bed_record_get_kind (record)];
  g_autofree char *of_wood = dup_of_wood (farm, record);
  g_autoptr (GPtrArray) said = g_ptr_array_new ();

  if (usual)
    g_ptr_array_add (said, (char *) _ (usual));
  if (of_wood)
    g_ptr_array_add (said, of_wood);
  if (is_water_untested (farm, record))
    g_ptr_array_add (said, (char *) _ (UNTESTED));
  if (!said->len)
    return NULL;
  g_ptr_array_add (said, NULL);
  return g_strjoinv (" ", (char **) said->pdata);
}
