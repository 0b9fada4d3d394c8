#pragma once

#include <gio/gio.h>

#include "science/measure.h"
#include "science/wood.h"

/* Inside the room: what a calc command is made of. To add one, write a
 * BedCalcCommand in a calc_*.c, declare it at the end here and name it in the table
 * of calc.c. */

typedef struct _BedCalc BedCalc;

typedef enum
{
  BED_CALC_TEXT,
  BED_CALC_NUMBER, /* a plain decimal, point as mark */
  BED_CALC_MEASURE /* with or without a unit: see science/units.h */
} BedCalcKind;

typedef enum
{
  BED_CALC_OPTIONAL,
  BED_CALC_REQUIRED
} BedCalcNeed;

typedef struct
{
  const char *name; /* without the hyphens */
  BedCalcNeed need;
  BedCalcKind kind;
  BedMeasure measure;   /* for BED_CALC_MEASURE; a bare number is in the unit of --units */
  const char *fallback; /* the value when left out, as if typed; NULL for none */
  const char *help;
} BedCalcOption;

/* One of a command's table: OPTION ("dry", REQUIRED, MASS, NULL, "dry mass of the log"). */
#define OPTION_OF(name, need, kind, measure, fallback, help)                                       \
  {                                                                                                \
    name, BED_CALC_##need, kind, measure, fallback, help                                           \
  }
#define OPTION(name, need, measure, fallback, help)                                                \
  OPTION_OF (name, need, BED_CALC_MEASURE, BED_MEASURE_##measure, fallback, help)
#define OPTION_TEXT(name, need, fallback, help)                                                    \
  OPTION_OF (name, need, BED_CALC_TEXT, BED_N_MEASURES, fallback, help)
#define OPTION_NUMBER(name, need, fallback, help)                                                  \
  OPTION_OF (name, need, BED_CALC_NUMBER, BED_N_MEASURES, fallback, help)

typedef struct
{
  const char *name;
  const char *help;
  const char *argument;         /* name of one plain argument, or NULL */
  const BedCalcOption *options; /* ended by one without a name */
  gboolean (*run) (BedCalc *calc, GError **error);
} BedCalcCommand;

/* What was given. Text is borrowed. Asking for an option that is absent and has no
 * fallback is a mistake of the command: look with has() first. */
gboolean bed_calc_has (BedCalc *calc, const char *name);
const char *bed_calc_text (BedCalc *calc, const char *name);
/* A number; a measure in the unit of bed_calc_scale(). */
double bed_calc_value (BedCalc *calc, const char *name);
const char *bed_calc_argument (BedCalc *calc);

/* What a stored value of @measure is divided by for the unit that src/science reckons in: mm, g
 * (MASS_FINE), kg, C, percent, degrees, m2/ha; 1 for all others. */
double bed_calc_scale (BedMeasure measure);

/* A plain decimal with a point as mark, finite; a date YYYY-MM-DD. FALSE when it is none. */
gboolean bed_calc_read_number (const char *text, double *value);
gboolean bed_calc_read_date (const char *text, GDate *date);

/* The place of @name's value in @words (NULL-ended), whatever its case; the beginning of
 * one of them is enough. -1 and an error that lists them. */
int bed_calc_choice (BedCalc *calc, const char *name, const char *const *words, GError **error);

/* The wood --wood names, from the species table; borrowed. NULL and an error. */
const BedWood *bed_calc_wood (BedCalc *calc, GError **error);

/* A comma list of plain numbers (GArray of double), free with g_array_unref(). */
GArray *bed_calc_list (BedCalc *calc, const char *name, GError **error);

BedSystem bed_calc_system (BedCalc *calc);

/* What an answer is worked out in. Its key gets the unit it is written in: _mm or _in. */
typedef enum
{
  BED_CALC_PLAIN, /* no unit, or one that is the same everywhere */
  BED_CALC_MM,
  BED_CALC_CM,
  BED_CALC_M,
  BED_CALC_ML,
  BED_CALC_L,
  BED_CALC_G,
  BED_CALC_KG,
  BED_CALC_WEIGHTED_KG,
  BED_CALC_M2,
  BED_CALC_M2_HA,
  BED_CALC_PER_HA,
  BED_CALC_WHOLE_PER_HA, /* rounded down where it is written */
  BED_CALC_C,
  BED_CALC_DEGREE_DAYS,
  BED_CALC_N_UNITS
} BedCalcUnit;

/* One answer more. A number that is not finite is written as null. A list, whose key says
 * the unit of what is in it, is ended by bed_calc_end_list(). */
void bed_calc_add_int (BedCalc *calc, const char *key, gint64 value);
void bed_calc_add_double (BedCalc *calc, const char *key, BedCalcUnit unit, double value);
void bed_calc_add_text (BedCalc *calc, const char *key, const char *value);
void bed_calc_begin_list (BedCalc *calc, const char *key, BedCalcUnit unit);
void bed_calc_begin_object (BedCalc *calc); /* inside a list */
void bed_calc_end_object (BedCalc *calc);
void bed_calc_end_list (BedCalc *calc);

#define BED_CALC_ERROR (bed_calc_error_quark ())
GQuark bed_calc_error_quark (void);

typedef enum
{
  BED_CALC_ERROR_USAGE
} BedCalcError;

/* Sets it, with a format and its values; FALSE. */
#define bed_calc_refuse(error, ...)                                                                \
  (g_set_error (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE, __VA_ARGS__), FALSE)

extern const BedCalcCommand bed_calc_air;
extern const BedCalcCommand bed_calc_break_even;
extern const BedCalcCommand bed_calc_budget;
extern const BedCalcCommand bed_calc_check_character;
extern const BedCalcCommand bed_calc_drill;
extern const BedCalcCommand bed_calc_dry;
extern const BedCalcCommand bed_calc_evaporation;
extern const BedCalcCommand bed_calc_heat;
extern const BedCalcCommand bed_calc_invest;
extern const BedCalcCommand bed_calc_log;
extern const BedCalcCommand bed_calc_moisture;
extern const BedCalcCommand bed_calc_rotation;
extern const BedCalcCommand bed_calc_share;
extern const BedCalcCommand bed_calc_soak;
extern const BedCalcCommand bed_calc_spawn_run;
extern const BedCalcCommand bed_calc_stack;
extern const BedCalcCommand bed_calc_stand;
extern const BedCalcCommand bed_calc_tree;
