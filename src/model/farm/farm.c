#include "model/farm/farm.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/habits.h"
#include "model/farm/kinds.h"
#include "model/farm/record_private.h"

struct _BedFarm
{
  GObject parent_instance;

  sqlite3 *db;
  BedStatements *statements;
  char *path;
  char *read_only_why;
  BedRecord *settings;
  BedNotation notation;

  char *fixed_now; /* NULL: the clock */
  char *now;
  gint64 now_minute; /* of the clock, when now was read */
  char *today;
  GRand *chance; /* low bits of ids */
  gint64 last_id;
  char *who;
  BedFarmWatch watch;
  GHashTable *kept; /* key -> Kept, of kept_day */
  char *kept_day;
};

enum
{
  CHANGED,
  STATE_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (BedFarm, bed_farm, G_TYPE_OBJECT)
G_DEFINE_QUARK (bed - farm - error - quark, bed_farm_error)

/* --- settings and notation ------------------------------------------------- */

/* ISO 4217: currencies without and with three decimals; the rest have two. */
static int
money_decimals (const char *currency)
{
  static const char *none[] = { "BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG",
                                "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF", NULL };
  static const char *three[] = { "BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND", NULL };

  if (currency && g_strv_contains (none, currency))
    return 0;
  return currency && g_strv_contains (three, currency) ? 3 : 2;
}

BedNotation
bed_farm_notation_of (BedFarm *self, BedRecord *settings)
{
  BedNotation notation = self->notation;

  notation.system = g_strcmp0 (bed_record_get_text (settings, "unit_system"), "US") == 0
                        ? BED_SYSTEM_US
                        : BED_SYSTEM_METRIC;
  notation.money_decimals = money_decimals (bed_record_get_text (settings, "currency"));
  return notation;
}

/* What every page, label and workbook names is there, whatever a strange file holds. */
static void
fill_settings (BedRecord *settings)
{
  const char *currency = bed_record_get_text (settings, "currency");
  guint longest = bed_kind_find_field (BED_KIND_FARM, "name", NULL)->longest;
  const char *name = bed_record_get_text (settings, "name");

  if (!name)
    bed_record_set_text (settings, "name", _ ("Farm without a name"));
  else if (g_utf8_strlen (name, -1) > longest)
    {
      g_autofree char *begun = g_utf8_substring (name, 0, longest);
      bed_record_set_text (settings, "name", begun);
    }
  if (!currency || !g_regex_match_simple ("^[A-Z]{3}$", currency, 0, 0))
    bed_record_set_text (settings, "currency", BED_CURRENCY_NONE);
}

gboolean
bed_farm_read_settings (BedFarm *self, GError **error)
{
  g_autoptr (GError) why = NULL;
  g_autoptr (BedRecord) settings = bed_farm_load (self, BED_KIND_FARM, 1, &why);

  if (g_error_matches (why, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND))
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_CORRUPT,
                 _ ("%s has no settings: it was cut off while it was being made. Put it aside and "
                    "make the farm again."),
                 self->path);
  else if (why)
    g_propagate_error (error, g_steal_pointer (&why));
  if (!settings)
    return FALSE;
  fill_settings (settings);
  self->notation = bed_farm_notation_of (self, settings);
  bed_habits_mark (&self->notation);
  g_set_object (&self->settings, settings);
  return TRUE;
}

/* --- object ----------------------------------------------------------------- */

typedef struct
{
  gpointer data;
  GDestroyNotify free;
} Kept;

static void
free_kept (gpointer data)
{
  Kept *kept = data;

  kept->free (kept->data);
  g_free (kept);
}

static void
bed_farm_finalize (GObject *object)
{
  BedFarm *self = BED_FARM (object);

  bed_farm_take_db (self, NULL);
  g_hash_table_unref (self->kept);
  g_free (self->kept_day);
  g_clear_object (&self->settings);
  g_clear_pointer (&self->chance, g_rand_free);
  g_free (self->path);
  g_free (self->read_only_why);
  g_free (self->fixed_now);
  g_free (self->now);
  g_free (self->today);
  g_free (self->who);
  g_free (self->watch.gone_why);
  g_clear_error (&self->watch.trouble);
  g_clear_error (&self->watch.no_settings);
  g_ptr_array_unref (self->watch.readings);
  G_OBJECT_CLASS (bed_farm_parent_class)->finalize (object);
}

static void
bed_farm_class_init (BedFarmClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_farm_finalize;

  signals[CHANGED] = g_signal_new ("changed", BED_TYPE_FARM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                   G_TYPE_NONE, 1, G_TYPE_UINT64);
  signals[STATE_CHANGED] = g_signal_new ("state-changed", BED_TYPE_FARM, G_SIGNAL_RUN_LAST, 0, NULL,
                                         NULL, NULL, G_TYPE_NONE, 0);
}

static void
bed_farm_init (BedFarm *self)
{
  const char *real = g_get_real_name ();

  self->chance = g_rand_new ();
  self->kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_kept);
  self->watch.readings = g_ptr_array_new ();
  self->who = g_strdup (g_strcmp0 (real, "Unknown") == 0 ? g_get_user_name () : real);
  self->notation = (BedNotation){ BED_SYSTEM_METRIC, '.', 2 };
}

/* --- for the room ----------------------------------------------------------- */

BedFarm *
bed_farm_begin (const char *path)
{
  BedFarm *self = g_object_new (BED_TYPE_FARM, NULL);

  self->path = g_strdup (path);
  return self;
}

void
bed_farm_take_db (BedFarm *self, sqlite3 *db)
{
  g_clear_pointer (&self->statements, bed_statements_free);
  sqlite3_close_v2 (self->db);
  self->db = db;
  self->statements = db ? bed_statements_new (db) : NULL;
}

void
bed_farm_take_read_only_why (BedFarm *self, char *why)
{
  g_free (self->read_only_why);
  self->read_only_why = why;
}

BedStatements *
bed_farm_get_statements (BedFarm *self)
{
  return self->statements;
}

void
bed_farm_set_error (BedFarm *self, GError **error, const char *doing)
{
  bed_db_set_error (self->db, error, doing, self->path);
}

sqlite3 *
bed_farm_get_db (BedFarm *self)
{
  return self->db;
}

const char *
bed_farm_get_who (BedFarm *self)
{
  return self->fixed_now ? "Bedlog" : self->who;
}

/* Milliseconds of YYYY-MM-DDTHH:MM taken as UTC, for ids under a fixed clock. */
static gint64
moment_ms (const char *moment)
{
  g_autofree char *whole = g_strconcat (moment, ":00Z", NULL);
  g_autoptr (GDateTime) time = g_date_time_new_from_iso8601 (whole, NULL);

  return time ? g_date_time_to_unix (time) * 1000 : 0;
}

gint64
bed_farm_next_id (BedFarm *self)
{
  const gint64 epoch = G_GINT64_CONSTANT (1577836800000); /* 2020-01-01 */
  gint64 ms = self->fixed_now ? moment_ms (self->fixed_now) : g_get_real_time () / 1000;
  gint64 id = (MAX (ms - epoch, 0) << 21) | (g_rand_int (self->chance) & 0x1fffff);

  if (id <= self->last_id)
    id = self->last_id + 1 + (g_rand_int (self->chance) & 0xff);
  self->last_id = id;
  return id;
}

gint64
bed_farm_next_ids (BedFarm *self, guint n)
{
  gint64 first = bed_farm_next_id (self);

  self->last_id = first + n - 1;
  return first;
}

/* A change is recorded after its records, so its id is the highest: ids given after this stay
 * above it even when the clock was set back, here or where that change was made. */
void
bed_farm_raise_ids (BedFarm *self, gint64 change)
{
  self->last_id = MAX (self->last_id, change);
}

BedFarmWatch *
bed_farm_get_watch (BedFarm *self)
{
  return &self->watch;
}

void
bed_farm_emit_state_changed (BedFarm *self)
{
  g_signal_emit (self, signals[STATE_CHANGED], 0);
}

gpointer
bed_farm_get_kept (BedFarm *self, const char *key)
{
  g_return_val_if_fail (BED_IS_FARM (self), NULL);
  const char *today = bed_farm_get_today (self);

  if (g_strcmp0 (self->kept_day, today) != 0)
    {
      g_hash_table_remove_all (self->kept);
      g_free (self->kept_day);
      self->kept_day = g_strdup (today);
    }
  Kept *kept = g_hash_table_lookup (self->kept, key);
  return kept ? kept->data : NULL;
}

void
bed_farm_keep (BedFarm *self, const char *key, gpointer data, GDestroyNotify free)
{
  g_return_if_fail (BED_IS_FARM (self) && data != NULL && free != NULL);
  Kept kept = { data, free };

  bed_farm_get_kept (self, key); /* nothing of another day stays beside it */
  g_hash_table_insert (self->kept, g_strdup (key), g_memdup2 (&kept, sizeof kept));
}

/* What was kept goes first: whoever is told asks again. */
void
bed_farm_emit_changed (BedFarm *self, guint64 kinds)
{
  g_hash_table_remove_all (self->kept);
  if (kinds & BED_KIND_BIT (BED_KIND_FARM))
    {
      g_clear_error (&self->watch.no_settings);
      bed_farm_read_settings (self, &self->watch.no_settings);
    }
  g_signal_emit (self, signals[CHANGED], 0, kinds);
}

char *
bed_farm_dup_select (BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  GString *sql = g_string_new ("SELECT id");

  for (guint i = 0; i < info->n_fields; i++)
    g_string_append_printf (sql, ", \"%s\"", info->fields[i].name);
  g_string_append_printf (sql, " FROM \"%s\"", info->name);
  return g_string_free (sql, FALSE);
}

/* From a row of "SELECT id, fields…". */
static void
read_row (BedRecord *record, sqlite3_stmt *row)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  bed_record_set_id (record, sqlite3_column_int64 (row, 0));
  for (guint i = 0; i < info->n_fields; i++)
    switch (sqlite3_column_type (row, i + 1))
      {
      case SQLITE_INTEGER:
        bed_record_set_int (record, info->fields[i].name, sqlite3_column_int64 (row, i + 1));
        break;
      case SQLITE_TEXT:
        bed_record_set_text (record, info->fields[i].name,
                             (const char *) sqlite3_column_text (row, i + 1));
        break;
      default:
        bed_record_unset (record, info->fields[i].name);
      }
}

/* --- public ------------------------------------------------------------------ */

const char *
bed_farm_get_path (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), NULL);
  return self->path;
}

const char *
bed_farm_get_read_only_why (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), NULL);
  return self->watch.gone_why ? self->watch.gone_why : self->read_only_why;
}

BedRecord *
bed_farm_get_settings (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), NULL);
  return self->settings;
}

const BedNotation *
bed_farm_get_notation (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), NULL);
  return &self->notation;
}

/* What was handed out stays as long as it is true: callers hold it over questions whose
 * bed_today () comes here again. */
static const char *
keep (char **kept, char *fresh)
{
  if (g_strcmp0 (*kept, fresh) == 0)
    g_free (fresh);
  else
    {
      g_free (*kept);
      *kept = fresh;
    }
  return *kept;
}

const char *
bed_farm_get_now (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), NULL);

  if (self->fixed_now)
    return self->fixed_now;
  /* Questions ask it of every row, and the time zone takes its time: once a minute. */
  gint64 minute = g_get_real_time () / G_TIME_SPAN_MINUTE;
  if (self->now && minute == self->now_minute)
    return self->now;
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  self->now_minute = minute;
  return keep (&self->now, g_date_time_format (now, "%Y-%m-%dT%H:%M"));
}

const char *
bed_farm_get_today (BedFarm *self)
{
  g_return_val_if_fail (BED_IS_FARM (self), NULL);

  return keep (&self->today, g_strndup (bed_farm_get_now (self), 10));
}

const char *
bed_farm_get_fixed_now (BedFarm *self)
{
  return self->fixed_now;
}

void
bed_farm_fix_clock (BedFarm *self, const char *now, guint32 seed)
{
  g_return_if_fail (BED_IS_FARM (self) && now != NULL && strlen (now) == 16);

  if (self->fixed_now != now)
    {
      g_free (self->fixed_now);
      self->fixed_now = g_strdup (now);
    }
  g_rand_set_seed (self->chance, seed);
}

BedRecord *
bed_farm_load (BedFarm *self, BedKind kind, gint64 id, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (self) && kind < BED_N_KINDS, NULL);
  g_autofree char *select = bed_farm_dup_select (kind);
  g_autofree char *sql = g_strconcat (select, " WHERE id = ?1", NULL);
  sqlite3_stmt *stmt = bed_farm_statement (self, sql, error);

  if (!stmt)
    return NULL;
  sqlite3_bind_int64 (stmt, 1, id);
  int status = bed_farm_step (self, stmt);
  BedRecord *record = NULL;
  if (status == SQLITE_ROW)
    {
      record = bed_record_new (kind);
      read_row (record, stmt);
      bed_record_set_stored (record);
    }
  else if (status == SQLITE_DONE)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
                 /* Translators: kind of record. */
                 _ ("It is not in the farm any more (%s)."),
                 _ (bed_kind_get_info (kind)->singular));
  else
    bed_farm_set_error (self, error, _ ("reading a record"));
  sqlite3_reset (stmt);
  return record;
}

/* Of the first column; a strange file may hold any bytes. */
static char *
dup_text (sqlite3_stmt *stmt)
{
  const char *text = (const char *) sqlite3_column_text (stmt, 0);

  return text ? g_utf8_make_valid (text, -1) : NULL;
}

char *
bed_farm_dup_name (BedFarm *self, BedKind kind, gint64 id)
{
  g_return_val_if_fail (BED_IS_FARM (self) && kind < BED_N_KINDS, NULL);
  const BedKindInfo *info = bed_kind_get_info (kind);

  if (!info->key)
    return NULL;
  g_autofree char *sql
      = g_strdup_printf ("SELECT \"%s\" FROM \"%s\" WHERE id = ?1", info->key, info->name);
  sqlite3_stmt *stmt = bed_farm_statement (self, sql, NULL);
  if (!stmt)
    return NULL;
  sqlite3_bind_int64 (stmt, 1, id);
  char *name = bed_farm_step (self, stmt) == SQLITE_ROW ? dup_text (stmt) : NULL;
  sqlite3_reset (stmt);
  return name;
}

gint64
bed_farm_count (BedFarm *self, BedKind kind)
{
  g_return_val_if_fail (BED_IS_FARM (self) && kind < BED_N_KINDS, 0);
  g_autofree char *sql
      = g_strdup_printf ("SELECT count (*) FROM \"%s\"", bed_kind_get_info (kind)->name);
  sqlite3_stmt *stmt = bed_farm_statement (self, sql, NULL);
  gint64 n = stmt && bed_farm_step (self, stmt) == SQLITE_ROW ? sqlite3_column_int64 (stmt, 0) : 0;

  sqlite3_reset (stmt);
  return n;
}
