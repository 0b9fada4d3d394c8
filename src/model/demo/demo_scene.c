#include <glib/gi18n-lib.h>

#include "model/demo/demo_private.h"
#include "model/farm/farm_settings.h"
#include "model/farm/names.h"

/* An invented place. Its people are known by what they do, its spawn by what it is. */

static const struct
{
  const char *name, *type;
  double fruits_from, fruits_to; /* C */
  int run_least, run_most;       /* months */
} strains[BED_DEMO_STRAINS] = {
  { "Hollow 1, wide-range", "wide-range", 10, 27, 9, 14 },
  { "Hollow 2, warm-weather", "warm-weather", 10, 30, 9, 14 },
  { "Hollow 3, cold-weather", "cold-weather", 5, 20, 12, 18 },
};

static const struct
{
  const char *name, *kind;
} buyers[BED_DEMO_BUYERS] = {
  { "Saturday market", "market" },
  { "Restaurant by the bridge", "restaurant" },
  { "Village shop", "shop" },
  { "Weekly crate round", "subscription" },
  { "Wholesaler in town", "wholesale" },
  { "Own kitchen", "own use" },
};

static const struct
{
  const char *name, *grows;
  double acres, basal_area, residual; /* ft2 per acre */
  int trees;
} stands[3] = {
  { "North slope", "northern red oak, red maple", 6.5, 112, 75, 1950 },
  { "Brook side", "sugar maple, white oak", 4.0, 98, 70, 1100 },
  { "Old pasture edge", "white oak, black cherry", 2.5, 84, 60, 800 },
};

static const struct
{
  const char *what;
  int price, salvage, years, share; /* whole dollars, percent */
  const char *metric;               /* the same in a farm of metric units; NULL: as it is */
} equipment[] = {
  { "Angle grinder and drill adapter", 240, 20, 5, 100 },
  { "Soak tank, 300 gallons", 620, 60, 12, 100, "Soak tank, 1100 litres" },
  { "Log trailer", 1450, 400, 15, 50 },
  { "Cold room with small cooler", 2300, 300, 10, 80 },
  { "Hanging scale and bench scale", 185, 0, 6, 100 },
};

BedRecord *
bed_demo_settings (const BedDemoPlan *plan)
{
  BedRecord *settings = bed_farm_settings_new ();

  bed_record_set_text (settings, "name", _ ("Tern Hollow, an invented farm"));
  bed_record_set_text (settings, "address", "Tern Hollow\nan invented valley");
  bed_record_set_text (settings, "unit_system", plan->units ? plan->units : "US");
  bed_record_set_text (settings, "currency", plan->currency ? plan->currency : "USD");
  bed_record_set_int (settings, "latitude", 4250); /* hundredths of a degree */
  BED_DEMO_SET (settings, { "labour_rate", 1800 },
                { "tank_capacity", 60 + plan->logs / 12 / 20 * 20 },
                { "weekly_demand", bed_demo_mass (plan, MAX (2268, plan->logs * 9.0), 1) });
  return settings;
}

static void
add_stands (BedDemo *demo, BedEdit *edit)
{
  for (int i = 0; i < 3; i++)
    {
      BedRecord *stand = bed_demo_put (edit, BED_KIND_STAND, "name", stands[i].name, "grows",
                                       stands[i].grows, "owner", "the farm", "declared_on",
                                       demo->date, NULL);
      /* 1 acre = 40468564.224 cm2; 1 ft2 per acre = 2295.684 cm2 per ha. */
      BED_DEMO_SET (stand, { "area", (gint64) (stands[i].acres * 40468564.224 + 0.5) },
                    { "basal_area", (gint64) (stands[i].basal_area * 2295.684114 + 0.5) },
                    { "trees", stands[i].trees },
                    { "residual", (gint64) (stands[i].residual * 2295.684114 + 0.5) });
      demo->stand[i] = bed_record_get_id (stand);
    }
}

static gboolean
add_strains (BedDemo *demo, BedEdit *edit, GError **error)
{
  gint64 shiitake = bed_farm_find (demo->farm, BED_KIND_MUSHROOM, "Lentinula edodes", error);

  if (!shiitake)
    return FALSE;
  for (int i = 0; i < BED_DEMO_STRAINS; i++)
    {
      BedRecord *strain = bed_demo_put (edit, BED_KIND_STRAIN, "name", strains[i].name, "type",
                                        strains[i].type, NULL);
      BED_DEMO_SET (
          strain, { "mushroom", shiitake }, { "fruits_from", strains[i].fruits_from * 1000 },
          { "fruits_to", strains[i].fruits_to * 1000 }, { "run_least", strains[i].run_least },
          { "run_most", strains[i].run_most }, { "rest_weeks", 8 });
      demo->strain[i] = bed_record_get_id (strain);
    }
  return TRUE;
}

static void
add_buyers_and_equipment (BedDemo *demo, BedEdit *edit)
{

  for (int i = 0; i < BED_DEMO_BUYERS; i++)
    demo->buyer[i] = bed_record_get_id (
        bed_demo_put (edit, BED_KIND_BUYER, "name", buyers[i].name, "kind", buyers[i].kind, NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (equipment); i++)
    {
      const char *metric = bed_demo_is_metric (&demo->plan) ? equipment[i].metric : NULL;
      BedRecord *thing = bed_demo_put (edit, BED_KIND_EQUIPMENT, "what",
                                       metric ? metric : equipment[i].what, "bought_on", demo->date,
                                       NULL);
      BED_DEMO_SET (thing, { "price", equipment[i].price * 100 },
                    { "salvage", equipment[i].salvage * 100 }, { "life_years", equipment[i].years },
                    { "share", equipment[i].share * 100 });
    }
}

/* --- the yard --------------------------------------------------------------- */

/* Bases of stacks about 3 ft apart (D. B. Hill, Incubation and Stacking, FOR-83,
 * University of Kentucky); the rest is invented. Logs are 40 in long, a crib of them
 * a square of that side, an A-frame of 30 about 1.4 m by 3 m. */
static void
plan_grid (BedDemoYard *yard, int stacks, double dx, double dy)
{
  yard->dx = dx;
  yard->dy = dy;
  yard->columns = 3;
  while (yard->columns * dx * yard->columns * dx < stacks * dx * dy * 1.6)
    yard->columns++;
  yard->west = 3 + dx / 2;
  yard->south = 4 + dy / 2;
}

static BedRecord *
add_area (BedDemo *demo, BedEdit *edit, BedDemoYard *yard, int stacks)
{
  int rows = MAX ((stacks + yard->columns - 1) / yard->columns, 2);
  double width = 6 + yard->columns * yard->dx, depth = 7 + rows * yard->dy;
  BedRecord *area = bed_demo_put (edit, BED_KIND_AREA, "water_tested_on", demo->date, NULL);

  /* Whole feet, as a tape gives them. */
  BED_DEMO_SET (area, { "width", bed_demo_length (&demo->plan, width * 1000, 12) },
                { "depth", bed_demo_length (&demo->plan, depth * 1000, 12) });
  yard->area = bed_record_get_id (area);
  return area;
}

static void add_feature (BedEdit *edit, gint64 area, const char *kind, const char *label,
                         const char *format, ...) G_GNUC_PRINTF (5, 6);

static void
add_feature (BedEdit *edit, gint64 area, const char *kind, const char *label, const char *format,
             ...)
{
  char *outline = NULL;
  va_list arguments;

  va_start (arguments, format);
  outline = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  BedRecord *feature = bed_demo_put (edit, BED_KIND_FEATURE, "kind", kind, "label", label,
                                     "outline", outline, NULL);
  bed_record_set_int (feature, "area", area);
  g_free (outline);
}

/* Tenths of a metre as text with a point, whatever the locale of the process. */
#define TENTHS(v) (int) ((v) *10 + 0.5) / 10, (int) ((v) *10 + 0.5) % 10
#define POINT "%d.%d %d.%d"

static void
add_trees (BedDemo *demo, BedEdit *edit, gint64 area, double width, double depth)
{
  for (double x = 1.2; x < width; x += 3.1)
    {
      double north = depth - 1.2 - 0.6 * g_rand_double (demo->chance);
      add_feature (edit, area, "tree", "pine", POINT, TENTHS (x), TENTHS (north));
      if (bed_demo_chance (demo, 0.4))
        add_feature (edit, area, "tree", "hemlock", POINT, TENTHS (x + 0.9), TENTHS (1.1));
    }
}

static void
add_laying_yard (BedDemo *demo, BedEdit *edit)
{
  int most = 0;

  /* Last spring's cribs still lie there while this spring's are stacked. */
  for (int i = 0; i < demo->springs; i++)
    most = MAX (most, bed_demo_count_stacks (demo->shares[i])
                          + (i ? bed_demo_count_stacks (demo->shares[i - 1]) : 0));
  most++; /* bolts that wait */
  plan_grid (&demo->laying, most, 2.0, 2.0);
  BedRecord *area = add_area (demo, edit, &demo->laying, most);
  double width = bed_record_get_int (area, "width") / 1e6;
  double depth = bed_record_get_int (area, "depth") / 1e6;
  bed_record_set_text (area, "name", "Laying yard");
  bed_record_set_text (area, "shade_kind", "conifers");
  bed_record_set_int (area, "shade", 8500);
  bed_record_set_text (area, "water", "stream");
  bed_record_set_text (area, "water_source", "brook above the bridge");
  bed_record_set_text (area, "slope", "gentle, to the south");
  bed_record_set_int (area, "north", 1500);
  add_trees (demo, edit, demo->laying.area, width, depth);
  add_feature (edit, demo->laying.area, "path", "cart track", "0.0 3.3, " POINT, TENTHS (width),
               TENTHS (3.3));
}

static void
add_fruiting_yard (BedDemo *demo, BedEdit *edit)
{
  int most = 0;

  for (int i = 0; i < demo->springs; i++)
    most += bed_demo_count_stacks (demo->shares[i]);
  plan_grid (&demo->fruiting, most, 2.6, 4.2);
  BedRecord *area = add_area (demo, edit, &demo->fruiting, most);
  double width = bed_record_get_int (area, "width") / 1e6;
  double depth = bed_record_get_int (area, "depth") / 1e6;
  gint64 id = demo->fruiting.area;
  bed_record_set_text (area, "name", "Fruiting yard");
  bed_record_set_text (area, "shade_kind", "shade cloth");
  bed_record_set_int (area, "shade", 8000);
  bed_record_set_text (area, "water", "well");
  bed_record_set_text (area, "water_source", "well at the shed");
  add_feature (edit, id, "tank", "soak tank", "0.6 0.4, 2.6 0.4, 2.6 1.6, 0.6 1.6");
  add_feature (edit, id, "tap", "tap", "3.2 0.6");
  add_feature (edit, id, "building", "packing shed", POINT ", " POINT ", " POINT ", " POINT,
               TENTHS (width - 4.4), TENTHS (0.3), TENTHS (width - 0.6), TENTHS (0.3),
               TENTHS (width - 0.6), TENTHS (2.1), TENTHS (width - 4.4), TENTHS (2.1));
  add_feature (edit, id, "path", "path", "0.0 2.9, " POINT, TENTHS (width), TENTHS (2.9));
  add_feature (edit, id, "shade cloth", "shade cloth", "2.4 3.6, " POINT ", " POINT ", " POINT,
               TENTHS (width - 2.4), TENTHS (3.6), TENTHS (width - 2.4), TENTHS (depth - 1.5),
               TENTHS (2.4), TENTHS (depth - 1.5));
  add_feature (edit, id, "fence", "deer fence", POINT ", " POINT, TENTHS (0.2),
               TENTHS (depth - 0.3), TENTHS (width - 0.2), TENTHS (depth - 0.3));
}

gboolean
bed_demo_set_scene (BedDemo *demo, GError **error)
{
  BedEdit *edit = bed_demo_begin (demo);

  if (!add_strains (demo, edit, error))
    {
      bed_edit_free (edit);
      return FALSE;
    }
  add_stands (demo, edit);
  add_buyers_and_equipment (demo, edit);
  if (!bed_demo_end (edit, error, "Set up stands, strains, buyers and equipment"))
    return FALSE;
  edit = bed_demo_begin (demo);
  add_laying_yard (demo, edit);
  add_fruiting_yard (demo, edit);
  return bed_demo_end (edit, error, "Measured the laying yard and the fruiting yard");
}
