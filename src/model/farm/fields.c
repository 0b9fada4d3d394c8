/* The table of fields. Adding one is a line here and a line of SQL in the next
 * numbered migration of data/schema. tests/model/test_fields.c compares the two. */
#include "model/farm/choices_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define UM_PER_MM G_GINT64_CONSTANT (1000)
#define UM_PER_M G_GINT64_CONSTANT (1000000)
#define MG_PER_KG G_GINT64_CONSTANT (1000000)
#define UL_PER_L G_GINT64_CONSTANT (1000000)
#define CM2_PER_M2 G_GINT64_CONSTANT (10000)
#define MC G_GINT64_CONSTANT (1000) /* thousandths of a degree C in one */
#define PERCENT G_GINT64_CONSTANT (100)
#define MINUTES_PER_DAY G_GINT64_CONSTANT (1440)

/* Short forms for the rows below; the trailing arguments are further initialisers. */
#define WORDS(n, l, most, ...)                                                                     \
  {                                                                                                \
    .name = n, .label = l, .type = BED_FIELD_TEXT, .longest = most, ##__VA_ARGS__                  \
  }
#define TEXT(n, l, ...) WORDS (n, l, 200, ##__VA_ARGS__)
/* What a record is called by: it stands in lists, on labels and in codes. */
#define NAME(n, l, ...) WORDS (n, l, 80, ##__VA_ARGS__)
#define CODE(n, l, ...) WORDS (n, l, 40, ##__VA_ARGS__)
#define OUTLINE(n, l, ...) WORDS (n, l, 4000, .points = TRUE, ##__VA_ARGS__)
#define NOTE(n, l, ...)                                                                            \
  {                                                                                                \
    .name = n, .label = l, .type = BED_FIELD_NOTE, .longest = 4000, ##__VA_ARGS__                  \
  }
#define DATE(n, l, ...)                                                                            \
  {                                                                                                \
    .name = n, .label = l, .type = BED_FIELD_DATE, ##__VA_ARGS__                                   \
  }
#define MOMENT(n, l, ...)                                                                          \
  {                                                                                                \
    .name = n, .label = l, .type = BED_FIELD_MOMENT, ##__VA_ARGS__                                 \
  }
#define CHOICE(n, l, c, ...)                                                                       \
  {                                                                                                \
    .name = n, .label = l, .type = BED_FIELD_CHOICE, .choices = c, ##__VA_ARGS__                   \
  }
#define REF(n, l, k, ...)                                                                          \
  {                                                                                                \
    .name = n, .label = l, .type = BED_FIELD_REFERENCE, .refers = BED_KIND_##k, ##__VA_ARGS__      \
  }
#define MEASURE(n, l, m, lo, hi, ...)                                                              \
  {                                                                                                \
    .name = n, .label = l, .type = BED_FIELD_MEASURE, .measure = BED_MEASURE_##m, .lowest = lo,    \
    .highest = hi, ##__VA_ARGS__                                                                   \
  }
#define NEEDED .required = TRUE
#define LOOSE .loose = TRUE
#define HELP(h) .help = h

/* --- fields, kind by kind, in the order the form takes them in ------------- */

static const BedField farm_fields[] = {
  NAME ("name", N_ ("Farm"), NEEDED),
  NOTE ("address", N_ ("Address")),
  TEXT ("contact", N_ ("Contact")),
  CHOICE ("unit_system", N_ ("Units"), unit_systems, NEEDED),
  TEXT ("currency", N_ ("Currency"), NEEDED, HELP (N_ ("Three letters, ISO 4217: USD, EUR, GBP"))),
  CHOICE ("hemisphere", N_ ("Hemisphere"), hemispheres, NEEDED),
  MEASURE ("latitude", N_ ("Latitude"), ANGLE, -90 * PERCENT, 90 * PERCENT,
           HELP (N_ ("South negative. With it, dry spells are counted in water and not in days"))),
  TEXT ("season_start", N_ ("Season starts"), NEEDED, .year_day = TRUE,
        HELP (N_ ("Month and day, in files 07-01"))),
  MEASURE ("labour_rate", N_ ("Labour per hour"), MONEY, 0, 0,
           HELP (N_ ("A new rate holds from today on: hours before stay at the one they had"))),
  CHOICE ("tax_reclaimed", N_ ("Tax on purchases is reclaimed"), yes_no,
          HELP (N_ ("No: it is a part of what things cost. Empty: yes"))),
  /* Sources conflict (reference of docs/sources.md, log moisture), so these are settings. */
  CHOICE ("moisture_basis", N_ ("Moisture basis"), bases, NEEDED),
  MEASURE ("moisture_alarm", N_ ("Moisture alarm"), PERCENT, 0, 300 * PERCENT),
  MEASURE ("moisture_low", N_ ("Moisture target from"), PERCENT, 0, 300 * PERCENT),
  MEASURE ("moisture_high", N_ ("Moisture target to"), PERCENT, 0, 300 * PERCENT),
  MEASURE ("wait_least", N_ ("Days from felling to inoculation, shortest"), COUNT, 0, 365),
  MEASURE ("wait_most", N_ ("Days from felling to inoculation, longest"), COUNT, 0, 365),
  MEASURE ("rest_weeks", N_ ("Weeks between soaks"), COUNT, 1, 52),
  MEASURE ("tank_capacity", N_ ("Tank holds, logs"), COUNT, 1, 100000),
  MEASURE ("weekly_demand", N_ ("Wanted each week"), MASS, 0, 0),
  TEXT ("organic_certificate", N_ ("Organic certificate no.")),
  NAME ("organic_certifier", N_ ("Certified by"), HELP (N_ ("Printed on the label of a crate"))),
  /* What is left empty is common practice, no published source: bed_drill_norms_init(). */
  CHOICE ("drill_tool", N_ ("Drilled with"), drill_tools),
  MEASURE ("drill_pace", N_ ("Holes drilled a minute"), COUNT, 1, 500,
           HELP (N_ ("Empty: 7 with a drill, 25 with a grinder; common practice"))),
  MEASURE ("fill_pace", N_ ("Holes filled a minute"), COUNT, 1, 500,
           HELP (N_ ("Empty: 10 to 20 by the form of spawn; common practice"))),
  MEASURE ("wax_pace", N_ ("Holes waxed a minute"), COUNT, 1, 500,
           HELP (N_ ("Empty: 20; common practice"))),
  MEASURE ("end_pace", N_ ("Log ends waxed a minute"), COUNT, 1, 100,
           HELP (N_ ("Empty: 2; common practice"))),
  MEASURE ("handle_pace", N_ ("Logs lifted, turned and tagged an hour"), COUNT, 1, 1000,
           HELP (N_ ("Empty: 40; common practice"))),
  MEASURE ("wax_holes", N_ ("Wax for 100 holes"), MASS_FINE, 1, 10 * MG_PER_KG,
           HELP (N_ ("Empty: 60 g (2.1 oz); common practice"))),
  MEASURE ("wax_ends", N_ ("Wax for both ends of a log"), MASS_FINE, 1, 2 * MG_PER_KG,
           HELP (N_ ("Of a log 12 cm (5 in) thick. Empty: 14 g (0.5 oz); common practice"))),
  MEASURE ("spawn_litre", N_ ("A litre of spawn weighs"), MASS_FINE, 10000, 5 * MG_PER_KG,
           HELP (N_ (
               "Packed as in the hole; what is spilled is for the reserve. Empty: 450 to 850 g (16 "
               "to 30 oz) by its form, and three tenths more of loose spawn; common practice"))),
  MEASURE ("spawn_reserve", N_ ("Spawn kept in reserve"), PERCENT, 0, 200 * PERCENT,
           HELP (N_ ("More than a plan needs. Empty: none"))),
  MEASURE ("aisle", N_ ("Aisle between stacks"), LENGTH_LONG, 200 * UM_PER_MM, 10 * UM_PER_M,
           /* D. B. Hill, Shiitake: Incubation and Stacking (FOR-83), University of Kentucky. */
           HELP (N_ ("Empty: 0.9 m (3 ft); D. B. Hill, FOR-83, University of Kentucky"))),
  MEASURE ("pile_height", N_ ("Highest dead stack"), LENGTH_LONG, 200 * UM_PER_MM, 4 * UM_PER_M,
           HELP (N_ ("Empty: 0.9 m (3 ft); common practice"))),
  MEASURE ("crib_height", N_ ("Highest crib"), LENGTH_LONG, 200 * UM_PER_MM, 4 * UM_PER_M,
           HELP (N_ ("Empty: 1.2 m (4 ft); common practice"))),
  MEASURE ("lean_rail", N_ ("Rail of a lean-to"), LENGTH_LONG, 100 * UM_PER_MM, 3 * UM_PER_M,
           HELP (N_ ("Empty: 0.45 of the logs' length; common practice"))),
  MEASURE ("frame_rail", N_ ("Rail of an A-frame"), LENGTH_LONG, 100 * UM_PER_MM, 3 * UM_PER_M,
           HELP (N_ ("Empty: 0.9 of the logs' length; common practice"))),
  MEASURE ("water_distance", N_ ("Farthest to carry to water"), LENGTH_LONG, 1 * UM_PER_M,
           1000 * UM_PER_M, HELP (N_ ("Empty: 30 m (100 ft); common practice"))),
};

static const BedField wood_fields[] = {
  NAME ("common_name", N_ ("Wood"), NEEDED),
  NAME ("latin_name", N_ ("Latin name")),
  MEASURE ("basic_density", N_ ("Basic density, kg/m3"), COUNT, 200, 1000,
           HELP (N_ ("Oven-dry mass over green volume"))),
  MEASURE ("green_moisture", N_ ("Green moisture, dry basis"), PERCENT, 20 * PERCENT,
           300 * PERCENT),
  MEASURE ("bark_share", N_ ("Bark, share of wood volume"), PERCENT, 0, 60 * PERCENT),
  CHOICE ("suits_shiitake", N_ ("Suits shiitake"), suits),
  CHOICE ("suits_oyster", N_ ("Suits oyster"), suits),
  CHOICE ("suits_lions_mane", N_ ("Suits lion's mane"), suits),
  NOTE ("cautions", N_ ("Cautions")),
  WORDS ("source", N_ ("Source"), 400),
};

static const BedField stand_fields[] = {
  NAME ("name", N_ ("Stand"), NEEDED),
  MEASURE ("area", N_ ("Stand area"), LAND, 0, 0),
  TEXT ("grows", N_ ("What grows there")),
  MEASURE ("basal_area", N_ ("Basal area"), BASAL_AREA, 0, 100 * CM2_PER_M2),
  MEASURE ("trees", N_ ("Trees in it"), COUNT, 1, 10000000,
           HELP (N_ ("About how many, thicker than a hand; with the area, their mean size"))),
  MEASURE ("residual", N_ ("Basal area to leave"), BASAL_AREA, 0, 100 * CM2_PER_M2),
  TEXT ("owner", N_ ("Owner")),
  TEXT ("permission", N_ ("Permission")),
  DATE ("declared_on", N_ ("Nothing prohibited used, declared on")),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField felling_fields[] = {
  CODE ("code", N_ ("Felling"), NEEDED),
  DATE ("felled_on", N_ ("Felled on"), NEEDED),
  REF ("stand", N_ ("Stand"), STAND, LOOSE),
  TEXT ("supplier", N_ ("Bought from")),
  REF ("wood", N_ ("Wood"), WOOD, NEEDED),
  MEASURE ("trees", N_ ("Trees"), COUNT, 1, 100000),
  MEASURE ("dbh", N_ ("Mean diameter at breast height"), LENGTH, 20 * UM_PER_MM, 1500 * UM_PER_MM),
  MEASURE ("height", N_ ("Mean height"), LENGTH_LONG, 1 * UM_PER_M, 70 * UM_PER_M),
  CHOICE ("condition", N_ ("Condition of the trees"), tree_conditions),
  CHOICE ("leaf", N_ ("Leaf stage"), leaf_states),
  TEXT ("felled_by", N_ ("Felled by")),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField mushroom_fields[] = {
  NAME ("common_name", N_ ("Mushroom"), NEEDED),
  NAME ("latin_name", N_ ("Latin name"), NEEDED),
  CHOICE ("usual_method", N_ ("Usual method"), methods),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField strain_fields[] = {
  NAME ("name", N_ ("Strain"), NEEDED),
  REF ("mushroom", N_ ("Mushroom"), MUSHROOM, NEEDED),
  CHOICE ("type", N_ ("Type"), strain_types),
  MEASURE ("fruits_from", N_ ("Fruits from"), TEMPERATURE, -10 * MC, 45 * MC),
  MEASURE ("fruits_to", N_ ("Fruits to"), TEMPERATURE, -10 * MC, 45 * MC),
  MEASURE ("run_least", N_ ("Spawn run, months, shortest"), COUNT, 1, 48),
  MEASURE ("run_most", N_ ("Spawn run, months, longest"), COUNT, 1, 48),
  MEASURE ("rest_weeks", N_ ("Rest, weeks"), COUNT, 1, 52),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField spawn_fields[] = {
  CODE ("code", N_ ("Spawn lot"), NEEDED),
  REF ("strain", N_ ("Strain"), STRAIN, NEEDED),
  CHOICE ("form", N_ ("Form"), spawn_forms, NEEDED),
  TEXT ("supplier", N_ ("Supplier")),
  TEXT ("supplier_lot", N_ ("Supplier's lot no.")),
  DATE ("received_on", N_ ("Received on"), NEEDED),
  DATE ("use_by", N_ ("Use by")),
  /* One of the two is needed, by form: model/rules.c. */
  MEASURE ("mass", N_ ("Mass"), MASS, 1, 10000 * MG_PER_KG,
           HELP (N_ ("Of sawdust and grain spawn"))),
  MEASURE ("pieces", N_ ("Pieces"), COUNT, 1, 10000000, HELP (N_ ("Of dowels and thimbles"))),
  MEASURE ("cost", N_ ("Cost"), MONEY, 0, 0),
  CHOICE ("organic", N_ ("Organic"), yes_no),
  TEXT ("certificate", N_ ("Certificate")),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField batch_fields[] = {
  CODE ("code", N_ ("Batch"), NEEDED),
  DATE ("inoculated_on", N_ ("Inoculated on"), NEEDED),
  CHOICE ("method", N_ ("Method"), methods, NEEDED),
  /* D. B. Hill, Step by Step in Pictures (FOR-77), University of Kentucky, 1999/2010. */
  MEASURE ("hole_diameter", N_ ("Hole diameter"), LENGTH_FINE, 4 * UM_PER_MM, 40 * UM_PER_MM,
           HELP (N_ ("Dowels 8 mm (5/16 in), sawdust 10-16 mm (Hill, FOR-77, 1999)"))),
  MEASURE ("hole_depth", N_ ("Hole depth"), LENGTH_FINE, 5 * UM_PER_MM, 100 * UM_PER_MM,
           HELP (N_ ("25-38 mm, 1 to 1 1/2 in (Hill, FOR-77, 1999)"))),
  MEASURE ("along", N_ ("Spacing along the row"), LENGTH, 20 * UM_PER_MM, 500 * UM_PER_MM,
           HELP (N_ ("15 cm, 6 in (Hill, FOR-77, 1999)"))),
  MEASURE ("between", N_ ("Spacing between rows"), LENGTH, 10 * UM_PER_MM, 300 * UM_PER_MM,
           HELP (N_ ("7.6 cm, 3 in (Hill, FOR-77, 1999); 5 cm (Sabota, HortTechnology 6, 1996)"))),
  MEASURE ("margin", N_ ("First hole from the end"), LENGTH, 0, 300 * UM_PER_MM,
           HELP (N_ ("5 cm, 2 in; common practice, no source"))),
  CHOICE ("closing", N_ ("Rows round the log"), closings),
  CHOICE ("holes_sealed", N_ ("Holes sealed"), yes_no),
  CHOICE ("ends_sealed", N_ ("Ends sealed"), yes_no),
  CHOICE ("wax", N_ ("Wax"), waxes),
  MEASURE ("wax_mass", N_ ("Wax used"), MASS, 0, 1000 * MG_PER_KG),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField spawn_used_fields[] = {
  REF ("batch", N_ ("Batch"), BATCH, NEEDED),
  REF ("spawn", N_ ("Spawn lot"), SPAWN, NEEDED),
  MEASURE ("mass", N_ ("Mass"), MASS, 1, 10000 * MG_PER_KG),
  MEASURE ("pieces", N_ ("Pieces"), COUNT, 1, 10000000),
};

static const BedField spawn_gone_fields[] = {
  REF ("spawn", N_ ("Spawn lot"), SPAWN, NEEDED),
  DATE ("gone_on", N_ ("Written off on"), NEEDED),
  CHOICE ("why", N_ ("Why"), spawn_losses, NEEDED),
  MEASURE ("mass", N_ ("Mass"), MASS, 1, 10000 * MG_PER_KG),
  MEASURE ("pieces", N_ ("Pieces"), COUNT, 1, 10000000),
  TEXT ("notes", N_ ("Notes")),
};

static const BedField log_fields[] = {
  CODE ("code", N_ ("Log"), NEEDED),
  REF ("felling", N_ ("Felling"), FELLING, NEEDED),
  REF ("batch", N_ ("Batch"), BATCH),
  CODE ("mark", N_ ("Own number"), HELP (N_ ("What you call it; one in its batch"))),
  MEASURE ("length", N_ ("Length"), LENGTH, 100 * UM_PER_MM, 4000 * UM_PER_MM, NEEDED),
  MEASURE ("small_diameter", N_ ("Small-end diameter"), LENGTH, 20 * UM_PER_MM, 800 * UM_PER_MM,
           NEEDED),
  MEASURE ("large_diameter", N_ ("Large-end diameter"), LENGTH, 20 * UM_PER_MM, 1000 * UM_PER_MM),
  MEASURE ("green_mass", N_ ("Green weight"), MASS, 1, 1000 * MG_PER_KG),
  MEASURE ("holes", N_ ("Holes drilled"), COUNT, 0, 2000),
  CHOICE ("bark", N_ ("Bark"), barks),
  DATE ("retired_on", N_ ("Retired on")),
  CHOICE ("retired_why", N_ ("Why retired"), retirements),
  CHOICE ("counted", N_ ("Only counted"), yes_no,
          HELP (N_ ("Its batch's number is known, not this log: its measures are about"))),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField area_fields[] = {
  NAME ("name", N_ ("Area"), NEEDED),
  MEASURE ("shade", N_ ("Shade"), PERCENT, 0, 100 * PERCENT),
  CHOICE ("shade_kind", N_ ("Kind of shade"), shades),
  CHOICE ("water", N_ ("Water source"), waters),
  TEXT ("water_source", N_ ("Water drawn at")),
  DATE ("water_tested_on", N_ ("Water tested on")),
  TEXT ("water_result", N_ ("What the test found")),
  MEASURE ("width", N_ ("Width, west to east"), LENGTH_LONG, 1 * UM_PER_M, 1000 * UM_PER_M),
  MEASURE ("depth", N_ ("Depth, south to north"), LENGTH_LONG, 1 * UM_PER_M, 1000 * UM_PER_M),
  OUTLINE ("outline", N_ ("Outline"),
           HELP (N_ ("Corners as pairs x y from the south-west: 0 0, 12 0, 12 8. In files: "
                     "metres"))),
  MEASURE ("north", N_ ("North, turned from straight up"), ANGLE, -180 * PERCENT, 180 * PERCENT),
  TEXT ("slope", N_ ("Slope")),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField feature_fields[] = {
  REF ("area", N_ ("Area"), AREA, NEEDED),
  CHOICE ("kind", N_ ("Kind"), feature_kinds, NEEDED),
  TEXT ("label", N_ ("Label")),
  CHOICE ("form", N_ ("Drawn as"), forms, HELP (N_ ("Empty: as its points say"))),
  OUTLINE ("outline", N_ ("Outline or point"), NEEDED,
           HELP (N_ ("Its middle, or its points as pairs x y from the area's south-west: 3 2, "
                     "5 2. In files: metres"))),
  MEASURE ("width", N_ ("Width"), LENGTH_LONG, 10 * UM_PER_MM, 1000 * UM_PER_M,
           HELP (N_ ("Of a rectangle or a strip"))),
  MEASURE ("depth", N_ ("Depth"), LENGTH_LONG, 10 * UM_PER_MM, 1000 * UM_PER_M,
           HELP (N_ ("Of a rectangle, across its width"))),
  MEASURE ("turn", N_ ("Turned"), ANGLE, -180 * PERCENT, 180 * PERCENT,
           HELP (N_ ("A rectangle, counter-clockwise from its width lying west to east"))),
  MEASURE ("radius", N_ ("Radius"), LENGTH_LONG, 10 * UM_PER_MM, 500 * UM_PER_M,
           HELP (N_ ("Of a circle: a tree's crown, a round pond or tank"))),
  MEASURE ("trunk", N_ ("Trunk diameter"), LENGTH, 10 * UM_PER_MM, 5 * UM_PER_M,
           HELP (N_ ("Of a tree, at the ground"))),
};

static const BedField stack_fields[] = {
  NAME ("name", N_ ("Stack"), NEEDED),
  REF ("area", N_ ("Area"), AREA, NEEDED),
  CHOICE ("kind", N_ ("Kind"), stack_kinds, NEEDED),
  MEASURE ("x", N_ ("From the west edge"), LENGTH_LONG, 0, 1000 * UM_PER_M,
           HELP (N_ ("Of the middle of the stack"))),
  MEASURE ("y", N_ ("From the south edge"), LENGTH_LONG, 0, 1000 * UM_PER_M,
           HELP (N_ ("Of the middle of the stack"))),
  MEASURE ("turn", N_ ("Turned"), ANGLE, -180 * PERCENT, 180 * PERCENT,
           HELP (N_ ("Counter-clockwise from the logs lying west to east"))),
  MEASURE ("tiers", N_ ("Tiers"), COUNT, 1, 40),
  MEASURE ("per_tier", N_ ("Logs in a tier"), COUNT, 1, 1000),
  DATE ("built_on", N_ ("Built on"), NEEDED),
  DATE ("taken_down_on", N_ ("Taken down on")),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField place_fields[] = {
  REF ("log", N_ ("Log"), LOG, NEEDED),
  REF ("stack", N_ ("Stack"), STACK, NEEDED),
  MEASURE ("tier", N_ ("Tier"), COUNT, 1, 40, HELP (N_ ("1 is the lowest"))),
  MEASURE ("slot", N_ ("Slot"), COUNT, 1, 1000),
  DATE ("since", N_ ("Since"), NEEDED),
  DATE ("until", N_ ("Until")),
};

static const BedField stood_fields[] = {
  REF ("stack", N_ ("Stack"), STACK, NEEDED),
  REF ("area", N_ ("Area"), AREA, NEEDED),
  MEASURE ("x", N_ ("From the west edge"), LENGTH_LONG, 0, 1000 * UM_PER_M),
  MEASURE ("y", N_ ("From the south edge"), LENGTH_LONG, 0, 1000 * UM_PER_M),
  MEASURE ("turn", N_ ("Turned"), ANGLE, -180 * PERCENT, 180 * PERCENT),
  DATE ("until", N_ ("Until"), NEEDED, HELP (N_ ("The day it was moved from there"))),
};

static const BedField planned_stack_fields[] = {
  DATE ("planned_on", N_ ("Planned for"), NEEDED),
  NAME ("name", N_ ("Stack"), NEEDED),
  REF ("area", N_ ("Area"), AREA, NEEDED),
  CHOICE ("kind", N_ ("Kind"), stack_kinds, NEEDED),
  MEASURE ("x", N_ ("From the west edge"), LENGTH_LONG, 0, 1000 * UM_PER_M),
  MEASURE ("y", N_ ("From the south edge"), LENGTH_LONG, 0, 1000 * UM_PER_M),
  MEASURE ("turn", N_ ("Turned"), ANGLE, -180 * PERCENT, 180 * PERCENT),
  MEASURE ("tiers", N_ ("Tiers"), COUNT, 1, 40),
  MEASURE ("per_tier", N_ ("Logs in a tier"), COUNT, 1, 1000),
};

static const BedField planned_move_fields[] = {
  DATE ("planned_on", N_ ("Planned for"), NEEDED),
  REF ("log", N_ ("Log"), LOG, NEEDED),
  REF ("stack", N_ ("Stack"), STACK),
  REF ("new_stack", N_ ("Stack to be built"), PLANNED_STACK),
  MEASURE ("tier", N_ ("Tier"), COUNT, 1, 40),
  MEASURE ("slot", N_ ("Slot"), COUNT, 1, 1000),
};

static const BedField check_fields[] = {
  DATE ("checked_on", N_ ("Checked on"), NEEDED),
  REF ("log", N_ ("Log"), LOG),
  REF ("batch", N_ ("Batch"), BATCH),
  REF ("stack", N_ ("Stack"), STACK),
  MEASURE ("colonised", N_ ("Colonised at the end face"), PERCENT, 0, 100 * PERCENT),
  CHOICE ("bark", N_ ("Bark"), bark_checks),
  CHOICE ("weed", N_ ("Weed fungus"), weeds),
  CHOICE ("severity", N_ ("How much"), severities),
  TEXT ("animals", N_ ("Animals and slugs")),
  TEXT ("action", N_ ("Action taken")),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField weighing_fields[] = {
  DATE ("weighed_on", N_ ("Weighed on"), NEEDED),
  REF ("log", N_ ("Log"), LOG, NEEDED),
  MEASURE ("mass", N_ ("Mass"), MASS, 1, 1000 * MG_PER_KG, NEEDED),
  TEXT ("notes", N_ ("Notes")),
};

static const BedField disc_fields[] = {
  DATE ("cut_on", N_ ("Cut on"), NEEDED),
  REF ("batch", N_ ("Batch"), BATCH),
  REF ("felling", N_ ("Felling"), FELLING),
  MEASURE ("fresh_mass", N_ ("Fresh mass"), MASS_FINE, 1, 20 * MG_PER_KG, NEEDED),
  MEASURE ("dry_mass", N_ ("Oven-dry mass"), MASS_FINE, 1, 20 * MG_PER_KG, NEEDED),
};

static const BedField watering_fields[] = {
  DATE ("watered_on", N_ ("Watered on"), NEEDED),
  REF ("stack", N_ ("Stack"), STACK),
  REF ("area", N_ ("Area"), AREA),
  CHOICE ("method", N_ ("Method"), waterings),
  MEASURE ("minutes", N_ ("Time"), TIME, 0, 14 * MINUTES_PER_DAY),
};

static const BedField rain_fields[] = {
  DATE ("fell_on", N_ ("Date"), NEEDED),
  MEASURE ("depth", N_ ("Rain"), LENGTH_FINE, 0, 2000 * UM_PER_MM, NEEDED),
};

static const BedField temperature_fields[] = {
  DATE ("measured_on", N_ ("Date"), NEEDED),
  MEASURE ("least", N_ ("Lowest"), TEMPERATURE, -60 * MC, 60 * MC, NEEDED),
  MEASURE ("most", N_ ("Highest"), TEMPERATURE, -60 * MC, 60 * MC, NEEDED),
};

static const BedField soak_fields[] = {
  CODE ("code", N_ ("Soak"), NEEDED),
  TEXT ("tank", N_ ("Tank"), NEEDED),
  MOMENT ("put_in", N_ ("In"), NEEDED),
  MOMENT ("taken_out", N_ ("Out")),
  MEASURE ("water_temperature", N_ ("Water temperature"), TEMPERATURE, 0, 45 * MC),
  MEASURE ("air_temperature", N_ ("Air temperature"), TEMPERATURE, -30 * MC, 55 * MC),
  CHOICE ("water", N_ ("Water source"), waters),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField soaked_fields[] = {
  REF ("soak", N_ ("Soak"), SOAK, NEEDED),
  REF ("log", N_ ("Log"), LOG, NEEDED),
};

static const BedField lot_fields[] = {
  CODE ("code", N_ ("Lot"), NEEDED),
  DATE ("picked_on", N_ ("Date"), NEEDED),
  MOMENT ("cooled_at", N_ ("Cooled at")),
  MEASURE ("cooled_to", N_ ("Cooled to"), TEMPERATURE, -5 * MC, 25 * MC,
           HELP (N_ ("1-4 C, 34-39 F (Ohio State F-0042, 2022)"))),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField pick_fields[] = {
  DATE ("picked_on", N_ ("Picked on"), NEEDED),
  DATE ("since", N_ ("Total since"),
        HELP (N_ ("First day of a total of several picks; empty for one picking day"))),
  REF ("log", N_ ("Log"), LOG),
  REF ("stack", N_ ("Stack"), STACK),
  REF ("batch", N_ ("Batch"), BATCH),
  CHOICE ("grade", N_ ("Grade"), grades, NEEDED),
  MEASURE ("mass", N_ ("Fresh mass"), MASS_FINE, 1, 10000 * MG_PER_KG, NEEDED),
  REF ("lot", N_ ("Lot"), LOT, LOOSE),
  TEXT ("picker", N_ ("Picker")),
  TEXT ("notes", N_ ("Notes")),
};

static const BedField drying_fields[] = {
  REF ("lot", N_ ("Lot"), LOT, NEEDED),
  DATE ("dried_on", N_ ("Dried on"), NEEDED),
  MEASURE ("fresh_mass", N_ ("Fresh mass in"), MASS, 1, 10000 * MG_PER_KG, NEEDED),
  MEASURE ("dried_mass", N_ ("Dried mass out"), MASS_FINE, 1, 10000 * MG_PER_KG, NEEDED),
};

static const BedField buyer_fields[] = {
  NAME ("name", N_ ("Buyer"), NEEDED),
  CHOICE ("kind", N_ ("Kind"), buyer_kinds),
  TEXT ("contact", N_ ("Contact")),
};

static const BedField sale_fields[] = {
  CODE ("code", N_ ("Sale"), NEEDED),
  DATE ("sold_on", N_ ("Date"), NEEDED),
  REF ("buyer", N_ ("Buyer"), BUYER, LOOSE),
  DATE ("paid_on", N_ ("Paid on"), HELP (N_ ("Empty: not paid yet, or not on record"))),
  NOTE ("notes", N_ ("Notes")),
};

static const BedField line_fields[] = {
  REF ("sale", N_ ("Sale"), SALE, NEEDED),
  REF ("lot", N_ ("Lot"), LOT, NEEDED),
  CHOICE ("form", N_ ("Form"), sale_forms, NEEDED),
  CHOICE ("use", N_ ("Use"), line_uses, NEEDED),
  MEASURE ("mass", N_ ("Mass"), MASS, 1, 10000 * MG_PER_KG, NEEDED),
  MEASURE ("price", N_ ("Price"), MONEY, 0, 0, HELP (N_ ("Of the whole line; none for losses"))),
};

static const BedField purchase_fields[] = {
  DATE ("bought_on", N_ ("Date"), NEEDED),
  CHOICE ("category", N_ ("Category"), cost_categories, NEEDED),
  TEXT ("what", N_ ("What"), NEEDED),
  TEXT ("quantity", N_ ("Quantity")),
  MEASURE ("amount", N_ ("Amount"), MONEY, G_MININT64 / 4, G_MAXINT64 / 4, NEEDED,
           HELP (N_ ("Without tax; a refund is negative"))),
  MEASURE ("tax", N_ ("Tax"), MONEY, G_MININT64 / 4, G_MAXINT64 / 4),
  TEXT ("supplier", N_ ("Supplier")),
  CHOICE ("scope", N_ ("For"), cost_scopes, NEEDED),
  REF ("batch", N_ ("Batch"), BATCH, LOOSE),
  REF (
      "spawn", N_ ("Spawn lot"), SPAWN, LOOSE,
      HELP (N_ ("Paid by it: the cost of a lot on record is counted as it is used, and not here"))),
  TEXT ("notes", N_ ("Notes")),
};

static const BedField hours_fields[] = {
  DATE ("worked_on", N_ ("Date"), NEEDED),
  CHOICE ("task", N_ ("Task"), tasks, NEEDED),
  TEXT ("person", N_ ("Person")),
  MEASURE ("minutes", N_ ("Time"), TIME, 1, 31 * MINUTES_PER_DAY, NEEDED),
  MEASURE ("rate", N_ ("Rate per hour"), MONEY, 0, 0,
           HELP (N_ ("The farm's rate of that day when left out"))),
  REF ("batch", N_ ("Batch"), BATCH, LOOSE),
  REF ("stack", N_ ("Stack"), STACK, LOOSE),
  MEASURE ("logs", N_ ("Logs handled"), COUNT, 0, 1000000),
  TEXT ("notes", N_ ("Notes")),
};

static const BedField rate_fields[] = {
  DATE ("until", N_ ("Held until"), NEEDED,
        HELP (N_ ("The first day it did not hold: hours before it are paid at this rate, later "
                  "ones at the next or the farm's"))),
  MEASURE ("rate", N_ ("Rate per hour"), MONEY, 0, 0, NEEDED),
};

static const BedField equipment_fields[] = {
  NAME ("what", N_ ("Equipment"), NEEDED),
  DATE ("bought_on", N_ ("Bought on"), NEEDED),
  MEASURE ("price", N_ ("Price"), MONEY, 0, 0, NEEDED),
  MEASURE ("salvage", N_ ("Worth at the end"), MONEY, 0, 0),
  MEASURE ("life_years", N_ ("Years of life"), COUNT, 1, 100, NEEDED),
  CHOICE ("method", N_ ("Written off by"), write_offs,
          HELP (N_ ("How its price becomes a cost of each season of its life; without a choice the "
                    "same each season. Ask who does your taxes what the law allows"))),
  MEASURE ("share", N_ ("Share used for logs"), PERCENT, 0, 100 * PERCENT),
};

static const BedField stock_count_fields[] = {
  DATE ("counted_on", N_ ("Counted on"), NEEDED,
        HELP (N_ ("The last day of a season, or near it: the season uses what it began with and "
                  "bought, less what is left at its last count"))),
  CHOICE ("category", N_ ("What"), stock_categories, NEEDED),
  MEASURE ("amount", N_ ("Worth at cost"), MONEY, 0, 0, NEEDED,
           HELP (N_ ("What was paid for what is in store and not used; spawn lots on record count "
                     "themselves"))),
  TEXT ("notes", N_ ("Notes")),
};

static const BedField due_fields[] = {
  DATE ("due_on", N_ ("Due on"), NEEDED), TEXT ("what", N_ ("What"), NEEDED),
  TEXT ("subject", N_ ("Subject")),       TEXT ("why", N_ ("Why")),
  DATE ("done_on", N_ ("Done on")),       DATE ("put_off_until", N_ ("Put off until")),
};

static const BedField matching_fields[] = {
  WORDS ("heads", N_ ("Heads"), 4000, NEEDED,
         HELP (N_ ("Of the sheet, without regard to case and spaces, a bar between them"))),
  { .name = "decisions",
    .label = N_ ("Decisions"),
    .type = BED_FIELD_NOTE,
    .longest = 40000,
    NEEDED,
    HELP (N_ ("What its columns are, and what was answered")) },
};

/* --- kinds ----------------------------------------------------------------- */

#define KIND(K, t, one, many, k)                                                                   \
  [BED_KIND_##K] = { .name = #t,                                                                   \
                     .singular = one,                                                              \
                     .plural = many,                                                               \
                     .key = k,                                                                     \
                     .fields = t##_fields,                                                         \
                     .n_fields = G_N_ELEMENTS (t##_fields) }

static const BedKindInfo kinds[] = {
  KIND (FARM, farm, N_ ("farm"), N_ ("farms"), "name"),
  KIND (WOOD, wood, N_ ("wood"), N_ ("woods"), "common_name"),
  KIND (STAND, stand, N_ ("stand"), N_ ("stands"), "name"),
  KIND (FELLING, felling, N_ ("felling"), N_ ("fellings"), "code"),
  KIND (MUSHROOM, mushroom, N_ ("mushroom"), N_ ("mushrooms"), "common_name"),
  KIND (STRAIN, strain, N_ ("strain"), N_ ("strains"), "name"),
  KIND (SPAWN, spawn, N_ ("spawn lot"), N_ ("spawn lots"), "code"),
  KIND (BATCH, batch, N_ ("batch"), N_ ("batches"), "code"),
  KIND (SPAWN_USED, spawn_used, N_ ("spawn use"), N_ ("spawn uses"), NULL),
  KIND (SPAWN_GONE, spawn_gone, N_ ("spawn loss"), N_ ("spawn losses"), NULL),
  KIND (LOG, log, N_ ("log"), N_ ("logs"), "code"),
  KIND (AREA, area, N_ ("area"), N_ ("areas"), "name"),
  KIND (FEATURE, feature, N_ ("feature"), N_ ("features"), NULL),
  KIND (STACK, stack, N_ ("stack"), N_ ("stacks"), "name"),
  KIND (PLACE, place, N_ ("place"), N_ ("places"), NULL),
  KIND (STOOD, stood, N_ ("earlier place of a stack"), N_ ("earlier places of stacks"), NULL),
  KIND (PLANNED_STACK, planned_stack, N_ ("planned stack"), N_ ("planned stacks"), "name"),
  KIND (PLANNED_MOVE, planned_move, N_ ("planned move"), N_ ("planned moves"), NULL),
  KIND (CHECK, check, N_ ("check"), N_ ("checks"), NULL),
  KIND (WEIGHING, weighing, N_ ("weighing"), N_ ("weighings"), NULL),
  KIND (DISC, disc, N_ ("sample disc"), N_ ("sample discs"), NULL),
  KIND (WATERING, watering, N_ ("watering"), N_ ("waterings"), NULL),
  KIND (RAIN, rain, N_ ("rain"), N_ ("rains"), NULL),
  KIND (TEMPERATURE, temperature, N_ ("temperature"), N_ ("temperatures"), NULL),
  KIND (SOAK, soak, N_ ("soak"), N_ ("soaks"), "code"),
  KIND (SOAKED, soaked, N_ ("soaked log"), N_ ("soaked logs"), NULL),
  KIND (LOT, lot, N_ ("lot"), N_ ("lots"), "code"),
  KIND (PICK, pick, N_ ("pick"), N_ ("picks"), NULL),
  KIND (DRYING, drying, N_ ("drying"), N_ ("dryings"), NULL),
  KIND (BUYER, buyer, N_ ("buyer"), N_ ("buyers"), "name"),
  KIND (SALE, sale, N_ ("sale"), N_ ("sales"), "code"),
  KIND (LINE, line, N_ ("sale line"), N_ ("sale lines"), NULL),
  KIND (PURCHASE, purchase, N_ ("purchase"), N_ ("purchases"), NULL),
  KIND (HOURS, hours, N_ ("hours"), N_ ("hours"), NULL),
  KIND (RATE, rate, N_ ("earlier labour rate"), N_ ("earlier labour rates"), NULL),
  KIND (EQUIPMENT, equipment, N_ ("equipment"), N_ ("equipment"), "what"),
  KIND (STOCK_COUNT, stock_count, N_ ("stock count"), N_ ("stock counts"), NULL),
  KIND (DUE, due, N_ ("due task"), N_ ("due tasks"), NULL),
  KIND (MATCHING, matching, N_ ("matching of a sheet"), N_ ("matchings of sheets"), "heads"),
};

G_STATIC_ASSERT (G_N_ELEMENTS (kinds) == BED_N_KINDS);

const BedKindInfo *
bed_kind_get_info (BedKind kind)
{
  g_return_val_if_fail (kind < BED_N_KINDS, NULL);
  return &kinds[kind];
}

BedKind
bed_kind_from_name (const char *name)
{
  BedKind kind = 0;

  while (kind < BED_N_KINDS && g_strcmp0 (kinds[kind].name, name) != 0)
    kind++;
  return kind;
}

const BedField *
bed_kind_find_field (BedKind kind, const char *name, guint *index)
{
  g_return_val_if_fail (kind < BED_N_KINDS && name != NULL, NULL);

  const BedField *fields = kinds[kind].fields;
  guint n = kinds[kind].n_fields, i = 0;

  /* Mostly it is the table's own text. */
  while (i < n && fields[i].name != name)
    i++;
  if (i == n)
    for (i = 0; i < n && strcmp (fields[i].name, name) != 0;)
      i++;
  if (index && i < n)
    *index = i;
  return i < n ? &fields[i] : NULL;
}

const char *
bed_choice_get_word (const BedChoice *choice)
{
  return g_dpgettext2 (GETTEXT_PACKAGE, choice->of, choice->label);
}

const char *
bed_field_choice_label (const BedField *field, const char *key)
{
  g_return_val_if_fail (field->type == BED_FIELD_CHOICE, key);

  for (const BedChoice *c = field->choices; c->key; c++)
    if (g_strcmp0 (c->key, key) == 0)
      return bed_choice_get_word (c);
  return key;
}
