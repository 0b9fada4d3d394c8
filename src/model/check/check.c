#include "model/check/check_private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/rules.h"
#include "model/farm/say.h"
#include "science/language.h"

/* Faults listed of one part; a file that is wrong in a million places is not listed whole. */
#define MOST_FAULTS 1000
/* Steps of SQLite's machine between two looks at the cancellable: some milliseconds. */
#define STEPS_BETWEEN_LOOKS 100000
/* Picks and logs of a farm whose questions are asked twice without being told to: seconds. */
#define MOST_ROWS_ASKED 4000

void
bed_checking_add (BedChecking *self, BedCheckPart part, BedFaultSeverity severity,
                  const char *format, ...)
{
  GPtrArray *faults = self->checkup->faults[part];
  va_list values;

  va_start (values, format);
  if (faults->len < MOST_FAULTS)
    g_ptr_array_add (faults,
                     bed_fault_new (severity, NULL, NULL, g_strdup_vprintf (format, values)));
  va_end (values);
  if (faults->len == MOST_FAULTS - 1)
    g_ptr_array_add (faults, bed_fault_new (severity, NULL, NULL,
                                            g_strdup (_ ("There are more faults like these; mend "
                                                         "them and check again."))));
}

static gboolean
check_pages (BedChecking *self, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (self->farm, "PRAGMA integrity_check (100)");

  while (bed_query_next (q))
    if (strcmp (bed_query_text (q, 0), "ok") != 0)
      bed_checking_add (self, BED_CHECK_PAGES, BED_FAULT_ERROR, _ ("The file is damaged: %s."),
                        bed_query_text (q, 0));
  return bed_query_finish (q, error)
         && bed_query_one (self->farm, "PRAGMA page_count", 0,
                           &self->checkup->looked_at[BED_CHECK_PAGES], error);
}

/* The kind of that table in words; the table's own name when it is none of ours. */
static const char *
kind_word (const char *table)
{
  BedKind kind = bed_kind_from_name (table);

  return kind < BED_N_KINDS ? _ (bed_kind_get_info (kind)->singular) : table;
}

static gboolean
count_references (BedChecking *self, GError **error)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (guint i = 0; i < bed_kind_get_info (kind)->n_fields; i++)
      {
        const BedField *field = &bed_kind_get_info (kind)->fields[i];
        g_autofree char *sql = g_strdup_printf ("SELECT count (\"%s\") FROM \"%s\"", field->name,
                                                bed_kind_get_info (kind)->name);
        gint64 n = 0;
        if (field->type == BED_FIELD_REFERENCE && !bed_query_one (self->farm, sql, 0, &n, error))
          return FALSE;
        self->checkup->looked_at[BED_CHECK_REFERENCES] += n;
      }
  return TRUE;
}

static gboolean
check_references (BedChecking *self, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (self->farm, "PRAGMA foreign_key_check");

  while (bed_query_next (q))
    bed_checking_add (self, BED_CHECK_REFERENCES, BED_FAULT_ERROR,
                      /* Translators: kind of record, its number, kind of record. */
                      _ ("%s %lld refers to what is not there (%s)."),
                      kind_word (bed_query_text (q, 0)), (long long) bed_query_int (q, 1),
                      kind_word (bed_query_text (q, 2)));
  return bed_query_finish (q, error) && count_references (self, error);
}

static gboolean
check_kind (BedChecking *self, BedKind kind, GError **error)
{
  GPtrArray *faults = self->checkup->faults[BED_CHECK_RULES];
  g_autofree char *sql
      = g_strdup_printf ("SELECT id FROM \"%s\" ORDER BY id", bed_kind_get_info (kind)->name);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);
  g_autoptr (BedRulesRound) round = bed_rules_round_new (BED_RULES_ANY);
  const BedRulesSpan all = { G_MININT64, G_MAXINT64, G_MAXUINT };

  bed_rules_gather (self->farm, kind, &all, round);
  while (bed_query_next (q) && faults->len < MOST_FAULTS)
    {
      g_autofree char *name = bed_kind_dup_numbered (kind, bed_query_int (q, 0));
      if (g_hash_table_contains (self->unreadable, name))
        continue;
      g_autoptr (BedRecord) record = bed_farm_load (self->farm, kind, bed_query_int (q, 0), error);
      if (!record || g_cancellable_set_error_if_cancelled (self->cancellable, error))
        return FALSE;
      bed_rules_check_fields (self->farm, record, faults);
      bed_rules_check_unique (self->farm, record, faults);
      bed_rules_check_written (self->farm, record, round, faults);
      self->checkup->looked_at[BED_CHECK_RULES]++;
    }
  return bed_query_finish (q, error);
}

static gboolean
check_rules (BedChecking *self, GError **error)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (!check_kind (self, kind, error))
      return FALSE;
  bed_rules_say_once (self->checkup->faults[BED_CHECK_RULES]);
  return TRUE;
}

static gboolean
is_small (BedFarm *farm)
{
  return bed_farm_count (farm, BED_KIND_PICK) + bed_farm_count (farm, BED_KIND_LOG)
         <= MOST_ROWS_ASKED;
}

/* Figures of a farm whose references lead nowhere differ by which rows a join leaves out. */
static gboolean
can_be_asked (BedChecking *self)
{
  for (BedCheckPart part = 0; part < BED_CHECK_RULES; part++)
    if (bed_faults_find_error (self->checkup->faults[part], 0))
      return FALSE;
  return TRUE;
}

static gboolean
check_all (BedChecking *self, BedCheckDepth depth, GError **error)
{
  if (!check_pages (self, error) || !check_references (self, error)
      || !bed_check_values (self, error) || !check_rules (self, error)
      || !bed_check_history (self, error))
    return FALSE;
  gboolean *left_out = &self->checkup->left_out[BED_CHECK_QUESTIONS];
  *left_out = (depth == BED_CHECK_USUAL && !is_small (self->farm)) || !can_be_asked (self);
  return *left_out || bed_check_views (self, error);
}

static int
progress_cb (void *cancellable)
{
  return g_cancellable_is_cancelled (cancellable);
}

/* --- public ------------------------------------------------------------------------- */

BedCheckup *
bed_check_farm (BedFarm *farm, BedCheckDepth depth, GCancellable *cancellable, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  g_autoptr (BedCheckup) checkup = g_new0 (BedCheckup, 1);
  g_autoptr (GHashTable) unreadable = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  BedChecking checking = { farm, checkup, cancellable, unreadable };
  g_autoptr (GError) why = NULL;

  for (BedCheckPart part = 0; part < BED_N_CHECKS; part++)
    checkup->faults[part] = bed_faults_new ();
  if (cancellable)
    sqlite3_progress_handler (bed_farm_get_db (farm), STEPS_BETWEEN_LOOKS, progress_cb,
                              cancellable);
  gboolean done = check_all (&checking, depth, &why);
  sqlite3_progress_handler (bed_farm_get_db (farm), 0, NULL, NULL);
  if (g_cancellable_set_error_if_cancelled (cancellable, error))
    return NULL;
  bed_rules_say_once (checkup->faults[BED_CHECK_RULES]);
  if (!done)
    g_propagate_error (error, g_steal_pointer (&why));
  return done ? g_steal_pointer (&checkup) : NULL;
}

void
bed_checkup_free (BedCheckup *self)
{
  if (!self)
    return;
  for (BedCheckPart part = 0; part < BED_N_CHECKS; part++)
    g_clear_pointer (&self->faults[part], g_ptr_array_unref);
  g_free (self);
}

guint
bed_checkup_count (const BedCheckup *self, BedFaultSeverity severity)
{
  g_return_val_if_fail (self != NULL, 0);
  guint n = 0;

  for (BedCheckPart part = 0; part < BED_N_CHECKS; part++)
    for (guint i = 0; i < self->faults[part]->len; i++)
      n += ((BedFault *) self->faults[part]->pdata[i])->severity == severity;
  return n;
}

char *
bed_checkup_dup_looked_at (const BedCheckup *self, BedCheckPart part)
{
  g_return_val_if_fail (self != NULL && part < BED_N_CHECKS, NULL);
  static const char *const looked_at[][2] = {
    [BED_CHECK_PAGES] = NP_ ("%lld page of the file", "%lld pages of the file"),
    [BED_CHECK_REFERENCES] = NP_ ("%lld reference", "%lld references"),
    [BED_CHECK_VALUES]
    = NP_ ("%lld value: ids, types, letters", "%lld values: ids, types, letters"),
    [BED_CHECK_RULES] = NP_ ("%lld record by every rule", "%lld records by every rule"),
    [BED_CHECK_HISTORY] = NP_ ("%lld change taken back one by one on a copy",
                               "%lld changes taken back one by one on a copy"),
    [BED_CHECK_QUESTIONS] = NP_ ("%lld row of answers worked out a second time",
                                 "%lld rows of answers worked out a second time"),
  };
  gint64 n = self->looked_at[part];

  if (self->left_out[part])
    return g_strdup (
        _ ("not looked at: answers worked out a second time (--all does, where nothing above is at "
           "fault)"));
  return bed_say (ngettext (looked_at[part][0], looked_at[part][1], n), (long long) n);
}

const char *
bed_check_get_mend (BedCheckPart part)
{
  g_return_val_if_fail (part < BED_N_CHECKS, NULL);
  static const char *const mends[] = {
    [BED_CHECK_PAGES] = N_ ("Restore a copy of before the damage (bedlog-tool restore), or save "
                            "what can be read of this file: bedlog-tool rescue FILE NEW."),
    [BED_CHECK_REFERENCES] = N_ ("Open the record and choose what it belongs to, or remove it; "
                                 "bedlog-tool rescue FILE NEW makes a farm without what leads "
                                 "nowhere and lists it."),
    [BED_CHECK_VALUES] = N_ ("Open the record and type the text anew; bedlog-tool rescue FILE NEW "
                             "makes a farm where what is no text is replaced, and lists it."),
    [BED_CHECK_RULES] = N_ ("Open the record and enter what is right, or export, correct the line "
                            "and import it."),
    [BED_CHECK_HISTORY] = N_ ("The records themselves are not touched by this, only what can be "
                              "taken back. bedlog-tool rescue FILE NEW makes a farm with the part "
                              "of the history that is sound."),
    [BED_CHECK_QUESTIONS] = N_ ("The records are not touched by this; a figure that Bedlog shows "
                                "may be wrong. Tell the makers of Bedlog this line."),
  };

  return _ (mends[part]);
}

char *
bed_check_dup_name (BedFarm *farm, BedRecord *record)
{
  g_return_val_if_fail (BED_IS_RECORD (record), NULL);
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  const char *key = bed_record_get_name (record);

  if (key)
    return bed_kind_dup_named (bed_record_get_kind (record), key);
  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].type == BED_FIELD_DATE && bed_record_has (record, info->fields[i].name))
      /* Translators: kind of record, its day or what it belongs to. */
      return g_strdup_printf (C_ ("record", "%s of %s"), _ (info->singular),
                              bed_record_get_text (record, info->fields[i].name));
  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].type == BED_FIELD_REFERENCE)
      {
        g_autofree char *name = bed_farm_dup_name (
            farm, info->fields[i].refers, bed_record_get_int (record, info->fields[i].name));
        if (name)
          return g_strdup_printf (C_ ("record", "%s of %s"), _ (info->singular), name);
      }
  return g_strdup (_ (info->singular));
}
