#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/farm_settings.h"
#include "model/farm/kinds.h"
#include "tool/commands.h"

static void
set_given (BedRecord *settings, const char *field, const char *text)
{
  if (text)
    bed_record_set_text (settings, field, text);
}

static gboolean
set_choice (BedRecord *settings, const char *field, const char *word)
{
  const char *key
      = word ? bed_tool_find_choice (bed_kind_find_field (BED_KIND_FARM, field, NULL), word) : NULL;

  set_given (settings, field, key);
  return key || !word;
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
  g_autoptr (BedRecord) settings = bed_farm_settings_new ();
  set_given (settings, "name", name ? name : base);
  g_autofree char *capitals = currency ? g_ascii_strup (currency, -1) : NULL;
  set_given (settings, "currency", capitals);
  if (!set_choice (settings, "unit_system", units)
      || !set_choice (settings, "hemisphere", hemisphere))
    return BED_EXIT_WRONG;
  g_autoptr (BedFarm) farm = bed_farm_new (argv[1], settings, &error);
  return farm ? BED_EXIT_OK : bed_tool_fail (g_steal_pointer (&error));
}
