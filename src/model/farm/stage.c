#include "model/farm/stage.h"

#include <glib/gi18n-lib.h>

static const struct
{
  const char *key;
  const char *word; /* N_() */
} stages[BED_N_STAGES] = {
  [BED_STAGE_UNKNOWN] = { "", N_ ("not known") },
  [BED_STAGE_FELLED] = { "felled", N_ ("felled") },
  [BED_STAGE_SPAWN_RUN] = { "spawn run", N_ ("spawn run") },
  [BED_STAGE_READY] = { "ready", N_ ("ready") },
  [BED_STAGE_SOAKING] = { "soaking", N_ ("soaking") },
  [BED_STAGE_FRUITING] = { "fruiting", N_ ("fruiting") },
  [BED_STAGE_RESTING] = { "resting", N_ ("resting") },
  [BED_STAGE_RETIRED] = { "retired", N_ ("retired") },
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
  return _ (stages[stage].word);
}
