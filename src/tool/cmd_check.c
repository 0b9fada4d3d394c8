#include <glib/gi18n-lib.h>

#include "model/check/check.h"
#include "tool/commands.h"

static const char *const parts[]
    = { "pages", "references", "values", "rules", "history", "questions" };

G_STATIC_ASSERT (G_N_ELEMENTS (parts) == BED_N_CHECKS);

static char *
subject (BedFarm *farm, const BedFault *fault)
{
  return fault->record ? bed_check_dup_name (farm, fault->record)
                       : g_path_get_basename (bed_farm_get_path (farm));
}

static void
print_faults (BedFarm *farm, const BedCheckup *checkup, BedCheckPart part)
{
  gboolean wrong = FALSE;

  for (guint i = 0; i < checkup->faults[part]->len; i++)
    {
      const BedFault *fault = checkup->faults[part]->pdata[i];
      g_autofree char *name = subject (farm, fault);
      if (fault->severity == BED_FAULT_WARNING)
        g_printerr (_ ("note: %s: %s\n"), name, fault->message);
      else
        g_printerr ("%s: %s\n", name, fault->message);
      wrong |= fault->severity == BED_FAULT_ERROR;
    }
  if (wrong)
    g_printerr (_ ("To mend: %s\n"), bed_check_get_mend (part));
}

static void
print_checkup (BedFarm *farm, const BedCheckup *checkup, guint errors)
{
  for (BedCheckPart part = 0; part < BED_N_CHECKS; part++)
    {
      g_autofree char *looked_at = bed_checkup_dup_looked_at (checkup, part);
      print_faults (farm, checkup, part);
      g_print ("%s\n", looked_at);
    }
  if (errors)
    g_print (ngettext ("%d fault\n", "%d faults\n", errors), errors);
  else
    g_print (_ ("The farm is sound.\n"));
}

static void
add_fault (JsonBuilder *json, BedFarm *farm, BedCheckPart part, const BedFault *fault)
{
  g_autofree char *name = subject (farm, fault);

  json_builder_begin_object (json);
  bed_tool_json_text (json, "severity", fault->severity == BED_FAULT_ERROR ? "error" : "warning");
  bed_tool_json_text (json, "part", parts[part]);
  bed_tool_json_text (json, "record", name);
  bed_tool_json_text (json, "field", fault->field);
  bed_tool_json_text (json, "message", fault->message);
  bed_tool_json_text (json, "mend", bed_check_get_mend (part));
  json_builder_end_object (json);
}

static void
print_json (BedFarm *farm, const BedCheckup *checkup)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();

  json_builder_begin_array (json);
  for (BedCheckPart part = 0; part < BED_N_CHECKS; part++)
    for (guint i = 0; i < checkup->faults[part]->len; i++)
      add_fault (json, farm, part, checkup->faults[part]->pdata[i]);
  json_builder_end_array (json);
  bed_tool_print_json (json);
}

int
bed_cmd_check (int argc, char **argv)
{
  gboolean json = FALSE, all = FALSE;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("Say what is wrong in JSON"), NULL },
    { "all", 0, 0, G_OPTION_ARG_NONE, &all,
      N_ ("Work out every answer a second time on a big farm too: minutes"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("check", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedCheckup) checkup
      = bed_check_farm (farm, all ? BED_CHECK_ALL : BED_CHECK_USUAL, NULL, &error);
  if (!checkup)
    return bed_tool_fail (g_steal_pointer (&error));
  guint errors = bed_checkup_count (checkup, BED_FAULT_ERROR);
  if (json)
    print_json (farm, checkup);
  else
    print_checkup (farm, checkup, errors);
  return errors ? BED_EXIT_WRONG : BED_EXIT_OK;
}
