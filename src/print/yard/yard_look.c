#include "print/yard/yard_look.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "yard/load_logs.h"

#define MOST_STEPS 6
#define DAYS_PER_YEAR 365.25
#define OUNCE 28349.523125 /* mg; NIST SP 811 (2008), appendix B.8 (MEM-H) */

/* A scale: where its steps begin, and what they are called. Edges are for the eye: our own. */
typedef struct
{
  double from[MOST_STEPS]; /* the first has none */
  const char *words[MOST_STEPS];
  const char *unknown;
} Scale;

static const Scale soaked = { { 0, 7, 14, 28, 56, 84 },
                              { N_ ("under 1 week"), N_ ("1 to 2 weeks"), N_ ("2 to 4 weeks"),
                                N_ ("4 to 8 weeks"), N_ ("8 to 12 weeks"), N_ ("over 12 weeks") },
                              N_ ("not soaked yet") };

static const Scale age = { { 0, 1, 2, 3, 4, 5 },
                           { N_ ("first year"), N_ ("second year"), N_ ("third year"),
                             N_ ("fourth year"), N_ ("fifth year"), N_ ("older") },
                           N_ ("not inoculated") };

/* Percent of all mass; the words for those who reckon by dry mass are of the same edges. */
static const Scale wet = { { 0, 30, 35, 40, 45, 50 },
                           { N_ ("under 30 %"), N_ ("30 to 35 %"), N_ ("35 to 40 %"),
                             N_ ("40 to 45 %"), N_ ("45 to 50 %"), N_ ("over 50 %") },
                           N_ ("not weighed") };
static const Scale dry = { { 0, 30, 35, 40, 45, 50 },
                           { N_ ("under 43 %"), N_ ("43 to 54 %"), N_ ("54 to 67 %"),
                             N_ ("67 to 82 %"), N_ ("82 to 100 %"), N_ ("over 100 %") },
                           N_ ("not weighed") };

/* mg a log. */
static const Scale grams = { { 0, 1, 100e3, 250e3, 500e3, 1e6 },
                             { N_ ("nothing"), N_ ("up to 100 g"), N_ ("100 to 250 g"),
                               N_ ("250 to 500 g"), N_ ("500 g to 1 kg"), N_ ("over 1 kg") },
                             NULL };
static const Scale ounces = { { 0, 1, 4 * OUNCE, 8 * OUNCE, 16 * OUNCE, 32 * OUNCE },
                              { N_ ("nothing"), N_ ("up to 4 oz"), N_ ("4 to 8 oz"),
                                N_ ("8 oz to 1 lb"), N_ ("1 to 2 lb"), N_ ("over 2 lb") },
                              NULL };

static const struct
{
  const char *key, *word; /* N_() */
  /* What of the logs is not loaded with the yard, or NULL. */
  gboolean (*load) (BedYard *yard, BedFarm *farm, const char *date, GError **error);
} bys[BED_N_COLOUR_BYS] = {
  [BED_COLOUR_BY_BATCH] = { "batch", N_ ("Batch") },
  [BED_COLOUR_BY_STAGE] = { "stage", N_ ("Stage"), bed_yard_load_stages },
  [BED_COLOUR_BY_SOAKED] = { "soaked", N_ ("Time since soak"), bed_yard_load_stages },
  [BED_COLOUR_BY_MOISTURE] = { "moisture", N_ ("Moisture when weighed"), bed_yard_load_moisture },
  [BED_COLOUR_BY_AGE] = { "age", N_ ("Age") },
  [BED_COLOUR_BY_PICKED] = { "picked", N_ ("Picked this season, a log"), bed_yard_load_picked },
};

/* --- steps ------------------------------------------------------------------- */

/* NULL for what is no scale. */
static const Scale *
get_scale (BedColourBy by, BedSystem system, BedBasis basis)
{
  const Scale *scales[BED_N_COLOUR_BYS] = {
    [BED_COLOUR_BY_SOAKED] = &soaked,
    [BED_COLOUR_BY_MOISTURE] = basis == BED_BASIS_DRY ? &dry : &wet,
    [BED_COLOUR_BY_AGE] = &age,
    [BED_COLOUR_BY_PICKED] = system == BED_SYSTEM_US ? &ounces : &grams,
  };

  return scales[by];
}

/* What the scale is of; NAN: not known. */
static double
get_value (const BedYardLog *log, BedColourBy by)
{
  if (by == BED_COLOUR_BY_SOAKED)
    return log->soaked < 0 ? NAN : log->soaked;
  if (by == BED_COLOUR_BY_AGE)
    return log->age < 0 ? NAN : log->age / DAYS_PER_YEAR;
  return by == BED_COLOUR_BY_MOISTURE ? log->moisture : log->picked;
}

int
bed_colour_by_class (BedColourBy by, BedSystem system, const BedYardLog *log)
{
  const Scale *scale = get_scale (by, system, BED_BASIS_WET);

  if (by == BED_COLOUR_BY_BATCH)
    return log->mark;
  if (!scale)
    return (int) log->stage;
  double value = get_value (log, by);
  int step = isnan (value) ? -1 : 0;
  while (step >= 0 && step + 1 < MOST_STEPS && value >= scale->from[step + 1])
    step++;
  return step;
}

BedLogLook
bed_colour_by_look (BedColourBy by, int class, const BedPalette *palette)
{
  if (by == BED_COLOUR_BY_STAGE)
    return bed_stage_look ((BedStage) class, palette);
  return by == BED_COLOUR_BY_BATCH || class < 0 ? bed_mark_look (class, palette)
                                                : bed_step_look ((guint) class, MOST_STEPS);
}

/* --- the key ----------------------------------------------------------------- */

static void
free_line (gpointer data)
{
  g_free (((BedKeyLine *) data)->word);
  g_free (data);
}

static const char *
get_word (const BedYard *yard, const BedKeyLine *line, BedColourBy by, BedSystem system)
{
  const Scale *scale = get_scale (by, system, yard->basis);

  if (by == BED_COLOUR_BY_BATCH)
    return line->sample.batch ? line->sample.batch : _ ("no batch");
  if (!scale)
    return bed_stage_get_word ((BedStage) line->class);
  return line->class < 0 ? _ (scale->unknown) : _ (scale->words[line->class]);
}

/* What is not known comes last: -1 as the greatest number. */
static int
compare_lines (gconstpointer a, gconstpointer b)
{
  const BedKeyLine *one = *(BedKeyLine *const *) a, *other = *(BedKeyLine *const *) b;
  guint class = (guint) one->class, than = (guint) other->class;

  if (!one->sample.batch || !other->sample.batch || class == than)
    return class < than ? -1 : class > than;
  g_autofree char *code = g_utf8_collate_key_for_filename (one->sample.batch, -1);
  g_autofree char *before = g_utf8_collate_key_for_filename (other->sample.batch, -1);
  return g_strcmp0 (code, before);
}

static void
count_log (GHashTable *by_class, const BedYardLog *log, BedColourBy by, BedSystem system)
{
  int class = bed_colour_by_class (by, system, log);
  BedKeyLine *line = g_hash_table_lookup (by_class, GINT_TO_POINTER (class));

  if (!line)
    {
      line = g_new0 (BedKeyLine, 1);
      line->sample = *log;
      line->sample.code = line->sample.brief = NULL;
      line->sample.colonised = -1;
      line->sample.retired = by == BED_COLOUR_BY_STAGE && log->retired;
      if (by != BED_COLOUR_BY_BATCH)
        line->sample.batch = NULL;
      line->class = class;
      g_hash_table_insert (by_class, GINT_TO_POINTER (class), line);
    }
  line->n++;
}

GPtrArray *
bed_yard_key_new (const BedYard *yard, BedColourBy by, BedSystem system)
{
  g_autoptr (GHashTable) by_class = g_hash_table_new (NULL, NULL);
  GPtrArray *lines = g_ptr_array_new_with_free_func (free_line);
  GHashTableIter iter;
  gpointer line;

  for (guint i = 0; i < yard->stacks->len; i++)
    {
      const BedYardStack *stack = yard->stacks->pdata[i];
      for (guint j = 0; j < stack->logs->len; j++)
        count_log (by_class, stack->logs->pdata[j], by, system);
    }
  g_hash_table_iter_init (&iter, by_class);
  while (g_hash_table_iter_next (&iter, NULL, &line))
    {
      ((BedKeyLine *) line)->word = g_strdup (get_word (yard, line, by, system));
      g_ptr_array_add (lines, line);
    }
  g_ptr_array_sort (lines, compare_lines);
  return lines;
}

/* --- words ------------------------------------------------------------------- */

const char *
bed_colour_by_key (BedColourBy by)
{
  g_return_val_if_fail (by < BED_N_COLOUR_BYS, NULL);
  return bys[by].key;
}

BedColourBy
bed_colour_by_from_key (const char *key)
{
  for (BedColourBy by = 0; by < BED_N_COLOUR_BYS; by++)
    if (g_strcmp0 (bys[by].key, key) == 0)
      return by;
  return BED_N_COLOUR_BYS;
}

gboolean
bed_colour_by_asks (BedColourBy by)
{
  return bys[by].load != NULL;
}

gboolean
bed_colour_by_read (BedColourBy by, BedYard *yard, BedFarm *farm, const char *date, GError **error)
{
  return !bys[by].load || bys[by].load (yard, farm, date, error);
}

const char *
bed_colour_by_word (BedColourBy by)
{
  g_return_val_if_fail (by < BED_N_COLOUR_BYS, NULL);
  return _ (bys[by].word);
}

char *
bed_colour_by_dup_keys (void)
{
  GString *keys = g_string_new (NULL);

  for (guint i = 0; i < BED_N_COLOUR_BYS; i++)
    g_string_append_printf (keys, "%s%s", i ? ", " : "", bys[i].key);
  return g_string_free (keys, FALSE);
}
