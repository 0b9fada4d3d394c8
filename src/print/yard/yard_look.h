#pragma once

#include "model/farm/farm.h"
#include "print/yard/yard_palette.h"
#include "science/moisture.h"
#include "science/units.h"

/* What the colours and hatches of a drawing say, on screen and paper alike, and their key. */

typedef enum
{
  BED_COLOUR_BY_BATCH,
  BED_COLOUR_BY_STAGE,
  BED_COLOUR_BY_SOAKED,   /* days since the last soak */
  BED_COLOUR_BY_MOISTURE, /* at the last weighing */
  BED_COLOUR_BY_AGE,      /* since inoculation */
  BED_COLOUR_BY_PICKED,   /* of this season */
  BED_N_COLOUR_BYS
} BedColourBy;

/* "soaked", to remember and to type it by; BED_N_COLOUR_BYS for what is none of them. */
const char *bed_colour_by_key (BedColourBy by);
BedColourBy bed_colour_by_from_key (const char *key);

/* Whether these colours need more of the logs than is loaded with a yard. */
gboolean bed_colour_by_asks (BedColourBy by);

/* Loads that into @yard, if they do; FALSE when the farm cannot be read. */
gboolean bed_colour_by_read (BedColourBy by, BedYard *yard, BedFarm *farm, const char *date,
                             GError **error);

/* "Days since soak", translated; "batch, stage, …": all keys. */
const char *bed_colour_by_word (BedColourBy by);
char *bed_colour_by_dup_keys (void);

/* What logs that look alike have in common: their batch's mark, their stage, their step of the
 * scale, which is of the farm's units; -1: not known. And how they look. */
int bed_colour_by_class (BedColourBy by, BedSystem system, const BedYardLog *log);
BedLogLook bed_colour_by_look (BedColourBy by, int class, const BedPalette *palette);

/* A line of the key: how logs look that are alike, what that says, how many there are. */
typedef struct
{
  BedYardLog sample; /* its texts are not its own */
  int class;         /* see bed_colour_by_class() */
  char *word;
  guint n;
} BedKeyLine;

/* All there are in @yard, each once: batches by their code, steps of a scale as they rise, what is
 * not known last. Element BedKeyLine, owned. @system: the farm's. */
GPtrArray *bed_yard_key_new (const BedYard *yard, BedColourBy by, BedSystem system);
