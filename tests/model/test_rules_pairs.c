/* What is between two records is judged alike whichever of them is changed. */
#include "../ask.h"

#include "model_test.h"

#include <sqlite3.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"

#define RECORD(kind, ...) scene_record (scene->farm, BED_KIND_##kind, __VA_ARGS__, NULL)

typedef enum
{
  FELLING,
  SPAWN,
  BATCH,
  LOG,
  STACK,
  PLACE,
  STOOD,
  CHECK_OF_LOG,
  CHECK_OF_BATCH,
  CHECK_OF_STACK,
  WEIGHING,
  DISC_OF_FELLING,
  DISC_OF_BATCH,
  SOAK,
  LOT,
  PICK_OF_LOG,
  PICK_OF_BATCH,
  PICK_OF_STACK,
  DRYING,
  SALE,
  WATERING,
  HOURS,
  N_THINGS
} Thing;

typedef struct
{
  BedKind kind;
  gint64 id;
} Made;

typedef struct
{
  Thing early;
  const char *early_field;
  Thing late;
  const char *late_field;
  BedFaultSeverity severity;
  const char *words; /* of the sentence, a glob */
} Order;

#define E BED_FAULT_ERROR
#define W BED_FAULT_WARNING

/* The first must not be after the second. */
static const Order orders[] = {
  { FELLING, "felled_on", BATCH, "inoculated_on", E,
    "Batch * was inoculated on *, before felling *" },
  { FELLING, "felled_on", LOG, "retired_on", E,
    "Log * was retired on *, before its tree was felled *" },
  { FELLING, "felled_on", PLACE, "since", E, "Log * cannot lie in a stack *" },
  { FELLING, "felled_on", CHECK_OF_LOG, "checked_on", E,
    "Log * was checked on *, before its tree was felled *" },
  { FELLING, "felled_on", WEIGHING, "weighed_on", E, "Log * was weighed on *, before its tree *" },
  { FELLING, "felled_on", DISC_OF_FELLING, "cut_on", E, "The disc was cut on *" },
  { FELLING, "felled_on", DISC_OF_BATCH, "cut_on", E, "The disc of batch *" },
  { SPAWN, "received_on", BATCH, "inoculated_on", E,
    "Batch * was inoculated on *, before spawn lot *" },
  { BATCH, "inoculated_on", SPAWN, "use_by", W, "Spawn lot * was past its date*" },
  { BATCH, "inoculated_on", LOG, "retired_on", E, "Log * was retired on *, before batch *" },
  { BATCH, "inoculated_on", PLACE, "since", W, "Log * is stacked on *" },
  { BATCH, "inoculated_on", CHECK_OF_LOG, "checked_on", W,
    "Log * was checked on *, before its batch *" },
  { BATCH, "inoculated_on", CHECK_OF_BATCH, "checked_on", E,
    "Batch * was checked on *, before it was inoculated *" },
  { BATCH, "inoculated_on", SOAK, "put_in", E, "Log * was inoculated on *, after its soak *" },
  { BATCH, "inoculated_on", PICK_OF_LOG, "picked_on", E, "Log * was picked from on *, before *" },
  { BATCH, "inoculated_on", PICK_OF_BATCH, "picked_on", E,
    "Batch * was picked from on *, before *" },
  { BATCH, "inoculated_on", PICK_OF_LOG, "since", E, "The total of log * begins on *, before *" },
  { BATCH, "inoculated_on", PICK_OF_BATCH, "since", E,
    "The total of batch * begins on *, before *" },
  { STACK, "built_on", PICK_OF_STACK, "since", E, "The total of stack * begins on *, before *" },
  { STACK, "built_on", PLACE, "since", E, "Stack * was not there on *" },
  { STACK, "built_on", STOOD, "until", E, "Stack * stood elsewhere until *, before *" },
  { STOOD, "until", STACK, "taken_down_on", E, "Stack * was moved on *, after *" },
  { STACK, "built_on", CHECK_OF_STACK, "checked_on", E, "Stack * was checked on *, before *" },
  { STACK, "built_on", WATERING, "watered_on", E, "Stack * was watered on *, before *" },
  { STACK, "built_on", HOURS, "worked_on", W, "Work at stack *, before *" },
  { STACK, "built_on", PICK_OF_STACK, "picked_on", E, "Stack * was picked from on *, before *" },
  { PLACE, "until", STACK, "taken_down_on", E,
    "Stack * was taken down on *, and * still lie in it*" },
  { CHECK_OF_STACK, "checked_on", STACK, "taken_down_on", E, "Stack * was checked on *, after *" },
  { WATERING, "watered_on", STACK, "taken_down_on", E, "Stack * was watered on *, after *" },
  { HOURS, "worked_on", STACK, "taken_down_on", W, "Work at stack *, after *" },
  { PICK_OF_STACK, "picked_on", STACK, "taken_down_on", E,
    "Stack * was picked from on *, after *" },
  { PLACE, "since", LOG, "retired_on", E, "Log * cannot be stacked on *" },
  { CHECK_OF_LOG, "checked_on", LOG, "retired_on", W, "Log * was checked on *, after *" },
  { WEIGHING, "weighed_on", LOG, "retired_on", W, "Log * was weighed on *, after *" },
  { SOAK, "put_in", LOG, "retired_on", E, "Log * cannot be soaked on *" },
  { PICK_OF_LOG, "picked_on", LOG, "retired_on", E, "Log * cannot be from it*" },
  { PICK_OF_LOG, "picked_on", LOT, "picked_on", W, "Lot * the pick of *" },
  { LOT, "picked_on", DRYING, "dried_on", E, "Lot * was dried on *, but picked later*" },
  { LOT, "picked_on", SALE, "sold_on", E, "Sale * was on *, before lot *" },
};

static void
make (Scene *scene, Made *made)
{
  BedFarm *farm = scene->farm;
#define MAKE(thing, kind_, ...)                                                                    \
  made[thing] = (Made){ BED_KIND_##kind_, scene_add (farm, RECORD (kind_, __VA_ARGS__)) }

  made[BATCH] = (Made){ BED_KIND_BATCH, scene_batch (farm, 1) };
  made[FELLING] = (Made){ BED_KIND_FELLING, ask_one (farm, "SELECT id FROM felling", 0) };
  made[SPAWN] = (Made){ BED_KIND_SPAWN, ask_one (farm, "SELECT id FROM spawn", 0) };
  made[LOG] = (Made){ BED_KIND_LOG, ask_one (farm, "SELECT id FROM log", 0) };
  scene_add (farm, RECORD (AREA, "name", "Hollow"));
  MAKE (STACK, STACK, "name", "Crib", "area", "Hollow", "kind", "crib", "built_on", "2026-03-02");
  MAKE (PLACE, PLACE, "log", "26A-001", "stack", "Crib", "since", "2026-03-03", "until",
        "2026-05-01");
  MAKE (STOOD, STOOD, "stack", "Crib", "area", "Hollow", "until", "2026-04-01");
  MAKE (CHECK_OF_LOG, CHECK, "checked_on", "2026-04-01", "log", "26A-001");
  MAKE (CHECK_OF_BATCH, CHECK, "checked_on", "2026-04-01", "batch", "26A");
  MAKE (CHECK_OF_STACK, CHECK, "checked_on", "2026-04-01", "stack", "Crib");
  MAKE (WEIGHING, WEIGHING, "weighed_on", "2026-04-01", "log", "26A-001", "mass", "10 kg");
  MAKE (DISC_OF_FELLING, DISC, "cut_on", "2026-04-01", "felling", "F26-1", "fresh_mass", "90 g",
        "dry_mass", "50 g");
  MAKE (DISC_OF_BATCH, DISC, "cut_on", "2026-04-01", "batch", "26A", "fresh_mass", "90 g",
        "dry_mass", "50 g");
  MAKE (SOAK, SOAK, "code", "K26-1", "tank", "pond", "put_in", "2026-04-10 08:00");
  scene_add (farm, RECORD (SOAKED, "soak", "K26-1", "log", "26A-001"));
  MAKE (LOT, LOT, "code", "L260501-1-3", "picked_on", "2026-05-01");
  MAKE (PICK_OF_LOG, PICK, "picked_on", "2026-05-01", "log", "26A-001", "grade", "A", "mass", "300",
        "lot", "L260501-1");
  MAKE (PICK_OF_BATCH, PICK, "picked_on", "2026-05-01", "batch", "26A", "grade", "A", "mass",
        "300");
  MAKE (PICK_OF_STACK, PICK, "picked_on", "2026-04-20", "stack", "Crib", "grade", "A", "mass",
        "300");
  MAKE (DRYING, DRYING, "lot", "L260501-1", "dried_on", "2026-05-02", "fresh_mass", "0.1 kg",
        "dried_mass", "10 g");
  MAKE (SALE, SALE, "code", "V26-1", "sold_on", "2026-05-02");
  scene_add (farm, RECORD (LINE, "sale", "V26-1", "lot", "L260501-1", "form", "fresh", "use",
                           "culled", "mass", "0.1 kg"));
  MAKE (WATERING, WATERING, "watered_on", "2026-04-01", "stack", "Crib");
  MAKE (HOURS, HOURS, "worked_on", "2026-04-01", "task", "moving", "minutes", "1 h", "stack",
        "Crib");
}

/* A moment when the field is one. */
static char *
dup_date (const Made *made, const char *field, const char *date)
{
  return bed_kind_find_field (made->kind, field, NULL)->type == BED_FIELD_MOMENT
             ? g_strconcat (date, "T12:00", NULL)
             : g_strdup (date);
}

/* What is as it was is spared: see bed_rules_spare(). */
static gboolean
is_stored (BedFarm *farm, const Made *made, const char *field, const char *text)
{
  g_autoptr (BedRecord) record = bed_farm_load (farm, made->kind, made->id, NULL);

  return g_strcmp0 (bed_record_get_text (record, field), text) == 0;
}

/* Behind the rules' back. */
static void
store (BedFarm *farm, const Made *made, const char *field, const char *text)
{
  char *sql = sqlite3_mprintf ("UPDATE \"%w\" SET \"%w\" = %Q WHERE id = %lld",
                               bed_kind_get_info (made->kind)->name, field, text, made->id);

  g_assert_cmpint (sqlite3_exec (bed_farm_get_db (farm), sql, NULL, NULL, NULL), ==, SQLITE_OK);
  sqlite3_free (sql);
}

static void
put (BedEdit *edit, BedFarm *farm, const Made *made, const char *field, const char *text)
{
  g_autoptr (BedRecord) record = bed_farm_load (farm, made->kind, made->id, NULL);

  bed_record_set_text (record, field, text);
  if (made->kind == BED_KIND_LOG)
    bed_record_set_text (record, "retired_why", "spent");
  bed_edit_put (edit, record);
}

static gboolean
says (BedEdit *edit, const Order *order)
{
  GPtrArray *faults = bed_edit_check (edit);

  for (guint i = 0; i < faults->len; i++)
    {
      const BedFault *fault = faults->pdata[i];
      if (g_pattern_match_simple (order->words, fault->message)
          && fault->severity == order->severity)
        return TRUE;
    }
  return FALSE;
}

/* One is stored, the other comes through the door. */
static gboolean
says_at (Scene *scene, const Made *made, const Order *order, const char *early, const char *late,
         gboolean through_early)
{
  const Made *a = &made[order->early], *b = &made[order->late];
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  sqlite3 *db = bed_farm_get_db (scene->farm);
  const Made *stored = through_early ? b : a;
  const char *field = through_early ? order->late_field : order->early_field;
  g_autoptr (BedRecord) before = bed_farm_load (scene->farm, stored->kind, stored->id, NULL);

  g_assert_nonnull (db);
  store (scene->farm, stored, field, through_early ? late : early);
  if (through_early)
    put (edit, scene->farm, a, order->early_field, early);
  else
    put (edit, scene->farm, b, order->late_field, late);
  gboolean said = says (edit, order);
  store (scene->farm, stored, field, bed_record_get_text (before, field));
  return said;
}

static gboolean
says_both (Scene *scene, const Made *made, const Order *order, const char *early, const char *late,
           gboolean early_first)
{
  const Made *a = &made[order->early], *b = &made[order->late];
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);

  if (early_first)
    put (edit, scene->farm, a, order->early_field, early);
  put (edit, scene->farm, b, order->late_field, late);
  if (!early_first)
    put (edit, scene->farm, a, order->early_field, early);
  return says (edit, order);
}

static void
test_either_end (Scene *scene, gconstpointer units)
{
  Made made[N_THINGS] = { 0 };
  g_autoptr (GRand) chance = g_rand_new_with_seed (7);

  make (scene, made);
  /* Thousands of small writes, none of which must outlive the test. */
  sqlite3_exec (bed_farm_get_db (scene->farm), "PRAGMA synchronous = OFF", NULL, NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (orders); i++)
    for (int round = 0; round < 24; round++)
      {
        const Order *order = &orders[i];
        int gap = g_rand_int_range (chance, -4, 5);
        g_autofree char *day = bed_date_add ("2026-02-01", g_rand_int_range (chance, 0, 90));
        g_autofree char *other = bed_date_add (day, gap);
        g_autofree char *early = dup_date (&made[order->early], order->early_field, day);
        g_autofree char *late = dup_date (&made[order->late], order->late_field, other);
        gboolean wrong = gap < 0;

        if (is_stored (scene->farm, &made[order->early], order->early_field, early)
            || is_stored (scene->farm, &made[order->late], order->late_field, late))
          continue;
        g_test_message ("%s %s, %s %s", order->early_field, early, order->late_field, late);
        g_assert_cmpint (says_at (scene, made, order, early, late, TRUE), ==, wrong);
        g_assert_cmpint (says_at (scene, made, order, early, late, FALSE), ==, wrong);
        g_assert_cmpint (says_both (scene, made, order, early, late, TRUE), ==, wrong);
        g_assert_cmpint (says_both (scene, made, order, early, late, FALSE), ==, wrong);
      }
}

/* --- amounts -------------------------------------------------------------------- */

static BedRecord *
changed (Scene *scene, const Made *made, const char *field, const char *text)
{
  BedRecord *record = bed_farm_load (scene->farm, made->kind, made->id, NULL);
  g_autoptr (GError) error = NULL;

  bed_value_parse (scene->farm, record, field, text, &error);
  g_assert_no_error (error);
  return record;
}

/* The log is 1 m long, 12 cm at its thick end: 11.3 l. */
static void
test_too_heavy (Scene *scene, gconstpointer units)
{
  Made made[N_THINGS] = { 0 };

  make (scene, made);
  scene_refuses (scene->farm, changed (scene, &made[WEIGHING], "mass", "999 kg"), "mass",
                 "too much for log 26A-001");
  /* 1.54 times water would be 17.4 kg. */
  scene_refuses (scene->farm, changed (scene, &made[WEIGHING], "mass", "18 kg"), "mass",
                 "too much for log 26A-001");
  scene_refuses (scene->farm, changed (scene, &made[LOG], "green_mass", "18 kg"), "green_mass",
                 "too much");
  /* 1.25 times water would be 14.1 kg. */
  scene_warns (scene->farm, changed (scene, &made[WEIGHING], "mass", "15 kg"), "mass",
               "is much for log");
  scene_warns (scene->farm, changed (scene, &made[WEIGHING], "mass", "17 kg"), "mass",
               "is much for log");
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  g_autoptr (BedRecord) wet = changed (scene, &made[WEIGHING], "mass", "14 kg");
  bed_edit_put (edit, wet);
  g_assert_cmpuint (bed_edit_check (edit)->len, ==, 0);
  scene_refuses (scene->farm, changed (scene, &made[PICK_OF_LOG], "mass", "99 kg"), "mass",
                 "cannot be picked from log 26A-001");
  scene_warns (scene->farm, changed (scene, &made[PICK_OF_LOG], "mass", "6 kg"), "mass",
               "in all, more than half");
  scene_refuses (scene->farm, changed (scene, &made[LOG], "green_mass", "999 kg"), "green_mass",
                 "too much");
  /* From the log's end: 2 cm thick it can neither weigh 10 kg nor give 300 g. */
  g_autoptr (BedRecord) thin = changed (scene, &made[LOG], "small_diameter", "2 cm");
  bed_value_parse (scene->farm, thin, "large_diameter", "2 cm", NULL);
  scene_refuses (scene->farm, g_object_ref (thin), "length", "too much for log");
  bed_value_parse (scene->farm, thin, "length", "30 cm", NULL);
  scene_refuses (scene->farm, g_steal_pointer (&thin), "length", "cannot be picked");
}

static void
test_long_soak (Scene *scene, gconstpointer units)
{
  static const struct
  {
    const char *out;
    BedFaultSeverity severity;
    const char *words; /* NULL: nothing is said */
  } soaks[] = {
    { "2026-03-12 12:00", E, NULL },
    { "2026-03-13 12:00", E, NULL },
    { "2026-03-14 12:00", W, "In the tank for 96 hours" },
    { "2026-05-11 12:00", E, "In the tank for 62 days" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (soaks); i++)
    {
      g_autoptr (BedRecord) soak = RECORD (SOAK, "code", "K26-1", "tank", "pond", "put_in",
                                           "2026-03-10 12:00", "taken_out", soaks[i].out);
      g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);

      bed_edit_put (edit, soak);
      GPtrArray *faults = bed_edit_check (edit);
      g_assert_cmpuint (faults->len, ==, soaks[i].words ? 1 : 0);
      if (!soaks[i].words)
        continue;
      const BedFault *fault = faults->pdata[0];
      g_assert_cmpint (fault->severity, ==, soaks[i].severity);
      g_assert_nonnull (strstr (fault->message, soaks[i].words));
    }
}

/* A lot that is sold from does not lose its picks' mass. */
static void
assert_says (GPtrArray *faults, const char *words)
{
  gboolean said = FALSE;

  for (guint i = 0; i < faults->len; i++)
    said |= strstr (((BedFault *) faults->pdata[i])->message, words) != NULL;
  g_assert_true (said);
}

static void
test_sold_lot (Scene *scene, gconstpointer units)
{
  Made made[N_THINGS] = { 0 };

  make (scene, made);
  scene_refuses (scene->farm, changed (scene, &made[PICK_OF_LOG], "mass", "150 g"), "mass",
                 "has not so much");
  /* Nor when the pick is taken out of the lot, or away. */
  g_autoptr (BedRecord) out
      = bed_farm_load (scene->farm, BED_KIND_PICK, made[PICK_OF_LOG].id, NULL);
  bed_record_unset (out, "lot");
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  bed_edit_put (edit, out);
  assert_says (bed_edit_check (edit), "has not so much");
  g_autoptr (BedEdit) removal = bed_edit_new (scene->farm);
  bed_edit_remove (removal, BED_KIND_PICK, made[PICK_OF_LOG].id);
  assert_says (bed_edit_check (removal), "has not so much");
  g_autoptr (BedRecord) wood = changed (scene, &made[SPAWN], "form", "dowel");
  bed_value_parse (scene->farm, wood, "pieces", "1000", NULL);
  scene_refuses (scene->farm, g_steal_pointer (&wood), "form", "number of pieces");
}

/* A farm of before these rules: what is wrong in it is said, and words are changed all the
 * same, but no date or mass into what is wrong. */
static void
test_old_faults (Scene *scene, gconstpointer units)
{
  Made made[N_THINGS] = { 0 };
  g_autoptr (GError) error = NULL;

  make (scene, made);
  store (scene->farm, &made[CHECK_OF_BATCH], "checked_on", "2026-02-20");
  g_autoptr (BedRecord) noted = changed (scene, &made[BATCH], "notes", "Red tags");
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);
  bed_edit_put (edit, noted);
  g_assert_true (bed_edit_commit (edit, "Noted", &error));
  g_assert_no_error (error);
  g_assert_cmpuint (bed_edit_get_faults (edit)->len, ==, 1);
  scene_warns (scene->farm, g_object_ref (noted), "inoculated_on", "was checked on");
  bed_record_set_text (noted, "inoculated_on", "2026-03-02");
  scene_refuses (scene->farm, g_steal_pointer (&noted), "inoculated_on", "was checked on");
  scene_refuses (scene->farm, changed (scene, &made[CHECK_OF_BATCH], "checked_on", "2026-02-21"),
                 "checked_on", "was checked on");
  scene_add (scene->farm, changed (scene, &made[CHECK_OF_BATCH], "checked_on", "2026-03-21"));
}

/* All of it is new, so the rules are asked of the logs alone; what is found still stands at the
 * soak's time, where it is put right. */
static void
test_new_soak (Scene *scene, gconstpointer units)
{
  Made made[N_THINGS] = { 0 };

  make (scene, made);
  g_autoptr (BedRecord) soak = RECORD (SOAK, "code", "K26-9", "tank", "pond", "put_in",
                                       "2026-02-10 12:00", "taken_out", "2026-02-11 12:00");
  g_autoptr (BedRecord) soaked = bed_record_new (BED_KIND_SOAKED);
  g_autoptr (BedEdit) edit = bed_edit_new (scene->farm);

  bed_edit_put (edit, soak);
  bed_record_set_int (soaked, "soak", bed_record_get_id (soak));
  bed_record_set_int (soaked, "log", made[LOG].id);
  bed_edit_put (edit, soaked);
  GPtrArray *faults = bed_edit_check (edit);
  g_assert_cmpuint (faults->len, ==, 1);
  const BedFault *fault = faults->pdata[0];
  g_assert_true (fault->record == soak);
  g_assert_cmpstr (fault->field, ==, "put_in");
  g_assert_nonnull (strstr (fault->message, "after its soak"));
}

#define ADD(name, function)                                                                        \
  g_test_add (name, Scene, "metric", scene_set_up, function, scene_tear_down)

/* A soak of @n logs from the @first on; asserts that it goes in, or that it is refused in words. */
static gint64
soak_some (BedFarm *farm, const char *times, guint first, guint n, const char *words)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_auto (GStrv) parts = g_strsplit (times, "/", 3);
  g_autoptr (BedRecord) soak = scene_record (farm, BED_KIND_SOAK, "tank", parts[0], "put_in",
                                             parts[1], "taken_out", parts[2], NULL);
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT id FROM log ORDER BY id LIMIT ?2 OFFSET ?1");
  g_autoptr (GError) error = NULL;

  bed_query_bind_int (q, 1, first);
  bed_query_bind_int (q, 2, n);
  bed_edit_put (edit, soak);
  while (bed_query_next (q))
    {
      g_autoptr (BedRecord) soaked = bed_record_new (BED_KIND_SOAKED);

      bed_record_set_int (soaked, "soak", bed_record_get_id (soak));
      bed_record_set_int (soaked, "log", bed_query_int (q, 0));
      bed_edit_put (edit, soaked);
    }
  if (bed_edit_commit (edit, "Put logs into the tank", &error))
    g_assert_null (words);
  else
    g_assert_nonnull (strstr (error->message, words ? words : "-"));
  return bed_record_get_id (soak);
}

/* The tank holds 40 logs at one time, whatever soaks they are of and whichever is changed. */
static void
test_tank_holds (Scene *scene, gconstpointer units)
{
  BedFarm *farm = scene->farm;
  g_autoptr (GError) error = NULL;

  scene_batch (farm, 60);
  soak_some (farm, "Trough/2026-05-04T08:00/2026-05-05T08:00", 0, 41, "41 logs");
  soak_some (farm, "Trough/2026-05-04T08:00/2026-05-05T08:00", 0, 25, NULL);
  soak_some (farm, "trough/2026-05-04T20:00/2026-05-05T20:00", 25, 16, "41 logs");
  soak_some (farm, "Trough/2026-05-03T20:00/2026-05-04T20:00", 25, 16, "41 logs");
  soak_some (farm, "Pond/2026-05-04T20:00/2026-05-05T20:00", 25, 16, NULL);
  gint64 after = soak_some (farm, "Trough/2026-05-05T08:00/2026-05-06T08:00", 41, 16, NULL);
  soak_some (farm, "Trough/2026-05-04T09:00/2026-05-05T09:00", 57, 3, NULL);
  /* Put in an hour sooner it meets the others: 25 + 3 + 16. */
  g_autoptr (BedRecord) soak = bed_farm_load (farm, BED_KIND_SOAK, after, NULL);
  bed_record_set_text (soak, "put_in", "2026-05-05T07:00");
  g_assert_false (bed_edit_put_one (farm, soak, "Moved the soak", &error));
  g_assert_nonnull (strstr (error->message, "44 logs"));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/rules/pairs/either-end", test_either_end);
  ADD ("/rules/pairs/too-heavy", test_too_heavy);
  ADD ("/rules/pairs/long-soak", test_long_soak);
  ADD ("/rules/pairs/sold-lot", test_sold_lot);
  ADD ("/rules/pairs/old-faults", test_old_faults);
  ADD ("/rules/pairs/new-soak", test_new_soak);
  ADD ("/rules/pairs/tank-holds", test_tank_holds);
  return g_test_run ();
}
