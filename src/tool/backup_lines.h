#pragma once

#include "tool/tool.h"

typedef enum
{
  BED_BACKUP_LIST_TEXT,
  BED_BACKUP_LIST_JSON,
} BedBackupListForm;

/* Prints the copies of the farm at @path, newest first: when each was made, what was last done
 * in it, and how many changes of the farm came after where the farm can be opened. An exit
 * code. */
int bed_tool_list_backups (const char *path, BedBackupListForm form);
