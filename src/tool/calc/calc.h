#pragma once

#include <gio/gio.h>

/* `bedlog-tool calc NAME --option value [--units US] [--json]`: the grower's arithmetic, one
 * command for each room of src/science, no farm file needed. */

/* Runs one command; @argv[0] is its name. Answers go to stdout, faults to stderr,
 * one a line. 0 done; 1 the usage or a value is wrong; 2 could not run (a file that
 * cannot be read). */
int bed_calc_main (int argc, char **argv);

/* The same into strings, for tests; neither may be NULL. */
int bed_calc_run (int argc, char **argv, GString *out, GString *err);
