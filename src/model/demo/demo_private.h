#pragma once

#include "model/demo/demo.h"
#include "model/farm/edit.h"

/* The demo farm's story while it is being told. Days are Julian day numbers of
 * GDate; masses here are grams and lengths millimetres, as double, until they are
 * rounded to what the farm's scale and tape show. */

typedef struct
{
  gint64 id;
  double diameter;  /* mean, mm */
  double vigour;    /* share of the batch's mean crop */
  BedRecord *place; /* the open place, NULL when it lies nowhere */
} BedDemoLog;

/* A stack the batch lies in now. */
typedef struct
{
  gint64 id;
  int slot; /* of its yard */
  BedRecord *record;
} BedDemoStack;

typedef enum
{
  BED_DEMO_PICK_LOGS,
  BED_DEMO_PICK_STACKS,
  BED_DEMO_PICK_BATCH,
} BedDemoPicking;

typedef struct
{
  gint64 id;
  char *code;
  int number; /* from 0, over all years */
  int season; /* year it was inoculated in */
  int inoculated_on;
  int raise_on; /* day its logs go to the fruiting yard */
  gboolean raised;
  int strain; /* index into the demo's strains */
  double vigour;
  GArray *logs;   /* BedDemoLog, those alive */
  GArray *stacks; /* BedDemoStack */
  BedDemoPicking picking;
  int next_soak;
  int soaks;    /* this season */
  int flush_on; /* day the mushrooms began, 0 when there are none */
  double flush; /* g per log of this flush */
} BedDemoBatch;

/* Room for stacks on a grid; a place is free again when its stack is taken down. */
typedef struct
{
  gint64 area;
  int columns;
  double west, south; /* m, middle of the first place */
  double dx, dy;      /* m, from one to the next */
  GArray *free_from;  /* int days */
} BedDemoYard;

typedef struct
{
  gint64 id;
  gint64 rest; /* mg not yet sold, dried or lost */
  int picked_on;
} BedDemoLot;

typedef struct
{
  gint64 id;
  char *code;
  gint64 rest; /* mg */
  int logs;    /* of this season for it, still to be inoculated */
} BedDemoSpawn;

enum
{
  BED_DEMO_STRAINS = 3,
  BED_DEMO_BUYERS = 6,
  BED_DEMO_PER_STACK = 36,
  /* Grams of sawdust spawn, invented for this farm. */
  BED_DEMO_SPAWN_PER_LOG = 108,
};

typedef struct
{
  BedFarm *farm;
  BedDemoPlan plan;
  GRand *chance;
  int today;
  int day;    /* the day being told */
  char *date; /* the same, YYYY-MM-DD */
  int minute; /* of that day, moves on with each edit */
  int first_year;
  int springs; /* inoculation seasons told */
  int *shares; /* logs of each spring */
  int waiting; /* bolts left for later this year */

  gint64 stand[3];
  gint64 strain[BED_DEMO_STRAINS];
  gint64 buyer[BED_DEMO_BUYERS];
  GArray *fellings; /* gint64, of the running season */
  BedDemoSpawn spawn[BED_DEMO_STRAINS];
  BedDemoYard laying, fruiting;
  int cribs, frames;  /* named so far */
  GPtrArray *batches; /* BedDemoBatch */
  GArray *sizes;      /* int, batches of the running season still to be inoculated */
  int season_batches; /* how many it began with */
  GQueue lots;        /* BedDemoLot, oldest first */
  gint64 dried;       /* mg of dried stock */
  gint64 dried_lot;
  int year_counter; /* year that the counters below are of */
  int soak_number, sale_number;
  double warmth;               /* deviation of the day's temperature, C */
  double rain_week;            /* mm in the last days, fading */
  GArray *rain, *least, *most; /* of the running month, a double a day */
  double picked;               /* g, of the running season */
} BedDemo;

/* demo.c */
GDate bed_demo_gdate (int day);
char *bed_demo_date (int day);
int bed_demo_day (int year, int month, int day_of_month);
int bed_demo_year (int day);
/* YYYY-MM-DDTHH:MM of the story's day. */
char *bed_demo_moment (int day, int minute);
double bed_demo_normal (BedDemo *demo, double mean, double deviation);
/* The same kept between two ends. CLAMP would draw its argument three times. */
double bed_demo_between (BedDemo *demo, double mean, double deviation, double least, double most);
gboolean bed_demo_chance (BedDemo *demo, double share);
/* A new edit at the running moment. */
BedEdit *bed_demo_begin (BedDemo *demo);
/* Commits and frees @edit. */
gboolean bed_demo_end (BedEdit *edit, GError **error, const char *format, ...) G_GNUC_PRINTF (3, 4);
/* A record with text fields, "field", "value", ..., NULL; put into @edit, which keeps it. */
BedRecord *bed_demo_put (BedEdit *edit, BedKind kind, ...) G_GNUC_NULL_TERMINATED;

/* Number fields: BED_DEMO_SET (log, { "batch", id }, { "holes", 30 }). They are worked out in no
 * certain order, so that only one may draw by chance. */
typedef struct
{
  const char *field;
  gint64 value;
} BedDemoNumber;
#define BED_DEMO_SET(record, ...)                                                                  \
  bed_demo_set_numbers (record, (const BedDemoNumber[]){ __VA_ARGS__, { NULL, 0 } })
void bed_demo_set_numbers (BedRecord *record, const BedDemoNumber *numbers);

/* What the farm's tape, scales and thermometer show, stored: @step is one of inches, pounds and
 * ounces in a farm of US units, and about as much in round metric ones in another. */
gboolean bed_demo_is_metric (const BedDemoPlan *plan);
gint64 bed_demo_length (const BedDemoPlan *plan, double mm, double step);
gint64 bed_demo_mass (const BedDemoPlan *plan, double g, double step);
gint64 bed_demo_small_mass (const BedDemoPlan *plan, double g, double step);
gint64 bed_demo_temperature (const BedDemoPlan *plan, double celsius);

/* demo_scene.c: what the farm begins with. */
BedRecord *bed_demo_settings (const BedDemoPlan *plan);
gboolean bed_demo_set_scene (BedDemo *demo, GError **error);

/* demo_winter.c */
gboolean bed_demo_fell (BedDemo *demo, int logs, GError **error);
gboolean bed_demo_receive_spawn (BedDemo *demo, GError **error);
/* Bolts that have waited too long, so that the demo has something to warn of. */
gboolean bed_demo_leave_waiting (BedDemo *demo, GError **error);

/* demo_batch.c: spring. */
/* How many stacks the batches of a spring's logs take. */
int bed_demo_count_stacks (int logs);
gboolean bed_demo_prepare_season (BedDemo *demo, GError **error);
gboolean bed_demo_inoculate (BedDemo *demo, GError **error);
BedRecord *bed_demo_put_log (BedDemo *demo, BedEdit *edit, gint64 felling, const char *code);
void bed_demo_batch_free (BedDemoBatch *batch);

/* demo_yard.c */
void bed_demo_stack_up (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch);
/* Bolts in a close pile, until there is time for them. */
void bed_demo_pile_up (BedDemo *demo, BedEdit *edit, GPtrArray *bolts);
gboolean bed_demo_raise (BedDemo *demo, GError **error);
gboolean bed_demo_retire (BedDemo *demo, GError **error);

/* demo_look.c */
gboolean bed_demo_look (BedDemo *demo, GError **error);

/* The sample logs on the scale on @day, @share of a gram a millilitre; a disc sawn off a bolt
 * left over. Both without chance, so that the rest of the story is what it was. */
void bed_demo_weigh (const BedDemo *demo, BedEdit *edit, BedDemoBatch *batch, int day,
                     double share);
void bed_demo_cut_disc (BedDemo *demo, BedEdit *edit, BedDemoBatch *batch);

/* demo_crop.c */
/* The first soak of its next season. */
void bed_demo_plan_soak (BedDemoBatch *batch, int year);
gboolean bed_demo_soak (BedDemo *demo, GError **error);
gboolean bed_demo_pick (BedDemo *demo, GError **error);
gboolean bed_demo_leave_soaking (BedDemo *demo, GError **error);

/* demo_trade.c */
gboolean bed_demo_sell (BedDemo *demo, GError **error);
gboolean bed_demo_spend (BedDemo *demo, GError **error);
void bed_demo_work (BedDemo *demo, BedEdit *edit, const char *task, double minutes, gint64 batch,
                    int logs);

/* demo_weather.c */
gboolean bed_demo_weather (BedDemo *demo, GError **error);
