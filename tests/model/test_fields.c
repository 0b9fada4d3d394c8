#include "model/farm/farm_private.h"
#include "model_test.h"

#include "model/farm/kinds.h"

/* The table of fields and the tables of the file agree, field by field, in whatever order. */
static void
test_schema (Scene *scene, gconstpointer units)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      const BedKindInfo *info = bed_kind_get_info (kind);
      g_autofree char *sql
          = g_strdup_printf ("SELECT name, type, \"notnull\" FROM pragma_table_info ('%s')"
                             " ORDER BY cid",
                             info->name);
      g_autoptr (BedQuery) q = bed_query_new (scene->farm, sql);
      guint n = 0;

      g_assert_true (bed_query_next (q));
      g_assert_cmpstr (bed_query_text (q, 0), ==, "id");
      g_assert_null (bed_schema_get_field (kind, 0));
      while (bed_query_next (q))
        {
          const BedField *field = bed_kind_find_field (kind, bed_query_text (q, 0), NULL);
          if (!field)
            g_error ("%s.%s is in the file and not in fields.c", info->name, bed_query_text (q, 0));
          gboolean number = field->type == BED_FIELD_MEASURE || field->type == BED_FIELD_REFERENCE;
          g_assert_cmpstr (bed_query_text (q, 1), ==, number ? "INTEGER" : "TEXT");
          g_assert_cmpint (bed_query_int (q, 2), ==, field->required);
          g_assert_true (bed_schema_get_field (kind, ++n) == field);
        }
      if (n != info->n_fields)
        g_error ("fields.c has %u fields of %s, the file %u: the next file of data/schema brings "
                 "the others (DEVELOPERS.md, How to add a field)",
                 info->n_fields, info->name, n);
    }
}

static void
test_names (void)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      const BedKindInfo *info = bed_kind_get_info (kind);
      g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
      g_assert_cmpint (bed_kind_from_name (info->name), ==, kind);
      g_assert_true (!info->key || bed_kind_find_field (kind, info->key, NULL));
      for (guint i = 0; i < info->n_fields; i++)
        {
          const BedField *field = &info->fields[i];
          g_assert_true (g_regex_match_simple ("^[a-z][a-z_]*$", field->name, 0, 0));
          g_assert_true (g_hash_table_add (seen, (gpointer) field->name));
          g_assert_cmpstr (field->label, !=, NULL);
          g_assert_cmpint (field->type == BED_FIELD_CHOICE, ==, field->choices != NULL);
          g_assert_cmpint (field->lowest, <=, field->highest);
          if (field->type == BED_FIELD_REFERENCE)
            g_assert_nonnull (bed_kind_get_info (field->refers)->key);
        }
    }
}

/* Each limit lets itself in and refuses one more. */
static void
test_limits (Scene *scene, gconstpointer units)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (guint i = 0; i < bed_kind_get_info (kind)->n_fields; i++)
      {
        const BedField *field = &bed_kind_get_info (kind)->fields[i];
        if (field->type != BED_FIELD_MEASURE)
          continue;
        gboolean open = field->lowest == 0 && field->highest == 0;
        g_autoptr (GError) error = NULL;
        g_assert_true (bed_value_check_limits (scene->farm, field, field->lowest, &error));
        g_assert_false (bed_value_check_limits (scene->farm, field, field->lowest - 1, &error));
        g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID);
        g_assert_true (bed_value_check_limits (scene->farm, field, field->highest, NULL));
        g_assert_cmpint (bed_value_check_limits (scene->farm, field, field->highest + 1, NULL), ==,
                         open);
      }
}

/* Every field of every kind goes into the file and comes back the same. */
static void
test_round_trip (Scene *scene, gconstpointer units)
{
  const BedValueReading reading = { *bed_farm_get_notation (scene->farm), NULL };

  for (BedKind kind = 1; kind < BED_N_KINDS; kind++)
    for (guint i = 0; i < bed_kind_get_info (kind)->n_fields; i++)
      {
        const BedField *field = &bed_kind_get_info (kind)->fields[i];
        g_autoptr (BedRecord) record = bed_record_new (kind);
        if (field->type != BED_FIELD_MEASURE)
          continue;
        gint64 value = field->highest ? (field->lowest + field->highest) / 2 : 12345;
        bed_record_set_int (record, field->name, value);
        g_autofree char *text = bed_value_dup_csv (scene->farm, record, field->name);
        bed_record_unset (record, field->name);
        g_autoptr (GError) error = NULL;
        bed_value_parse_csv (scene->farm, record, field->name, &reading, text, &error);
        g_assert_no_error (error);
        g_assert_cmpint (bed_record_get_int (record, field->name), ==, value);
      }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/fields/schema", Scene, NULL, scene_set_up, test_schema, scene_tear_down);
  g_test_add_func ("/fields/names", test_names);
  g_test_add ("/fields/limits", Scene, NULL, scene_set_up, test_limits, scene_tear_down);
  g_test_add ("/fields/round-trip-metric", Scene, NULL, scene_set_up, test_round_trip,
              scene_tear_down);
  g_test_add ("/fields/round-trip-us", Scene, "US", scene_set_up, test_round_trip, scene_tear_down);
  return g_test_run ();
}
