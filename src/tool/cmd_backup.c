#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/backup.h"
#include "tool/backup_lines.h"
#include "tool/commands.h"

typedef struct
{
  char *to;
  char *place;
  gboolean beside, list, json;
} Options;

static int
read_options (Options *o, int *argc, char ***argv)
{
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->to,
      N_ ("Copy to this file, in place of a dated copy"), N_ ("FILE") },
    { "list", 0, 0, G_OPTION_ARG_NONE, &o->list, N_ ("List the copies there are, newest first"),
      NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &o->json, N_ ("List them in JSON"), NULL },
    { "place", 0, 0, G_OPTION_ARG_FILENAME, &o->place,
      N_ ("Keep the copies of this farm in a folder in DIR from now on"), N_ ("DIR") },
    { "beside", 0, 0, G_OPTION_ARG_NONE, &o->beside,
      N_ ("Keep them beside the farm again from now on"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("backup", entries, 1, argc, argv);

  if (code)
    return code;
  if ((o->to != NULL) + (o->list || o->json) + (o->place != NULL) + o->beside > 1)
    return bed_tool_misused (_ ("Choose one of --output, --list, --place and --beside.")) + 1;
  return 0;
}

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
back_up_now (BedFarm *farm)
{
  g_autoptr (GError) error = NULL;
  g_auto (BedBackupMade) made = { NULL };

  if (!bed_backup_make (farm, BED_BACKUP_DIFFERS, &made, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  if (made.note)
    g_printerr (_ ("note: %s\n"), made.note);
  if (made.path)
    g_print ("%s\n", made.path);
  else
    g_print (_ ("No need: %s holds the same.\n"), made.same);
  return BED_EXIT_OK;
}

/* The farm need not be there, nor open, for what is only about its copies. */
static int
choose_place (const char *path, const char *place)
{
  g_autoptr (GError) error = NULL;

  if (!bed_backup_set_place (path, place, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  g_autofree char *now = bed_backup_dup_place (path);
  if (now)
    g_print (_ ("Copies are kept in %s from now on; those made before stay where they are.\n"),
             now);
  else
    g_print (_ ("Copies are kept beside the farm from now on; those made before stay where they "
                "are.\n"));
  return BED_EXIT_OK;
}

int
bed_cmd_backup (int argc, char **argv)
{
  static Options o;
  int code = read_options (&o, &argc, &argv);

  if (code)
    return code - 1;
  if (o.list || o.json)
    return bed_tool_list_backups (argv[1], o.json ? BED_BACKUP_LIST_JSON : BED_BACKUP_LIST_TEXT);
  if (o.place || o.beside)
    return choose_place (argv[1], o.place);
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  return o.to ? back_up_to (farm, o.to) : back_up_now (farm);
}
