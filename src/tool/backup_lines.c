#include "tool/backup_lines.h"

#include <glib/gi18n-lib.h>

#include "model/farm/backup.h"
#include "model/farm/say.h"

static gint64
count_since (BedFarm *farm, const BedBackup *copy)
{
  return farm ? bed_backup_changes_since (farm, copy) : -1;
}

static void
print_line (BedFarm *farm, const BedBackup *copy)
{
  g_autofree char *words = bed_backup_dup_words (copy);
  g_autofree char *last = bed_backup_dup_last (copy);
  gint64 since = count_since (farm, copy);
  g_autofree char *after
      = since > 0 ? bed_say (ngettext ("%d change since", "%d changes since", since), (int) since)
        : since == 0 ? g_strdup (_ ("the farm as it is"))
                     : NULL;

  g_print ("%s\n", copy->path);
  if (copy->fault)
    g_print (_ ("  %s; cannot be read: %s\n"), words, copy->fault);
  else if (after)
    g_print ("  %s; %s; %s\n", words, after, last);
  else
    g_print ("  %s; %s\n", words, last);
}

static void
add_json (JsonBuilder *json, gconstpointer element, gpointer farm)
{
  const BedBackup *copy = element;
  gint64 since = count_since (farm, copy);

  bed_tool_json_text (json, "path", copy->path);
  bed_tool_json_text (json, "made", copy->made);
  bed_tool_json_text (json, "last_change_at", copy->at);
  bed_tool_json_text (json, "last_change", copy->sentence);
  json_builder_set_member_name (json, "last_change_undone");
  json_builder_add_boolean_value (json, copy->undo);
  if (since >= 0)
    bed_tool_json_int (json, "changes_since", since);
  else
    bed_tool_json_text (json, "changes_since", NULL);
  bed_tool_json_text (json, "fault", copy->fault);
}

int
bed_tool_list_backups (const char *path, BedBackupListForm form)
{
  g_autoptr (GPtrArray) copies = bed_backup_list (path);
  /* A damaged farm still has copies to list. */
  g_autoptr (BedFarm) farm = bed_farm_open (path, NULL);

  if (form == BED_BACKUP_LIST_JSON)
    bed_tool_print_list (copies, add_json, farm);
  else if (copies->len == 0)
    g_print (_ ("There is no copy of %s.\n"), path);
  for (guint i = 0; form == BED_BACKUP_LIST_TEXT && i < copies->len; i++)
    print_line (farm, copies->pdata[i]);
  return BED_EXIT_OK;
}
