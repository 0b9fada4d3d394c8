#include "print/field/recall_sheet.h"

#include <glib/gi18n-lib.h>

#include "print/field/list_sheet.h"

typedef enum
{
  ALL,
  IN_SHORT, /* whom to call, what to hold back, where it came from, what it comes to */
  EACH      /* each sale, lot, soak */
} Part;

static Part
get_part (const BedTraceStep *step)
{
  static const char *const each[] = { "to", "no_lot", "soaks", "lots", NULL };

  return g_strv_contains (each, step->key) ? EACH : IN_SHORT;
}

static gboolean
add_step (BedListSheet *sheet, BedFarm *farm, const BedRecallOf *of, const BedTraceStep *step,
          GError **error)
{
  g_autoptr (BedQuery) q = bed_recall_ask (farm, of, step);

  bed_list_sheet_add_part (sheet, _ (step->title));
  for (int i = 0; step->columns[i].key; i++)
    bed_list_sheet_add_column (sheet, _ (step->columns[i].label),
                               step->columns[i].type == BED_TRACE_TEXT
                                       || step->columns[i].type == BED_TRACE_DATE
                                   ? BED_ALIGN_LEFT
                                   : BED_ALIGN_RIGHT);
  while (bed_query_next (q))
    {
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);

      for (int i = 0; step->columns[i].key; i++)
        g_ptr_array_add (cells, bed_trace_dup_cell (farm, &step->columns[i], q, i));
      bed_list_sheet_add_row (sheet, (const char *const *) cells->pdata);
    }
  return bed_query_finish (q, error);
}

static gboolean
add_part (BedListSheet *sheet, BedFarm *farm, const BedRecallOf *of, Part part, GError **error)
{
  const BedTraceStep *step = NULL;

  while ((step = bed_recall_next (step)))
    {
      if (part != ALL && get_part (step) != part)
        continue;
      if (!add_step (sheet, farm, of, step, error))
        return FALSE;
      bed_list_sheet_drop_empty (sheet);
    }
  return TRUE;
}

static BedDocument *
make (BedFarm *farm, const BedRecallOf *of, const BedPaper *paper, Part first, GError **error)
{
  g_autofree char *words = bed_recall_dup_words (farm, of);
  g_autofree char *title = g_strdup_printf (_ ("Recall: %s"), words);
  g_autoptr (BedListSheet) sheet = bed_list_sheet_new (farm, title);

  if (!add_part (sheet, farm, of, first, error))
    return NULL;
  if (first == IN_SHORT)
    {
      bed_list_sheet_begin_page (sheet);
      if (!add_part (sheet, farm, of, EACH, error))
        return NULL;
    }
  return bed_list_sheet_document_new (g_steal_pointer (&sheet), paper);
}

BedDocument *
bed_recall_sheet_new (BedFarm *farm, const BedRecallOf *of, const BedPaper *paper, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && of != NULL && paper != NULL, NULL);
  BedDocument *document = make (farm, of, paper, ALL, error);

  if (!document || bed_document_get_n_pages (document) == 1)
    return document;
  g_clear_pointer (&document, bed_document_free);
  return make (farm, of, paper, IN_SHORT, error);
}
