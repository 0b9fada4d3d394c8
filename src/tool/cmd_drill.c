#include <glib/gi18n-lib.h>

#include "model/farm/habits.h"
#include "model/farm/names.h"
#include "print/drill/drill_farm.h"
#include "print/drill/drill_guide.h"
#include "science/argument.h"
#include "tool/commands.h"
#include "tool/paper.h"

typedef struct
{
  char *farm, *batch;
  char *diameter, *small_end, *length, *along, *between, *margin, *hole, *depth;
  char *closing, *units, *paper, *output;
  gboolean whole;
} Options;

static int
read_options (Options *o, int *argc, char ***argv)
{
#define LENGTH(name, target, help)                                                                 \
  {                                                                                                \
    name, 0, 0, G_OPTION_ARG_STRING, target, help, N_ ("LENGTH")                                   \
  }
  const GOptionEntry entries[] = {
    LENGTH ("diameter", &o->diameter, N_ ("Of the large end, over bark")),
    LENGTH ("small-end", &o->small_end, N_ ("Diameter of the small end, else the same")),
    LENGTH ("length", &o->length, N_ ("Of the log")),
    LENGTH ("along", &o->along, N_ ("Between holes of a row (default: 150 mm)")),
    LENGTH ("between", &o->between, N_ ("Between rows (default: 75 mm)")),
    LENGTH ("margin", &o->margin, N_ ("First hole from the end (default: 50 mm)")),
    LENGTH ("hole", &o->hole, N_ ("Diameter of a hole (default: 12 mm)")),
    LENGTH ("depth", &o->depth, N_ ("Depth of a hole (default: 25 mm)")),
    { "closing", 0, 0, G_OPTION_ARG_STRING, &o->closing,
      N_ ("Rows round the log: nearest, even, helical"), N_ ("WORD") },
    { "farm", 0, 0, G_OPTION_ARG_FILENAME, &o->farm, N_ ("With --batch: the farm file"),
      N_ ("FILE") },
    { "batch", 'b', 0, G_OPTION_ARG_STRING, &o->batch,
      N_ ("Pattern and mean log of a batch, where not given"), "26A" },
    { "whole", 0, 0, G_OPTION_ARG_NONE, &o->whole, N_ ("The whole bark, not a strip of two rows"),
      NULL },
    { "units", 0, 0, G_OPTION_ARG_STRING, &o->units, N_ ("metric or US"), N_ ("UNITS") },
    { "paper", 'p', 0, G_OPTION_ARG_STRING, &o->paper, N_ ("a4 or letter"), N_ ("PAPER") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->output,
      N_ ("The file to write; - is standard output"), "X.pdf" },
    G_OPTION_ENTRY_NULL,
  };
#undef LENGTH

  return bed_tool_options ("drill", entries, 0, argc, argv);
}

static gboolean
read_closing (const char *word, BedClosing *closing, GError **error)
{
  static const char *const words[] = { "nearest", "even", "helical" };

  if (!word)
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (!g_ascii_strcasecmp (word, words[i]))
      {
        *closing = (BedClosing) i;
        return TRUE;
      }
  g_set_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT,
               _ ("--closing: “%s” is not nearest, even or helical."), word);
  return FALSE;
}

/* What was given on the line overrides what the batch says. */
static gboolean
read_lengths (const Options *o, const BedNotation *notation, BedDrill *drill, GError **error)
{
  const struct
  {
    const char *text;
    double *mm;
  } lengths[] = {
    { o->diameter, &drill->large_diameter }, { o->small_end, &drill->small_diameter },
    { o->length, &drill->length },           { o->along, &drill->along },
    { o->between, &drill->between },         { o->margin, &drill->margin },
    { o->hole, &drill->hole_diameter },      { o->depth, &drill->hole_depth },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    if (lengths[i].text && !bed_tool_read_mm (lengths[i].text, notation, lengths[i].mm, error))
      return FALSE;
  if (o->diameter && !o->small_end)
    drill->small_diameter = drill->large_diameter;
  return read_closing (o->closing, &drill->closing, error);
}

static gboolean
read_batch (BedFarm *farm, const char *code, BedDrill *drill, GError **error)
{
  gint64 batch = bed_farm_find (farm, BED_KIND_BATCH, code, error);

  return batch && bed_drill_read_batch (farm, batch, drill, error);
}

static int
write_guide (const Options *o, const BedNotation *notation, const BedDrill *drill, const char *now)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *title = o->batch ? g_strdup_printf (_ ("Drilling guide, batch %s"), o->batch)
                                    : NULL;
  /* Without a farm the options have a decimal point; the paper is for people all the same. */
  BedNotation said = *notation;
  BedDrillGuide guide
      = { drill, &said, title, { 0, 0 }, o->whole ? BED_GUIDE_BARK : BED_GUIDE_STRIP };
  bed_habits_mark (&said);
  BedDocument *document = bed_tool_find_paper (o->paper, notation, &guide.paper, &error)
                              ? bed_drill_guide_new (&guide, &error)
                              : NULL;

  if (!document)
    return bed_tool_fail_paper (g_steal_pointer (&error));
  return bed_tool_write_pages (document, o->output, now);
}

int
bed_cmd_drill (int argc, char **argv)
{
  static Options o;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = NULL;
  BedDrill drill = { 0, 0, 0, 150, 75, 50, 12, 25, BED_CLOSING_NEAREST };
  int code = read_options (&o, &argc, &argv);

  if (code)
    return code - 1;
  if (!o.output)
    return bed_tool_misused (_ ("Say where the guide goes: -o guide.pdf"));
  if (!o.farm != !o.batch)
    return bed_tool_misused (_ ("--farm and --batch go together."));
  if (!o.batch && !(o.diameter && o.length))
    return bed_tool_misused (_ ("Give --diameter and --length of the log, or --farm and --batch."));
  if (o.farm && !(farm = bed_tool_open (o.farm, &code)))
    return code;
  BedNotation notation = farm ? *bed_farm_get_notation (farm)
                              : (BedNotation){ BED_SYSTEM_METRIC, '.', 2 };
  if (o.units && g_ascii_strcasecmp (o.units, "metric") && g_ascii_strcasecmp (o.units, "US"))
    return bed_tool_misused (_ ("--units: “%s” is not metric or US."), o.units);
  if (o.units)
    notation.system = g_ascii_strcasecmp (o.units, "US") ? BED_SYSTEM_METRIC : BED_SYSTEM_US;
  if ((farm && !read_batch (farm, o.batch, &drill, &error))
      || !read_lengths (&o, &notation, &drill, &error))
    return bed_tool_fail_paper (g_steal_pointer (&error));
  return write_guide (&o, &notation, &drill, farm ? bed_farm_get_now (farm) : NULL);
}
