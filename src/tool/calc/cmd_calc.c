#include <string.h>

#include "tool/calc/calc.h"
#include "tool/commands.h"

/* Each thing that can be worked out has options of its own: calc.c. */
int
bed_cmd_calc (int argc, char **argv)
{
  gboolean help = argc == 2 && (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0);
  g_autoptr (GString) out = g_string_new (NULL), list = g_string_new (NULL);

  if (!help)
    return bed_calc_main (argc - 1, argv + 1);
  bed_calc_run (0, argv, out, list);
  g_print ("%s", list->str);
  return BED_EXIT_OK;
}
