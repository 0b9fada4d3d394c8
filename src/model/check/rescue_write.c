/* The records that were read, written into the tables of a sound farm. */
#include "model/check/rescue_private.h"

#include <glib/gi18n-lib.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"

/* How many numbers a name that is there already is tried with. */
#define MOST_TRIES 99

typedef struct
{
  sqlite3 *db;
  BedRescueRead *read;
  BedRescue *rescue;
  sqlite3_stmt *insert;
} Writer;

/* References to what was not saved: left out, or the record cannot be kept. */
static gboolean
settle_references (Writer *self, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      if (field->type != BED_FIELD_REFERENCE || !bed_record_has (record, field->name))
        continue;
      gint64 other = bed_record_get_int (record, field->name);
      if (g_hash_table_contains (self->read->records[field->refers], &other))
        continue;
      g_autofree char *why = g_strdup_printf (_ ("it belongs to what could not be saved (%s %lld)"),
                                              _ (bed_kind_get_info (field->refers)->singular),
                                              (long long) other);
      if (field->required)
        {
          bed_rescue_note (self->rescue->notes, BED_RESCUE_LOST, kind, bed_record_get_id (record),
                           "%s.", why);
          return FALSE;
        }
      bed_record_unset (record, field->name);
      bed_rescue_note (self->rescue->notes, BED_RESCUE_CHANGED, kind, bed_record_get_id (record),
                       _ ("%s is left out: %s."), _ (field->label), why);
    }
  return TRUE;
}

/* A required text that is empty in the file would read as missing. */
static gboolean
settle_required (Writer *self, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedField *field = &info->fields[i];
      if (!field->required || bed_record_has (record, field->name))
        continue;
      bed_rescue_note (self->rescue->notes, BED_RESCUE_LOST, kind, bed_record_get_id (record),
                       _ ("%s could not be read, and none is kept without it."), _ (field->label));
      return FALSE;
    }
  return TRUE;
}

static int
step (Writer *self, BedRecord *record)
{
  int status = bed_schema_bind (self->insert, record);
  if (status == SQLITE_OK)
    status = sqlite3_step (self->insert);
  sqlite3_reset (self->insert);
  return status;
}

/* Under another name, where the name is there already. */
static int
step_renamed (Writer *self, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const char *key = bed_kind_get_info (kind)->key;
  g_autofree char *name = key ? g_strdup (bed_record_get_text (record, key)) : NULL;
  int status = SQLITE_CONSTRAINT;

  for (guint i = 2; name && i <= MOST_TRIES && status == SQLITE_CONSTRAINT; i++)
    {
      g_autofree char *other = g_strdup_printf ("%s (%u)", name, i);
      bed_record_set_text (record, key, other);
      status = step (self, record);
      if (status == SQLITE_DONE)
        bed_rescue_note (self->rescue->notes, BED_RESCUE_CHANGED, kind, bed_record_get_id (record),
                         _ ("“%s” is there twice; this one is “%s” now."), name, other);
    }
  return status;
}

/* FALSE when the new file cannot be written at all. */
static gboolean
write_one (Writer *self, BedRecord *record, gboolean *saved, GError **error)
{
  BedKind kind = bed_record_get_kind (record);
  int status = SQLITE_CONSTRAINT;

  *saved = FALSE;
  if (!settle_references (self, record) || !settle_required (self, record))
    return TRUE;
  status = step (self, record);
  if (status == SQLITE_CONSTRAINT)
    status = step_renamed (self, record);
  *saved = status == SQLITE_DONE;
  if (status == SQLITE_CONSTRAINT)
    bed_rescue_note (self->rescue->notes, BED_RESCUE_LOST, kind, bed_record_get_id (record),
                     _ ("Another of the same day or place is saved, and there may be only one."));
  else if (status != SQLITE_DONE)
    bed_db_set_error (self->db, error, _ ("writing the new farm"), _ ("the new farm"));
  return *saved || status == SQLITE_CONSTRAINT;
}

static int
compare_ids (gconstpointer a, gconstpointer b)
{
  gint64 x = **(const gint64 *const *) a, y = **(const gint64 *const *) b;

  return x < y ? -1 : x > y;
}

static gboolean
write_kind (Writer *self, BedKind kind, GError **error)
{
  GHashTable *records = self->read->records[kind];
  guint n = 0;
  g_autofree gpointer *ids = g_hash_table_get_keys_as_array (records, &n);
  const char *sql = bed_schema_get_insert (kind);
  gboolean done = TRUE;

  if (sqlite3_prepare_v2 (self->db, sql, -1, &self->insert, NULL) != SQLITE_OK)
    {
      bed_db_set_error (self->db, error, _ ("writing the new farm"), _ ("the new farm"));
      return FALSE;
    }
  qsort (ids, n, sizeof *ids, compare_ids);
  for (guint i = 0; i < n && done; i++)
    {
      gboolean saved;
      done = write_one (self, g_hash_table_lookup (records, ids[i]), &saved, error);
      if (saved)
        self->rescue->saved[kind]++;
      else
        g_hash_table_remove (records, ids[i]); /* what refers to it is told */
    }
  sqlite3_finalize (self->insert);
  return done;
}

static void
lose_missing (Writer *self, BedKind kind)
{
  GHashTableIter iter;
  gpointer id;

  g_hash_table_iter_init (&iter, self->read->missing[kind]);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    bed_rescue_note (self->rescue->notes, BED_RESCUE_LOST, kind, *(gint64 *) id,
                     _ ("Its page is damaged."));
  if (self->read->damaged[kind] && g_hash_table_size (self->read->missing[kind]) == 0)
    bed_rescue_note (
        self->rescue->notes, BED_RESCUE_LOST, kind, 0,
        _ ("A page of these is damaged; whatever could not be read there or found in the history "
           "is lost."));
}

/* Without settings there is no farm. */
static void
settle_settings (Writer *self)
{
  static const char *const given[][2] = {
    { "name", N_ ("Rescued farm") }, { "unit_system", "metric" }, { "currency", "EUR" },
    { "hemisphere", "north" },       { "season_start", "01-01" }, { "moisture_basis", "wet" },
  };
  gint64 id = 1;
  BedRecord *settings = g_hash_table_lookup (self->read->records[BED_KIND_FARM], &id);

  if (!settings)
    {
      settings = bed_record_new (BED_KIND_FARM);
      bed_record_set_id (settings, id);
      g_hash_table_insert (self->read->records[BED_KIND_FARM], g_memdup2 (&id, sizeof id),
                           settings);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (given); i++)
    if (!bed_record_has (settings, given[i][0]))
      {
        bed_record_set_text (settings, given[i][0], i == 0 ? _ (given[i][1]) : given[i][1]);
        bed_rescue_note (
            self->rescue->notes, BED_RESCUE_CHANGED, BED_KIND_FARM, id,
            _ ("%s could not be read and is set to “%s”: put it right in the farm's settings."),
            _ (bed_kind_find_field (BED_KIND_FARM, given[i][0], NULL)->label),
            bed_record_get_text (settings, given[i][0]));
      }
}

gboolean
bed_rescue_write_records (sqlite3 *db, BedRescueRead *read, BedRescue *rescue, GError **error)
{
  Writer writer = { db, read, rescue, NULL };

  settle_settings (&writer);
  /* A kind refers to kinds before it only: bed_kind_get_info() has them in that order. */
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      lose_missing (&writer, kind);
      if (!write_kind (&writer, kind, error))
        return FALSE;
    }
  return TRUE;
}
