/* A day of edits, undoing, doing again and putting back, two bytes a step: what to do and to
 * which area. Beside the farm runs a model in memory, changes as lists of what each area was
 * before and after; they must agree after every step, and in which steps are refused. */
#include <string.h>

#include "../ask.h"
#include "fuzz.h"
#include "fuzz_farm.h"
#include "model/farm/edit.h"
#include "model/farm/history.h"
#include "model/farm/query.h"

enum
{
  AREAS = 4,
  MOST_CHANGES = 60,
  SEQUENCES_PER_FARM = 40,
};

/* One area: 0 not there. Its shade and slope are numbers of their own. */
typedef struct
{
  gint64 id;
  int shade, width;
} Area;

typedef struct
{
  gint64 id; /* in the farm's history */
  int area;
  Area before, after;
  gboolean undone;
} Change;

static BedFarm *farm;
static Area areas[AREAS];
static Change changes[MOST_CHANGES];
static int n_changes;
static int undone[MOST_CHANGES]; /* changes that redo would take up again, the last first */
static int n_undone;

/* --- the model ------------------------------------------------------------------------ */

/* As a changeset is applied: a row must be as the change left it where it changed it, and an
 * added or removed one as a whole. */
static gboolean
turn (const Area *from, const Area *to, Area *now)
{
  if (from->id && to->id)
    {
      if (!now->id || now->id != from->id || (from->shade != to->shade && now->shade != from->shade)
          || (from->width != to->width && now->width != from->width))
        return FALSE;
      now->shade = from->shade != to->shade ? to->shade : now->shade;
      now->width = from->width != to->width ? to->width : now->width;
      return TRUE;
    }
  /* Another area of the same name may stand there by now. */
  if (memcmp (from, now, sizeof *now) != 0)
    return FALSE;
  *now = *to;
  return TRUE;
}

static void
record (int area, const Area *after)
{
  Change *change = &changes[n_changes++];

  *change = (Change){ .area = area, .before = areas[area], .after = *after };
  areas[area] = *after;
  n_undone = 0; /* work ends what could be done again */
  change->id = ask_one (farm, "SELECT max (id) FROM change", 0);
}

static void
compare (void)
{
  for (int i = 0; i < AREAS; i++)
    {
      g_autoptr (BedQuery) q
          = bed_query_new (farm, "SELECT id, shade, width FROM area WHERE name = 'Fuzz ' || ?1");
      bed_query_bind_int (q, 1, i);
      gboolean there = bed_query_next (q);
      g_assert_cmpint (there, ==, areas[i].id != 0);
      if (!there)
        continue;
      g_assert_cmpint (bed_query_int (q, 0), ==, areas[i].id);
      g_assert_cmpint (bed_query_int (q, 1), ==, areas[i].shade);
      g_assert_cmpint (bed_query_int (q, 2), ==, areas[i].width);
    }
}

/* --- steps ------------------------------------------------------------------------------ */

static void
commit (BedEdit *edit)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (bed_edit_commit (edit, "Did something", &error));
}

static void
put (int area, int shade, int width)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  g_autofree char *name = g_strdup_printf ("Fuzz %d", area);
  g_autoptr (BedRecord) put = areas[area].id
                                  ? bed_farm_load (farm, BED_KIND_AREA, areas[area].id, NULL)
                                  : bed_record_new (BED_KIND_AREA);

  g_assert_nonnull (put);
  bed_record_set_text (put, "name", name);
  bed_record_set_int (put, "shade", shade);
  bed_record_set_int (put, "width", width);
  bed_edit_put (edit, put);
  commit (edit);
  const Area after = { bed_record_get_id (put), shade, width };
  if (memcmp (&after, &areas[area], sizeof after) != 0)
    record (area, &after);
}

static void
remove_area (int area)
{
  g_autoptr (BedEdit) edit = bed_edit_new (farm);
  const Area gone = { 0 };

  if (!areas[area].id)
    return;
  bed_edit_remove (edit, BED_KIND_AREA, areas[area].id);
  commit (edit);
  record (area, &gone);
}

/* Whether the farm did what the model says it does. */
static void
agree (gboolean done, gboolean expected, const GError *error)
{
  if (!done)
    fuzz_assert_said (error);
  g_assert_cmpint (done, ==, expected);
}

static void
take_back (int which, gboolean (*step) (gint64 change, GError **error))
{
  g_autoptr (GError) error = NULL;
  Change *change = which >= 0 ? &changes[which] : NULL;
  gboolean expected = change && !change->undone
                      && turn (&change->after, &change->before, &areas[change->area]);

  gboolean done = step (change ? change->id : 0, &error);
  agree (done, expected, error);
  if (!expected)
    return;
  change->undone = TRUE;
  undone[n_undone++] = which;
}

static gboolean
undo_cb (gint64 change, GError **error)
{
  return bed_history_undo (farm, NULL, error);
}

static gboolean
put_back_cb (gint64 change, GError **error)
{
  return bed_history_put_back (farm, change, error);
}

static void
undo (void)
{
  int which = n_changes - 1;

  while (which >= 0 && changes[which].undone)
    which--;
  /* Before the first of ours lie those of the invented farm. */
  if (which >= 0)
    take_back (which, undo_cb);
}

static void
redo (void)
{
  g_autoptr (GError) error = NULL;
  Change *change = n_undone ? &changes[undone[n_undone - 1]] : NULL;
  gboolean expected = change && turn (&change->before, &change->after, &areas[change->area]);

  gboolean done = bed_history_redo (farm, NULL, &error);
  agree (done, expected, error);
  if (!expected)
    return;
  change->undone = FALSE;
  n_undone--;
}

static void
begin (void)
{
  static guint n;
  g_autofree char *name = g_strdup_printf ("history-%u.bedlog", n / SEQUENCES_PER_FARM);

  if (n++ % SEQUENCES_PER_FARM == 0)
    {
      g_clear_object (&farm);
      farm = fuzz_farm_new (name, 2);
      memset (areas, 0, sizeof areas);
    }
  n_changes = n_undone = 0;
  for (int i = 0; i < AREAS; i++)
    remove_area (i);
  n_changes = n_undone = 0;
  /* Something that is not ours to take back, whatever the sequence does. */
  put (0, 100, 1000000);
  n_changes = n_undone = 0;
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  begin ();
  for (; size >= 2 && n_changes < MOST_CHANGES - 1 && n_undone < MOST_CHANGES - 1;
       data += 2, size -= 2)
    {
      int area = data[1] % AREAS, value = 1 + data[1] / AREAS;
      switch (data[0] % 8)
        {
        case 0:
        case 1:
          put (area, value * 100, areas[area].id ? areas[area].width : 1000000);
          break;
        case 2:
          put (area, areas[area].id ? areas[area].shade : 100, value * 1000000);
          break;
        case 3:
          remove_area (area);
          break;
        case 4:
        case 5:
          undo ();
          break;
        case 6:
          redo ();
          break;
        default:
          if (n_changes > 0)
            take_back (data[1] % n_changes, put_back_cb);
        }
      compare ();
    }
  return 0;
}
