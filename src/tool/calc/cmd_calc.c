#include <string.h>

#include "tool/calc/calc.h"
#include "tool/commands.h"

/* Each thing that can be worked out has options of its own: calc.c. */
int
bed_cmd_calc (int argc, char **argv)
{
  gboolean help = argc == 2 && (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0);
  g_autoptr (GString) out = g_string_new (NULL), err = g_string_new (NULL);
  int status = bed_calc_run (help ? 0 : argc - 1, argv + 1, out, err);

  g_print ("%s", help ? err->str : out->str);
  if (help)
    return BED_EXIT_OK;
  g_printerr ("%s", err->str);
  return status;
}

const char *
bed_cmd_calc_get_name (guint index)
{
  return bed_calc_get_name (index);
}
