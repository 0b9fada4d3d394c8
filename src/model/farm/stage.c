#include "model/farm/stage.h"

#include <glib/gi18n-lib.h>

static const struct
{
  const char *key;
  const char *word; /* NC_() */
} stages[BED_N_STAGES] = {
  [BED_STAGE_UNKNOWN] = { "", NC_ ("stage", "not known") },
  [BED_STAGE_FELLED] = { "felled", NC_ ("stage", "felled") },
  [BED_STAGE_SPAWN_RUN] = { "spawn run", NC_ ("stage", "spawn run") },
  [BED_STAGE_READY] = { "ready", NC_ ("stage", "ready") },
  [BED_STAGE_SOAKING] = { "soaking", NC_ ("stage", "soaking") },
  [BED_STAGE_FRUITING] = { "fruiting", NC_ ("stage", "fruiting") },
  [BED_STAGE_RESTING] = { "resting", NC_ ("stage", "resting") },
  [BED_STAGE_RETIRED] = { "retired", NC_ ("stage", "retired") },
};

BedStage
bed_stage_from_key (const char *key)
{
  for (guint i = 0; i < BED_N_STAGES; i++)
    if (g_strcmp0 (stages[i].key, key) == 0)
      return i;
  return BED_STAGE_UNKNOWN;
}

const char *
bed_stage_get_key (BedStage stage)
{
  g_return_val_if_fail (stage < BED_N_STAGES, "");
  return stages[stage].key;
}

const char *
bed_stage_get_word (BedStage stage)
{
  g_return_val_if_fail (stage < BED_N_STAGES, "");
  return g_dpgettext2 (GETTEXT_PACKAGE, "stage", stages[stage].word);
}
