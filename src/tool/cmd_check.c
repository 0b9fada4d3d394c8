#include <glib/gi18n-lib.h>

#include "model/check.h"
#include "tool/commands.h"

static char *
subject (BedFarm *farm, const BedFault *fault)
{
  return fault->record ? bed_check_dup_name (farm, fault->record)
                       : g_path_get_basename (bed_farm_get_path (farm));
}

static void
print_faults (BedFarm *farm, GPtrArray *faults)
{
  for (guint i = 0; i < faults->len; i++)
    {
      const BedFault *fault = faults->pdata[i];
      g_autofree char *name = subject (farm, fault);
      if (fault->severity == BED_FAULT_WARNING)
        g_printerr (_ ("note: %s: %s\n"), name, fault->message);
      else
        g_printerr ("%s: %s\n", name, fault->message);
    }
}

static void
print_json (BedFarm *farm, GPtrArray *faults)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();

  json_builder_begin_array (json);
  for (guint i = 0; i < faults->len; i++)
    {
      const BedFault *fault = faults->pdata[i];
      g_autofree char *name = subject (farm, fault);
      json_builder_begin_object (json);
      bed_tool_json_text (json, "severity",
                          fault->severity == BED_FAULT_ERROR ? "error" : "warning");
      bed_tool_json_text (json, "record", name);
      bed_tool_json_text (json, "field", fault->field);
      bed_tool_json_text (json, "message", fault->message);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
  bed_tool_print_json (json);
}

static int
count_errors (GPtrArray *faults)
{
  int n = 0;

  for (guint i = 0; i < faults->len; i++)
    n += ((BedFault *) faults->pdata[i])->severity == BED_FAULT_ERROR;
  return n;
}

int
bed_cmd_check (int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("Say what is wrong in JSON"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("check", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) faults = bed_check_farm (farm, &error);
  if (!faults)
    return bed_tool_fail (g_steal_pointer (&error));
  int errors = count_errors (faults);
  if (json)
    print_json (farm, faults);
  else
    {
      print_faults (farm, faults);
      g_print (errors ? ngettext ("%d fault\n", "%d faults\n", errors) : _ ("The farm is sound.\n"),
               errors);
    }
  return errors ? BED_EXIT_WRONG : BED_EXIT_OK;
}
