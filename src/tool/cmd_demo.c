#include <glib/gi18n-lib.h>

#include "model/demo/demo.h"
#include "model/farm/kinds.h"
#include "tool/commands.h"

int
bed_cmd_demo (int argc, char **argv)
{
  g_autofree char *today = NULL, *units = NULL, *currency = NULL;
  int logs = 300, years = 5, seed = 1;
  const GOptionEntry entries[] = {
    { "logs", 0, 0, G_OPTION_ARG_INT, &logs, N_ ("How many logs (default 300)"), N_ ("N") },
    { "years", 0, 0, G_OPTION_ARG_INT, &years, N_ ("Over how many years (default 5)"), N_ ("N") },
    { "seed", 0, 0, G_OPTION_ARG_INT, &seed,
      N_ ("The same seed and day make the same file (default 1)"), N_ ("N") },
    { "today", 0, 0, G_OPTION_ARG_STRING, &today, N_ ("Its last day (default today)"),
      N_ ("DATE") },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &units, N_ ("US (default) or metric"), N_ ("UNITS") },
    { "currency", 'c', 0, G_OPTION_ARG_STRING, &currency,
      N_ ("Three letters, ISO 4217 (default USD)"), N_ ("CODE") },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("demo", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  const BedField *field = bed_kind_find_field (BED_KIND_FARM, "unit_system", NULL);
  const char *system = units ? bed_tool_find_choice (field, units) : NULL;
  g_autofree char *capitals = currency ? g_ascii_strup (currency, -1) : NULL;
  if (units && !system)
    return BED_EXIT_WRONG;
  /* To the plan 0 is as usual; who writes --logs 0 means none. */
  BedDemoPlan plan = { .logs = logs ? logs : -1,
                       .years = years ? years : -1,
                       .seed = seed,
                       .today = today,
                       .units = system,
                       .currency = capitals };
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_demo_new (argv[1], &plan, &error);
  return farm ? BED_EXIT_OK : bed_tool_fail (g_steal_pointer (&error));
}
