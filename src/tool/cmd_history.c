#include <glib/gi18n-lib.h>

#include "model/farm/history.h"
#include "tool/commands.h"

/* history, undo and redo. */

static const char *const roles[] = { "do", "undo", "redo" };

static char *
say (BedChangeRole role, const char *sentence)
{
  switch (role)
    {
    case BED_CHANGE_UNDO:
      return g_strdup_printf (_ ("Undone: %s"), sentence);
    case BED_CHANGE_REDO:
      return g_strdup_printf (_ ("Done again: %s"), sentence);
    case BED_CHANGE_DO:
      break;
    }
  return g_strdup (sentence);
}

static void
add_change (JsonBuilder *json, gconstpointer element, gpointer none)
{
  const BedChange *change = element;

  bed_tool_json_id (json, "id", change->id);
  bed_tool_json_text (json, "at", change->at);
  bed_tool_json_text (json, "who", change->who);
  bed_tool_json_text (json, "sentence", change->sentence);
  bed_tool_json_text (json, "role", roles[change->role]);
  json_builder_set_member_name (json, "undone");
  json_builder_add_boolean_value (json, change->undone);
  if (change->undoes)
    bed_tool_json_id (json, "undoes", change->undoes);
}

static void
print_changes (GPtrArray *changes)
{
  for (guint i = 0; i < changes->len; i++)
    {
      const BedChange *change = changes->pdata[i];
      gboolean undone = change->role == BED_CHANGE_DO && change->undone;
      g_autofree char *said = say (change->role, change->sentence);
      g_print ("%s  %s  %s%s\n", change->at, change->who, said, undone ? _ ("  (undone)") : "");
    }
}

int
bed_cmd_history (int argc, char **argv)
{
  gboolean json = FALSE;
  int most = 0;
  const GOptionEntry entries[] = {
    { "last", 0, 0, G_OPTION_ARG_INT, &most, N_ ("At most so many, the newest"), N_ ("N") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("In JSON"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("history", entries, 1, &argc, &argv);

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) changes = bed_history_list (farm, MAX (most, 0), &error);
  if (!changes)
    return bed_tool_fail (g_steal_pointer (&error));
  if (json)
    bed_tool_print_list (changes, add_change, NULL);
  else
    print_changes (changes);
  return BED_EXIT_OK;
}

typedef gboolean (*Step) (BedFarm *farm, char **sentence, GError **error);

static int
step (const char *name, int argc, char **argv, Step take, BedChangeRole role)
{
  int code = bed_tool_options (name, NULL, 1, &argc, &argv);

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open_to_write (argv[1], &code);
  if (!farm)
    return code;
  g_autofree char *sentence = NULL;
  g_autoptr (GError) error = NULL;
  if (!take (farm, &sentence, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  g_autofree char *said = say (role, sentence);
  g_print ("%s\n", said);
  return BED_EXIT_OK;
}

int
bed_cmd_undo (int argc, char **argv)
{
  return step ("undo", argc, argv, bed_history_undo, BED_CHANGE_UNDO);
}

int
bed_cmd_redo (int argc, char **argv)
{
  return step ("redo", argc, argv, bed_history_redo, BED_CHANGE_REDO);
}
