#include "shell.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "bench.h"

#define DONE "bench-done"

struct _BenchShell
{
  FILE *to, *from; /* what it says and what it complains of come the same way */
};

BenchShell *
bench_shell_new (const char *path)
{
  BenchShell *self = g_new0 (BenchShell, 1);
  const char *argv[]
      = { "sh", "-c", "exec sqlite3 -batch -init /dev/null \"$0\" 2>&1", path, NULL };
  g_autoptr (GError) error = NULL;
  int to, from;

  g_spawn_async_with_pipes (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, &to,
                            &from, NULL, &error);
  g_assert_no_error (error);
  self->to = fdopen (to, "w");
  self->from = fdopen (from, "r");
  return self;
}

void
bench_shell_free (BenchShell *self)
{
  (void) fclose (self->to);
  (void) fclose (self->from);
  g_free (self);
}

double
bench_shell_run (BenchShell *self, const char *lines)
{
  char line[4096];
  double start = bench_now ();

  fprintf (self->to, ".output /dev/null\n%s\n.output\n.print " DONE "\n", lines);
  (void) fflush (self->to);
  while (fgets (line, sizeof line, self->from))
    {
      if (strncmp (line, DONE, strlen (DONE)) == 0)
        return bench_now () - start;
      g_error ("the shell said: %s after %.300s", line, lines);
    }
  g_error ("the shell ended");
}
