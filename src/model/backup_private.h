#pragma once

#include <sqlite3.h>
#include "model/backup.h"

G_BEGIN_DECLS

/* For the model room only: a copy of the file at @path before its schema is changed,
 * beside the dated ones, named after its schema version and never pruned. */
gboolean bed_backup_before_migration (sqlite3 *db, const char *path, int version, GError **error);

/* All pages of @from into @to; @path: for the message. */
gboolean bed_backup_copy_pages (sqlite3 *from, sqlite3 *to, const char *path, GError **error);

G_END_DECLS
