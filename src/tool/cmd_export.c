#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "tool/commands.h"

static void
say_exported (int n)
{
  g_autofree char *said
      = bed_say (ngettext ("%d record exported\n", "%d records exported\n", n), n);
  g_print ("%s", said);
}

/* To a file, or standard output, which has nothing but the records then. */
static int
export_kind (BedFarm *farm, BedKind kind, const char *output)
{
  g_autoptr (GError) error = NULL;
  BedToolOutput to;

  if (!bed_tool_begin_output (&to, output, "records.csv", &error))
    return bed_tool_fail (g_steal_pointer (&error));
  int n = bed_csv_export (farm, kind, to.path, &error);
  if (n >= 0 && !to.folder)
    say_exported (n);
  return bed_tool_end_output (&to, n < 0 ? bed_tool_fail (g_steal_pointer (&error)) : BED_EXIT_OK);
}

int
bed_cmd_export (int argc, char **argv)
{
  g_autofree char *kind_name = NULL;
  const GOptionEntry entries[] = {
    { "kind", 'k', 0, G_OPTION_ARG_STRING, &kind_name,
      N_ ("One kind of record alone, to the file named in place of the folder"), N_ ("KIND") },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("export", entries, 2, &argc, &argv);

  if (code)
    return code - 1;
  BedKind kind = kind_name ? bed_kind_from_name (kind_name) : BED_N_KINDS;
  if (kind_name && kind == BED_N_KINDS)
    return bed_tool_unknown_kind (kind_name);
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  if (kind_name)
    return export_kind (farm, kind, argv[2]);
  g_autoptr (GError) error = NULL;
  int n = bed_csv_export_all (farm, argv[2], &error);
  if (n < 0)
    return bed_tool_fail (g_steal_pointer (&error));
  say_exported (n);
  return BED_EXIT_OK;
}
