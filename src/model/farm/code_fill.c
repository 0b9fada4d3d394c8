/* Codes left out of a record that is about to be written. */
#include "model/farm/code.h"

#include <string.h>

#include "model/farm/farm_private.h"
#include "model/farm/kinds.h"

static const struct
{
  BedKind kind;
  const char *date; /* the field whose year the code carries */
  char letter;      /* 0: not of the numbered sort */
} coded[] = {
  { BED_KIND_FELLING, "felled_on", 'F' }, { BED_KIND_SPAWN, "received_on", 'S' },
  { BED_KIND_SOAK, "put_in", 'K' },       { BED_KIND_SALE, "sold_on", 'V' },
  { BED_KIND_BATCH, "inoculated_on", 0 }, { BED_KIND_LOT, "picked_on", 0 },
};

static char *
next_code (BedFarm *farm, guint which, const char *date)
{
  if (coded[which].letter)
    return bed_code_next_numbered (farm, coded[which].kind, coded[which].letter, date);
  return coded[which].kind == BED_KIND_BATCH ? bed_code_next_batch (farm, date)
                                             : bed_code_next_lot (farm, date);
}

/* Logs of a batch are numbered in it; bolts not inoculated yet in their felling. */
static char *
next_log_code (BedFarm *farm, BedRecord *record)
{
  if (bed_record_has (record, "batch"))
    {
      gint64 batch = bed_record_get_int (record, "batch");
      g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_BATCH, batch);
      return code ? bed_code_log (code, bed_code_next_log_number (farm, batch)) : NULL;
    }
  g_autofree char *felling
      = bed_farm_dup_name (farm, BED_KIND_FELLING, bed_record_get_int (record, "felling"));
  for (int i = 1; felling; i++)
    {
      g_autofree char *code = g_strdup_printf ("%s-B%03d", felling, i);
      sqlite3_stmt *stmt
          = bed_farm_statement (farm, "SELECT 1 FROM log WHERE code = ?1 COLLATE NOCASE", NULL);
      bed_farm_bind_text (farm, stmt, 1, code);
      gboolean taken = bed_farm_step (farm, stmt) == SQLITE_ROW;
      sqlite3_reset (stmt);
      if (!taken)
        return g_steal_pointer (&code);
    }
  return NULL;
}

void
bed_code_fill (BedFarm *farm, BedRecord *record)
{
  BedKind kind = bed_record_get_kind (record);
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *code = NULL;

  if (g_strcmp0 (info->key, "code") != 0 || bed_record_has (record, "code"))
    return;
  if (kind == BED_KIND_LOG)
    code = next_log_code (farm, record);
  for (guint i = 0; i < G_N_ELEMENTS (coded); i++)
    {
      const char *date = coded[i].kind == kind ? bed_record_get_text (record, coded[i].date) : NULL;
      if (date && strlen (date) >= 10)
        code = next_code (farm, i, date);
    }
  if (code)
    bed_record_set_text (record, "code", code);
}
