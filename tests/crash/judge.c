#include "judge.h"

#include "../model/model_test.h"
#include "model/check/check.h"

/* --- what should be --------------------------------------------------------------------- */

Judge *
judge_new (const Deed *deed)
{
  Judge *self = g_new0 (Judge, 1);

  self->deed = deed;
  self->digests = g_new0 (char *, deed->n_steps + 2);
  self->copies = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->sound = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return self;
}

void
judge_free (Judge *self)
{
  for (guint i = 0; i <= self->deed->n_steps; i++)
    g_free (self->digests[i]);
  g_free (self->digests);
  g_hash_table_unref (self->copies);
  g_hash_table_unref (self->sound);
  g_free (self);
}

static gboolean
is_known (Judge *self, const char *digest, guint from, guint to)
{
  for (guint i = from; i <= MIN (to, self->deed->n_steps); i++)
    if (g_strcmp0 (self->digests[i], digest) == 0)
      return TRUE;
  return FALSE;
}

/* --- one farm ------------------------------------------------------------------------------- */

/* The demo farms of schema 1 and 2 gave things away for one minor unit, which check has listed
 * since; nothing that is done here writes such a line. */
static gboolean
is_old_gift (const BedFault *fault)
{
  BedRecord *record = fault->record;

  return record && bed_record_get_kind (record) == BED_KIND_LINE
         && g_strcmp0 (fault->field, "price") == 0 && bed_record_get_int (record, "price") == 1
         && g_strcmp0 (bed_record_get_text (record, "use"), "sold") != 0;
}

char *
judge_soundness (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCheckup) checkup = bed_check_farm (farm, BED_CHECK_USUAL, NULL, &error);

  if (!checkup)
    return g_strdup_printf ("check: %s", error->message);
  for (guint part = 0; part < BED_N_CHECKS; part++)
    for (guint i = 0; i < checkup->faults[part]->len; i++)
      {
        const BedFault *fault = checkup->faults[part]->pdata[i];
        if (fault->severity == BED_FAULT_ERROR && !is_old_gift (fault))
          return g_strdup_printf ("check: %s", fault->message);
      }
  return NULL;
}

/* Back and forward again: what the records say is as it was. */
static char *
undo_and_redo (BedFarm *farm)
{
  g_autofree char *sentence = bed_history_dup_sentence (farm, bed_history_find_undo (farm));
  g_autofree char *before = scene_dump (farm), *after = NULL;
  g_autoptr (GError) error = NULL;

  if (!sentence)
    return NULL;
  bed_farm_fix_clock (farm, "2026-05-14T10:00", 4);
  if (!bed_history_undo (farm, NULL, &error) || !bed_history_redo (farm, NULL, &error))
    return g_strdup_printf ("undo: %s", error->message);
  after = scene_dump (farm);
  return strcmp (before, after) == 0 ? NULL : g_strdup ("undo and redo changed the records");
}

/* By its bytes, so that thousands of cuts that end in the same file are judged once. */
static gboolean
is_judged (Judge *self, const char *path)
{
  char *data;
  gsize size;

  if (!g_file_get_contents (path, &data, &size, NULL))
    return FALSE;
  char *sum = g_compute_checksum_for_data (G_CHECKSUM_SHA1, (guchar *) data, size);
  g_free (data);
  return !g_hash_table_add (self->sound, sum);
}

static char *
judge_farm (Judge *self, BedFarm *farm, guint acked)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = farm_digest (farm, &error);

  if (!digest)
    return g_strdup_printf ("reading: %s", error->message);
  if (!is_known (self, digest, acked, acked + 1))
    {
      if (acked && is_known (self, digest, 0, acked - 1))
        return g_strdup ("what had been said to be done is lost");
      return g_strdup ("something is there by half");
    }
  if (is_judged (self, bed_farm_get_path (farm)))
    return NULL;
  char *fault = judge_soundness (farm);
  return fault ? fault : undo_and_redo (farm);
}

/* --- the folder ------------------------------------------------------------------------------- */

/* No farm had been there for sure: it may be made (again). */
static char *
judge_none (const char *path)
{
  g_autoptr (BedRecord) settings = scene_settings ("metric");
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_farm_new_at (path, settings, "2026-05-12T09:00", 1, &error);

  return farm ? NULL : g_strdup_printf ("new, again: %s", error->message);
}

/* Each is whole, whatever its name. */
static char *
judge_copy (Judge *self, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_farm_open (path, &error);

  if (!farm)
    return g_strdup_printf ("copy: %s", error->message);
  g_autofree char *digest = farm_digest (farm, &error);
  if (!digest)
    return g_strdup_printf ("copy: %s", error->message);
  return is_known (self, digest, 0, self->deed->n_steps)
                 || g_hash_table_contains (self->copies, digest)
             ? NULL
             : g_strdup ("a copy of the farm is not as the farm ever was");
}

static char *
judge_copies (Judge *self, const char *folder, guint acked)
{
  g_autofree char *kept = g_build_filename (folder, "Hill backups", NULL);
  g_autoptr (GDir) dir = g_dir_open (kept, 0, NULL);
  guint n = 0, wanted = self->deed->copies ? self->deed->copies (acked) : 0;
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (kept, name, NULL);
      if (!g_str_has_suffix (name, ".bedlog"))
        continue;
      char *fault = judge_copy (self, path);
      if (fault)
        return fault;
      n++;
    }
  return n >= wanted ? NULL
                     : g_strdup_printf ("%u of %u copies of the farm are lost", wanted - n, wanted);
}

char *
judge_site (Judge *self, const char *folder, guint acked)
{
  g_autofree char *path = g_build_filename (folder, "Hill.bedlog", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_farm_open (path, &error);

  if (!farm)
    return !self->digests[0] && acked == 0 ? judge_none (path)
                                           : g_strdup_printf ("open: %s", error->message);
  char *fault = judge_farm (self, farm, acked);
  return fault ? fault : judge_copies (self, folder, acked);
}
