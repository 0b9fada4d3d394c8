/* What texts are let in, and what becomes of texts that other hands put into a farm. */
#include "../ask.h"

#include "model_test.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#include "model/csv/csv.h"
#include "model/farm/farm_private.h"
#include "model/farm/functions.h"
#include "model/farm/kinds.h"
#include "model/farm/list.h"

#define RECORD(kind, ...) scene_record (scene->farm, BED_KIND_##kind, __VA_ARGS__, NULL)

static void
run_sql (Scene *scene, const char *sql)
{
  g_assert_cmpint (sqlite3_exec (bed_farm_get_db (scene->farm), sql, NULL, NULL, NULL), ==,
                   SQLITE_OK);
}

static BedRecord *
new_stand (const char *field, const char *text)
{
  BedRecord *stand = bed_record_new (BED_KIND_STAND);

  bed_record_set_text (stand, "name", "Ridge");
  bed_record_set_text (stand, field, text);
  return stand;
}

static const struct
{
  const char *text;
  const char *says; /* NULL: it may stand */
} characters[] = {
  { "a\001b", "U+0001" },
  { "a\033[2Jb", "U+001B" },
  { "a\177b", "U+007F" },
  { "a\302\205b", "U+0085" },
  { "a\342\200\256b", "U+202E" },
  { "a\342\201\246b", "U+2066" },
  { "\357\273\277a", "U+FEFF" },
  { "a\357\277\276", "U+FFFE" },
  { "a\357\277\277", "U+FFFF" },
  { "a\364\217\277\277", "U+10FFFF" },
  { "a\357\267\220", "U+FDD0" },
  { "O\342\200\231Hara", NULL },
  { "\327\251\327\234\327\225\327\235", NULL },     /* Hebrew needs no marks */
  { "\344\270\211\345\217\267\346\236\227", NULL }, /* Chinese */
  { "\360\237\215\204", NULL },                     /* a mushroom, beyond the first plane */
  { "a\342\200\215b", NULL },                       /* joiners are part of words */
};

static void
test_characters (Scene *scene, gconstpointer units)
{
  for (guint i = 0; i < G_N_ELEMENTS (characters); i++)
    for (int note = 0; note < 2; note++)
      {
        const char *field = note ? "notes" : "owner";
        g_autoptr (BedRecord) stand = new_stand (field, characters[i].text);
        g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);

        bed_edit_put (edit, stand);
        GPtrArray *faults = bed_edit_check (edit);
        g_assert_cmpuint (faults->len, ==, characters[i].says ? 1 : 0);
        if (characters[i].says)
          scene_refuses (scene->farm, g_steal_pointer (&stand), field, characters[i].says);
      }
}

static void
test_lines (Scene *scene, gconstpointer units)
{
  static const char *const ends[] = { "\n", "\r\n", "\t", "\342\200\250", "\342\200\251" };

  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      g_autofree char *text = g_strconcat ("a", ends[i], "b", NULL);
      g_autofree char *name = g_strdup_printf ("Stand %u", i);
      g_autoptr (BedRecord) noted = new_stand ("notes", text);

      scene_refuses (scene->farm, new_stand ("owner", text), "owner", "one line only");
      bed_record_set_text (noted, "name", name);
      scene_add (scene->farm, g_steal_pointer (&noted));
    }
}

/* Every text of every kind has a length, and it is counted in characters, not in bytes. */
static void
test_lengths (Scene *scene, gconstpointer units)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (guint f = 0; f < bed_kind_get_info (kind)->n_fields; f++)
      {
        const BedField *field = &bed_kind_get_info (kind)->fields[f];
        if (field->type != BED_FIELD_TEXT && field->type != BED_FIELD_NOTE)
          {
            g_assert_cmpuint (field->longest, ==, 0);
            continue;
          }
        g_assert_cmpuint (field->longest, >=, 40);
        /* How a wide sheet is read is longer than what people write. */
        g_assert_cmpuint (field->longest, <=, kind == BED_KIND_MATCHING ? 40000 : 4000);
        for (guint more = 0; more < 2; more++)
          {
            g_autoptr (GString) text = g_string_new (NULL);
            g_autoptr (BedRecord) record = bed_record_new (kind);
            g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
            gboolean said = FALSE;

            for (guint c = 0; c < field->longest + more; c++)
              g_string_append (text, "\303\244");
            bed_record_set_text (record, field->name, text->str);
            bed_edit_put (edit, record);
            GPtrArray *faults = bed_edit_check (edit);
            for (guint i = 0; i < faults->len; i++)
              said |= strstr (((BedFault *) faults->pdata[i])->message, "are too many") != NULL;
            g_assert_cmpint (said, ==, more);
          }
      }
}

static void
test_import (Scene *scene, gconstpointer units)
{
  g_autofree char *path = g_build_filename (scene->folder, "stand.csv", NULL);
  g_autofree char *wide = g_strnfill (201, 'x');
  g_autofree char *csv = g_strdup_printf ("name,owner\nRidge,a\342\200\256b\nBrook,%s\n", wide);
  BedImport import = { BED_KIND_STAND, path, BED_IMPORT_WRITE };
  g_autoptr (GPtrArray) faults = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (g_file_set_contents (path, csv, -1, NULL));
  g_assert_cmpint (bed_csv_import (scene->farm, &import, &faults, &error), ==, -1);
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_cmpuint (faults->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const BedCsvFault *fault = faults->pdata[i];
      g_assert_cmpuint (fault->line, ==, 2 + i);
      g_assert_cmpuint (fault->column, ==, 2);
    }
  g_unlink (path);
}

/* A record that holds such text already is changed elsewhere, and says so; the text itself
 * is changed only into a good one. */
static void
test_old_texts (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 id = scene_add (scene->farm, new_stand ("owner", "Ann"));

  run_sql (scene, "UPDATE stand SET owner = 'A' || char (8238) || 'nn'");
  g_autoptr (BedRecord) stand = bed_farm_load (scene->farm, BED_KIND_STAND, id, &error);
  bed_value_parse (scene->farm, stand, "area", "2 ha", &error);
  scene_warns (scene->farm, g_object_ref (stand), "owner", "U+202E");
  g_assert_true (bed_edit_put_one (scene->farm, stand, "Measured", &error));
  g_assert_cmpint (strlen (bed_record_get_text (stand, "owner")), ==, 6);
  bed_record_set_text (stand, "owner", "B\342\200\256nn");
  scene_refuses (scene->farm, g_object_ref (stand), "owner", "U+202E");
  bed_record_set_text (stand, "owner", "Ann");
  g_assert_true (bed_edit_put_one (scene->farm, stand, "Mended", &error));
}

/* STRICT text columns take any bytes. */
static void
test_bytes (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 id = scene_add (scene->farm, new_stand ("owner", "Ann"));
  g_autofree char *csv = g_build_filename (scene->folder, "stand.csv", NULL);
  g_autofree char *text = NULL;

  run_sql (scene, "UPDATE stand SET name = cast (x'52ff69c3' AS TEXT),"
                  " owner = cast (x'e282' AS TEXT)");
  g_autoptr (BedRecord) stand = bed_farm_load (scene->farm, BED_KIND_STAND, id, &error);
  g_assert_cmpstr (bed_record_get_text (stand, "name"), ==, "R\357\277\275i\357\277\275");
  g_autofree char *name = bed_farm_dup_name (scene->farm, BED_KIND_STAND, id);
  g_assert_cmpstr (name, ==, bed_record_get_text (stand, "name"));
  g_autoptr (BedQuery) q = bed_query_new (scene->farm, "SELECT name, owner FROM stand");
  g_assert_true (bed_query_next (q));
  const char *first = bed_query_text (q, 0);
  g_assert_true (g_utf8_validate (bed_query_text (q, 1), -1, NULL));
  g_assert_cmpstr (first, ==, name);
  g_assert_cmpint (ask_one (scene->farm, "SELECT bed_found (name, 'x') FROM stand", 0), ==, 0);
  g_assert_cmpint (bed_csv_export (scene->farm, BED_KIND_STAND, csv, &error), ==, 1);
  g_assert_true (g_file_get_contents (csv, &text, NULL, NULL));
  g_assert_true (g_utf8_validate (text, -1, NULL));
  g_unlink (csv);
  scene_refuses (scene->farm, new_stand ("notes", "a\357\277\276"), "notes", "U+FFFE");
}

/* Whatever stands in the settings, the name, the money and the season can be told. */
static void
test_settings (Scene *scene, gconstpointer units)
{
  static const char *const odd[] = { "''", "'  '", "'usd'", "'EURO'", "x'ff' || ''", "'12$'" };

  for (guint i = 0; i < G_N_ELEMENTS (odd); i++)
    {
      g_autofree char *sql = g_strdup_printf (
          "UPDATE farm SET name = '', currency = cast (%s AS TEXT), season_start = '02-30'",
          odd[i]);

      run_sql (scene, sql);
      scene_reopen (scene);
      BedRecord *settings = bed_farm_get_settings (scene->farm);
      g_autofree char *first = bed_season_first (scene->farm, 2026);
      const BedField *labour = bed_kind_find_field (BED_KIND_FARM, "labour_rate", NULL);
      g_assert_cmpstr (bed_record_get_text (settings, "currency"), ==, BED_CURRENCY_NONE);
      g_assert_nonnull (bed_record_get_text (settings, "name"));
      g_assert_cmpstr (bed_value_get_unit (scene->farm, labour), ==, BED_CURRENCY_NONE);
      g_assert_cmpstr (first, ==, "2026-02-28");
      g_assert_cmpint (bed_season_of (scene->farm, "2026-02-27"), ==, 2025);
      g_assert_cmpint (bed_season_of (scene->farm, "2026-02-28"), ==, 2026);
    }
}

/* ... and what is odd in them holds up nothing else, and can be put right. */
static void
test_settings_mended (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;

  run_sql (scene, "UPDATE farm SET season_start = '04-31', currency = ''");
  scene_reopen (scene);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (scene->farm));
  bed_record_set_text (settings, "contact", "At the gate");
  g_assert_true (bed_edit_put_one (scene->farm, settings, "Changed the contact", &error));
  g_assert_no_error (error);
  bed_record_set_text (settings, "season_start", "04-30");
  bed_record_set_text (settings, "currency", "EUR");
  g_assert_true (bed_edit_put_one (scene->farm, settings, "Set the season", &error));
  g_assert_no_error (error);
}

/* --- putting back ------------------------------------------------------------------ */

static gint64
newest_change (Scene *scene)
{
  return ask_one (scene->farm, "SELECT max (id) FROM change", 0);
}

/* The older of two changes breaks a rule once the later one stands. */
static void
test_put_back_asks (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 id = scene_batch (scene->farm, 1);
  g_autoptr (BedRecord) batch = bed_farm_load (scene->farm, BED_KIND_BATCH, id, &error);

  bed_record_set_text (batch, "inoculated_on", "2026-02-20");
  g_assert_true (bed_edit_put_one (scene->farm, batch, "Moved the batch", &error));
  gint64 moved = newest_change (scene);
  scene_add (scene->farm, RECORD (CHECK, "checked_on", "2026-02-22", "batch", "26A"));
  g_autofree char *before = scene_dump (scene->farm);
  g_assert_false (bed_history_put_back (scene->farm, moved, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "was checked on 22 Feb 2026, before"));
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpint (newest_change (scene), >, moved);
  g_assert_false (
      ask_one (scene->farm, "SELECT undone_by IS NOT NULL FROM change WHERE id = ?1", moved));
  g_clear_error (&error);
  /* In order it goes. */
  g_assert_true (bed_history_undo (scene->farm, NULL, &error));
  g_assert_true (bed_history_put_back (scene->farm, moved, &error));
  g_assert_no_error (error);
}

/* A text of before these rules does not come back, and nothing is written. */
static void
test_undo_asks (Scene *scene, gconstpointer units)
{
  g_autoptr (GError) error = NULL;
  gint64 id = scene_add (scene->farm, new_stand ("owner", "Ann"));

  run_sql (scene, "UPDATE stand SET owner = 'A' || char (8238) || 'nn'");
  g_autoptr (BedRecord) stand = bed_farm_load (scene->farm, BED_KIND_STAND, id, &error);
  bed_record_set_text (stand, "owner", "Ann");
  g_assert_true (bed_edit_put_one (scene->farm, stand, "Mended the owner", &error));
  g_autofree char *before = scene_dump (scene->farm);
  g_assert_false (bed_history_undo (scene->farm, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "U+202E"));
  g_autofree char *after = scene_dump (scene->farm);
  g_assert_cmpstr (before, ==, after);
}

#define ADD(name, function)                                                                        \
  g_test_add (name, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/texts/characters", test_characters);
  ADD ("/texts/lines", test_lines);
  ADD ("/texts/lengths", test_lengths);
  ADD ("/texts/import", test_import);
  ADD ("/texts/old-texts", test_old_texts);
  ADD ("/texts/bytes", test_bytes);
  ADD ("/texts/settings", test_settings);
  ADD ("/texts/settings-mended", test_settings_mended);
  ADD ("/texts/put-back-asks", test_put_back_asks);
  ADD ("/texts/undo-asks", test_undo_asks);
  return g_test_run ();
}
