#pragma once

/* What is measured, and how a person writes it. */

typedef enum
{
  BED_MEASURE_LENGTH_FINE, /* um; shown in mm or in: holes */
  BED_MEASURE_LENGTH,      /* um; cm or in: logs */
  BED_MEASURE_LENGTH_LONG, /* um; m or ft: trees, stacks, yards */
  BED_MEASURE_MASS_FINE,   /* mg; g or oz */
  BED_MEASURE_MASS,        /* mg; kg or lb */
  BED_MEASURE_VOLUME,      /* microlitres; l or gal (US) */
  BED_MEASURE_AREA,        /* cm2; m2 or ft2 */
  BED_MEASURE_LAND,        /* cm2; ha or ac */
  BED_MEASURE_BASAL_AREA,  /* cm2 per ha; m2/ha or ft2/ac */
  BED_MEASURE_TEMPERATURE, /* thousandths of a degree; C or F */
  BED_MEASURE_TIME,        /* minutes; h */
  BED_MEASURE_PERCENT,     /* hundredths of a percent; % */
  BED_MEASURE_MONEY,       /* minor units; no unit word */
  BED_MEASURE_COUNT,       /* whole things; no unit word */
  BED_MEASURE_ANGLE,       /* hundredths of a degree; deg */
  BED_N_MEASURES
} BedMeasure;

typedef enum
{
  BED_SYSTEM_METRIC,
  BED_SYSTEM_US
} BedSystem;

/* How one person writes numbers. */
typedef struct
{
  BedSystem system;
  char decimal_mark;  /* '.' or ',' */
  int money_decimals; /* 0 to 4: 2 for cents */
} BedNotation;
