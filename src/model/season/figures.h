#pragma once

#include "model/farm/farm.h"
#include "model/farm/stage.h"
#include "model/season/crop.h"
#include "model/season/soak_plan.h"
#include "model/work/due.h"
#include "science/measure.h"

/* The table of figures: each figure of a farm once, with what it is called, what it is measured
 * in, the sentence that says exactly what it is, and one answer. Window, workbook, field sheets
 * and tool ask here; docs/figures.md is written from it. */

typedef enum
{
  BED_FIGURE_OF_FARM, /* today */
  BED_FIGURE_OF_WEEK, /* Monday to Sunday */
  BED_FIGURE_OF_SEASON,
  BED_FIGURE_OF_BATCH,
  BED_FIGURE_OF_LOG,
  BED_FIGURE_OF_KIND, /* a strain on a wood */
  BED_N_FIGURE_SCOPES
} BedFigureScope;

/* What a figure is reckoned by, beside its measure. */
typedef enum
{
  BED_FIGURE_WHOLE,
  BED_FIGURE_A_LOG,
  BED_FIGURE_A_MASS, /* by the farm's unit of mass; stored by the kg */
} BedFigurePer;

typedef enum
{
  /* of the farm */
  BED_FIGURE_LOGS_WAITING,
  BED_FIGURE_DAYS_WAITING,
  BED_FIGURE_SPAWN_LEFT,
  BED_FIGURE_PIECES_LEFT,
  BED_FIGURE_LOGS_IN_TANK,
  BED_FIGURE_LOGS_RESTED,
  BED_FIGURE_CHANGES,
  BED_FIGURE_PEOPLE,
  /* of a week */
  BED_FIGURE_WEEK_LOGS_DUE,
  BED_FIGURE_WEEK_OVERDUE,
  BED_FIGURE_WEEK_PICKED,
  BED_FIGURE_WEEK_EXPECTED,
  BED_FIGURE_WEEK_PICKED_DAY, /* of the day asked about */
  /* of a season */
  BED_FIGURE_PICKED,
  BED_FIGURE_SOLD,
  BED_FIGURE_INCOME,
  BED_FIGURE_COST,
  BED_FIGURE_MARGIN,
  BED_FIGURE_HOURS,
  BED_FIGURE_LOGS_IN_SEASON,
  BED_FIGURE_PICKED_PER_LOG,
  BED_FIGURE_COST_PER_LOG,
  BED_FIGURE_COST_PER_KG,
  BED_FIGURE_HOURS_PER_KG,
  BED_FIGURE_PRICE_GOT_FRESH,
  BED_FIGURE_PRICE_GOT_DRIED,
  BED_FIGURE_PRICE_TO_BREAK_EVEN,
  BED_FIGURE_EXPECTED_NEXT_LOW,
  BED_FIGURE_EXPECTED_NEXT,
  BED_FIGURE_EXPECTED_NEXT_HIGH,
  BED_FIGURE_EXPECTED_WEEK,
  /* of a batch so far */
  BED_FIGURE_BATCH_LOGS_MADE,
  BED_FIGURE_BATCH_LOGS_ALIVE,
  BED_FIGURE_BATCH_PICKED_IN_ALL,
  BED_FIGURE_BATCH_PICKED_PER_LOG_MADE,
  BED_FIGURE_BATCH_COST,
  BED_FIGURE_BATCH_COST_PER_LOG,
  BED_FIGURE_BATCH_COST_PER_KG,
  BED_FIGURE_BATCH_STAGE, /* a BedStage */
  /* of a batch in a season */
  BED_FIGURE_BATCH_AGE,
  BED_FIGURE_BATCH_LOGS_IN_SEASON,
  BED_FIGURE_BATCH_PICKED,
  BED_FIGURE_BATCH_PICKED_PER_LOG,
  /* of a log so far */
  BED_FIGURE_LOG_STAGE, /* a BedStage */
  BED_FIGURE_LOG_PICKED_IN_ALL,
  /* of a log in a season */
  BED_FIGURE_LOG_AGE,
  BED_FIGURE_LOG_SOAKS,
  BED_FIGURE_LOG_PICKED,
  /* of a kind */
  BED_FIGURE_KIND_LOGS,
  BED_FIGURE_KIND_BATCHES,
  BED_FIGURE_KIND_LEVEL_LOW,
  BED_FIGURE_KIND_LEVEL,
  BED_FIGURE_KIND_LEVEL_HIGH,
  BED_N_FIGURES,
} BedFigureId;

typedef struct
{
  const char *key;   /* unique within its scope */
  const char *label; /* N_() */
  BedFigureScope scope;
  BedMeasure measure; /* COUNT: of logs, seasons; or the stage */
  BedFigurePer per;
  guint decimals;       /* that a person reads; of money the currency's */
  const char *sentence; /* N_(): exactly what it is */
  const char *one;      /* N_(): the label where it is one; NULL: the same */
} BedFigure;

#define BED_FIGURE_FARM_FIRST BED_FIGURE_LOGS_WAITING
#define BED_FIGURE_FARM_LAST BED_FIGURE_PEOPLE

/* Static. */
const BedFigure *bed_figure_get (BedFigureId id);

/* Its id, BED_N_FIGURES where there is none of that key in the scope. */
BedFigureId bed_figure_find (BedFigureScope scope, const char *key);

/* Whether its answer is a BedStage. */
gboolean bed_figure_is_stage (BedFigureId id);

/* Answers, in stored units: mg, minutes, minor units of the currency; by the log or by the kg
 * where the figure is; NAN where there is nothing to divide by, no answer, or nobody asked. */
typedef struct
{
  double values[BED_N_FIGURES];
} BedFigureAnswers;

/* Fills in those of the farm from @from to @to, in the order of the table. FALSE when the farm
 * cannot be read. */
gboolean bed_figures_read_farm (BedFarm *farm, BedFigureId from, BedFigureId to,
                                BedFigureAnswers *answers, GError **error);

/* Fills in those of the week of @day, YYYY-MM-DD; what is due, of the running week alone. */
gboolean bed_figures_read_week (BedFarm *farm, const char *day, BedFigureAnswers *answers,
                                GError **error);

/* Where the farm was read already: what is due of bed_due_list(); the rested logs and the
 * crop of the week of @day. */
void bed_figures_read_due (const GPtrArray *items, BedFigureAnswers *answers);
void bed_figures_read_soaks (const BedSoakPlan *plan, const char *day, BedFigureAnswers *answers);

/* Fills in what a season gave and cost: all of its figures but what is expected. FALSE when the
 * farm cannot be read. */
gboolean bed_figures_read_season (BedFarm *farm, int season, BedFigureAnswers *answers,
                                  GError **error);

/* Fills in what is expected after @season, and in the week that runs where @season runs; NAN of a
 * season not begun. Reads the whole farm. */
gboolean bed_figures_read_expected (BedFarm *farm, int season, BedFigureAnswers *answers,
                                    GError **error);

/* Fills in the figures of @batch so far; those in a season are NAN. */
gboolean bed_figures_read_batch (BedFarm *farm, gint64 batch, BedFigureAnswers *answers,
                                 GError **error);

/* Fills in those in @season, which looks at every pick of the farm. */
gboolean bed_figures_read_batch_season (BedFarm *farm, gint64 batch, int season,
                                        BedFigureAnswers *answers, GError **error);

/* The same of @log. */
gboolean bed_figures_read_log (BedFarm *farm, gint64 log, BedFigureAnswers *answers,
                               GError **error);
gboolean bed_figures_read_log_season (BedFarm *farm, gint64 log, int season,
                                      BedFigureAnswers *answers, GError **error);

/* Those of a kind of bed_crop_new(). */
void bed_figures_read_kind (const BedCropGroup *group, BedFigureAnswers *answers);

/* The answer as a person reads it, in the farm's units, rounded to the figure's decimals; NULL for
 * NAN. Free with g_free(). */
char *bed_figure_dup_text (BedFarm *farm, BedFigureId id, double value);

/* The farm's unit beside it: "kg", "USD/kg", "" of a count. Free with g_free(). */
char *bed_figure_dup_unit (BedFarm *farm, BedFigureId id);

/* The answer for machines: kilograms, hours, major units of the currency, counts. */
double bed_figure_to_si (BedFarm *farm, BedFigureId id, double value);
