/* A farm file made or opened: everything a farm needs is brought together here, and nothing below
 * knows of it. */
#include <glib/gstdio.h>

#include "model/farm/farm_private.h"
#include "model/farm/farm_watch.h"

#define TRY_AGAIN 50  /* ms between two tries to open what another program holds */
#define PATIENCE 5000 /* ms */

/* Every question may be asked of it. */
static gboolean
attach (BedFarm *self, GError **error)
{
  bed_functions_register (bed_farm_get_db (self), self);
  return bed_schema_attach_views (bed_farm_get_db (self), error);
}

static gboolean
open_file (BedFarm *self, GError **error)
{
  char *why = NULL;

  bed_farm_take_db (self, bed_file_open (bed_farm_get_path (self), &why, error));
  bed_farm_take_read_only_why (self, why);
  if (!bed_farm_get_db (self) || !attach (self, error) || !bed_farm_read_settings (self, error))
    return FALSE;
  bed_farm_watch_begin (self);
  return TRUE;
}

static gboolean
build (BedFarm *self, const char *built, BedRecord *settings, GError **error)
{
  sqlite3 *db = bed_db_open (built, SQLITE_OPEN_READWRITE, error);

  bed_farm_take_db (self, db);
  return db && bed_db_configure (db, error) && bed_schema_create (db, error) && attach (self, error)
         && bed_given_add (self, settings, error);
}

static BedFarm *
new_farm (const char *path, BedRecord *settings, const char *now, guint32 seed, GError **error)
{
  g_autofree char *built = bed_file_begin (path, error);
  g_autoptr (BedFarm) self = bed_farm_begin (path);
  gboolean done;

  if (!built)
    return NULL;
  if (now)
    bed_farm_fix_clock (self, now, seed);
  done = build (self, built, settings, error);
  bed_farm_take_db (self, NULL);
  if (!done || !bed_file_finish (built, path, error))
    {
      g_autofree char *journal = bed_journal_dup_path (built);
      g_unlink (built);
      g_unlink (journal);
      return NULL;
    }
  return open_file (self, error) ? g_steal_pointer (&self) : NULL;
}

BedFarm *
bed_farm_new_draft (BedRecord *settings, GError **error)
{
  g_return_val_if_fail (BED_IS_RECORD (settings), NULL);
  g_autoptr (BedFarm) self = bed_farm_begin ("");

  /* Without a name it is SQLite's own temporary file. */
  if (!build (self, "", settings, error) || !bed_farm_read_settings (self, error))
    return NULL;
  bed_farm_watch_begin (self);
  return g_steal_pointer (&self);
}

BedFarm *
bed_farm_new (const char *path, BedRecord *settings, GError **error)
{
  g_return_val_if_fail (path != NULL && BED_IS_RECORD (settings), NULL);
  return new_farm (path, settings, NULL, 0, error);
}

BedFarm *
bed_farm_new_at (const char *path, BedRecord *settings, const char *now, guint32 seed,
                 GError **error)
{
  g_return_val_if_fail (path != NULL && BED_IS_RECORD (settings) && now != NULL, NULL);
  return new_farm (path, settings, now, seed, error);
}

BedFarm *
bed_farm_open (const char *path, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autoptr (BedFarm) self = bed_farm_begin (path);

  return open_file (self, error) ? g_steal_pointer (&self) : NULL;
}

BedFarm *
bed_farm_open_patiently (const char *path, GError **error)
{
  g_return_val_if_fail (path != NULL, NULL);
  gint64 until = g_get_monotonic_time () + PATIENCE * G_TIME_SPAN_MILLISECOND;

  for (;;)
    {
      g_autoptr (GError) why = NULL;
      BedFarm *self = bed_farm_open (path, &why);

      if (self)
        bed_farm_set_patience (self, PATIENCE);
      if (self)
        return self;
      if (!g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_BUSY)
          || g_get_monotonic_time () >= until)
        {
          g_propagate_error (error, g_steal_pointer (&why));
          return NULL;
        }
      g_usleep (TRY_AGAIN * 1000);
    }
}

struct _BedFarmTwin
{
  char *path;
  char *now; /* NULL: the clock's */
};

BedFarmTwin *
bed_farm_twin_new (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), NULL);
  BedFarmTwin *twin = g_new (BedFarmTwin, 1);

  *twin = (BedFarmTwin){ g_strdup (bed_farm_get_path (self)),
                         g_strdup (bed_farm_get_fixed_now (self)) };
  return twin;
}

BedFarm *
bed_farm_twin_open (const BedFarmTwin *twin, GError **error)
{
  g_return_val_if_fail (twin != NULL, NULL);
  BedFarm *farm = bed_farm_open_patiently (twin->path, error);

  if (farm && twin->now)
    bed_farm_fix_clock (farm, twin->now, g_random_int ());
  return farm;
}

void
bed_farm_twin_free (BedFarmTwin *twin)
{
  g_free (twin->path);
  g_free (twin->now);
  g_free (twin);
}
