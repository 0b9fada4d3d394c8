#include "model/season/draft.h"

#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

/* What the first batch begins with; after it the farm's own habits count. 2.5 cm deep, 15 cm
 * along, 7.6 cm between rows, sawdust holes 10-16 mm, dowel holes 8 mm: D. B. Hill, Step by Step
 * in Pictures (FOR-77), University of Kentucky, 1999. 5 cm from the end: common practice, no
 * source. */
static void
fill_first_pattern (BedFarm *farm, BedRecord *record)
{
  static const struct
  {
    const char *field;
    const char *metric;
    const char *us;
  } pattern[] = {
    { "hole_depth", "25 mm", "1 in" },
    { "along", "15 cm", "6 in" },
    { "between", "7.6 cm", "3 in" },
    { "margin", "5 cm", "2 in" },
  };
  gboolean us = bed_farm_get_notation (farm)->system == BED_SYSTEM_US;
  gint64 dowels;

  if (!bed_query_one (farm,
                      "SELECT form = 'dowel' FROM spawn"
                      " ORDER BY received_on DESC, id DESC LIMIT 1",
                      0, &dowels, NULL))
    return;
  bed_value_parse (farm, record, "hole_diameter",
                   dowels ? (us ? "5/16 in" : "8 mm")
                   : us   ? "7/16 in"
                          : "12 mm",
                   NULL);
  for (guint i = 0; i < G_N_ELEMENTS (pattern); i++)
    bed_value_parse (farm, record, pattern[i].field, us ? pattern[i].us : pattern[i].metric, NULL);
}

/* The last batch's habits are this one's. */
static void
fill_batch (BedFarm *farm, BedRecord *record)
{
  static const char *const habits[]
      = { "method", "hole_diameter", "hole_depth",   "along",       "between",
          "margin", "closing",       "holes_sealed", "ends_sealed", "wax" };
  gint64 last;

  if (!bed_query_one (farm,
                      "SELECT id FROM batch"
                      " ORDER BY inoculated_on DESC, id DESC LIMIT 1",
                      0, &last, NULL))
    return;
  g_autoptr (BedRecord) before = last ? bed_farm_load (farm, BED_KIND_BATCH, last, NULL) : NULL;

  bed_record_set_text (record, "method", "drilled");
  bed_record_set_text (record, "closing", "nearest");
  for (guint i = 0; before && i < G_N_ELEMENTS (habits); i++)
    bed_record_take_field (record, before, habits[i]);
  if (!before)
    fill_first_pattern (farm, record);
}

BedRecord *
bed_draft_new (BedFarm *farm, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  BedRecord *record = bed_record_new (kind);

  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].required && info->fields[i].type == BED_FIELD_DATE)
      bed_record_set_text (record, info->fields[i].name, bed_farm_get_today (farm));
    else if (info->fields[i].required && info->fields[i].type == BED_FIELD_MOMENT)
      bed_record_set_text (record, info->fields[i].name, bed_farm_get_now (farm));
  if (kind == BED_KIND_BATCH)
    fill_batch (farm, record);
  return record;
}
