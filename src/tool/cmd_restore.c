#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/backup.h"
#include "model/farm/restore.h"
#include "tool/backup_lines.h"
#include "tool/commands.h"

/* "2026-05-18", "2026-05-18 14-30", "2026-05-18T14:30": whatever of it was typed. */
static gboolean
is_made_at (const BedBackup *copy, const char *when)
{
  g_autofree char *moment = g_strdup (when);

  g_strdelimit (moment, " ", 'T');
  if (strlen (moment) == strlen ("2026-05-18T14-30") && moment[13] == '-')
    moment[13] = ':';
  return copy->made && strlen (moment) >= 10 && g_str_has_prefix (copy->made, moment);
}

/* A path, or the newest copy of that day or minute; NULL and said when there is none. */
static char *
find_copy (const char *path, const char *which)
{
  g_autoptr (GPtrArray) copies = bed_backup_list (path);

  if (g_file_test (which, G_FILE_TEST_EXISTS))
    return g_strdup (which);
  for (guint i = 0; i < copies->len; i++)
    {
      const BedBackup *copy = copies->pdata[i];
      if (!copy->fault && is_made_at (copy, which))
        return g_strdup (copy->path);
    }
  bed_tool_misused (
      _ ("There is no copy “%s” of %s. bedlog-tool restore %s lists those there are."), which, path,
      path);
  return NULL;
}

static int
restore (const char *path, const char *which)
{
  g_autofree char *copy = find_copy (path, which);
  g_auto (BedRestored) restored = { NULL };
  g_autoptr (GError) error = NULL;

  if (!copy)
    return BED_EXIT_WRONG;
  if (!bed_restore (path, copy, &restored, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  g_print (_ ("%s is now what %s holds.\n"), path, copy);
  if (restored.before)
    g_print (_ ("As it was before: %s\n"), restored.before);
  if (restored.aside)
    g_print (_ ("What could not be opened is kept: %s\n"), restored.aside);
  if (restored.note)
    g_printerr (_ ("note: %s\n"), restored.note);
  return BED_EXIT_OK;
}

static int
list (const char *path)
{
  int code = bed_tool_list_backups (path, BED_BACKUP_LIST_TEXT);

  g_print (_ ("\nbedlog-tool restore %s COPY puts one in the farm's place; COPY is its path or its "
              "date.\n"),
           path);
  return code;
}

int
bed_cmd_restore (int argc, char **argv)
{
  gboolean json = FALSE;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &json, N_ ("List the copies in JSON"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("restore", entries, -2, &argc, &argv);

  if (code)
    return code - 1;
  if (json && argc == 3)
    return bed_tool_misused (_ ("--json lists the copies; it does not go with one to be put in the "
                                "farm's place."));
  if (json)
    return bed_tool_list_backups (argv[1], BED_BACKUP_LIST_JSON);
  return argc == 3 ? restore (argv[1], argv[2]) : list (argv[1]);
}
