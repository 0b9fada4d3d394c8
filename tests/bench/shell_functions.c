/* The functions the questions of a farm ask, for the sqlite3 shell: `.load shell-functions`. They
 * are the program's own, of the farm BENCH_FARM on the day BENCH_TODAY; the shell lies on the same
 * library of SQLite. */
#include <sqlite3ext.h>

#include "model/farm/farm_private.h"

int sqlite3_extension_init (sqlite3 *db, char **error, const sqlite3_api_routines *api);

int
sqlite3_extension_init (sqlite3 *db, char **error, const sqlite3_api_routines *api)
{
  BedFarm *farm = bed_farm_open (g_getenv ("BENCH_FARM"), NULL); /* as long as the shell */
  g_autofree char *now = g_strconcat (g_getenv ("BENCH_TODAY"), "T12:00", NULL);

  if (!farm)
    return SQLITE_ERROR;
  bed_farm_fix_clock (farm, now, 1);
  bed_functions_register (db, farm);
  return SQLITE_OK_LOAD_PERMANENTLY;
}
