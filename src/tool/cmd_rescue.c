#include <glib/gi18n-lib.h>

#include "model/check/rescue.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "tool/commands.h"

static char *
subject (const BedRescueNote *note)
{
  if (note->kind >= BED_N_KINDS)
    return g_strdup (_ ("history"));
  if (note->id == 0)
    return g_strdup (_ (bed_kind_get_info (note->kind)->plural));
  return bed_kind_dup_numbered (note->kind, note->id);
}

static void
print_notes (const BedRescue *rescue)
{
  for (guint i = 0; i < rescue->notes->len; i++)
    {
      const BedRescueNote *note = rescue->notes->pdata[i];
      g_autofree char *name = subject (note);
      g_printerr (note->fate == BED_RESCUE_LOST ? _ ("lost: %s: %s\n") : _ ("changed: %s: %s\n"),
                  name, note->why);
    }
}

static void
print_saved (const BedRescue *rescue, const char *path)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    if (rescue->saved[kind] > 0)
      {
        g_autofree char *count = bed_kind_dup_count (kind, rescue->saved[kind]);
        g_print ("  %s\n", count);
      }
  g_print (_ ("%lld records are saved in %s, and %lld of the %lld changes of the history that "
              "could be read.\n"),
           (long long) bed_rescue_count_saved (rescue), path, (long long) rescue->changes_kept,
           (long long) rescue->changes_read);
  if (rescue->changes_kept < rescue->changes_read)
    g_print (_ ("Older changes cannot be taken back any more: records that they rest on are lost "
                "or changed.\n"));
  g_print (_ ("Now look whether it breaks a rule: bedlog-tool check %s\n"), path);
}

static void
print_json (const BedRescue *rescue)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();

  json_builder_begin_object (json);
  bed_tool_json_int (json, "saved", bed_rescue_count_saved (rescue));
  bed_tool_json_int (json, "changes_read", rescue->changes_read);
  bed_tool_json_int (json, "changes_kept", rescue->changes_kept);
  json_builder_set_member_name (json, "notes");
  json_builder_begin_array (json);
  for (guint i = 0; i < rescue->notes->len; i++)
    {
      const BedRescueNote *note = rescue->notes->pdata[i];
      json_builder_begin_object (json);
      bed_tool_json_text (json, "fate", note->fate == BED_RESCUE_LOST ? "lost" : "changed");
      bed_tool_json_text (json, "kind",
                          note->kind < BED_N_KINDS ? bed_kind_get_info (note->kind)->name : NULL);
      bed_tool_json_id (json, "id", note->id);
      bed_tool_json_text (json, "why", note->why);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
  json_builder_end_object (json);
  bed_tool_print_json (json);
}

int
bed_cmd_rescue (int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("Say in JSON what was saved and what not"),
      NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("rescue", entries, 2, &argc, &argv);

  if (code)
    return code - 1;
  g_autoptr (GError) error = NULL;
  g_autoptr (BedRescue) rescue = bed_rescue_farm (argv[1], argv[2], &error);
  if (!rescue)
    return bed_tool_fail (g_steal_pointer (&error));
  if (json)
    print_json (rescue);
  else
    {
      print_notes (rescue);
      print_saved (rescue, argv[2]);
    }
  return BED_EXIT_OK;
}
