#include "model/csv/csv.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "model/farm/csv_read.h"
#include "model/farm/kinds.h"
#include "model/farm/output.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

/* Quotes more than RFC 4180 asks: semicolons and tabs too, which other settings of a
 * spreadsheet take for the end of a field, and edges of white space. */
static void
append_cell (GString *out, const char *text)
{
  gsize length = strlen (text);

  if (!strpbrk (text, ",;\"\t\r\n")
      && (length == 0 || (!g_ascii_isspace (text[0]) && !g_ascii_isspace (text[length - 1]))))
    {
      g_string_append_len (out, text, length);
      return;
    }
  g_string_append_c (out, '"');
  for (const char *c = text; *c; c++)
    {
      if (*c == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *c);
    }
  g_string_append_c (out, '"');
}

static gboolean
is_text (const BedField *field)
{
  return field->type == BED_FIELD_TEXT || field->type == BED_FIELD_NOTE
         || field->type == BED_FIELD_REFERENCE;
}

static void
append_head (GString *out, BedFarm *farm, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);

  for (guint i = 0; i < info->n_fields; i++)
    {
      /* Points are metres in files. */
      const char *unit = info->fields[i].points ? "" : bed_value_get_unit (farm, &info->fields[i]);
      g_autofree char *head = *unit ? g_strdup_printf ("%s (%s)", info->fields[i].name, unit)
                                    : g_strdup (info->fields[i].name);
      if (i)
        g_string_append_c (out, ',');
      append_cell (out, head);
    }
  g_string_append (out, "\r\n");
}

static void
append_record (GString *out, BedFarm *farm, BedRecord *record)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (record));

  for (guint i = 0; i < info->n_fields; i++)
    {
      g_autofree char *text = bed_value_dup_csv (farm, record, info->fields[i].name);
      g_autofree char *cell = is_text (&info->fields[i]) ? bed_csv_guard (text) : NULL;
      if (i)
        g_string_append_c (out, ',');
      append_cell (out, cell ? cell : text);
    }
  g_string_append (out, "\r\n");
}

static gboolean
write_file (const char *path, GString *text, GError **error)
{
  g_autoptr (GError) why = NULL;
  g_autofree char *target = bed_output_dup_target (path, BED_OUTPUT_RECORDS, error);

  if (!target)
    return FALSE;
  if (g_file_set_contents (target, text->str, text->len, &why))
    return TRUE;
  return bed_farm_refuse (error,
                          g_error_matches (why, G_FILE_ERROR, G_FILE_ERROR_NOSPC)
                              ? BED_FARM_ERROR_FULL
                              : BED_FARM_ERROR_FAILED,
                          _ ("%s cannot be written: %s"), path, why->message);
}

int
bed_csv_export (BedFarm *farm, BedKind kind, const char *path, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && kind < BED_N_KINDS && path != NULL, -1);
  g_autofree char *sql
      = g_strdup_printf ("SELECT id FROM \"%s\" ORDER BY id", bed_kind_get_info (kind)->name);
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);
  g_autoptr (GString) out = g_string_new (NULL);
  int n = 0;

  append_head (out, farm, kind);
  while (bed_query_next (q))
    {
      g_autoptr (BedRecord) record = bed_farm_load (farm, kind, bed_query_int (q, 0), error);
      if (!record)
        return -1;
      append_record (out, farm, record);
      n++;
    }
  if (!bed_query_finish (q, error) || !write_file (path, out, error))
    return -1;
  return n;
}

/* Of every kind that will be written; NULL where there is nothing to write. */
static char *
dup_path (BedFarm *farm, BedKind kind, const char *folder)
{
  g_autofree char *name = g_strconcat (bed_kind_get_info (kind)->name, ".csv", NULL);
  g_autofree char *path = g_build_filename (folder, name, NULL);

  return bed_farm_count (farm, kind) > 0 || g_file_test (path, G_FILE_TEST_EXISTS)
             ? g_steal_pointer (&path)
             : NULL;
}

/* Before any is written: half an export is none. */
static gboolean
check_folder (BedFarm *farm, const char *folder, GError **error)
{
  gboolean there = g_file_test (folder, G_FILE_TEST_IS_DIR);
  g_autofree char *made = there ? NULL : bed_output_dup_target (folder, BED_OUTPUT_RECORDS, error);

  if (!there && !made)
    return FALSE;
  if (!there && g_file_test (folder, G_FILE_TEST_EXISTS))
    return bed_farm_refuse (
        error, BED_FARM_ERROR_INVALID,
        _ ("%s is no folder. Name one for the files; it need not be there yet."), folder);
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *path = dup_path (farm, kind, folder);
      g_autofree char *target = path ? bed_output_dup_target (path, BED_OUTPUT_RECORDS, error)
                                     : NULL;
      if (path && !target)
        return FALSE;
    }
  return TRUE;
}

int
bed_csv_export_all (BedFarm *farm, const char *folder, GError **error)
{
  int all = 0;

  g_return_val_if_fail (BED_IS_FARM (farm) && folder != NULL, -1);

  if (!check_folder (farm, folder, error))
    return -1;
  if (g_mkdir_with_parents (folder, 0777) != 0)
    {
      g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_FAILED,
                   _ ("The folder %s cannot be made: %s."), folder, g_strerror (errno));
      return -1;
    }
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autofree char *path = dup_path (farm, kind, folder);
      int n = path ? bed_csv_export (farm, kind, path, error) : 0;
      if (n < 0)
        return -1;
      all += n;
    }
  return all;
}
