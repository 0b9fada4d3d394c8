#include <glib/gi18n-lib.h>

#include "model/backup.h"
#include "tool/commands.h"

static int
back_up_to (BedFarm *farm, const char *path)
{
  g_autoptr (GError) error = NULL;

  if (!bed_backup_write (farm, path, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  g_print ("%s\n", path);
  return BED_EXIT_OK;
}

static int
back_up_today (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;

  if (!bed_backup_daily (farm, &path, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  if (path)
    g_print ("%s\n", path);
  else
    g_print (_ ("No need: the last backup is as new as the farm, or of today.\n"));
  return BED_EXIT_OK;
}

int
bed_cmd_backup (int argc, char **argv)
{
  g_autofree char *to = NULL;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &to,
      N_ ("Copy to this file, in place of today's dated copy"), N_ ("FILE") },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("backup", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  return to ? back_up_to (farm, to) : back_up_today (farm);
}
