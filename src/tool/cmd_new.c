#include <glib/gi18n-lib.h>

#include "model/value.h"
#include "tool/commands.h"

/* Defaults of a new farm: records.md of the design, its section on settings. Sources
 * differ on moisture and on waiting, so every one of them can be changed. */
static BedRecord *
new_settings (const char *name, const char *units, const char *currency, const char *hemisphere)
{
  BedRecord *settings = bed_record_new (BED_KIND_FARM);

  bed_record_set_text (settings, "name", name);
  bed_record_set_text (settings, "unit_system", units);
  bed_record_set_text (settings, "currency", currency);
  bed_record_set_text (settings, "hemisphere", hemisphere);
  return settings;
}

int
bed_cmd_new (int argc, char **argv)
{
  g_autofree char *name = NULL, *units = NULL, *currency = NULL, *hemisphere = NULL;
  const GOptionEntry entries[] = {
    { "name", 'n', 0, G_OPTION_ARG_STRING, &name, N_ ("The farm's name"), N_ ("NAME") },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &units, N_ ("metric (default) or US"), N_ ("UNITS") },
    { "currency", 'c', 0, G_OPTION_ARG_STRING, &currency,
      N_ ("Three letters, ISO 4217 (default USD)"), N_ ("CODE") },
    { "hemisphere", 0, 0, G_OPTION_ARG_STRING, &hemisphere, N_ ("north (default) or south"),
      N_ ("SIDE") },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("new", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  g_autofree char *base = g_path_get_basename (argv[1]);
  if (g_str_has_suffix (base, ".bedlog"))
    base[strlen (base) - strlen (".bedlog")] = '\0';
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRecord) settings
      = new_settings (name ? name : base, units ? units : "metric", currency ? currency : "USD",
                      hemisphere ? hemisphere : "north");
  g_autoptr (BedFarm) farm = bed_farm_new (argv[1], settings, &error);
  return farm ? BED_EXIT_OK : bed_tool_fail (g_steal_pointer (&error));
}
