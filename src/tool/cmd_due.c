#include <glib/gi18n-lib.h>

#include "model/work/due.h"
#include "tool/commands.h"

static const char *const states[] = {
  [BED_DUE_OVERDUE] = N_ ("overdue"), [BED_DUE_TODAY] = N_ ("today"),
  [BED_DUE_WEEK] = N_ ("this week"),  [BED_DUE_LATER] = N_ ("later"),
  [BED_DUE_WARNING] = N_ ("warning"),
};

static void
add_item (JsonBuilder *json, gconstpointer element, gpointer none)
{
  const BedDueItem *item = element;

  bed_tool_json_text (json, "rule", item->rule->nick);
  bed_tool_json_text (json, "state", states[item->state]);
  bed_tool_json_text (json, "day", item->day);
  bed_tool_json_text (json, "what", item->rule->what);
  bed_tool_json_text (json, "subject", item->subject);
  bed_tool_json_text (json, "detail", item->detail);
  bed_tool_json_int (json, "logs", item->logs);
  bed_tool_json_text (json, "why", item->rule->why);
  bed_tool_json_text (json, "source", item->rule->source);
}

static void
print_items (GPtrArray *items)
{
  for (guint i = 0; i < items->len; i++)
    {
      const BedDueItem *item = items->pdata[i];
      g_print ("%s  %-9s  %s  %s  %s\n", item->day, _ (states[item->state]), _ (item->rule->what),
               item->subject ? item->subject : "", item->detail ? item->detail : "");
    }
}

int
bed_cmd_due (int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("In JSON, with each rule and its source"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("due", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) items = bed_due_list (farm, &error);
  if (!items)
    return bed_tool_fail (g_steal_pointer (&error));
  if (json)
    bed_tool_print_list (items, add_item, NULL);
  else
    print_items (items);
  return BED_EXIT_OK;
}
