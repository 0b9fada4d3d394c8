#include "print/field/field_sheet_plan.h"

#include <glib/gi18n-lib.h>

#include "model/farm/say.h"
#include "model/farm/value.h"
#include "yard/planned_farm.h"

static void
add_move (BedFieldSheet *sheet, const BedPlannedDay *draft, const BedPlannedMove *move)
{
  g_autofree char *from = bed_planned_dup_spot (draft, &move->from);
  g_autofree char *tier = g_strdup_printf ("%u", move->to.tier);
  g_autofree char *slot = g_strdup_printf ("%u", move->to.slot);
  const char *cells[] = { BED_TO_TICK, move->code,
                          from,        g_hash_table_lookup (draft->names, &move->to.stack),
                          tier,        slot };

  g_assert (G_N_ELEMENTS (cells) == bed_field_sheet_get_n_columns (sheet));
  bed_field_sheet_add_row (sheet, cells);
}

static void
add_moves (BedFieldSheet *sheet, const BedPlannedDay *draft)
{
  guint hindered = 0;

  for (guint i = 0; i < draft->moves->len; i++)
    {
      const BedPlannedMove *move = draft->moves->pdata[i];
      if (move->state == BED_PLANNED_READY)
        add_move (sheet, draft, move);
      else
        hindered++;
    }
  if (hindered == 0)
    return;
  g_autofree char *caution = bed_say (
      ngettext ("%u log more is planned to move, but another that stays is in its way.",
                "%u logs more are planned to move, but others that stay are in their way.",
                hindered),
      hindered);
  bed_field_sheet_add_caution (sheet, caution);
}

BedFieldSheet *
bed_field_sheet_new_plan (BedFarm *farm, const char *day, BedPaperHead *head, GError **error)
{
  g_autoptr (GError) refused = NULL;
  g_autofree char *first = day ? g_strdup (day) : bed_planned_dup_day (farm, &refused);

  if (refused)
    {
      g_propagate_error (error, g_steal_pointer (&refused));
      return NULL;
    }
  if (!first)
    return bed_field_sheet_new_kind (BED_PAPER_PLAN, head);
  g_autoptr (BedPlannedDay) draft = bed_planned_read (farm, first, error);
  if (!draft)
    return NULL;
  g_hash_table_insert (head->values, (gpointer) "planned_on", bed_date_format_day (first));
  BedFieldSheet *sheet = bed_field_sheet_new_kind (BED_PAPER_PLAN, head);
  add_moves (sheet, draft);
  return sheet;
}
