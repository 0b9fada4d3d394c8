/* What a check finds, and that it finds nothing where nothing is wrong. */
#include "model_test.h"

#include <gio/gio.h>
#include <glib/gstdio.h>

#include "model/check/check_private.h"
#include "model/demo/demo.h"
#include "model/farm/farm_private.h"

static void
tamper (Scene *scene, const char *sql)
{
  g_assert_cmpint (sqlite3_exec (bed_farm_get_db (scene->farm), sql, NULL, NULL, NULL), ==,
                   SQLITE_OK);
}

static BedCheckup *
check (Scene *scene)
{
  g_autoptr (GError) error = NULL;
  BedCheckup *checkup = bed_check_farm (scene->farm, BED_CHECK_ALL, NULL, &error);

  g_assert_no_error (error);
  g_assert_nonnull (checkup);
  return checkup;
}

static gboolean
says (const BedCheckup *checkup, BedCheckPart part, BedFaultSeverity severity, const char *words)
{
  for (guint i = 0; i < checkup->faults[part]->len; i++)
    {
      const BedFault *fault = checkup->faults[part]->pdata[i];
      g_test_message ("%s", fault->message);
      g_assert_true (g_utf8_validate (fault->message, -1, NULL));
      if (fault->severity == severity && strstr (fault->message, words))
        return TRUE;
    }
  return FALSE;
}

/* Every method over lives of all lengths: year by year it comes to the same. */
static void
test_equipment (Scene *scene, gconstpointer units)
{
  tamper (scene, "WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < 400)"
                 " INSERT INTO equipment (id, what, bought_on, price, salvage, life_years, share,"
                 " method) SELECT 1000 + i, 'tool ' || i, '2026-01-01', i * 7919, i * 31,"
                 " 1 + i / 4, 10000 - i, CASE i % 4 WHEN 1 THEN 'declining 150'"
                 " WHEN 2 THEN 'declining 200' WHEN 3 THEN 'years'' digits' END FROM n");
  g_autoptr (BedCheckup) checkup = check (scene);

  says (checkup, BED_CHECK_QUESTIONS, BED_FAULT_ERROR, "equipment");
  g_assert_cmpuint (checkup->looked_at[BED_CHECK_QUESTIONS], >, 20000);
  g_assert_cmpuint (checkup->faults[BED_CHECK_QUESTIONS]->len, ==, 0);
}

/* After @sql, the part says @words; and nothing was at fault before. */
static void
assert_finds (Scene *scene, const char *sql, BedCheckPart part, const char *words)
{
  g_autoptr (BedCheckup) before = check (scene);

  g_assert_cmpuint (bed_checkup_count (before, BED_FAULT_ERROR), ==, 0);
  tamper (scene, sql);
  g_autoptr (BedCheckup) after = check (scene);
  g_assert_true (says (after, part, BED_FAULT_ERROR, words));
  g_assert_cmpstr (bed_check_get_mend (part), !=, "");
}

static void
test_nothing (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 3);
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_true (bed_history_redo (scene->farm, NULL, NULL));
  g_autoptr (BedCheckup) checkup = check (scene);
  g_assert_cmpuint (bed_checkup_count (checkup, BED_FAULT_ERROR), ==, 0);
  g_assert_cmpuint (bed_checkup_count (checkup, BED_FAULT_WARNING), ==, 0);
  for (BedCheckPart part = 0; part < BED_N_CHECKS; part++)
    {
      g_assert_cmpint (checkup->looked_at[part], >, 0);
      g_assert_false (checkup->left_out[part]);
    }
}

/* A farm that another program wrote into behind Bedlog's back. */
static void
test_rules (Scene *scene, gconstpointer units)
{
  scene_batch (scene->farm, 2);
  assert_finds (scene,
                "PRAGMA foreign_keys = OFF; UPDATE batch SET method = 'purple';"
                "UPDATE felling SET felled_on = '2026-04-01';"
                "UPDATE log SET felling = 77 WHERE code LIKE '26A-002%'",
                BED_CHECK_RULES, "purple");
  g_autoptr (BedCheckup) checkup = check (scene);
  g_assert_true (says (checkup, BED_CHECK_RULES, BED_FAULT_ERROR, "before felling"));
  g_assert_true (says (checkup, BED_CHECK_REFERENCES, BED_FAULT_ERROR, "not there"));
  g_assert_true (checkup->left_out[BED_CHECK_QUESTIONS]);
}

static void
test_ids (Scene *scene, gconstpointer units)
{
  assert_finds (scene, "INSERT INTO rain (id, fell_on, depth) VALUES (-5, '2026-05-01', 3000)",
                BED_CHECK_VALUES, "rain -5");
}

static void
test_utf8 (Scene *scene, gconstpointer units)
{
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_BUYER, "name", "Co-op", NULL));
  assert_finds (scene, "UPDATE buyer SET contact = CAST (x'41ff42' AS TEXT)", BED_CHECK_VALUES,
                "not text in UTF-8");
}

static void
test_utf8_in_history (Scene *scene, gconstpointer units)
{
  assert_finds (scene, "UPDATE change SET who = CAST (x'c328' AS TEXT)", BED_CHECK_VALUES,
                "not text in UTF-8");
}

static void
test_control_characters (Scene *scene, gconstpointer units)
{
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_BUYER, "name", "Co-op", NULL));
  tamper (scene, "UPDATE buyer SET contact = 'a' || char (7) || 'b'");
  g_autoptr (BedCheckup) checkup = check (scene);
  g_assert_true (says (checkup, BED_CHECK_VALUES, BED_FAULT_WARNING, "cannot be seen"));
}

/* --- history ------------------------------------------------------------------------ */

static void
test_changed_behind_the_history (Scene *scene, gconstpointer units)
{
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_AREA, "name", "Yard", NULL));
  assert_finds (scene, "UPDATE area SET shade = 1200", BED_CHECK_HISTORY, "cannot be taken back");
}

static void
test_record_without_a_change (Scene *scene, gconstpointer units)
{
  tamper (scene, "INSERT INTO rain (id, fell_on, depth) VALUES (5, '2026-05-01', 3000)");
  g_autoptr (BedCheckup) checkup = check (scene);
  g_assert_true (says (checkup, BED_CHECK_HISTORY, BED_FAULT_WARNING, "another program"));
}

static void
test_changeset_cut_short (Scene *scene, gconstpointer units)
{
  scene_add (scene->farm, scene_record (scene->farm, BED_KIND_AREA, "name", "Yard", NULL));
  assert_finds (scene,
                "UPDATE change SET changeset = substr (changeset, 1, length (changeset) - 1)"
                " WHERE id = (SELECT max (id) FROM change)",
                BED_CHECK_HISTORY, "cannot be taken back");
  g_autoptr (GError) error = NULL;
  g_assert_false (bed_history_undo (scene->farm, NULL, &error));
  g_assert_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT);
}

static void
test_roles (Scene *scene, gconstpointer units)
{
  static const char *const tampered[] = {
    "UPDATE change SET undoes = id WHERE role = 'do'",
    "UPDATE change SET undoes = id WHERE role = 'undo'",
    "UPDATE change SET undone_by = NULL WHERE role = 'do'",
    "UPDATE change SET undone_by = id WHERE role = 'undo'",
    "UPDATE change SET role = 'redo' WHERE role = 'undo'",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (tampered); i++)
    {
      g_autofree char *name = g_strdup_printf ("Yard %u", (guint) i);
      scene_add (scene->farm, scene_record (scene->farm, BED_KIND_AREA, "name", name, NULL));
      g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
      tamper (scene, "CREATE TEMP TABLE before AS SELECT * FROM change");
      tamper (scene, tampered[i]);
      g_autoptr (BedCheckup) checkup = check (scene);
      g_assert_cmpuint (checkup->faults[BED_CHECK_HISTORY]->len, >, 0);
      tamper (scene, "UPDATE change SET (role, undoes, undone_by) = (SELECT role, undoes, undone_by"
                     " FROM before WHERE before.id = change.id); DROP TABLE before");
    }
}

/* --- questions ----------------------------------------------------------------------- */

/* Makes view @name anew, with @from of its text as @to. */
static void
change_view (Scene *scene, const char *name, const char *from, const char *to)
{
  g_autofree char *ask
      = g_strdup_printf ("SELECT sql FROM temp.sqlite_schema WHERE name = '%s'", name);
  g_autoptr (BedQuery) q = bed_query_new (scene->farm, ask);

  g_assert_true (bed_query_next (q));
  g_autoptr (GString) sql = g_string_new (bed_query_text (q, 0));
  g_assert_true (g_str_has_prefix (sql->str, "CREATE VIEW"));
  g_string_insert (sql, strlen ("CREATE"), " TEMP");
  g_assert_cmpuint (g_string_replace (sql, from, to, 0), >, 0);
  g_clear_pointer (&q, bed_query_free);
  g_autofree char *drop = g_strdup_printf ("DROP VIEW temp.\"%s\"; %s", name, sql->str);
  tamper (scene, drop);
}

/* Every view but those that ask another: a mistake in it is found by its own name. */
static void
test_wrong_view (Scene *scene, gconstpointer units)
{
  static const struct
  {
    const char *view, *from, *to;
  } mistakes[] = {
    { "spawn_left", "mass - mass_used", "mass + 1 - mass_used" },
    { "batch_cost", "sum (h.cost)", "max (h.cost)" },
    { "hours_paid", "coalesce (rate", "2 * coalesce (rate" },
    { "spawn_share", "(s.cost, u.mass", "(s.cost + 100, u.mass" },
    { "equipment_owned", "coalesce (salvage, 0)", "1" },
    { "equipment_charge", "part, n - 1)", "part, 0)" },
    { "log_waiting", "NOT EXISTS", "EXISTS" },
    { "log_forced", "b.method <> 'totem'", "b.method = 'totem'" },
    { "soak_summary", "+ 1800", "+ 3600" },
    { "log_today", "weeks), s.taken_out", "weeks), date (s.taken_out, '+400 days')" },
    { "pick_log", "count(*) FROM place y", "1 + count(*) FROM place y" },
    { "stack_today", "x.until IS NULL", "1" },
    { "lot_summary", "n.use <> 'sold'", "n.use = 'sold'" },
    { "batch_season", "bed_season (b.inoculated_on)", "1 + bed_season (b.inoculated_on)" },
    { "purchase_paid", "ELSE p.amount", "ELSE 1" },
  };
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (scene->folder, "demo.bedlog", NULL);
  const BedDemoPlan plan = { 200, 4, 1, "2026-05-12" };

  for (gsize i = 0; i < G_N_ELEMENTS (mistakes); i++)
    {
      Scene demo = { scene->folder, path,
                     i == 0 ? bed_demo_new (path, &plan, &error) : bed_farm_open (path, &error) };
      g_assert_no_error (error);
      bed_farm_fix_clock (demo.farm, "2026-05-12T09:00", 1);
      if (i == 0)
        {
          g_autoptr (BedCheckup) before = check (&demo);
          g_assert_cmpuint (bed_checkup_count (before, BED_FAULT_ERROR), ==, 0);
        }
      change_view (&demo, mistakes[i].view, mistakes[i].from, mistakes[i].to);
      g_autoptr (BedCheckup) after = check (&demo);
      g_assert_true (says (after, BED_CHECK_QUESTIONS, BED_FAULT_ERROR, mistakes[i].view));
      g_object_unref (demo.farm);
    }
  g_unlink (path);
}

static void
test_view_without_a_second_reckoning (Scene *scene, gconstpointer units)
{
  assert_finds (scene, "CREATE TEMP VIEW later AS SELECT 1", BED_CHECK_QUESTIONS, "later");
}

static void
test_cancelled (Scene *scene, gconstpointer units)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;

  g_cancellable_cancel (cancellable);
  g_assert_null (bed_check_farm (scene->farm, BED_CHECK_ALL, cancellable, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_autoptr (BedCheckup) checkup = check (scene);
  g_assert_cmpuint (bed_checkup_count (checkup, BED_FAULT_ERROR), ==, 0);
}

#define ADD(name, function)                                                                        \
  g_test_add ("/check/" name, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("nothing", test_nothing);
  ADD ("equipment", test_equipment);
  ADD ("rules", test_rules);
  ADD ("ids", test_ids);
  ADD ("utf8", test_utf8);
  ADD ("utf8-in-history", test_utf8_in_history);
  ADD ("control-characters", test_control_characters);
  ADD ("changed-behind-the-history", test_changed_behind_the_history);
  ADD ("record-without-a-change", test_record_without_a_change);
  ADD ("changeset-cut-short", test_changeset_cut_short);
  ADD ("roles", test_roles);
  ADD ("wrong-view", test_wrong_view);
  ADD ("view-without-a-second-reckoning", test_view_without_a_second_reckoning);
  ADD ("cancelled", test_cancelled);
  return g_test_run ();
}
