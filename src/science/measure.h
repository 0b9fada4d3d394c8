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

/* How many figures stand between two marks of thousands. */
typedef enum
{
  BED_GROUPS_OF_THREE, /* 12,345,678 */
  BED_GROUPS_INDIAN,   /* 1,23,45,678 */
  BED_GROUPS_OF_FOUR,  /* 1234,5678 */
} BedGroups;

/* Which way the text runs that numbers stand in. */
typedef enum
{
  BED_RUNS_RIGHT, /* from left to right */
  BED_RUNS_LEFT,  /* Arabic, Hebrew: a minus before figures would come to stand behind them */
} BedRuns;

/* How one person writes numbers. */
typedef struct
{
  BedSystem system;
  char decimal_mark;   /* '.' or ',' */
  int money_decimals;  /* 0 to 4: 2 for cents */
  char thousands_mark; /* 0: none; '.', ',', '\'' (written ’) or ' ' (written as a narrow one that
                        * no line breaks at); never the decimal mark */
  BedGroups groups;
  BedRuns runs;
} BedNotation;
