#include "report_test.h"

#include "model/demo/demo.h"
#include "model/farm/kinds.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>

/* One record a line: kind, then field=value as a person types it. Names that a
 * spreadsheet could take for patterns are among them. */
static const char *const scene[] = {
  "stand|name=North slope|owner=the farm|declared_on=2024-01-02|permission=own wood",
  "strain|name=Wide one|mushroom=shiitake|type=wide-range|run_least=6|run_most=12",
  "strain|name==HYPERLINK(\"x\")|mushroom=shiitake|type=cold-weather|run_least=6|run_most=12",
  "felling|code=F24-1|felled_on=2024-02-01|stand=North slope|wood=northern red oak|leaf=dormant"
  "|trees=3",
  "felling|code=F25-1|felled_on=2025-02-01|stand=North slope|wood=sugar maple|leaf=dormant|trees=2",
  "felling|code=F26-1|felled_on=2026-02-01|stand=North slope|wood=northern red oak|leaf=dormant"
  "|trees=2",
  "spawn|code=S24-1|strain=Wide one|form=sawdust|received_on=2024-02-10|mass=10 kg|cost=90.00"
  "|supplier=the spawn house|supplier_lot=774|organic=yes|certificate=C-1",
  "spawn|code=S25-1|strain==HYPERLINK(\"x\")|form=dowel|received_on=2025-02-10|pieces=3000"
  "|cost=101.00",
  "spawn|code=S26-1|strain=Wide one|form=sawdust|received_on=2026-02-10|mass=7 kg|cost=71.37",
  "batch|code=24A|inoculated_on=2024-03-01|method=drilled|along=15 cm|between=7.5 cm",
  "batch|code=25A|inoculated_on=2025-03-05|method=drilled|along=15 cm|between=7.5 cm",
  "batch|code=26A|inoculated_on=2026-03-02|method=drilled|along=15 cm|between=7.5 cm",
  "spawn_used|batch=24A|spawn=S24-1|mass=3 kg",
  "spawn_used|batch=25A|spawn=S25-1|pieces=700",
  "spawn_used|batch=26A|spawn=S26-1|mass=2.4 kg",
  "spawn_used|batch=26A|spawn=S24-1|mass=0.5 kg",
  "area|name=Ravine|shade=75|shade_kind=trees|water=stream|water_source=the brook"
  "|water_tested_on=2026-04-01",
  "stack|name=Crib*|area=Ravine|kind=crib|built_on=2024-03-01",
  "stack|name=Cribs 1?~|area=Ravine|kind=A-frame|built_on=2025-05-01",
  NULL,
};

/* After the logs are there: they lie in stacks from their first spring on. */
static const char *const story[] = {
  "soak|code=K25-1|tank=Old tub|put_in=2025-05-01 08:00|taken_out=2025-05-02 09:00|water=stream",
  "soak|code=K26-1|tank=Old tub|put_in=2026-05-11 08:00|taken_out=2026-05-12 09:00|water=stream",
  "lot|code=|picked_on=2025-05-12",
  "lot|code=|picked_on=2026-05-18|cooled_at=2026-05-18 11:30|cooled_to=2 C",
  "lot|code=|picked_on=2026-05-25",
  "pick|picked_on=2025-05-12|stack=Crib*|grade=A|mass=2310 g|lot=L250512-1",
  "pick|picked_on=2026-05-18|log=24A-001|grade=A|mass=412 g|lot=L260518-1|picker=@sum",
  "pick|picked_on=2026-05-18|log=24A-002|grade=B|mass=377 g|lot=L260518-1|picker=-1",
  "pick|picked_on=2026-05-18|stack=Crib*|grade=A|mass=1000 g|lot=L260518-1|notes==1+2",
  "pick|picked_on=2026-05-25|stack=Cribs 1?~|grade=A|mass=1777 g|lot=L260525-1|notes=+3",
  "pick|picked_on=2026-06-02|log=25A-001|grade=C|mass=91 g",
  "drying|lot=L260525-1|dried_on=2026-05-27|fresh_mass=500 g|dried_mass=61 g",
  "buyer|name=@the corner table|kind=restaurant",
  "buyer|name=Saturday stall|kind=market",
  "sale|code=V25-1|sold_on=2025-05-13|buyer=Saturday stall",
  "sale|code=V26-1|sold_on=2026-05-19|buyer=@the corner table",
  "sale|code=V26-2|sold_on=2026-05-30|buyer=Saturday stall",
  "line|sale=V25-1|lot=L250512-1|form=fresh|use=sold|mass=2.2 kg|price=44.00",
  "line|sale=V26-1|lot=L260518-1|form=fresh|use=sold|mass=1.5 kg|price=33.35",
  "line|sale=V26-1|lot=L260518-1|form=fresh|use=spoiled|mass=0.1 kg",
  "line|sale=V26-2|lot=L260525-1|form=fresh|use=sold|mass=0.9 kg|price=19.80",
  "line|sale=V26-2|lot=L260525-1|form=dried|use=sold|mass=0.05 kg|price=9.00",
  "purchase|bought_on=2025-03-01|category=wax|what=wax|amount=20.00|scope=season",
  "purchase|bought_on=2026-02-20|category=wax|what==cmd|amount=19.99|tax=1.60|scope=season",
  "purchase|bought_on=2026-03-01|category=tools|what=drill bit|amount=31.00|scope=batch|batch=26A",
  "purchase|bought_on=2026-04-01|category=yard|what=shade cloth|amount=100.00|scope=yard",
  ("purchase|bought_on=2026-04-02|category=certification|what=inspection|amount=250.01"
   "|scope=overhead"),
  "purchase|bought_on=2026-04-09|category=yard|what=cloth returned|amount=-25.50|scope=yard",
  "hours|worked_on=2026-03-02|task=drilling|person=-we|minutes=3 h 20 min|batch=26A|logs=5",
  "hours|worked_on=2026-03-02|task=waxing|minutes=50 min|rate=18.03|batch=26A|logs=5",
  "hours|worked_on=2026-05-18|task=picking|minutes=1 h 10 min",
  "hours|worked_on=2026-05-25|task=picking|minutes=40 min|rate=0",
  "hours|worked_on=2025-03-05|task=drilling|minutes=4 h|batch=25A|logs=4",
  "equipment|what=Soak tub|bought_on=2024-01-10|price=1200.00|salvage=200.00|life_years=5|share=80",
  "equipment|what=Old drill|bought_on=2015-01-10|price=90.00|life_years=3",
  NULL,
};

/* Helpers */

/* A code left out is the model's to give; L250512-1 stands for it with its check character. */
static void
add_line (Farm *farm, const char *line)
{
  g_auto (GStrv) parts = g_strsplit (line, "|", -1);
  g_autoptr (BedRecord) record = bed_record_new (bed_kind_from_name (parts[0]));
  g_autoptr (GError) error = NULL;

  for (char **p = parts + 1; *p; p++)
    {
      char *equals = strchr (*p, '=');

      g_assert_nonnull (equals);
      *equals = '\0';
      bed_value_parse (farm->farm, record, *p, equals + 1, &error);
      g_assert_no_error (error);
    }
  bed_edit_put_one (farm->farm, record, "Added one", &error);
  g_assert_no_error (error);
}

static void
add_lines (Farm *farm, const char *const *lines)
{
  for (; *lines; lines++)
    add_line (farm, *lines);
}

static void
place_logs (Farm *farm, const char *batch, const char *stack, const char *since)
{
  g_autoptr (BedQuery) q = bed_query_new (farm->farm, "SELECT l.code FROM log l JOIN batch b"
                                                      " ON b.id = l.batch WHERE b.code = ?1");
  g_autoptr (GPtrArray) codes = g_ptr_array_new_with_free_func (g_free);

  bed_query_bind_text (q, 1, batch);
  while (bed_query_next (q))
    g_ptr_array_add (codes, g_strdup (bed_query_text (q, 0)));
  for (guint i = 0; i < codes->len; i++)
    scene_add (farm->farm, scene_record (farm->farm, BED_KIND_PLACE, "log", codes->pdata[i],
                                         "stack", stack, "since", since, NULL));
}

static void
soak_logs (Farm *farm, const char *soak, const char *log)
{
  scene_add (farm->farm,
             scene_record (farm->farm, BED_KIND_SOAKED, "soak", soak, "log", log, NULL));
}

/* Public */

Farm *
farm_new_empty (const char *units)
{
  Farm *farm = g_new0 (Farm, 1);
  g_autoptr (BedRecord) settings = scene_settings (units);
  g_autoptr (GError) error = NULL;

  bed_record_set_int (settings, "weekly_demand", 1500000);
  farm->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  farm->path = g_build_filename (farm->folder, "farm.bedlog", NULL);
  farm->book = g_build_filename (farm->folder, "season.xlsx", NULL);
  farm->farm = bed_farm_new_at (farm->path, settings, "2026-12-01T09:00", 1, &error);
  g_assert_no_error (error);
  return farm;
}

Farm *
farm_new (const char *units)
{
  Farm *farm = farm_new_empty (units);

  add_lines (farm, scene);
  farm_add_logs (farm, "F24-1", "24A", 7);
  farm_add_logs (farm, "F25-1", "25A", 4);
  farm_add_logs (farm, "F26-1", "26A", 5);
  place_logs (farm, "24A", "Crib*", "2024-03-01");
  place_logs (farm, "25A", "Crib*", "2025-03-05");
  place_logs (farm, "26A", "Cribs 1?~", "2026-03-02");
  add_lines (farm, story);
  soak_logs (farm, "K25-1", "24A-001");
  soak_logs (farm, "K25-1", "24A-002");
  soak_logs (farm, "K26-1", "24A-001");
  soak_logs (farm, "K26-1", "24A-002");
  soak_logs (farm, "K26-1", "25A-001");
  return farm;
}

Farm *
farm_new_demo (void)
{
  Farm *farm = g_new0 (Farm, 1);
  const BedDemoPlan plan = { .logs = 120, .years = 6, .seed = 1, .today = "2026-12-31" };
  g_autoptr (GError) error = NULL;

  farm->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  farm->path = g_build_filename (farm->folder, "farm.bedlog", NULL);
  farm->book = g_build_filename (farm->folder, "season.xlsx", NULL);
  farm->farm = bed_demo_new (farm->path, &plan, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (farm->farm, "2027-01-02T09:00", 1);
  return farm;
}

void
farm_free (Farm *farm)
{
  g_autoptr (GDir) folder = g_dir_open (farm->folder, 0, NULL);
  const char *name;

  g_clear_object (&farm->farm);
  while ((name = g_dir_read_name (folder)))
    {
      g_autofree char *path = g_build_filename (farm->folder, name, NULL);

      g_unlink (path);
    }
  g_rmdir (farm->folder);
  g_free (farm->path);
  g_free (farm->book);
  g_free (farm->folder);
  g_free (farm);
}

void
farm_add_logs (Farm *farm, const char *felling, const char *batch, int n)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm->farm);
  g_autoptr (GError) error = NULL;

  for (int i = 0; i < n; i++)
    {
      g_autoptr (BedRecord) log = scene_record (
          farm->farm, BED_KIND_LOG, "felling", felling, "batch", batch, "length", "100 cm",
          "small_diameter", i % 2 ? "9.5 cm" : "11 cm", "large_diameter", "12 cm", NULL);

      bed_edit_put (edit, log);
    }
  bed_edit_commit (edit, "Inoculated the logs", &error);
  g_assert_no_error (error);
}

void
farm_write (Farm *farm, int season)
{
  const BedWorkbookPlan plan = { .season = season, .path = farm->book };
  g_autoptr (GError) error = NULL;

  bed_workbook_write (farm->farm, &plan, &error);
  g_assert_no_error (error);
}

const char *
farm_check (const char *verb, ...)
{
  static GSubprocess *reader;
  static GDataInputStream *answers;
  static GString *said;
  g_autoptr (GString) asked = g_string_new (verb);
  g_autoptr (GError) error = NULL;
  const char *word;
  va_list rest;

  if (!answers)
    {
      reader = g_subprocess_new (G_SUBPROCESS_FLAGS_STDIN_PIPE | G_SUBPROCESS_FLAGS_STDOUT_PIPE,
                                 &error, PYTHON, REPORT_TESTS "/xlsx_check.py", NULL);
      g_assert_no_error (error);
      answers = g_data_input_stream_new (g_subprocess_get_stdout_pipe (reader));
      said = g_string_new (NULL);
    }
  va_start (rest, verb);
  while ((word = va_arg (rest, const char *)))
    g_string_append_printf (asked, "\x1f%s", word);
  va_end (rest);
  g_assert_null (strchr (asked->str, '\n'));
  g_string_append_c (asked, '\n');
  g_output_stream_write_all (g_subprocess_get_stdin_pipe (reader), asked->str, asked->len, NULL,
                             NULL, &error);
  g_assert_no_error (error);
  g_string_truncate (said, 0);
  for (;;)
    {
      g_autofree char *line = g_data_input_stream_read_line (answers, NULL, NULL, NULL);

      g_assert_nonnull (line);
      if (*line == '\x04')
        {
          g_strchomp (said->str);
          g_test_message ("%s: %s", verb, said->str);
          g_assert_cmpstr (line, ==,
                           "\x04"
                           "0");
          return said->str;
        }
      g_string_append_printf (said, "%s\n", line);
    }
}

const char *
farm_run (const char *first, ...)
{
  g_autoptr (GPtrArray) arguments = g_ptr_array_new_with_free_func (g_free);
  static char *output;
  g_autoptr (GError) error = NULL;
  const char *next;
  int status;
  va_list rest;

  g_clear_pointer (&output, g_free);
  g_ptr_array_add (arguments, g_strdup (first));
  va_start (rest, first);
  while ((next = va_arg (rest, const char *)))
    g_ptr_array_add (arguments, g_strdup (next));
  va_end (rest);
  g_ptr_array_add (arguments, NULL);
  g_spawn_sync (NULL, (char **) arguments->pdata, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &output,
                NULL, &status, &error);
  g_assert_no_error (error);
  g_strchomp (output);
  g_test_message ("%s: %s", first, output);
  g_assert_cmpint (status, ==, 0);
  return output;
}
