#include "model/season/season.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/functions.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

/* ?1 first day of the season, ?2 the day after its last, ?3 its year. Amounts in minor units,
 * each entry rounded by itself. key is the category, purpose what it was for. */
#define COSTS                                                                                      \
  "WITH cost (origin, category, purpose, amount) AS ("                                             \
  "SELECT 'bought', category, scope, cost FROM purchase_paid"                                      \
  " WHERE bought_on >= ?1 AND bought_on < ?2"                                                      \
  " UNION ALL SELECT 'stock', category,"                                                           \
  " CASE category WHEN 'packaging' THEN 'overhead' ELSE 'season' END, used FROM stock_used"        \
  " WHERE season = ?3"                                                                             \
  " UNION ALL SELECT 'spawn', 'spawn',"                                                            \
  " CASE WHEN batch IS NULL THEN 'overhead' ELSE 'batch' END, cost FROM spawn_share"               \
  " WHERE day >= ?1 AND day < ?2"                                                                  \
  " UNION ALL SELECT 'labour', 'labour',"                                                          \
  " CASE WHEN batch IS NULL THEN 'overhead' ELSE 'batch' END, cost FROM hours_paid"                \
  " WHERE worked_on >= ?1 AND worked_on < ?2"                                                      \
  " UNION ALL SELECT 'equipment', 'equipment', 'overhead', charge FROM equipment_charge"           \
  " WHERE season = ?3)"

#define FIGURES                                                                                    \
  COSTS                                                                                            \
  ", sold (form, used, mass, price) AS (SELECT n.form, n.use = 'sold', n.mass, n.price"            \
  " FROM line n JOIN sale v ON v.id = n.sale WHERE v.sold_on >= ?1 AND v.sold_on < ?2)"            \
  " SELECT (SELECT sum (mass) FROM pick WHERE picked_on >= ?1 AND picked_on < ?2),"                \
  " (SELECT sum (mass) FROM sold WHERE used AND form = 'fresh'),"                                  \
  " (SELECT count (*) FROM log l JOIN batch b ON b.id = l.batch WHERE b.inoculated_on < ?2"        \
  " AND bed_stood (l.retired_on, ?1)),"                                                            \
  " (SELECT sum (minutes) FROM hours WHERE worked_on >= ?1 AND worked_on < ?2),"                   \
  " (SELECT sum (price) FROM sold WHERE used),"                                                    \
  " sum (amount) FILTER (WHERE origin = 'bought'), sum (amount) FILTER (WHERE origin = 'spawn'),"  \
  " sum (amount) FILTER (WHERE origin = 'labour'),"                                                \
  " sum (amount) FILTER (WHERE origin = 'equipment'),"                                             \
  " (SELECT sum (price) FROM sold WHERE used AND form = 'fresh'),"                                 \
  " (SELECT sum (price) FROM sold WHERE used AND form = 'dried'),"                                 \
  " (SELECT sum (mass) FROM sold WHERE used AND form = 'dried'),"                                  \
  " sum (amount) FILTER (WHERE origin = 'stock') FROM cost"

#define PARTS(column)                                                                              \
  COSTS " SELECT " column ", sum (amount) FROM cost GROUP BY 1 HAVING sum (amount) <> 0"           \
        " ORDER BY 2 DESC, 1"

/* The question for that season, its days bound. */
static BedQuery *
ask (BedFarm *farm, const char *sql, int season)
{
  BedQuery *q = bed_query_new (farm, sql);
  g_autofree char *first = bed_season_first (farm, season);
  g_autofree char *next = bed_season_first (farm, season + 1);

  bed_query_bind_text (q, 1, first);
  bed_query_bind_text (q, 2, next);
  bed_query_bind_int (q, 3, season);
  return q;
}

gboolean
bed_season_read (BedFarm *farm, int season, BedSeason *figures, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && figures != NULL, FALSE);
  g_autoptr (BedQuery) q = ask (farm, FIGURES, season);

  *figures = (BedSeason){ .season = season };
  if (bed_query_next (q))
    {
      figures->picked = bed_query_int (q, 0);
      figures->sold = bed_query_int (q, 1);
      figures->logs = bed_query_int (q, 2);
      figures->minutes = bed_query_int (q, 3);
      figures->income = bed_query_int (q, 4);
      figures->bought = bed_query_int (q, 5);
      figures->spawn = bed_query_int (q, 6);
      figures->labour = bed_query_int (q, 7);
      figures->equipment = bed_query_int (q, 8);
      figures->income_fresh = bed_query_int (q, 9);
      figures->income_dried = bed_query_int (q, 10);
      figures->sold_dried = bed_query_int (q, 11);
      figures->stock = bed_query_int (q, 12);
      figures->cost = figures->bought + figures->stock + figures->spawn + figures->labour
                      + figures->equipment;
    }
  return bed_query_finish (q, error);
}

gboolean
bed_season_range (BedFarm *farm, int *first, int *last, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), FALSE);
  int now = bed_season_of (farm, bed_farm_get_today (farm));
  g_autoptr (BedQuery) q = bed_query_new (
      farm, "SELECT bed_season (min (day)), bed_season (max (day)) FROM ("
            "SELECT min (inoculated_on) AS day FROM batch UNION ALL SELECT max (inoculated_on)"
            " FROM batch UNION ALL SELECT min (picked_on) FROM pick UNION ALL"
            " SELECT max (picked_on) FROM pick UNION ALL SELECT min (bought_on) FROM purchase"
            " UNION ALL SELECT max (bought_on) FROM purchase UNION ALL SELECT min (worked_on)"
            " FROM hours UNION ALL SELECT max (worked_on) FROM hours)");

  *first = *last = now;
  if (bed_query_next (q) && !bed_query_is_null (q, 0))
    {
      *first = MIN (now, bed_query_int (q, 0));
      *last = MAX (now, bed_query_int (q, 1));
    }
  return bed_query_finish (q, error);
}

static void
free_part (BedSeasonPart *part)
{
  g_free (part->key);
  g_free (part);
}

/* What is not bought has no word among the choices of a purchase. */
static const char *
find_label (const char *field, const char *key)
{
  if (strcmp (key, "labour") == 0)
    return _ ("labour");
  if (strcmp (key, "equipment") == 0)
    return _ ("equipment, written off");
  if (strcmp (field, "scope") == 0 && strcmp (key, "batch") == 0)
    return _ ("single batches"); /* of a purchase it is one, of a season's cost many */
  return bed_field_choice_label (bed_kind_find_field (BED_KIND_PURCHASE, field, NULL), key);
}

/* @field: of purchase, whose choices are the keys. */
static GPtrArray *
read_parts (BedFarm *farm, const char *sql, const char *field, int season, GError **error)
{
  g_autoptr (BedQuery) q = ask (farm, sql, season);
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func ((GDestroyNotify) free_part);

  while (bed_query_next (q))
    {
      BedSeasonPart *part = g_new0 (BedSeasonPart, 1);
      part->key = g_strdup (bed_query_text (q, 0));
      part->label = find_label (field, part->key);
      part->amount = bed_query_int (q, 1);
      g_ptr_array_add (parts, part);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&parts) : NULL;
}

GPtrArray *
bed_season_by_category (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);

  return read_parts (farm, PARTS ("category"), "category", season, error);
}

GPtrArray *
bed_season_by_purpose (BedFarm *farm, int season, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);

  return read_parts (farm, PARTS ("purpose"), "scope", season, error);
}
