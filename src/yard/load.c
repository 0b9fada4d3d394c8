#include "yard/load.h"

#include "model/farm/query.h"
#include "yard/ground.h"
#include "yard/load_logs.h"

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
  if (g_strcmp0 (bed_record_get_text (bed_farm_get_settings (load->farm), "moisture_basis"), "dry")
      == 0)
    yard->basis = BED_BASIS_DRY;
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

BedYard *
bed_yard_load (BedFarm *farm, gint64 area, const char *date, GError **error)
{
  Load load = { farm, area, date, NULL };
  g_autoptr (BedYard) yard = NULL;

  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_return_val_if_fail (date != NULL, NULL);
  load.yard = yard = load_area (&load, error);
  if (!yard || !load_features (&load, error) || !load_stacks (&load, error)
      || !bed_yard_load_logs (yard, farm, date, error))
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
