#include "model_test.h"

#include <gio/gio.h>
#include <glib/gstdio.h>

#include "model/farm/code.h"
#include "model/farm/kinds.h"

BedRecord *
scene_settings (const char *units)
{
  BedRecord *settings = bed_record_new (BED_KIND_FARM);

  bed_record_set_text (settings, "name", "Alder Hollow");
  bed_record_set_text (settings, "unit_system", units);
  bed_record_set_text (settings, "currency", "USD");
  bed_record_set_text (settings, "hemisphere", "north");
  bed_record_set_text (settings, "season_start", "01-01");
  bed_record_set_text (settings, "moisture_basis", "wet");
  bed_record_set_int (settings, "labour_rate", 1800);
  bed_record_set_int (settings, "wait_least", 14);
  bed_record_set_int (settings, "wait_most", 56);
  bed_record_set_int (settings, "rest_weeks", 8);
  bed_record_set_int (settings, "tank_capacity", 40);
  return settings;
}

void
scene_set_up (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) settings = scene_settings (units ? units : "metric");

  scene->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  scene->path = g_build_filename (scene->folder, "farm.bedlog", NULL);
  scene->farm = bed_farm_new_at (scene->path, settings, "2026-05-12T09:00", 1, &error);
  g_assert_no_error (error);
}

void
scene_tear_down (Scene *scene, gconstpointer units)
{
  g_assert_finalize_object (scene->farm);
  g_unlink (scene->path);
  g_rmdir (scene->folder);
  g_free (scene->path);
  g_free (scene->folder);
}

void
scene_reopen (Scene *scene)
{
  g_autoptr (GError) error = NULL;

  g_clear_object (&scene->farm);
  scene->farm = bed_farm_open (scene->path, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (scene->farm, "2026-05-12T10:00", 2);
}

BedRecord *
scene_record (BedFarm *farm, BedKind kind, ...)
{
  BedRecord *record = bed_record_new (kind);
  va_list fields;
  const char *name;

  va_start (fields, kind);
  while ((name = va_arg (fields, const char *)))
    {
      g_autoptr (GError) error = NULL;
      bed_value_parse (farm, record, name, va_arg (fields, const char *), &error);
      g_assert_no_error (error);
    }
  va_end (fields);
  return record;
}

gint64
scene_add (BedFarm *farm, BedRecord *record)
{
  g_autoptr (BedRecord) owned = record;
  g_autoptr (GError) error = NULL;

  bed_edit_put_one (farm, owned, "Added one", &error);
  g_assert_no_error (error);
  return bed_record_get_id (owned);
}

static void
expect (BedFarm *farm, BedRecord *record, BedFaultSeverity severity, const char *field,
        const char *words)
{
  g_autoptr (BedRecord) owned = record;
  g_autoptr (BedEdit) edit = bed_edit_new (farm);

  bed_edit_put (edit, owned);
  GPtrArray *faults = bed_edit_check (edit);
  for (guint i = 0; i < faults->len; i++)
    {
      BedFault *fault = faults->pdata[i];
      if (fault->severity == severity && g_strcmp0 (fault->field, field) == 0
          && strstr (fault->message, words))
        return;
      g_test_message ("fault at %s: %s", fault->field, fault->message);
    }
  g_test_message ("wanted at %s: %s", field, words);
  g_test_fail ();
}

void
scene_refuses (BedFarm *farm, BedRecord *record, const char *field, const char *words)
{
  expect (farm, record, BED_FAULT_ERROR, field, words);
}

void
scene_warns (BedFarm *farm, BedRecord *record, const char *field, const char *words)
{
  expect (farm, record, BED_FAULT_WARNING, field, words);
}

gint64
scene_batch (BedFarm *farm, int n)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autoptr (GError) error = NULL;

  scene_add (farm, scene_record (farm, BED_KIND_STAND, "name", "North slope", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_FELLING, "code", "F26-1", "felled_on", "2026-02-01",
                                 "stand", "North slope", "wood", "northern red oak", "leaf",
                                 "dormant", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_STRAIN, "name", "Wide one", "mushroom", "shiitake",
                                 "type", "wide-range", "run_least", "6", "run_most", "12", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SPAWN, "code", "S26-1", "strain", "Wide one",
                                 "form", "sawdust", "received_on", "2026-02-10", "mass", "10 kg",
                                 "cost", "90.00", NULL));
  gint64 batch = scene_add (farm, scene_record (farm, BED_KIND_BATCH, "code", "26A",
                                                "inoculated_on", "2026-03-01", "method", "drilled",
                                                "along", "15 cm", "between", "7.5 cm", NULL));
  scene_add (farm, scene_record (farm, BED_KIND_SPAWN_USED, "batch", "26A", "spawn", "S26-1",
                                 "mass", "2.5 kg", NULL));
  for (int i = 1; i <= n; i++)
    {
      g_autoptr (BedRecord) log = scene_record (farm, BED_KIND_LOG, "felling", "F26-1", "batch",
                                                "26A", "length", "100 cm", "small_diameter",
                                                "10 cm", "large_diameter", "12 cm", NULL);
      bed_edit_put (edit, log);
    }
  bed_edit_commit (edit, "Inoculated the logs of 26A", &error);
  g_assert_no_error (error);
  return batch;
}

char *
scene_dump (BedFarm *farm)
{
  GString *dump = g_string_new (NULL);

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      const char *table = bed_kind_get_info (kind)->name;
      g_autofree char *sql = g_strdup_printf ("SELECT * FROM \"%s\" ORDER BY id", table);
      g_autoptr (BedQuery) q = bed_query_new (farm, sql);
      while (bed_query_next (q))
        {
          g_string_append (dump, table);
          for (int c = 0; c < bed_query_n_columns (q); c++)
            {
              const char *text = bed_query_text (q, c);
              g_string_append_printf (dump, "|%s", text ? text : "");
            }
          g_string_append_c (dump, '\n');
        }
    }
  return g_string_free (dump, FALSE);
}

void
scene_lay_kept (const char *path, int version)
{
  g_autofree char *name
      = g_strdup_printf ("%s/tests/farms/schema-%d.bedlog.gz", g_getenv ("BEDLOG_SOURCE"), version);
  g_autoptr (GFile) kept = g_file_new_for_path (name);
  g_autoptr (GFile) farm = g_file_new_for_path (path);
  g_autoptr (GZlibDecompressor) unpacker = g_zlib_decompressor_new (G_ZLIB_COMPRESSOR_FORMAT_GZIP);
  g_autoptr (GError) error = NULL;
  g_autoptr (GFileInputStream) packed = g_file_read (kept, NULL, &error);

  if (error)
    g_error ("No farm of schema %d is kept in tests/farms: ./dev release writes it. (%s)", version,
             error->message);
  g_autoptr (GInputStream) bytes
      = g_converter_input_stream_new (G_INPUT_STREAM (packed), G_CONVERTER (unpacker));
  g_autoptr (GFileOutputStream) out
      = g_file_replace (farm, NULL, FALSE, G_FILE_CREATE_PRIVATE, NULL, &error);
  g_assert_no_error (error);
  g_output_stream_splice (G_OUTPUT_STREAM (out), bytes, G_OUTPUT_STREAM_SPLICE_CLOSE_TARGET, NULL,
                          &error);
  g_assert_no_error (error);
}
