#include "app/lists/care_page.h"

#include <glib/gi18n.h>

#include "app/desk/care_tables.h"
#include "app/lists/weather_days.h"
#include "app/widgets/build.h"

struct _BedCarePage
{
  BedPartsPage parent_instance;
  BedWeatherDays *weather;
};

BED_DEFINE_TYPE (BedCarePage, bed_care_page, BED_TYPE_PARTS_PAGE)

static const BedTableColumn task_columns[] = {
  { .field = "due_on" },
  { .field = "what" },
  { .field = "done_on" },
};

static const BedTableSpec task_table = {
  .label = N_ ("Tasks"),
  .source = "due",
  .kind = BED_KIND_DUE,
  .columns = task_columns,
  .n_columns = G_N_ELEMENTS (task_columns),
  /* What is put off is marked there, too. */
  .where = "(what NOT GLOB 'rule:*' OR put_off_until IS NULL)",
  .order = "due_on DESC, id DESC",
  .search = "what || ' ' || coalesce (subject, '') || ' ' || coalesce (why, '')",
  .kinds = BED_KIND_BIT (BED_KIND_DUE),
};

static GtkWidget *
make_weather (BedPartsPage *page)
{
  GtkWidget *weather = bed_weather_days_new (bed_page_get_farm (BED_PAGE (page)));

  BED_CARE_PAGE (page)->weather = BED_WEATHER_DAYS (weather);
  return weather;
}

static const BedPagePart parts[] = {
  { .name = "weather", .title = N_ ("Weather"), .make = make_weather },
  { .name = "weighings",
    .title = N_ ("Weighings"),
    .list = { .kind = BED_KIND_WEIGHING,
              .table = &bed_care_weighings,
              .empty = { "bed-care-symbolic", N_ ("No log weighed yet"),
                         N_ ("A few sample logs of each batch, weighed in turn, say how wet the "
                             "others are."),
                         N_ ("Record weighing"), "win.add" } } },
  { .name = "checks",
    .title = N_ ("Checks"),
    .list
    = { .kind = BED_KIND_CHECK,
        .table = &bed_care_checks,
        .empty
        = { "bed-care-symbolic", N_ ("Nothing checked yet"),
            N_ ("A check says what was seen on a log, a batch or a stack: how far the ends are "
                "white, the bark, other fungi, slugs."),
            N_ ("Record check"), "win.add" } } },
  { .name = "discs",
    .title = N_ ("Discs"),
    .list = { .kind = BED_KIND_DISC,
              .table = &bed_care_discs,
              .empty = { "bed-care-symbolic", N_ ("No disc cut yet"),
                         N_ ("A disc weighed fresh and oven-dry says how much water the wood of a "
                             "batch holds."),
                         N_ ("Record disc"), "win.add" } } },
  { .name = "waterings",
    .title = N_ ("Waterings"),
    .list = { .kind = BED_KIND_WATERING,
              .table = &bed_care_waterings,
              .empty = { "bed-care-symbolic", N_ ("Nothing watered yet"),
                         N_ ("What was watered, when and for how long, counts as rain for the logs "
                             "that got it."),
                         N_ ("Record watering"), "win.add" } } },
  { .name = "tasks",
    .title = N_ ("Tasks"),
    .list = { .kind = BED_KIND_DUE,
              .table = &task_table,
              .empty = { "bed-week-symbolic", N_ ("No task of your own"),
                         N_ ("Tasks you set yourself stand on This week when they are due; here "
                             "are all of them, done ones too."),
                         N_ ("New task"), "win.add" } } },
  { .name = NULL },
};

static void
bed_care_page_add (BedPage *page)
{
  if (strcmp (bed_parts_page_get_seen (BED_PARTS_PAGE (page)), "weather") == 0)
    bed_weather_days_add (BED_CARE_PAGE (page)->weather);
  else
    BED_PAGE_CLASS (bed_care_page_parent_class)->add (page);
}

static void
bed_care_page_class_init (BedCarePageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  BED_PARTS_PAGE_CLASS (klass)->parts = parts;
  page_class->add = bed_care_page_add;
  page_class->add_title = N_ ("New weather, weighing, check, disc, watering or task");
  page_class->kinds = BED_KIND_BIT (BED_KIND_DISC) | BED_KIND_BIT (BED_KIND_WEIGHING)
                      | BED_KIND_BIT (BED_KIND_CHECK) | BED_KIND_BIT (BED_KIND_WATERING)
                      | BED_KIND_BIT (BED_KIND_DUE);
}
