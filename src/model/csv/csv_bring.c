#include "model/csv/csv_bring.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/code.h"
#include "model/farm/farm_private.h"
#include "model/farm/rules.h"
#include "model/farm/say.h"

typedef struct
{
  BedCsvImporter *importer;
  BedNotebook *notebook;
  GHashTable *drafted; /* kind and name, as the sheet calls it -> id */
  guint line;
} Bringing;

/* --- names in the sheet ----------------------------------------------------------------- */

static char *
dup_key (BedKind kind, const char *name)
{
  g_autofree char *stripped = g_strstrip (g_strdup (name));
  g_autofree char *folded = g_utf8_casefold (stripped, -1);

  return g_strdup_printf ("%d\n%s", kind, folded);
}

static void
remember (Bringing *self, BedKind kind, const char *name, gint64 id)
{
  if (name)
    g_hash_table_replace (self->drafted, dup_key (kind, name), g_memdup2 (&id, sizeof id));
}

static gint64
recall (Bringing *self, BedKind kind, const char *name)
{
  g_autofree char *key = dup_key (kind, name);
  const gint64 *id = g_hash_table_lookup (self->drafted, key);

  return id ? *id : 0;
}

/* A record of the farm, or of an earlier row, by the name that people call it. */
static gint64
find_named (Bringing *self, BedKind kind, const char *name)
{
  BedCsvNames *names = bed_csv_names (self->importer, kind);
  gint64 id = bed_csv_names_find (names, name);

  if (id)
    return id;
  g_autofree char *whole = bed_code_complete (kind, name, NULL);
  return whole ? bed_csv_names_find (names, whole) : 0;
}

static gint64
find_referred (Bringing *self, const BedDraftReference *reference)
{
  BedKind kind = reference->field->refers;
  gint64 id = recall (self, kind, reference->name);

  return id ? id : find_named (self, kind, reference->name);
}

/* --- columns ---------------------------------------------------------------------------- */

/* Fields of the sheet by which records are compared: those that have a column, and those that the
 * notebook fills in. Not what they are called: a record without a name was given one. */
static void
add_columns (Bringing *self, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);
  GArray *columns = self->importer->columns;

  for (guint i = 0; i < info->n_fields; i++)
    {
      const BedCsvColumn column = { kind, &info->fields[i], NULL };
      const char *name = info->fields[i].name;
      if ((bed_record_has (record, name)
           || bed_notebook_find_column (self->notebook, kind, name) > 0)
          && g_strcmp0 (name, info->key) != 0 && !bed_csv_find_column (columns, kind, name))
        g_array_append_val (columns, column);
    }
}

/* --- drafts ----------------------------------------------------------------------------- */

static void
fault_at (Bringing *self, guint column, char *message)
{
  bed_csv_fault_in (self->importer, BED_FAULT_ERROR, self->importer->file->path, self->line, column,
                    message);
}

static void
refer (Bringing *self, const BedNotebookDraft *draft, BedRecord *record)
{
  for (guint i = 0; i < draft->n_references; i++)
    {
      const BedDraftReference *reference = &draft->references[i];
      gint64 id = find_referred (self, reference);
      if (id)
        bed_record_set_int (record, reference->field->name, id);
      else
        fault_at (self, reference->column,
                  bed_csv_dup_missing (self->importer, reference->field->refers, reference->name));
    }
}

/* A month or a season may have begun before its logs were inoculated. */
static void
begin_total (BedCsvImporter *importer, BedRecord *pick)
{
  const char *since = bed_record_get_text (pick, "since");
  g_autofree char *begun = since ? bed_csv_dup_begun (importer, pick) : NULL;

  if (begun && strcmp (begun, since) > 0
      && strcmp (begun, bed_record_get_text (pick, "picked_on")) <= 0)
    bed_record_set_text (pick, "since", begun);
}

static void
put (Bringing *self, const BedNotebookDraft *draft, BedRecord *record)
{
  BedCsvImporter *importer = self->importer;

  BedKind kind = bed_record_get_kind (record);
  gint64 place = 0;

  if (kind == BED_KIND_LOG && !bed_record_has (record, "holes"))
    bed_csv_count_holes (importer, record);
  if (kind == BED_KIND_LOG)
    place = bed_csv_take_place (importer, record, self->line);
  if (!place)
    bed_csv_put (importer, record, self->line);
  remember (self, kind, draft->name, place ? place : bed_record_get_id (record));
}

/* As many as the farm has not yet: the number of a batch says nothing of those it has. */
static gboolean
bring_counted (Bringing *self, const BedNotebookDraft *draft, BedRecord *record)
{
  guint missing
      = bed_csv_count_missing (self->importer, bed_record_get_int (record, "batch"), draft->times);

  for (guint i = 0; i < missing; i++)
    {
      g_autoptr (BedRecord) log = bed_record_copy (record);
      put (self, draft, log);
    }
  return missing > 0;
}

static void
fault_there (Bringing *self, BedKind kind, const char *name)
{
  fault_at (self, bed_notebook_find_column (self->notebook, kind, bed_kind_get_info (kind)->key),
            g_strdup_printf (_ ("“%s” is in the farm already, with other values."), name));
}

/* A copy of the stored record with what the draft has. */
static BedRecord *
dup_amended (BedRecord *stored, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));
  BedRecord *amended = bed_record_copy (stored);

  for (guint i = 0; i < info->n_fields; i++)
    if (bed_record_has (record, info->fields[i].name)
        && g_strcmp0 (info->fields[i].name, info->key) != 0)
      bed_record_take_field (amended, record, info->fields[i].name);
  return amended;
}

/* Not by a sheet that has nothing of its own to say of single logs but what became of them. */
static gboolean
is_listed_now (Bringing *self, BedRecord *stored, BedRecord *record)
{
  static const char *const own[] = { "mark", "length", "small_diameter" };
  gboolean lists = FALSE;

  if (bed_record_get_kind (record) != BED_KIND_LOG || !bed_csv_is_counted (stored)
      || bed_csv_is_counted (record))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (own); i++)
    lists = lists || bed_notebook_find_column (self->notebook, BED_KIND_LOG, own[i]) > 0;
  return lists;
}

/* TRUE when the row changes the stored record. */
static gboolean
meet_stored (Bringing *self, BedRecord *record, gint64 id)
{
  BedCsvImporter *importer = self->importer;
  BedKind kind = bed_record_get_kind (record);
  g_autoptr (BedRecord) stored = bed_farm_load (self->importer->farm, kind, id, NULL);
  g_autoptr (BedRecord) amended = stored ? dup_amended (stored, record) : NULL;

  if (!stored) /* the farm's trouble */
    return FALSE;
  if (is_listed_now (self, stored, record))
    {
      bed_csv_list_log (importer, stored, record, self->line);
      return TRUE;
    }
  if (!bed_csv_differs (importer, stored, amended))
    {
      importer->answer->known[kind]++;
      return FALSE;
    }
  if (importer->import->differs == BED_DIFFERS_REFUSED && !bed_csv_is_given (kind))
    {
      fault_there (self, kind, bed_record_get_text (stored, bed_kind_get_info (kind)->key));
      return FALSE;
    }
  if (!bed_csv_amends (importer, stored, amended))
    return FALSE;
  bed_csv_put (importer, amended, self->line);
  return TRUE;
}

/* One that has a name is found by it, one that has none by all that the row says. */
static gboolean
bring_own (Bringing *self, const BedNotebookDraft *draft, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const char *key = bed_kind_get_info (kind)->key;
  const char *name = key ? bed_record_get_text (record, key) : NULL;
  gint64 id = name ? find_named (self, kind, name) : 0;

  if (id && !bed_csv_is_drafted (self->importer, id))
    {
      remember (self, kind, draft->name, id);
      return meet_stored (self, record, id);
    }
  if (id)
    {
      fault_at (self, bed_notebook_find_column (self->notebook, kind, key),
                g_strdup_printf (_ ("“%s” is there twice."), name));
      return FALSE;
    }
  if (bed_csv_meets_known (self->importer, record))
    {
      self->importer->answer->known[kind]++;
      return FALSE;
    }
  put (self, draft, record);
  return TRUE;
}

/* TRUE when anything of it is new or changed. */
static gboolean
bring_draft (Bringing *self, const BedNotebookDraft *draft)
{
  BedKind kind = bed_record_get_kind (draft->record);
  g_autoptr (BedRecord) record = bed_record_copy (draft->record);
  guint errors = self->importer->errors;
  gint64 there
      = draft->making == BED_DRAFT_SHARED && draft->name ? find_named (self, kind, draft->name) : 0;

  if (there)
    {
      remember (self, kind, draft->name, there);
      return FALSE;
    }
  refer (self, draft, record);
  add_columns (self, record);
  if (self->importer->errors > errors)
    {
      bed_csv_put_aside (self->importer, record, self->line);
      remember (self, kind, draft->name, bed_record_get_id (record));
      return FALSE;
    }
  /* Before it is looked for: the farm has it as it was put. */
  if (kind == BED_KIND_PICK)
    begin_total (self->importer, record);
  if (kind == BED_KIND_LOG && bed_csv_is_counted (record))
    return bring_counted (self, draft, record);
  if (draft->making == BED_DRAFT_OWN)
    return bring_own (self, draft, record);
  /* Of one without a name the farm has the same, or none. */
  there = bed_csv_meets_known (self->importer, record);
  if (there)
    remember (self, kind, draft->name, there);
  else
    put (self, draft, record);
  return !there;
}

static void
bring_row (Bringing *self, const BedNotebookRow *row)
{
  gboolean any = FALSE;

  self->line = row->line;
  for (guint i = 0; i < row->n_drafts; i++)
    any = bring_draft (self, &row->drafts[i]) || any;
  self->importer->rows += any;
  bed_csv_pace (self->importer);
}

/* --- the matching ----------------------------------------------------------------------- */

static gint64
find_matching (BedFarm *farm, const char *heads)
{
  sqlite3_stmt *stmt = bed_farm_statement (farm, "SELECT id FROM matching WHERE heads = ?1", NULL);
  gint64 id = 0;

  if (!stmt)
    {
      bed_farm_note_trouble (farm);
      return 0;
    }
  bed_farm_bind_text (farm, stmt, 1, heads);
  if (bed_farm_step (farm, stmt) == SQLITE_ROW)
    id = sqlite3_column_int64 (stmt, 0);
  sqlite3_reset (stmt);
  return id;
}

char *
bed_csv_dup_matching (BedFarm *farm, BedNotebook *notebook)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && notebook != NULL, NULL);
  g_autofree char *heads = bed_notebook_dup_heads (notebook);
  gint64 id = find_matching (farm, heads);
  g_autoptr (BedRecord) record = id ? bed_farm_load (farm, BED_KIND_MATCHING, id, NULL) : NULL;

  return record ? g_strdup (bed_record_get_text (record, "decisions")) : NULL;
}

/* What has no heads, or longer ones than a farm keeps, is understood anew each time. */
static void
keep_matching (Bringing *self)
{
  BedFarm *farm = self->importer->farm;
  g_autofree char *heads = bed_notebook_dup_heads (self->notebook);
  g_autofree char *decisions = bed_notebook_dup_matching (self->notebook);
  gint64 id = find_matching (farm, heads);
  g_autoptr (BedRecord) record = id ? bed_farm_load (farm, BED_KIND_MATCHING, id, NULL)
                                    : bed_record_new (BED_KIND_MATCHING);
  g_autoptr (GPtrArray) faults = bed_faults_new ();

  if (!record)
    return;
  bed_record_set_text (record, "heads", heads);
  bed_record_set_text (record, "decisions", decisions);
  bed_rules_check_fields (farm, record, faults);
  if (!bed_faults_find_error (faults, 0))
    bed_edit_put (self->importer->edit, record);
}

/* --- all of it -------------------------------------------------------------------------- */

/* FALSE when it was stopped. */
static gboolean
bring_rows (Bringing *self, GError **error)
{
  BedCsvImporter *importer = self->importer;
  const BedNotebookRow *row;
  g_autoptr (GError) why = NULL;

  if (!bed_notebook_begin (self->notebook, error))
    return FALSE;
  while (!importer->stopped && (row = bed_notebook_next (self->notebook, &why)))
    bring_row (self, row);
  bed_csv_end_round (importer);
  if (importer->rows > 0)
    keep_matching (self);
  if (!why)
    why = g_steal_pointer (&importer->stopped);
  if (!why)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&why));
  return FALSE;
}

int
bed_csv_bring (BedFarm *farm, BedNotebook *notebook, const BedImport *import, GPtrArray **faults,
               GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && notebook != NULL && import != NULL, -1);
  g_autoptr (BedCsvImporter) importer = bed_csv_importer_new (farm, import);
  g_autoptr (GHashTable) drafted = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  Bringing self = { importer, notebook, drafted, 0 };
  g_autofree char *name = g_path_get_basename (import->path);
  int n = -1;

  bed_csv_begin_file (importer, bed_notebook_get_kind (notebook, NULL), import->path);
  importer->file->notebook = notebook;
  if (bed_edit_begin (importer->edit, error) && bring_rows (&self, error))
    {
      g_autofree char *sentence = bed_say (
          ngettext ("Brought in %d row of %s", "Brought in %d rows of %s", importer->rows),
          importer->rows, name);
      n = bed_csv_finish (importer, sentence, error);
    }
  else
    bed_csv_give_up (importer);
  if (faults)
    *faults = g_ptr_array_ref (importer->faults);
  return n;
}
