#include <glib/gi18n-lib.h>

#include "model/demo/demo.h"
#include "tool/commands.h"

int
bed_cmd_demo (int argc, char **argv)
{
  g_autofree char *today = NULL;
  int logs = 300, years = 5, seed = 1;
  const GOptionEntry entries[] = {
    { "logs", 0, 0, G_OPTION_ARG_INT, &logs, N_ ("How many logs (default 300)"), N_ ("N") },
    { "years", 0, 0, G_OPTION_ARG_INT, &years, N_ ("Over how many years (default 5)"), N_ ("N") },
    { "seed", 0, 0, G_OPTION_ARG_INT, &seed,
      N_ ("The same seed and day make the same file (default 1)"), N_ ("N") },
    { "today", 0, 0, G_OPTION_ARG_STRING, &today, N_ ("Its last day (default today)"),
      N_ ("DATE") },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("demo", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  /* To the plan 0 is as usual; who writes --logs 0 means none. */
  BedDemoPlan plan
      = { .logs = logs ? logs : -1, .years = years ? years : -1, .seed = seed, .today = today };
  g_autoptr (GError) error = NULL;
  g_autoptr (BedFarm) farm = bed_demo_new (argv[1], &plan, &error);
  return farm ? BED_EXIT_OK : bed_tool_fail (g_steal_pointer (&error));
}
