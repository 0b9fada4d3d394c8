/* Hostile text through the door, the history, the rules, CSV and the questions. */
#include "plant.h"

#include <glib/gstdio.h>
#include <string.h>

#include "model/check/check.h"
#include "model/csv/csv.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/work/due.h"

/* What is stored is what was typed, in every field, and the schema is the one it was. */
static void
test_stored (Plant *plant, gconstpointer data)
{
  BedFarm *farm = plant->scene.farm;
  guint n = 0;

  for (guint text = 0; text < plant_n_texts (); text++)
    for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
      {
        const BedKindInfo *info = bed_kind_get_info (kind);
        g_autoptr (BedRecord) record = NULL;

        if (!plant->ids[text][kind])
          continue;
        record = bed_farm_load (farm, kind, plant->ids[text][kind], NULL);
        g_assert_nonnull (record);
        for (guint i = 0; i < info->n_fields; i++)
          if (plant_is_free (kind, &info->fields[i]))
            {
              const char *name = info->fields[i].name;
              g_autofree char *planted = plant_dup_planted (kind, name, text);
              g_autofree char *shown = bed_value_dup_text (farm, record, name);
              g_autofree char *said = bed_value_dup_sentence (farm, record, name);

              g_assert_cmpstr (bed_record_get_text (record, name), ==, planted);
              g_assert_cmpstr (shown, ==, planted);
              g_assert_cmpstr (said, ==, planted);
              n++;
            }
      }
  g_test_message ("%u records, %u texts in %u fields", plant->n_records, plant_n_texts (),
                  plant_n_fields ());
  g_assert_cmpuint (n, >, 2000);
}

static char *
dump_schema (BedFarm *farm)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT sql FROM sqlite_schema ORDER BY name");
  GString *schema = g_string_new (NULL);

  while (bed_query_next (q))
    g_string_append_printf (schema, "%s\n", bed_query_text (q, 0) ? bed_query_text (q, 0) : "");
  return g_string_free (schema, FALSE);
}

/* A farm nobody planted anything in has the same tables. */
static void
test_schema (Plant *plant, gconstpointer data)
{
  Scene plain;

  scene_set_up (&plain, "metric");
  g_autofree char *before = dump_schema (plain.farm);
  g_autofree char *after = dump_schema (plant->scene.farm);
  g_assert_cmpstr (before, ==, after);
  scene_tear_down (&plain, NULL);
}

/* Text fields that have a form of their own take no other text. */
static void
test_formed (Plant *plant, gconstpointer data)
{
  guint n = 0;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (guint i = 0; i < bed_kind_get_info (kind)->n_fields; i++)
      {
        const BedField *field = &bed_kind_get_info (kind)->fields[i];

        if (field->type != BED_FIELD_TEXT || plant_is_free (kind, field))
          continue;
        for (guint text = 0; text < plant_n_texts (); text++)
          {
            gint64 id = kind == BED_KIND_FARM ? 1 : plant->ids[text][kind];
            g_autoptr (BedRecord) record = bed_farm_load (plant->scene.farm, kind, id, NULL);
            g_autoptr (GError) error = NULL;

            bed_record_set_text (record, field->name, plant_text (text));
            g_assert_false (bed_edit_put_one (plant->scene.farm, record, "Broken", &error));
            g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
            n++;
          }
      }
  g_assert_cmpuint (n, >=, plant_n_texts ());
}

/* Who asks for a record by its planted name gets that one; what is near is named literally. */
static void
test_found (Plant *plant, gconstpointer data)
{
  BedFarm *farm = plant->scene.farm;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      const char *key = bed_kind_get_info (kind)->key;

      for (guint text = 0; key && text < plant_n_texts () && plant->ids[text][kind]; text++)
        {
          g_autofree char *planted = plant_dup_planted (kind, key, text);
          g_autofree char *name = bed_farm_dup_name (farm, kind, plant->ids[text][kind]);
          g_autofree char *wrong = g_strconcat (planted, "!", NULL);
          g_autoptr (GError) error = NULL;

          g_assert_cmpstr (name, ==, planted);
          g_assert_cmpint (bed_farm_find (farm, kind, planted, NULL), ==, plant->ids[text][kind]);
          g_assert_cmpint (bed_farm_find (farm, kind, wrong, &error), ==, 0);
          g_assert_nonnull (strstr (error->message, wrong));
          plant_check ("not found", error->message);
        }
    }
  g_assert_cmpuint (plant_n_met (), >, 400);
}

static void
check_faults (GPtrArray *faults)
{
  for (guint i = 0; i < faults->len; i++)
    plant_check ("rule", ((BedFault *) faults->pdata[i])->message);
}

/* What the rules say holds the text as it is: twice the name, in use, and every rule over all. */
static void
test_rules (Plant *plant, gconstpointer data)
{
  BedFarm *farm = plant->scene.farm;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (guint text = 0; text < plant_n_texts () && plant->ids[text][kind]; text++)
      {
        g_autoptr (BedRecord) again = bed_farm_load (farm, kind, plant->ids[text][kind], NULL);
        g_autoptr (BedEdit) twice = bed_edit_new (farm);
        g_autoptr (BedEdit) gone = bed_edit_new (farm);

        bed_record_set_id (again, 0);
        bed_edit_put (twice, again);
        check_faults (bed_edit_check (twice));
        bed_edit_remove (gone, kind, plant->ids[text][kind]);
        check_faults (bed_edit_check (gone));
      }
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_ALL, NULL, NULL);
  g_assert_nonnull (checkup);
  for (BedCheckPart part = 0; part < BED_N_CHECKS; part++)
    check_faults (checkup->faults[part]);
  g_assert_cmpuint (plant_n_met (), >, 400);
}

/* The history says every text literally, and takes the planting back and does it again. */
static void
test_history (Plant *plant, gconstpointer data)
{
  BedFarm *farm = plant->scene.farm;
  g_autoptr (GPtrArray) changes = bed_history_list (farm, 0, NULL);
  g_autofree char *before = scene_dump (farm);

  for (guint i = 0; i < changes->len; i++)
    {
      BedChange *change = changes->pdata[i];
      g_autoptr (GPtrArray) all = bed_history_differences (farm, change->id);

      plant_check ("sentence", change->sentence);
      for (guint d = 0; d < all->len; d++)
        {
          BedDifference *difference = all->pdata[d];
          plant_check ("record", difference->record);
          plant_check ("from", difference->from ? difference->from : "");
          plant_check ("to", difference->to ? difference->to : "");
        }
    }
  g_assert_cmpuint (plant_n_met (), >, (plant_n_fields () - 10) * plant_n_texts ());
  for (guint i = 0; i < 5; i++)
    {
      g_autofree char *sentence = NULL;
      g_assert_true (bed_history_undo (farm, &sentence, NULL));
      plant_check ("undone", sentence);
    }
  for (guint i = 0; i < 5; i++)
    g_assert_true (bed_history_redo (farm, NULL, NULL));
  g_autofree char *after = scene_dump (farm);
  g_assert_cmpstr (before, ==, after);
}

/* Every column of every view. */
static void
test_views (Plant *plant, gconstpointer data)
{
  BedFarm *farm = plant->scene.farm;
  g_autoptr (BedQuery) views = bed_query_new (
      farm, "SELECT name FROM sqlite_temp_schema WHERE type = 'view' ORDER BY name");

  while (bed_query_next (views))
    {
      const char *view = bed_query_text (views, 0);
      g_autofree char *sql = g_strdup_printf ("SELECT * FROM \"%s\"", view);
      g_autoptr (BedQuery) q = bed_query_new (farm, sql);

      while (bed_query_next (q))
        for (int i = 0; i < bed_query_n_columns (q); i++)
          plant_check (view, bed_query_text (q, i) ? bed_query_text (q, i) : "");
      g_assert_true (bed_query_finish (q, NULL));
    }
  g_assert_cmpuint (plant_n_met (), >, 300);
}

/* A task is on the list under its own words, also one that begins as the marks of what was put
 * off do. */
static void
test_due (Plant *plant, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) due = bed_due_list (plant->scene.farm, &error);
  guint tasks = 0;

  g_assert_no_error (error);
  for (guint i = 0; i < due->len; i++)
    {
      BedDueItem *item = due->pdata[i];
      tasks += item->rule->id == BED_DUE_TASK;
      plant_check ("due", item->subject);
      plant_check ("due", item->detail ? item->detail : "");
    }
  g_assert_cmpuint (tasks, ==, plant_n_texts ());
}

/* Out as CSV, into a new farm, out again: the same bytes; no cell begins as a formula does. */
static void
test_csv (Plant *plant, gconstpointer data)
{
  Scene other;
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *out = g_build_filename (plant->scene.folder, "out", NULL);
  g_autofree char *again = g_build_filename (plant->scene.folder, "again", NULL);
  g_autofree char *texts = plant_write_texts (plant->scene.folder);
  int written, read;

  scene_set_up (&other, "metric");
  bed_farm_fix_clock (other.farm, "2026-05-12T10:00", 99);
  written = bed_csv_export_all (plant->scene.farm, out, &error);
  g_assert_no_error (error);
  read = bed_csv_import_all (other.farm, &(BedImport){ .path = out, .mode = BED_IMPORT_WRITE },
                             &faults, &error);
  for (guint i = 0; faults && error && i < MIN (faults->len, 20); i++)
    g_test_message ("%s", ((BedCsvFault *) faults->pdata[i])->message);
  g_assert_no_error (error);
  g_assert_cmpint (written, ==, read);
  g_assert_cmpint (bed_csv_export_all (other.farm, again, &error), ==, written);
  guint met = 0;
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *name = g_strconcat (bed_kind_get_info (kind)->name, ".csv", NULL);
      g_autofree char *one = g_build_filename (out, name, NULL);
      g_autofree char *two = g_build_filename (again, name, NULL);

      if (g_file_test (one, G_FILE_TEST_EXISTS))
        met += plant_follow ("csv", texts, one, two, NULL);
    }
  g_test_message ("%u fields and texts in CSV", met);
  g_assert_cmpuint (met, >=, (plant_n_fields () - 6) * plant_n_texts ());
  scene_tear_down (&other, NULL);
}

#define ADD(name, function)                                                                        \
  g_test_add ("/plant/model/" name, Plant, NULL, plant_set_up, function, plant_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("stored", test_stored);
  ADD ("schema", test_schema);
  ADD ("formed", test_formed);
  ADD ("found", test_found);
  ADD ("rules", test_rules);
  ADD ("history", test_history);
  ADD ("views", test_views);
  ADD ("due", test_due);
  ADD ("csv", test_csv);
  return g_test_run ();
}
