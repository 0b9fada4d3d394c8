#include "model/csv/csv_names.h"

#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

/* Names held at once, about 100 bytes each. */
#define MOST_HELD 50000

struct _BedCsvNames
{
  BedFarm *farm;
  char *sql;          /* finds one that is not held */
  GHashTable *ids;    /* folded name -> id */
  GHashTable *asides; /* the same of those that are never written; NULL: none */
  gboolean partly;    /* the farm has more than are held */
  int patience;       /* nearest names still to be looked for */
};

static GHashTable *
new_ids (void)
{
  return g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

static void
read_all (BedCsvNames *self, const BedKindInfo *info)
{
  g_autofree char *sql = g_strdup_printf ("SELECT id, \"%s\" FROM \"%s\" LIMIT %d", info->key,
                                          info->name, MOST_HELD + 1);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);

  while (bed_query_next (q))
    if (bed_query_text (q, 1))
      bed_csv_names_add (self, bed_query_text (q, 1), bed_query_int (q, 0));
  if (!bed_query_finish (q, NULL)) /* the import does not go through: see csv_import.c */
    g_hash_table_remove_all (self->ids);
}

BedCsvNames *
bed_csv_names_new (BedFarm *farm, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  BedCsvNames *self = g_new0 (BedCsvNames, 1);

  self->farm = farm;
  self->patience = 50;
  self->sql = g_strdup_printf ("SELECT id FROM \"%s\" WHERE \"%s\" = ?1 COLLATE NOCASE", info->name,
                               info->key);
  self->ids = new_ids ();
  read_all (self, info);
  bed_csv_names_settle (self);
  return self;
}

void
bed_csv_names_free (BedCsvNames *self)
{
  if (!self)
    return;
  g_hash_table_unref (self->ids);
  g_clear_pointer (&self->asides, g_hash_table_unref);
  g_free (self->sql);
  g_free (self);
}

static gint64
ask_farm (BedCsvNames *self, const char *name)
{
  sqlite3_stmt *stmt = bed_farm_statement (self->farm, self->sql, NULL);
  gint64 id = 0;

  if (!stmt)
    {
      bed_farm_note_trouble (self->farm);
      return 0;
    }
  bed_farm_bind_text (self->farm, stmt, 1, name);
  if (bed_farm_step (self->farm, stmt) == SQLITE_ROW)
    id = sqlite3_column_int64 (stmt, 0);
  sqlite3_reset (stmt);
  return id;
}

gint64
bed_csv_names_find (BedCsvNames *self, const char *name)
{
  g_autofree char *folded = g_ascii_strdown (name, -1);
  gint64 *held = g_hash_table_lookup (self->ids, folded);

  if (!held && self->asides)
    held = g_hash_table_lookup (self->asides, folded);
  if (held || !self->partly)
    return held ? *held : 0;
  gint64 id = ask_farm (self, name);
  if (id)
    g_hash_table_replace (self->ids, g_steal_pointer (&folded), g_memdup2 (&id, sizeof id));
  return id;
}

void
bed_csv_names_add (BedCsvNames *self, const char *name, gint64 id)
{
  if (id < 0 && !self->asides)
    self->asides = new_ids ();
  g_hash_table_replace (id < 0 ? self->asides : self->ids, g_ascii_strdown (name, -1),
                        g_memdup2 (&id, sizeof id));
}

void
bed_csv_names_add_unnamed (BedCsvNames *self)
{
  self->partly = TRUE;
}

void
bed_csv_names_settle (BedCsvNames *self)
{
  if (g_hash_table_size (self->ids) <= MOST_HELD)
    return;
  g_hash_table_remove_all (self->ids);
  self->partly = TRUE;
}

gboolean
bed_csv_names_try (BedCsvNames *self)
{
  return self->patience-- > 0;
}
