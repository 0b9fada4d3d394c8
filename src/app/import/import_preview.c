#include "app/import/import_preview.h"

#include <glib/gi18n.h>

#include "app/import/import_words.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/value.h"
#include "science/language.h"

#define FIRST 3       /* rows that are shown whatever they hold */
#define LOOKED_AT 500 /* rows in which those with questions are looked for */
#define MOST 12

static void
preview_free (BedImportPreview *preview)
{
  g_free (preview->theirs);
  g_free (preview->ours);
  g_free (preview);
}

/* --- ours --------------------------------------------------------------------------- */

static void
append_value (GString *words, const char *label, const char *value)
{
  g_string_append_printf (words, "%s%s %s", words->len ? bed_comma () : "", label, value);
}

static char *
dup_draft (BedFarm *farm, const BedNotebookDraft *draft)
{
  const BedKindInfo *info = bed_kind_get_info (bed_record_get_kind (draft->record));
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint i = 0; i < info->n_fields; i++)
    if (bed_record_has (draft->record, info->fields[i].name))
      {
        g_autofree char *value = bed_value_dup_sentence (farm, draft->record, info->fields[i].name);

        append_value (words, _ (info->fields[i].label), value);
      }
  for (guint i = 0; i < draft->n_references; i++)
    append_value (words, _ (draft->references[i].field->label), draft->references[i].name);
  if (draft->times == 1)
    return bed_dup_labelled (_ (info->singular), words->str);
  g_autofree char *count = bed_kind_dup_count (bed_record_get_kind (draft->record), draft->times);
  return bed_dup_labelled (count, words->str);
}

/* What is its own first: that is what the row is. */
static char *
dup_ours (BedFarm *farm, const BedNotebookRow *row)
{
  g_autoptr (GString) all = g_string_new (NULL);

  for (guint i = row->n_drafts; i > 0; i--)
    {
      g_autofree char *draft = dup_draft (farm, &row->drafts[i - 1]);

      g_string_append_printf (all, "%s%s", all->len ? "\n" : "", draft);
    }
  return g_string_free (g_steal_pointer (&all), FALSE);
}

/* --- theirs -------------------------------------------------------------------------- */

static char *
dup_cells (const BedSheetRow *row)
{
  g_autoptr (GString) cells = g_string_new (NULL);

  for (guint i = 0; i < row->n_cells; i++)
    if (row->cells[i].text[0])
      g_string_append_printf (cells, "%s%s", cells->len ? " | " : "", row->cells[i].text);
  g_strdelimit (cells->str, "\r\n\t", ' ');
  return g_string_free (g_steal_pointer (&cells), FALSE);
}

/* Lines only go up; a crosswise one is asked for again and again. */
static void
find_theirs (BedRows *rows, GPtrArray *previews)
{
  const BedSheetRow *row = NULL;
  guint at = 0;

  while (at < previews->len && (row = bed_rows_next (rows, NULL)))
    while (at < previews->len && ((BedImportPreview *) previews->pdata[at])->line <= row->line)
      ((BedImportPreview *) previews->pdata[at++])->theirs = dup_cells (row);
}

/* --- public ---------------------------------------------------------------------------- */

static gboolean
was_asked (BedNotebook *notebook, guint line)
{
  guint n;
  const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);

  for (guint i = 0; i < n; i++)
    if (questions[i].line == line && questions[i].column > 0)
      return TRUE;
  return FALSE;
}

GPtrArray *
bed_import_preview_new (BedFarm *farm, BedNotebook *notebook, BedRows *rows)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && notebook != NULL && rows != NULL, NULL);
  GPtrArray *previews = g_ptr_array_new_with_free_func ((GDestroyNotify) preview_free);
  const BedNotebookRow *row;

  if (!bed_notebook_begin (notebook, NULL))
    return previews;
  for (guint n = 0;
       n < LOOKED_AT && previews->len < MOST && (row = bed_notebook_next (notebook, NULL)); n++)
    if (n < FIRST || was_asked (notebook, row->line))
      {
        BedImportPreview *preview = g_new0 (BedImportPreview, 1);

        preview->line = row->line;
        preview->ours = dup_ours (farm, row);
        g_ptr_array_add (previews, preview);
      }
  find_theirs (rows, previews);
  return previews;
}
