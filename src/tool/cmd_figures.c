#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/functions.h"
#include "model/farm/names.h"
#include "model/season/figures.h"
#include "science/units.h"
#include "tool/commands.h"

/* What is asked: of a season, or of a batch in it. */
typedef struct
{
  BedFarm *farm;
  BedFigureScope scope;
  int season;
  gint64 batch; /* 0: of the season */
  BedFigureAnswers answers;
} Asked;

static gboolean
read_answers (Asked *asked, GError **error)
{
  if (asked->scope == BED_FIGURE_OF_BATCH)
    return bed_figures_read_batch (asked->farm, asked->batch, &asked->answers, error)
           && bed_figures_read_batch_season (asked->farm, asked->batch, asked->season,
                                             &asked->answers, error);
  return bed_figures_read_season (asked->farm, asked->season, &asked->answers, error)
         && bed_figures_read_expected (asked->farm, asked->season, &asked->answers, error);
}

static void
add_json (JsonBuilder *json, const Asked *asked, BedFigureId id)
{
  double value = asked->answers.values[id];

  json_builder_set_member_name (json, bed_figure_get (id)->key);
  if (isnan (value))
    json_builder_add_null_value (json);
  else if (id == BED_FIGURE_BATCH_STAGE)
    json_builder_add_string_value (json, bed_stage_get_key ((BedStage) value));
  else
    json_builder_add_double_value (json, bed_figure_to_si (asked->farm, id, value));
}

static void
print_json (const Asked *asked, const char *batch)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();

  json_builder_begin_object (json);
  bed_tool_json_int (json, "season", asked->season);
  if (batch)
    bed_tool_json_text (json, "batch", batch);
  json_builder_set_member_name (json, "figures");
  json_builder_begin_object (json);
  for (BedFigureId id = 0; id < BED_N_FIGURES; id++)
    if (bed_figure_get (id)->scope == asked->scope)
      add_json (json, asked, id);
  json_builder_end_object (json);
  json_builder_end_object (json);
  bed_tool_print_json (json);
}

static void
print_lines (const Asked *asked)
{
  for (BedFigureId id = 0; id < BED_N_FIGURES; id++)
    {
      const BedFigure *figure = bed_figure_get (id);
      g_autofree char *text = bed_figure_dup_text (asked->farm, id, asked->answers.values[id]);
      g_autofree char *unit = bed_figure_dup_unit (asked->farm, id);

      if (figure->scope == asked->scope)
        g_print ("%-20s %12s %-7s  %s\n", figure->key, text ? text : "–", text ? unit : "",
                 _ (figure->sentence));
    }
}

/* A table of Markdown, for docs/figures.md. */
static void
print_table (BedFigureScope scope)
{
  static const char *const by[] = { "", " by the log", " by the kg or lb" };

  g_print ("| key | label | measure | what it is |\n|---|---|---|---|\n");
  for (BedFigureId id = 0; id < BED_N_FIGURES; id++)
    {
      const BedFigure *figure = bed_figure_get (id);
      const char *unit = figure->measure == BED_MEASURE_MONEY ? "money"
                         : id == BED_FIGURE_BATCH_STAGE       ? "stage"
                         : figure->measure == BED_MEASURE_COUNT
                             ? "count"
                             : bed_measure_unit (figure->measure, BED_SYSTEM_METRIC);

      if (figure->scope == scope)
        g_print ("| `%s` | %s | %s%s | %s |\n", figure->key, figure->label, unit, by[figure->per],
                 figure->sentence);
    }
}

int
bed_cmd_format_figures (int argc, char **argv)
{
  g_print ("## Of a season\n\n");
  print_table (BED_FIGURE_OF_SEASON);
  g_print ("\n## Of a batch\n\n");
  print_table (BED_FIGURE_OF_BATCH);
  return BED_EXIT_OK;
}

int
bed_cmd_figures (int argc, char **argv)
{
  g_autofree char *batch = NULL;
  gboolean json = FALSE;
  Asked asked = { .scope = BED_FIGURE_OF_SEASON };
  const GOptionEntry entries[] = {
    { "season", 's', 0, G_OPTION_ARG_INT, &asked.season,
      N_ ("The year the season began (default: the one running)"), N_ ("YEAR") },
    { "batch", 'b', 0, G_OPTION_ARG_STRING, &batch, N_ ("Of one batch"), N_ ("CODE") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &json,
      N_ ("In JSON: kilograms, hours, whole units of the currency"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("figures", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  g_autoptr (GError) error = NULL;
  asked.farm = farm;
  if (!asked.season)
    asked.season = bed_season_of (farm, bed_farm_get_today (farm));
  if (batch)
    {
      asked.scope = BED_FIGURE_OF_BATCH;
      asked.batch = bed_farm_find (farm, BED_KIND_BATCH, batch, &error);
    }
  if (error || !read_answers (&asked, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  if (json)
    print_json (&asked, batch);
  else
    print_lines (&asked);
  return BED_EXIT_OK;
}
