#include "yard/load.h"

#include "model/farm/query.h"
#include "yard/ground.h"

#define METRES(um) ((um) / 1e6)
#define RADIANS(hundredths) ((hundredths) / 100.0 * G_PI / 180)
#define SHARE(hundredths) ((hundredths) / 1e4)

/* An area whose size nobody said. Our own choice. */
#define USUAL_WIDTH 20.0
#define USUAL_DEPTH 14.0

/* Stacks whose place nobody said stand in a row along the south edge, this far apart. */
#define USUAL_SPACING 2.4

typedef struct
{
  BedFarm *farm;
  gint64 area;
  const char *date;
  BedYard *yard;
} Load;

/* The newest check of the log itself, its batch or its stack says how far it is colonised; a
 * bare column beside max() is of the row that has it (SQLite). A batch's mark is its rank. */
static const char log_sql[]
    = "WITH mark AS (SELECT id, row_number() OVER (ORDER BY id) - 1 AS mark FROM batch),"
      " seen AS (SELECT log, batch, stack, colonised, max (checked_on) AS day FROM \"check\""
      "   WHERE colonised IS NOT NULL AND checked_on <= ?2"
      "   GROUP BY log, CASE WHEN log IS NULL THEN batch END,"
      "            CASE WHEN log IS NULL AND batch IS NULL THEN stack END),"
      " by_log AS (SELECT * FROM seen WHERE log IS NOT NULL),"
      " by_batch AS (SELECT * FROM seen WHERE log IS NULL AND batch IS NOT NULL),"
      " by_stack AS (SELECT * FROM seen WHERE log IS NULL AND batch IS NULL)"
      " SELECT x.stack, l.id, l.code, b.code, m.mark, l.length,"
      "  max (l.small_diameter, coalesce (l.large_diameter, 0)), NOT bed_alive (l.retired_on, ?2),"
      "  x.tier, x.slot,"
      "  CASE max (coalesce (sl.day, ''), coalesce (sb.day, ''), coalesce (ss.day, ''))"
      "   WHEN '' THEN NULL WHEN sl.day THEN sl.colonised WHEN sb.day THEN sb.colonised"
      "   ELSE ss.colonised END,"
      "  CASE WHEN ?2 = bed_today () THEN (SELECT t.stage FROM log_today t WHERE t.id = l.id) END"
      " FROM stack_place s JOIN place x ON x.stack = s.stack JOIN log l ON l.id = x.log"
      " LEFT JOIN batch b ON b.id = l.batch LEFT JOIN mark m ON m.id = l.batch"
      " LEFT JOIN by_log sl ON sl.log = l.id LEFT JOIN by_batch sb ON sb.batch = l.batch"
      " LEFT JOIN by_stack ss ON ss.stack = x.stack"
      " WHERE s.area = ?1 AND bed_lies (s.since, s.until, ?2) AND bed_lies (x.since, x.until, ?2)"
      " ORDER BY x.stack, x.tier, x.slot, l.code";

static BedQuery *
ask (const Load *load, const char *sql)
{
  BedQuery *q = bed_query_new (load->farm, sql);

  bed_query_bind_int (q, 1, load->area);
  bed_query_bind_text (q, 2, load->date);
  return q;
}

/* A measure of the farm's settings in metres, or @usual. */
static double
read_setting (BedFarm *farm, const char *field, double usual)
{
  BedRecord *settings = bed_farm_get_settings (farm);

  return settings && bed_record_has (settings, field)
             ? METRES (bed_record_get_int (settings, field))
             : usual;
}

/* The kind's measures as the farm has them. */
static void
use_rules (BedFarm *farm, BedYardStack *stack)
{
  static const struct
  {
    const char *height, *rail;
  } own[BED_N_STACKS] = {
    [BED_STACK_DEAD] = { "pile_height", NULL },
    [BED_STACK_CRIB] = { "crib_height", NULL },
    [BED_STACK_LEAN_TO] = { NULL, "lean_rail" },
    [BED_STACK_A_FRAME] = { NULL, "frame_rail" },
  };
  BedStackRules *rules = &stack->rules;

  rules->aisle = 1000 * read_setting (farm, "aisle", rules->aisle / 1000);
  if (own[stack->kind].height)
    rules->max_height = 1000
                        * read_setting (farm, own[stack->kind].height, rules->max_height / 1000);
  if (own[stack->kind].rail)
    rules->rail_height = 1000 * read_setting (farm, own[stack->kind].rail, 0);
}

BedYardStack *
bed_yard_stack_new_for (BedFarm *farm, BedStackKind kind)
{
  BedYardStack *stack = bed_yard_stack_new (kind);

  use_rules (farm, stack);
  return stack;
}

static void
use_outline (BedYard *yard, const char *text)
{
  g_autoptr (GArray) outline = text ? bed_outline_parse (text, NULL) : NULL;

  if (!outline || outline->len < 3)
    return;
  g_array_unref (yard->outline);
  yard->outline = g_steal_pointer (&outline);
}

/* The yard made from the area's record, or NULL. */
static BedYard *
load_area (const Load *load, GError **error)
{
  g_autoptr (BedRecord) area = bed_farm_load (load->farm, BED_KIND_AREA, load->area, error);

  if (!area)
    return NULL;
  BedYard *yard = bed_yard_new (
      bed_record_has (area, "width") ? METRES (bed_record_get_int (area, "width")) : USUAL_WIDTH,
      bed_record_has (area, "depth") ? METRES (bed_record_get_int (area, "depth")) : USUAL_DEPTH);
  yard->id = load->area;
  yard->name = g_strdup (bed_record_get_text (area, "name"));
  yard->aisle = read_setting (load->farm, "aisle", yard->aisle);
  yard->to_water = read_setting (load->farm, "water_distance", yard->to_water);
  yard->north = RADIANS (bed_record_get_int (area, "north"));
  if (bed_record_has (area, "shade"))
    yard->shade = SHARE (bed_record_get_int (area, "shade"));
  const char *kind = bed_record_get_text (area, "shade_kind");
  yard->cloth = g_strcmp0 (kind, "shade cloth") == 0 || g_strcmp0 (kind, "building") == 0;
  use_outline (yard, bed_record_get_text (area, "outline"));
  return yard;
}

/* What was stored before things had a form is only corners. */
static void
read_ground (BedQuery *q, BedYardFeature *feature)
{
  BedGround *ground = &feature->ground;

  ground->form = bed_ground_form_from_key (bed_query_text (q, 4));
  ground->turn = RADIANS (bed_query_int (q, 5));
  ground->width = METRES (bed_query_int (q, 6));
  ground->depth = METRES (bed_query_int (q, 7));
  ground->radius = METRES (bed_query_int (q, 8));
  ground->trunk = METRES (bed_query_int (q, 9));
  if (ground->form == BED_N_GROUND_FORMS)
    bed_ground_settle (ground, feature->kind);
  else
    bed_ground_complete (ground, feature->kind);
}

/* An outline that cannot be read is left out: the form says what is wrong with it. */
static gboolean
load_features (const Load *load, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (load->farm, "SELECT id, kind, label, outline, form, turn, width, depth,"
                                   " radius, trunk FROM feature WHERE area = ?1 ORDER BY id");

  bed_query_bind_int (q, 1, load->area);
  while (bed_query_next (q))
    {
      BedFeatureKind kind = bed_feature_kind_from_key (bed_query_text (q, 1));
      GArray *points = bed_outline_parse (bed_query_text (q, 3), NULL);
      if (!points || kind == BED_N_FEATURE_KINDS)
        {
          g_clear_pointer (&points, g_array_unref);
          continue;
        }
      BedYardFeature *feature = bed_yard_feature_new (kind);
      feature->id = bed_query_int (q, 0);
      feature->label = g_strdup (bed_query_text (q, 2));
      g_array_unref (feature->ground.points);
      feature->ground.points = points;
      read_ground (q, feature);
      g_ptr_array_add (load->yard->features, feature);
    }
  return bed_query_finish (q, error);
}

static gboolean
load_stacks (const Load *load, GError **error)
{
  g_autoptr (BedQuery) q = ask (
      load, "SELECT k.id, k.name, k.kind, s.x, s.y, s.turn, k.tiers, k.per_tier FROM stack_place s"
            " JOIN stack k ON k.id = s.stack WHERE s.area = ?1 AND bed_lies (s.since, s.until, ?2)"
            " ORDER BY k.id");
  guint homeless = 0;

  while (bed_query_next (q))
    {
      BedStackKind kind = bed_stack_kind_from_key (bed_query_text (q, 2));
      if (kind == BED_N_STACKS)
        continue;
      BedYardStack *stack = bed_yard_stack_new_for (load->farm, kind);
      stack->id = bed_query_int (q, 0);
      stack->name = g_strdup (bed_query_text (q, 1));
      stack->pose = (BedPose){ METRES (bed_query_int (q, 3)), METRES (bed_query_int (q, 4)),
                               RADIANS (bed_query_int (q, 5)) };
      if (bed_query_is_null (q, 3) || bed_query_is_null (q, 4))
        {
          stack->pose.x = 1 + USUAL_SPACING * homeless++;
          stack->pose.y = 1;
        }
      stack->tiers = (guint) bed_query_int (q, 6);
      stack->per_tier = (guint) bed_query_int (q, 7);
      g_ptr_array_add (load->yard->stacks, stack);
    }
  return bed_query_finish (q, error);
}

static BedYardLog *
read_log (BedQuery *q)
{
  BedYardLog *log = bed_yard_log_new ();

  log->id = bed_query_int (q, 1);
  log->code = g_strdup (bed_query_text (q, 2));
  log->batch = g_strdup (bed_query_text (q, 3));
  if (!bed_query_is_null (q, 4))
    log->mark = (int) bed_query_int (q, 4);
  log->length = METRES (bed_query_int (q, 5));
  log->diameter = METRES (bed_query_int (q, 6));
  log->retired = bed_query_int (q, 7) != 0;
  log->tier = (guint) bed_query_int (q, 8);
  log->slot = (guint) bed_query_int (q, 9);
  if (!bed_query_is_null (q, 10))
    log->colonised = SHARE (bed_query_int (q, 10));
  log->stage = bed_stage_from_key (bed_query_text (q, 11));
  return log;
}

static gboolean
load_logs (const Load *load, GError **error)
{
  g_autoptr (BedQuery) q = ask (load, log_sql);
  BedYardStack *stack = NULL;

  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      if (!stack || stack->id != id)
        stack = bed_yard_find_stack (load->yard, id, NULL);
      if (stack)
        g_ptr_array_add (stack->logs, read_log (q));
    }
  return bed_query_finish (q, error);
}

BedYard *
bed_yard_load (BedFarm *farm, gint64 area, const char *date, GError **error)
{
  Load load = { farm, area, date, NULL };
  g_autoptr (BedYard) yard = NULL;

  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_return_val_if_fail (date != NULL, NULL);
  load.yard = yard = load_area (&load, error);
  if (!yard || !load_features (&load, error) || !load_stacks (&load, error)
      || !load_logs (&load, error))
    return NULL;
  return g_steal_pointer (&yard);
}

GPtrArray *
bed_yard_days (BedFarm *farm, gint64 area, GError **error)
{
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "WITH here AS (SELECT * FROM stack_place WHERE area = ?1),"
                             " day AS (SELECT since AS day FROM here UNION SELECT until FROM here"
                             " UNION SELECT x.since FROM place x JOIN here ON here.stack = x.stack"
                             " UNION SELECT x.until FROM place x JOIN here ON here.stack = x.stack)"
                             " SELECT day FROM day WHERE day IS NOT NULL ORDER BY 1");
  g_autoptr (GPtrArray) days = g_ptr_array_new_with_free_func (g_free);

  bed_query_bind_int (q, 1, area);
  while (bed_query_next (q))
    g_ptr_array_add (days, g_strdup (bed_query_text (q, 0)));
  return bed_query_finish (q, error) ? g_steal_pointer (&days) : NULL;
}
