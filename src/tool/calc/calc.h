#pragma once

#include <gio/gio.h>

/* `bedlog-tool calc NAME --option value [--units US] [--json]`: the grower's arithmetic, one
 * command for each room of src/science, no farm file needed. */

/* Runs one command; @argv[0] is its name. Answers go to @out, faults to @err, one a line;
 * neither may be NULL. 0 done; 1 the usage or a value is wrong; 2 could not run (a file
 * that cannot be read). */
int bed_calc_run (int argc, char **argv, GString *out, GString *err);

/* The names of its commands, from 0; NULL: there are no more. */
const char *bed_calc_get_name (guint index);
