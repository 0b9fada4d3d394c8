#pragma once

#include "model/farm/edit.h"
#include "model/farm/farm.h"
#include "model/farm/history.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

/* A temporary farm with today fixed at 2026-05-12 and what most tests need in it. */
typedef struct
{
  char *folder;
  char *path;
  BedFarm *farm;
} Scene;

void scene_set_up (Scene *scene, gconstpointer units); /* units: "metric" or "US" */
void scene_tear_down (Scene *scene, gconstpointer units);
void scene_reopen (Scene *scene);

BedRecord *scene_settings (const char *units);

/* A record of @kind with fields set from texts as a person types them: name, text, …, NULL. */
BedRecord *scene_record (BedFarm *farm, BedKind kind, ...) G_GNUC_NULL_TERMINATED;

/* Puts one record and asserts that it went in; its id. */
gint64 scene_add (BedFarm *farm, BedRecord *record);

/* Asserts that the record is refused (or warned of) at @field with @words in the message. */
void scene_refuses (BedFarm *farm, BedRecord *record, const char *field, const char *words);
void scene_warns (BedFarm *farm, BedRecord *record, const char *field, const char *words);

/* A felling F, a batch 26A with @n logs inoculated 2026-03-01 of spawn S. */
gint64 scene_batch (BedFarm *farm, int n);

/* Lays the farm that a program of schema @version wrote (tests/farms) at @path. */
void scene_lay_kept (const char *path, int version);

/* Every row of every table but change, as text: to compare before and after. */
char *scene_dump (BedFarm *farm);
