#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/functions.h"
#include "model/farm/names.h"
#include "model/farm/value.h"
#include "model/season/figures.h"
#include "science/units.h"
#include "tool/commands.h"

/* What is asked. */
typedef struct
{
  BedFarm *farm;
  BedFigureScope scope;
  char *week, *batch, *log;
  gboolean of_farm, of_kinds, json;
  char *year; /* as it was typed; NULL: the one running */
  int season;
  gint64 id; /* of the batch or log */
  BedFigureAnswers answers;
} Asked;

static gboolean
read_answers (Asked *asked, GError **error)
{
  BedFarm *farm = asked->farm;
  BedFigureAnswers *answers = &asked->answers;

  switch (asked->scope)
    {
    case BED_FIGURE_OF_FARM:
      return bed_figures_read_farm (farm, BED_FIGURE_FARM_FIRST, BED_FIGURE_FARM_LAST, answers,
                                    error);
    case BED_FIGURE_OF_WEEK:
      return bed_figures_read_week (farm, asked->week, answers, error);
    case BED_FIGURE_OF_BATCH:
      return bed_figures_read_batch (farm, asked->id, answers, error)
             && bed_figures_read_batch_season (farm, asked->id, asked->season, answers, error);
    case BED_FIGURE_OF_LOG:
      return bed_figures_read_log (farm, asked->id, answers, error)
             && bed_figures_read_log_season (farm, asked->id, asked->season, answers, error);
    case BED_FIGURE_OF_KIND: /* print_kinds() */
    case BED_FIGURE_OF_SEASON:
    case BED_N_FIGURE_SCOPES:
    default:
      return bed_figures_read_season (farm, asked->season, answers, error)
             && bed_figures_read_expected (farm, asked->season, answers, error);
    }
}

static void
add_json (JsonBuilder *json, const Asked *asked, BedFigureId id)
{
  double value = asked->answers.values[id];

  json_builder_set_member_name (json, bed_figure_get (id)->key);
  if (isnan (value))
    json_builder_add_null_value (json);
  else if (bed_figure_is_stage (id))
    json_builder_add_string_value (json, bed_stage_get_key ((BedStage) value));
  else
    json_builder_add_double_value (json, bed_figure_to_si (asked->farm, id, value));
}

static void
add_figures (JsonBuilder *json, const Asked *asked)
{
  json_builder_set_member_name (json, "figures");
  json_builder_begin_object (json);
  for (BedFigureId id = 0; id < BED_N_FIGURES; id++)
    if (bed_figure_get (id)->scope == asked->scope)
      add_json (json, asked, id);
  json_builder_end_object (json);
}

static void
print_json (const Asked *asked)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();

  json_builder_begin_object (json);
  if (asked->week)
    bed_tool_json_text (json, "day", asked->week);
  else if (!asked->of_farm)
    bed_tool_json_int (json, "season", asked->season);
  if (asked->batch)
    bed_tool_json_text (json, "batch", asked->batch);
  if (asked->log)
    bed_tool_json_text (json, "log", asked->log);
  add_figures (json, asked);
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

static void
add_kind (JsonBuilder *json, gconstpointer element, gpointer data)
{
  const BedCropGroup *group = element;
  Asked *asked = data;

  bed_tool_json_text (json, "wood", group->wood);
  bed_tool_json_text (json, "strain", group->strain);
  bed_figures_read_kind (group, &asked->answers);
  add_figures (json, asked);
}

static gboolean
print_kinds (Asked *asked, GError **error)
{
  g_autoptr (BedCrop) crop = bed_crop_new (asked->farm, asked->season, error);

  if (!crop)
    return FALSE;
  if (asked->json)
    bed_tool_print_list (crop->groups, add_kind, asked);
  for (guint i = 0; !asked->json && i < crop->groups->len; i++)
    {
      const BedCropGroup *group = crop->groups->pdata[i];

      g_print ("%s%s\n", i ? "\n" : "", group->name);
      bed_figures_read_kind (group, &asked->answers);
      print_lines (asked);
    }
  return TRUE;
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
                         : bed_figure_is_stage (id)           ? "stage"
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
  static const char *const heads[BED_N_FIGURE_SCOPES] = {
    "Of the farm today", "Of a week", "Of a season",
    "Of a batch",        "Of a log",  "Of a kind (a strain on a wood)",
  };

  for (BedFigureScope scope = 0; scope < BED_N_FIGURE_SCOPES; scope++)
    {
      g_print ("%s## %s\n\n", scope ? "\n" : "", heads[scope]);
      print_table (scope);
    }
  return BED_EXIT_OK;
}

/* What the options ask for: their scope, season, record and day. */
static gboolean
find_asked (Asked *asked, GError **error)
{
  const char *today = bed_farm_get_today (asked->farm);

  if (asked->week)
    {
      g_autofree char *typed = g_steal_pointer (&asked->week);
      g_autofree char *day = bed_date_parse (typed, today, error);

      asked->week = g_steal_pointer (&day);
      asked->scope = BED_FIGURE_OF_WEEK;
      return asked->week != NULL;
    }
  if (asked->batch)
    asked->id = bed_farm_find (asked->farm, BED_KIND_BATCH, asked->batch, error);
  if (asked->log)
    asked->id = bed_farm_find (asked->farm, BED_KIND_LOG, asked->log, error);
  asked->scope = asked->batch      ? BED_FIGURE_OF_BATCH
                 : asked->log      ? BED_FIGURE_OF_LOG
                 : asked->of_farm  ? BED_FIGURE_OF_FARM
                 : asked->of_kinds ? BED_FIGURE_OF_KIND
                                   : BED_FIGURE_OF_SEASON;
  return asked->id || !(asked->batch || asked->log);
}

static int
answer (Asked *asked)
{
  g_autoptr (GError) error = NULL;

  if (!bed_tool_read_season (asked->farm, asked->year, &asked->season))
    return BED_EXIT_WRONG;
  if (!find_asked (asked, &error)
      || !(asked->of_kinds ? print_kinds (asked, &error) : read_answers (asked, &error)))
    return bed_tool_fail (g_steal_pointer (&error));
  if (asked->of_kinds)
    return BED_EXIT_OK;
  if (asked->json)
    print_json (asked);
  else
    print_lines (asked);
  return BED_EXIT_OK;
}

static void
clear_asked (Asked *asked)
{
  g_clear_object (&asked->farm);
  g_free (asked->year);
  g_free (asked->week);
  g_free (asked->batch);
  g_free (asked->log);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Asked, clear_asked)

int
bed_cmd_figures (int argc, char **argv)
{
  g_auto (Asked) asked = { 0 };
  const GOptionEntry entries[] = {
    { "season", 's', 0, G_OPTION_ARG_STRING, &asked.year,
      N_ ("The year the season began (default: the one running)"), N_ ("YEAR") },
    { "batch", 'b', 0, G_OPTION_ARG_STRING, &asked.batch, N_ ("Of one batch"), N_ ("CODE") },
    { "log", 'l', 0, G_OPTION_ARG_STRING, &asked.log, N_ ("Of one log"), N_ ("CODE") },
    { "week", 'w', 0, G_OPTION_ARG_STRING, &asked.week, N_ ("Of the week of a day"), N_ ("DATE") },
    { "farm", 0, 0, G_OPTION_ARG_NONE, &asked.of_farm, N_ ("Of the farm today"), NULL },
    { "kinds", 0, 0, G_OPTION_ARG_NONE, &asked.of_kinds, N_ ("Of each strain on each wood"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &asked.json,
      N_ ("In JSON: kilograms, hours, whole units of the currency"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("figures", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  if (!!asked.batch + !!asked.log + !!asked.week + asked.of_farm + asked.of_kinds > 1)
    return bed_tool_misused (_ ("Figures are of one thing at a time: a batch, a log, a week, the "
                                "farm or its kinds."));
  asked.farm = bed_tool_open (argv[1], &code);
  return asked.farm ? answer (&asked) : code;
}
