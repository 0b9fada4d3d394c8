/* write-farm PATH: a small farm as this version leaves it, with a history of every sort of change:
 * things made, changed, removed, taken back and done again. `./dev release` keeps it in
 * tests/farms, where later versions step it up (tests/model/test_versions.c). */
#include "model/demo/demo.h"
#include "model/farm/edit.h"
#include "model/farm/history.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"

static void
commit (BedFarm *farm, BedRecord *record, const char *sentence)
{
  g_autoptr (GError) error = NULL;

  if (!bed_edit_put_one (farm, record, sentence, &error))
    g_error ("%s", error->message);
}

static BedRecord *
load_first (BedFarm *farm, BedKind kind)
{
  g_autofree char *sql
      = g_strdup_printf ("SELECT min (id) FROM \"%s\"", bed_kind_get_info (kind)->name);
  g_autoptr (BedQuery) q = bed_query_new (farm, sql);

  if (!bed_query_next (q))
    g_error ("there is no %s", bed_kind_get_info (kind)->name);
  return bed_farm_load (farm, kind, bed_query_int (q, 0), NULL);
}

static void
change_some (BedFarm *farm)
{
  static const BedKind kinds[]
      = { BED_KIND_LOG, BED_KIND_BATCH, BED_KIND_FELLING, BED_KIND_STACK, BED_KIND_PICK };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr (BedRecord) record = load_first (farm, kinds[i]);
      bed_record_set_text (record, "notes", "Looked at again");
      commit (farm, record, "Looked at again");
    }
}

static void
remove_one (BedFarm *farm)
{
  g_autoptr (BedRecord) buyer = bed_record_new (BED_KIND_BUYER);
  g_autoptr (BedEdit) edit = bed_edit_new (farm);

  bed_record_set_text (buyer, "name", "Nobody yet");
  commit (farm, buyer, "Added a buyer");
  bed_edit_remove (edit, BED_KIND_BUYER, bed_record_get_id (buyer));
  bed_edit_commit (edit, "Removed a buyer", NULL);
}

int
main (int argc, char **argv)
{
  const BedDemoPlan plan = { .logs = 12, .years = 3, .seed = 11, .today = "2026-11-20" };
  g_autoptr (GError) error = NULL;

  if (argc != 2)
    return 2;
  g_autoptr (BedFarm) farm = bed_demo_new (argv[1], &plan, &error);
  if (!farm)
    g_error ("%s", error->message);
  bed_farm_fix_clock (farm, "2026-11-20T17:00", 1);
  change_some (farm);
  remove_one (farm);
  g_autoptr (BedRecord) settings = bed_record_copy (bed_farm_get_settings (farm));
  bed_record_set_text (settings, "name", "Kept from before");
  commit (farm, settings, "Renamed the farm");
  bed_history_undo (farm, NULL, NULL);
  bed_history_redo (farm, NULL, NULL);
  return 0;
}
