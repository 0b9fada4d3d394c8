#pragma once

#include <glib.h>

/* Where a log is in its life. The key is what log_today.stage and batch_summary.stage of
 * data/schema/views.sql answer; the word is what people read. */
typedef enum
{
  BED_STAGE_UNKNOWN, /* of a log that is planned to come from another area */
  BED_STAGE_FELLED,
  BED_STAGE_SPAWN_RUN,
  BED_STAGE_READY,
  BED_STAGE_SOAKING,
  BED_STAGE_FRUITING,
  BED_STAGE_RESTING,
  BED_STAGE_RETIRED,
  BED_N_STAGES
} BedStage;

/* UNKNOWN for NULL and for what is no stage. */
BedStage bed_stage_from_key (const char *key);

/* "" for UNKNOWN. Static. */
const char *bed_stage_get_key (BedStage stage);

/* Translated: "spawn run"; "not known" for UNKNOWN. Static. */
const char *bed_stage_get_word (BedStage stage);
