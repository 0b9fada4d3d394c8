#include "model/season/pick.h"

#include <glib/gi18n-lib.h>

#include "model/farm/code.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

gint64
bed_pick_find_lot (BedFarm *farm, const char *day)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && day != NULL, 0);
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT id FROM lot WHERE picked_on = ?1 ORDER BY id DESC LIMIT 1");

  bed_query_bind_text (q, 1, day);
  gint64 lot = bed_query_next (q) ? bed_query_int (q, 0) : 0;
  return bed_query_finish (q, NULL) ? lot : 0;
}

char *
bed_pick_dup_lot_code (BedFarm *farm, const char *day)
{
  gint64 lot = bed_pick_find_lot (farm, day);

  return lot ? bed_farm_dup_name (farm, BED_KIND_LOT, lot) : bed_code_next_lot (farm, day);
}

static BedRecord *
make_lot (BedFarm *farm, const char *day)
{
  g_autofree char *code = bed_code_next_lot (farm, day);
  BedRecord *lot = bed_record_new (BED_KIND_LOT);

  bed_record_set_text (lot, "code", code);
  bed_record_set_text (lot, "picked_on", day);
  return lot;
}

void
bed_pick_put (BedFarm *farm, BedEdit *edit, BedRecord *pick)
{
  g_return_if_fail (BED_IS_FARM (farm) && edit != NULL && BED_IS_RECORD (pick));
  const char *day = bed_record_get_text (pick, "picked_on");

  if (!bed_record_has (pick, "lot") && day)
    {
      gint64 id = bed_pick_find_lot (farm, day);
      if (!id)
        {
          g_autoptr (BedRecord) lot = make_lot (farm, day);
          bed_edit_put (edit, lot);
          id = bed_record_get_id (lot);
        }
      bed_record_set_int (pick, "lot", id);
    }
  bed_edit_put (edit, pick);
}

char *
bed_pick_dup_words (BedFarm *farm, BedRecord *pick)
{
  static const char *const sources[] = { "log", "stack", "batch" };
  const BedField *grade = bed_kind_find_field (BED_KIND_PICK, "grade", NULL);
  g_autofree char *mass = bed_value_dup_sentence (farm, pick, "mass");
  const char *key = bed_record_get_text (pick, "grade");
  g_autofree char *from = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (sources) && !from; i++)
    if (bed_record_has (pick, sources[i]))
      from = bed_value_dup_sentence (farm, pick, sources[i]);
  /* Translators: weight, grade, log, stack or batch. */
  return g_strdup_printf (_ ("%s %s from %s"), mass, bed_field_choice_label (grade, key),
                          from ? from : "–");
}

gboolean
bed_pick_open_lot (BedFarm *farm, const char *day, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && day != NULL, FALSE);
  g_autoptr (BedRecord) lot = make_lot (farm, day);
  g_autofree char *sentence
      = g_strdup_printf (_ ("Opened lot %s"), bed_record_get_text (lot, "code"));

  return bed_edit_put_one (farm, lot, sentence, error);
}
