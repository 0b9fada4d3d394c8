#include <glib/gi18n-lib.h>

#include "print/yard/yard_picture.h"
#include "report/workbook.h"
#include "tool/commands.h"

static void
print_made (const BedWorkbookPlan *plan)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  bed_tool_json_text (builder, "workbook", plan->path);
  bed_tool_json_int (builder, "season", plan->season);
  json_builder_end_object (builder);
  bed_tool_print_json (builder);
}

int
bed_cmd_report (int argc, char **argv)
{
  g_autofree char *output = NULL;
  g_autofree char *season = NULL;
  gboolean json = FALSE;
  gboolean print_lists = FALSE;
  const GOptionEntry entries[] = {
    { "season", 's', 0, G_OPTION_ARG_STRING, &season,
      N_ ("The year the season began (default: the one running)"), N_ ("YEAR") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output,
      N_ ("The workbook to write; - is standard output"), N_ ("X.xlsx") },
    { "print-lists", 0, 0, G_OPTION_ARG_NONE, &print_lists,
      N_ ("Lay out long lists for printing, too: each pick, each log"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("Say what was made, for a machine"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("report", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  if (!output)
    return bed_tool_misused (_ ("Say where the workbook goes: -o season.xlsx"));
  if (json && g_str_equal (output, "-"))
    return bed_tool_misused (_ ("Standard output takes the workbook or --json, not both."));
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  g_autoptr (GError) error = NULL;
  BedWorkbookPlan plan
      = { .lists = print_lists ? BED_WORKBOOK_LISTS_PRINTED : BED_WORKBOOK_LISTS_SHOWN };
  if (!bed_tool_read_season (farm, season, &plan.season))
    return BED_EXIT_WRONG;
  g_autofree char *day = bed_workbook_map_date (farm, plan.season);
  g_autoptr (BedYardPictures) maps = bed_yard_pictures_begin (farm, day);
  plan.yard_maps = bed_yard_pictures_wait;
  plan.yard_maps_data = maps;
  BedToolOutput to;
  if (!bed_tool_begin_output (&to, output, "season.xlsx", &error))
    return bed_tool_fail (g_steal_pointer (&error));
  plan.path = to.path;
  code = bed_workbook_write (farm, &plan, &error) ? BED_EXIT_OK
                                                  : bed_tool_fail (g_steal_pointer (&error));
  if (json && code == BED_EXIT_OK)
    print_made (&plan);
  return bed_tool_end_output (&to, code);
}
