/* The yard as the farm has it, on any day; its advice; its map on paper. */
#include "print/yard/yard_map.h"
#include "print/yard/yard_picture.h"
#include "yard/advice.h"
#include "yard/load.h"
#include "yard/load_logs.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "../model/model_test.h"
#include "model/demo/demo.h"
#include "model/farm/code.h"
#include "model/farm/value.h"
#include "model/work/care_dry_mass.h"
#include "science/moisture.h"
#include "yard/marks.h"

/* An area, two cribs built on 1 March and 1 April, 8 logs in the first, 3 of them moved to the
 * second on 20 April; the first batch looked at on 1 May. */
static gint64
set_up_yard (BedFarm *farm)
{
  gint64 area;

  scene_batch (farm, 8);
  area = scene_add (farm, scene_record (farm, BED_KIND_AREA, "name", "Lower yard", "shade", "60",
                                        "width", "20", "depth", "12", "north", "10", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_FEATURE, "area", "Lower yard", "kind", "tree",
                                 "label", "Oak", "outline", "2 10, 3.5 10", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 1", "area", "Lower yard",
                                 "kind", "crib", "x", "5", "y", "5", "built_on", "2026-03-01",
                                 "tiers", "2", "per_tier", "3", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STACK, "name", "Crib 2", "area", "Lower yard",
                                 "kind", "crib", "x", "6.2", "y", "5", "turn", "90", "built_on",
                                 "2026-04-01", NULL));
  for (int i = 1; i <= 8; i++)
    {
      g_autofree char *log = bed_code_log ("26A", i);
      BedRecord *place = scene_record (farm, BED_KIND_PLACE, "log", log, "stack", "Crib 1", "since",
                                       "2026-03-02", NULL);
      if (i <= 6)
        {
          bed_record_set_int (place, "tier", (i - 1) / 3 + 1);
          bed_record_set_int (place, "slot", (i - 1) % 3 + 1);
        }
      if (i > 5)
        bed_record_set_text (place, "until", "2026-04-20");
      scene_add (farm, place);
      if (i > 5)
        scene_add (farm, scene_record (farm, BED_KIND_PLACE, "log", log, "stack", "Crib 2", "since",
                                       "2026-04-20", NULL));
    }
  scene_add (farm, scene_record (farm, BED_KIND_CHECK, "checked_on", "2026-05-01", "batch", "26A",
                                 "colonised", "40", NULL));
  return area;
}

static BedYard *
load (BedFarm *farm, gint64 area, const char *date)
{
  g_autoptr (GError) error = NULL;
  BedYard *yard = bed_yard_load (farm, area, date, &error);

  g_assert_no_error (error);
  g_assert_false (yard->staged);
  bed_yard_load_stages (yard, farm, date, &error);
  g_assert_no_error (error);
  g_assert_true (yard->staged);
  bed_yard_load_picked (yard, farm, date, &error);
  g_assert_no_error (error);
  bed_yard_load_moisture (yard, farm, date, &error);
  g_assert_no_error (error);
  return yard;
}

static const BedYardStack *
get_stack (const BedYard *yard, guint i)
{
  g_assert_cmpuint (i, <, yard->stacks->len);
  return yard->stacks->pdata[i];
}

static void
test_days (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  g_autoptr (BedYard) before = load (scene->farm, area, "2026-02-28");
  g_autoptr (BedYard) march = load (scene->farm, area, "2026-03-15");
  g_autoptr (BedYard) on_the_day = load (scene->farm, area, "2026-04-20");
  g_autoptr (BedYard) eve = load (scene->farm, area, "2026-04-19");
  g_autoptr (GPtrArray) days = bed_yard_days (scene->farm, area, NULL);

  g_assert_cmpuint (before->stacks->len, ==, 0);
  g_assert_cmpuint (march->stacks->len, ==, 1);
  g_assert_cmpuint (get_stack (march, 0)->logs->len, ==, 8);
  g_assert_cmpuint (get_stack (eve, 0)->logs->len, ==, 8);
  g_assert_cmpuint (get_stack (on_the_day, 0)->logs->len, ==, 5);
  g_assert_cmpuint (get_stack (on_the_day, 1)->logs->len, ==, 3);
  g_assert_cmpuint (days->len, ==, 4);
  g_assert_cmpstr (days->pdata[0], ==, "2026-03-01");
  g_assert_cmpstr (days->pdata[3], ==, "2026-04-20");
}

static void
test_values (Scene *scene, gconstpointer data)
{
  g_autoptr (BedYard) yard = load (scene->farm, set_up_yard (scene->farm), "2026-05-12");
  const BedYardStack *stack = get_stack (yard, 1);
  const BedYardLog *log = get_stack (yard, 0)->logs->pdata[0];
  const BedYardFeature *tree = yard->features->pdata[0];

  g_assert_cmpfloat_with_epsilon (yard->width, 20, 1e-9);
  g_assert_cmpfloat_with_epsilon (yard->shade, 0.6, 1e-9);
  g_assert_cmpfloat_with_epsilon (yard->north, 10 * G_PI / 180, 1e-9);
  g_assert_cmpint (tree->kind, ==, BED_FEATURE_TREE);
  g_assert_cmpint (tree->ground.form, ==, BED_GROUND_DISC);
  g_assert_cmpuint (tree->ground.points->len, ==, 1);
  g_assert_cmpfloat_with_epsilon (stack->pose.x, 6.2, 1e-9);
  g_assert_cmpfloat_with_epsilon (stack->pose.turn, G_PI / 2, 1e-9);
  g_assert_cmpstr (log->batch, ==, "26A");
  g_assert_cmpint (log->mark, ==, 0);
  g_assert_cmpfloat_with_epsilon (log->diameter, 0.12, 1e-9);
  g_assert_cmpfloat_with_epsilon (log->length, 1, 1e-9);
  g_assert_cmpfloat_with_epsilon (log->colonised, 0.4, 1e-9);
  g_assert_cmpuint (log->tier, ==, 1);
  g_assert_cmpint (log->stage, ==, BED_STAGE_SPAWN_RUN);
}

/* What was not yet so: no check before 1 May. */
static void
test_earlier (Scene *scene, gconstpointer data)
{
  g_autoptr (BedYard) yard = load (scene->farm, set_up_yard (scene->farm), "2026-04-30");
  const BedYardLog *log = get_stack (yard, 0)->logs->pdata[0];

  g_assert_cmpfloat (log->colonised, <, 0);
  g_assert_cmpint (log->stage, ==, BED_STAGE_SPAWN_RUN);
}

/* The first log of 26A on that day, without its texts. */
static BedYardLog
get_first (Scene *scene, gint64 area, const char *day)
{
  g_autoptr (BedYard) yard = load (scene->farm, area, day);
  BedYardLog log = { 0 };

  for (guint i = 0; i < get_stack (yard, 0)->logs->len; i++)
    {
      const BedYardLog *each = get_stack (yard, 0)->logs->pdata[i];
      if (g_str_has_prefix (each->code, "26A-001"))
        log = *each;
    }
  g_assert_cmpint (log.id, >, 0);
  log.code = log.brief = log.batch = NULL;
  return log;
}

/* A log on any day: its stage, days since its soak, its age. Today all agree with the list of logs,
 * which asks for itself. */
static void
test_stages (Scene *scene, gconstpointer data)
{
  static const struct
  {
    const char *day;
    BedStage stage;
    int soaked, age;
  } days[] = {
    { "2026-03-01", BED_STAGE_SPAWN_RUN, -1, 0 }, { "2026-04-01", BED_STAGE_SPAWN_RUN, -1, 31 },
    { "2026-04-02", BED_STAGE_SOAKING, 0, 32 },   { "2026-04-03", BED_STAGE_FRUITING, 0, 33 },
    { "2026-04-17", BED_STAGE_FRUITING, 14, 47 }, { "2026-04-18", BED_STAGE_RESTING, 15, 48 },
    { "2026-05-12", BED_STAGE_RESTING, 39, 72 },
  };
  gint64 area = set_up_yard (scene->farm);
  g_autofree char *code = bed_code_log ("26A", 1);

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PLACE, "log", code, "stack", "Crib 1",
                                        "since", "2026-03-01", "until", "2026-03-02", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SOAK, "code", "K26-1", "tank", "Tank", "put_in",
                           "2026-04-02 10:00", "taken_out", "2026-04-03 10:00", NULL));
  scene_add (scene->farm,
             scene_record (scene->farm, BED_KIND_SOAKED, "soak", "K26-1", "log", code, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (days); i++)
    {
      BedYardLog log = get_first (scene, area, days[i].day);
      g_test_message ("%s", days[i].day);
      g_assert_cmpint (log.stage, ==, days[i].stage);
      g_assert_cmpint (log.soaked, ==, days[i].soaked);
      g_assert_cmpint (log.age, ==, days[i].age);
    }
}

static void
add_look (Scene *scene, const char *day, const char *of, const char *name, const char *colonised)
{
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_CHECK, "checked_on", day, of, name,
                                        "colonised", colonised, NULL));
}

/* The newest look at a log, its batch or its stack; of one day the log's own, then its batch's. */
static void
test_looks (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  g_autofree char *first = bed_code_log ("26A", 1), *other = bed_code_log ("26A", 2);

  add_look (scene, "2026-05-01", "log", first, "70");
  g_assert_cmpfloat_with_epsilon (get_first (scene, area, "2026-05-01").colonised, 0.7, 1e-9);
  add_look (scene, "2026-05-02", "log", other, "90"); /* one of a log is of no other */
  g_assert_cmpfloat_with_epsilon (get_first (scene, area, "2026-05-02").colonised, 0.7, 1e-9);
  add_look (scene, "2026-05-03", "stack", "Crib 1", "50");
  g_assert_cmpfloat_with_epsilon (get_first (scene, area, "2026-05-03").colonised, 0.5, 1e-9);
  add_look (scene, "2026-05-03", "batch", "26A", "60");
  g_assert_cmpfloat_with_epsilon (get_first (scene, area, "2026-05-03").colonised, 0.6, 1e-9);
  add_look (scene, "2026-05-03", "log", first, "80");
  g_assert_cmpfloat_with_epsilon (get_first (scene, area, "2026-05-03").colonised, 0.8, 1e-9);
  g_assert_cmpfloat_with_epsilon (get_first (scene, area, "2026-05-02").colonised, 0.7, 1e-9);
}

/* Moisture of the log that was weighed, its batch's others as it; none a season later, none
 * before. */
static void
test_moisture (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  g_autofree char *code = bed_code_log ("26A", 1);
  BedCareBasis basis;
  BedMoisture moisture;
  double dry_kg;

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_WEIGHING, "weighed_on", "2026-04-10",
                                        "log", code, "mass", "12 kg", NULL));
  gint64 id = get_first (scene, area, "2026-05-12").id;
  g_assert_true (bed_care_dry_mass (scene->farm, id, &dry_kg, &basis, NULL));
  g_assert_true (bed_moisture_from_mass (12, dry_kg, &moisture, NULL));
  g_autoptr (BedYard) yard = load (scene->farm, area, "2026-05-12");
  for (guint i = 0; i < 2; i++)
    for (guint j = 0; j < get_stack (yard, i)->logs->len; j++)
      {
        const BedYardLog *log = get_stack (yard, i)->logs->pdata[j];
        g_assert_cmpfloat_with_epsilon (log->moisture, moisture.wet_pct, 1e-9);
      }
  g_assert_true (isnan (get_first (scene, area, "2026-04-09").moisture));
  g_assert_false (isnan (get_first (scene, area, "2026-04-10").moisture));
}

/* What each log gave, as the view says it of one log, which shares for itself. */
static void
test_picked (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  g_autofree char *code = bed_code_log ("26A", 2);

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-04-10",
                                        "log", code, "grade", "A", "mass", "100 g", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-04-10",
                                        "stack", "Crib 1", "grade", "A", "mass", "800 g", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-10",
                                        "stack", "Crib 1", "grade", "A", "mass", "1 kg", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_PICK, "picked_on", "2026-05-01",
                                        "batch", "26A", "grade", "A", "mass", "400 g", NULL));
  g_autoptr (BedYard) yard = load (scene->farm, area, "2026-05-12");
  double sum = 0;
  for (guint i = 0; i < 2; i++)
    for (guint j = 0; j < get_stack (yard, i)->logs->len; j++)
      {
        const BedYardLog *log = get_stack (yard, i)->logs->pdata[j];
        gint64 ug = 0;
        g_assert_true (bed_query_one (
            scene->farm, "SELECT round (1000 * sum (mass)) FROM pick_log WHERE log = ?1", log->id,
            &ug, NULL));
        g_assert_cmpfloat_with_epsilon (log->picked, (double) ug / 1000, 0.01);
        sum += log->picked;
      }
  g_assert_cmpfloat_with_epsilon (sum, 2.3e6, 1);
  /* Before the stack's second pick and the batch's. */
  g_assert_cmpfloat_with_epsilon (get_first (scene, area, "2026-04-20").picked, 1e5, 1e-6);
}

/* Marks: two batches that lie together have different ones, one that came when the other had gone
 * may have its; on every day the same. */
static void
test_marks (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  const char *batches[] = { "26B", "26C" };
  const char *since[] = { "2026-04-01", "2026-05-02" };

  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *code = bed_code_log (batches[i], 1);
      scene_add (scene->farm,
                 scene_record (scene->farm, BED_KIND_BATCH, "code", batches[i], "inoculated_on",
                               "2026-03-01", "method", "drilled", NULL));
      scene_add (scene->farm,
                 scene_record (scene->farm, BED_KIND_LOG, "felling", "F26-1", "batch", batches[i],
                               "length", "100 cm", "small_diameter", "12 cm", NULL));
      BedRecord *place = scene_record (scene->farm, BED_KIND_PLACE, "log", code, "stack", "Crib 2",
                                       "since", since[i], NULL);
      if (i == 0)
        bed_record_set_text (place, "until", "2026-05-01");
      scene_add (scene->farm, place);
    }
  GHashTable *marks = bed_marks_get (scene->farm, NULL);
  g_assert_cmpuint (g_hash_table_size (marks), ==, 3);
  GHashTableIter iter;
  gpointer mark;
  guint seen[3] = { 0 };
  g_hash_table_iter_init (&iter, marks);
  while (g_hash_table_iter_next (&iter, NULL, &mark))
    {
      g_assert_cmpint (GPOINTER_TO_INT (mark), <, 2);
      seen[GPOINTER_TO_INT (mark)]++;
    }
  g_assert_cmpuint (seen[0], ==, 1); /* 26A lies there all the time */
  g_assert_cmpuint (seen[1], ==, 2); /* 26B went before 26C came */
  g_assert_cmpint (get_first (scene, area, "2026-03-15").mark, ==, 0);
}

/* The newest of the checks that concern a log counts, whichever it was about. */
static void
test_checks (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  g_autofree char *code = bed_code_log ("26A", 2);

  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_CHECK, "checked_on", "2026-05-05",
                                        "log", code, "colonised", "55", NULL));
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_CHECK, "checked_on", "2026-05-08",
                                        "stack", "Crib 2", "colonised", "70", NULL));
  g_autoptr (BedYard) yard = load (scene->farm, area, "2026-05-12");
  const BedYardLog *first = get_stack (yard, 0)->logs->pdata[0];
  const BedYardLog *second = get_stack (yard, 0)->logs->pdata[1];
  const BedYardLog *moved = get_stack (yard, 1)->logs->pdata[0];

  g_assert_cmpfloat_with_epsilon (first->colonised, 0.4, 1e-9);
  g_assert_cmpfloat_with_epsilon (second->colonised, 0.55, 1e-9);
  g_assert_cmpfloat_with_epsilon (moved->colonised, 0.7, 1e-9);
}

static gboolean
advises (const GPtrArray *all, BedAdviceAbout about)
{
  for (guint i = 0; i < all->len; i++)
    if (((BedAdvice *) all->pdata[i])->about == about)
      return TRUE;
  return FALSE;
}

static void
test_advice (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  g_autoptr (BedYard) march = load (scene->farm, area, "2026-03-15");
  g_autoptr (BedYard) may = load (scene->farm, area, "2026-05-12");
  g_autoptr (BedScene) early = bed_scene_new (march), late = bed_scene_new (may);
  const BedNotation *notation = bed_farm_get_notation (scene->farm);
  g_autoptr (GPtrArray) full = bed_yard_advice (early, 0, notation);
  g_autoptr (GPtrArray) eased = bed_yard_advice (late, 0, notation);

  g_assert_true (advises (full, BED_ADVICE_TOO_MANY)); /* 8 in 2 tiers of 3 */
  g_assert_true (advises (full, BED_ADVICE_SUN));      /* 60 % shade */
  g_assert_false (advises (full, BED_ADVICE_TOO_NEAR));
  g_assert_false (advises (full, BED_ADVICE_TOO_TIGHT));
  g_assert_false (advises (full, BED_ADVICE_OUTSIDE));
  g_assert_false (advises (eased, BED_ADVICE_TOO_MANY));
  g_assert_true (advises (eased, BED_ADVICE_TOO_NEAR)); /* 1.2 m from middle to middle */
}

static void
test_advice_pile (void)
{
  g_autoptr (BedYard) yard = bed_yard_new (10, 10);
  BedYardStack *stack = bed_yard_stack_new (BED_STACK_CRIB);
  const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };

  stack->pose = (BedPose){ 0.2, 5, 0 };
  stack->tiers = 12;
  stack->per_tier = 7;
  for (int i = 0; i < 84; i++)
    {
      BedYardLog *log = bed_yard_log_new ();
      log->id = i + 1;
      log->length = 1;
      log->diameter = 0.12;
      g_ptr_array_add (stack->logs, log);
    }
  g_ptr_array_add (yard->stacks, stack);
  g_autoptr (BedScene) scene = bed_scene_new (yard);
  g_autoptr (GPtrArray) all = bed_yard_advice (scene, 0, &metric);

  g_assert_true (advises (all, BED_ADVICE_TOO_HIGH));  /* 12 x 12 cm = 1.44 m */
  g_assert_true (advises (all, BED_ADVICE_TOO_TIGHT)); /* 7 x 12 cm in 86 cm */
  g_assert_true (advises (all, BED_ADVICE_OUTSIDE));
  g_assert_false (advises (all, BED_ADVICE_SUN)); /* nobody said how shady it is */
  g_assert_false (advises (all, BED_ADVICE_TOO_MANY));
}

static gboolean
is_same_picture (cairo_surface_t *a, cairo_surface_t *b)
{
  int height = cairo_image_surface_get_height (a), stride = cairo_image_surface_get_stride (a);

  return height == cairo_image_surface_get_height (b)
         && stride == cairo_image_surface_get_stride (b)
         && memcmp (cairo_image_surface_get_data (a), cairo_image_surface_get_data (b),
                    (gsize) height * stride)
                == 0;
}

/* The picture for the workbook is the map in the farm's own units. */
static void
test_picture (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  g_autofree char *date = bed_date_format ("2026-05-12");
  const char *name = bed_record_get_text (bed_farm_get_settings (scene->farm), "name");
  g_autofree char *path = g_build_filename (scene->folder, "picture.png", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedYardPictures) drawn = bed_yard_pictures_begin (scene->farm, "2026-05-12");
  GPtrArray *pictures = bed_yard_pictures_wait (drawn, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (pictures->len, ==, 1);
  gsize size;
  gconstpointer bytes = g_bytes_get_data (pictures->pdata[0], &size);
  g_assert_true (g_file_set_contents (path, bytes, size, &error));
  cairo_surface_t *picture = cairo_image_surface_create_from_png (path);
  for (BedSystem system = 0; system <= BED_SYSTEM_US; system++)
    {
      BedYardMapSpec spec = { bed_paper_letter, name, date, system, .use = BED_MAP_PICTURE };
      g_autoptr (BedDocument) map
          = bed_yard_map_new (load (scene->farm, area, "2026-05-12"), &spec, &error);
      g_assert_no_error (error);
      cairo_surface_t *wanted = bed_document_picture_new (map, 0, BED_YARD_PICTURE_DPI, &error);
      g_assert_no_error (error);
      g_assert_cmpint (is_same_picture (picture, wanted), ==, system == BED_SYSTEM_US);
      cairo_surface_destroy (wanted);
    }
  cairo_surface_destroy (picture);
  g_unlink (path);
}

/* How many pixels from (x, y) on are dark, by steps of (dx, dy). */
static int
measure_dark (cairo_surface_t *picture, int x, int y, int dx, int dy)
{
  const guint8 *data = cairo_image_surface_get_data (picture);
  int stride = cairo_image_surface_get_stride (picture), n = 0;

  while (data[(y + n * dy) * stride + (x + n * dx) * 4] < 0x70)
    n++;
  return n;
}

/* Of a picture that others stretch both ways no number says the scale; a bar each way does, of so
 * many metres as stands beside it: here half of one, which is dark, is 1 m, and the yard 20. */
static void
test_bars (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  BedYardMapSpec spec = { bed_paper_a4, "Alder Hollow", "12 May 2026", .use = BED_MAP_PICTURE };
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) map
      = bed_yard_map_new (load (scene->farm, area, "2026-05-12"), &spec, &error);
  cairo_surface_t *picture = bed_document_picture_new (map, 0, 254, &error);
  int height = cairo_image_surface_get_height (picture);
  int width = cairo_image_surface_get_width (picture), left = 0, right = width - 1, row = 0;

  g_assert_no_error (error);
  cairo_surface_flush (picture);
  /* Ten pixels a millimetre: the lower bar begins at the margin, the other stands left of the map.
   */
  for (row = height - 119; measure_dark (picture, 130, row, 1, 0) < 20; row--)
    g_assert_cmpint (row, >, height / 2);
  int lying = 5 + measure_dark (picture, 125, row - 5, 1, 0), standing = 0, column = 130;
  while (column < 240 && standing < 100)
    {
      column++;
      for (int y = row - 40; y > height / 2 && standing < 100; y--)
        standing = measure_dark (picture, column, y, 0, -1);
    }
  standing = 0;
  for (int y = row - 40; y > height / 2 && standing < 20; y--)
    standing = measure_dark (picture, column + 5, y, 0, -1);
  /* The area's edges, along a line through its middle. */
  while (left < width && !measure_dark (picture, left, height / 2, 1, 0))
    left++;
  while (right > 0 && !measure_dark (picture, right, height / 2, -1, 0))
    right--;
  g_assert_cmpint (ABS (standing - lying), <=, 6);
  g_assert_cmpfloat_with_epsilon (lying, (right - left) / 20.0, 6);
  cairo_surface_destroy (picture);
}

/* The map is to scale: the frame of a 20 m yard at 1:100 measures 200 mm on the page. */
static void
test_map (Scene *scene, gconstpointer data)
{
  gint64 area = set_up_yard (scene->farm);
  BedYardMapSpec spec = { bed_paper_a4, "Alder Hollow", "12 May 2026" };
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) map
      = bed_yard_map_new (load (scene->farm, area, "2026-05-12"), &spec, &error);
  g_autofree char *path = g_build_filename (scene->folder, "map.png", NULL);
  cairo_surface_t *picture;
  int left = -1, right = -1, width;

  g_assert_true (bed_document_check (map, &error));
  g_assert_no_error (error);
  g_assert_true (bed_document_write_png (map, 0, 254, path, &error)); /* 10 pixels a millimetre */
  g_assert_no_error (error);
  picture = cairo_image_surface_create_from_png (path);
  width = cairo_image_surface_get_width (picture);
  /* Along a line across the lower third, the first and last dark pixel are the area's edges. */
  const guint32 *row
      = (const guint32 *) (gpointer) (cairo_image_surface_get_data (picture)
                                      + 1500 * cairo_image_surface_get_stride (picture));
  for (int x = 0; x < width; x++)
    if ((row[x] & 0xff) < 0xb0)
      {
        left = left < 0 ? x : left;
        right = x;
      }
  g_assert_cmpint (width, ==, 2970); /* the sheet lies as the yard does */
  g_assert_cmpint (ABS (right - left - 2000), <=, 10);
  cairo_surface_destroy (picture);
  g_unlink (path);
}

/* A name there is no room for is cut in the map's head; it once stopped the workbook. */
static void
test_long_names (Scene *scene, gconstpointer data)
{
  g_autofree char *name = g_strnfill (80, 'W');
  gint64 area = scene_add (scene->farm, scene_record (scene->farm, BED_KIND_AREA, "name", name,
                                                      "width", "4 m", "depth", "9 m", NULL));
  BedYardMapSpec spec = { bed_paper_a4, name, "12 May 2026" };
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDocument) map
      = bed_yard_map_new (load (scene->farm, area, "2026-05-12"), &spec, &error);

  g_assert_true (bed_document_check (map, &error));
  g_assert_no_error (error);
}

/* As a copier sees it: ITU-R BT.601. */
static double
grey_of (const BedYardColour *colour)
{
  return 0.299 * colour->red + 0.587 * colour->green + 0.114 * colour->blue;
}

/* All pairs of lines of the key: told apart by hatch or in grey. */
static guint
check_key (const BedYard *yard, BedColourBy by)
{
  g_autoptr (GPtrArray) key = bed_yard_key_new (yard, by, BED_SYSTEM_METRIC);
  const BedPalette *palette = bed_palette_get (BED_PALETTE_PAPER);
  guint pairs = 0;

  for (guint i = 0; i < key->len; i++)
    for (guint j = 0; j < i; j++, pairs++)
      {
        BedLogLook a = bed_colour_by_look (by, ((BedKeyLine *) key->pdata[i])->class, palette);
        BedLogLook b = bed_colour_by_look (by, ((BedKeyLine *) key->pdata[j])->class, palette);
        g_assert_true (a.hatch != b.hatch
                       || fabs (grey_of (&a.colour) - grey_of (&b.colour)) > 0.06);
      }
  return pairs;
}

/* In each area of a farm of many batches, on any day: no two alike, whatever colours say. */
static void
test_alike (Scene *scene, gconstpointer data)
{
  const BedDemoPlan plan = { .logs = 1200, .years = 4, .seed = 3, .today = "2026-05-12" };
  const char *days[] = { "2025-04-01", "2026-05-12" };
  g_autofree char *path = g_build_filename (scene->folder, "demo.bedlog", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_demo_new (path, &plan, &error);
  g_assert_no_error (error);
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM area");
  guint pairs = 0;

  while (bed_query_next (q))
    for (guint i = 0; i < G_N_ELEMENTS (days); i++)
      {
        g_autoptr (BedYard) yard = load (farm, bed_query_int (q, 0), days[i]);
        for (BedColourBy by = 0; by < BED_N_COLOUR_BYS; by++)
          pairs += check_key (yard, by);
      }
  g_assert_true (bed_query_finish (q, &error));
  g_assert_cmpuint (pairs, >, 300);
  g_unlink (path);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, test)                                                                            \
  g_test_add ("/yard/load/" name, Scene, "metric", scene_set_up, test, scene_tear_down)
  ADD ("days", test_days);
  ADD ("values", test_values);
  ADD ("earlier", test_earlier);
  ADD ("checks", test_checks);
  ADD ("stages", test_stages);
  ADD ("looks", test_looks);
  ADD ("moisture", test_moisture);
  ADD ("picked", test_picked);
  ADD ("marks", test_marks);
  ADD ("alike", test_alike);
  ADD ("advice", test_advice);
  ADD ("map", test_map);
  ADD ("long-names", test_long_names);
  ADD ("bars", test_bars);
  g_test_add_func ("/yard/advice-pile", test_advice_pile);
  g_test_add ("/yard/picture", Scene, "US", scene_set_up, test_picture, scene_tear_down);
  return g_test_run ();
}
