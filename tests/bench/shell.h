#pragma once

#include <glib.h>

/* An sqlite3 shell that stays, so that its cache is as warm as this side's. */
typedef struct _BenchShell BenchShell;

/* Opens the database at @path; dies when there is no shell. */
BenchShell *bench_shell_new (const char *path);
void bench_shell_free (BenchShell *self);

/* Sends lines (SQL or dot commands) and waits until they are done; dies when the shell complains.
 * Seconds it took. What is selected goes to /dev/null. */
double bench_shell_run (BenchShell *self, const char *lines);
