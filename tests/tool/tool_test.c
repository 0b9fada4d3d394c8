#include "tool_test.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);
      remove_tree (inside);
    }
  g_remove (path);
}

void
tool_set_up (Tool *tool, gconstpointer data)
{
  tool->folder = g_dir_make_tmp ("bedlog-tool-XXXXXX", NULL);
  tool->out = tool->err = NULL;
}

void
tool_tear_down (Tool *tool, gconstpointer data)
{
  remove_tree (tool->folder);
  g_free (tool->folder);
  g_free (tool->out);
  g_free (tool->err);
}

char *
tool_path (Tool *tool, const char *name)
{
  return g_build_filename (tool->folder, g_str_has_prefix (name, "./") ? name + 2 : name, NULL);
}

static void
limit_files (gpointer bytes)
{
  struct rlimit limit = { *(gsize *) bytes, *(gsize *) bytes };

  if (limit.rlim_cur == 0)
    return;
  signal (SIGXFSZ, SIG_IGN);
  setrlimit (RLIMIT_FSIZE, &limit);
}

/* The second word on are looked at for files. */
void
tool_run_limited (Tool *tool, gsize bytes, char **words)
{
  g_autoptr (GPtrArray) argv = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GError) error = NULL;
  int status;

  g_ptr_array_add (argv, g_strdup (g_getenv ("BEDLOG_TOOL")));
  for (char **word = words; *word; word++)
    g_ptr_array_add (argv,
                     g_str_has_prefix (*word, "./") ? tool_path (tool, *word) : g_strdup (*word));
  g_ptr_array_add (argv, NULL);
  g_clear_pointer (&tool->out, g_free);
  g_clear_pointer (&tool->err, g_free);
  g_spawn_sync (tool->folder, (char **) argv->pdata, NULL, G_SPAWN_DEFAULT, limit_files, &bytes,
                &tool->out, &tool->err, &status, &error);
  g_assert_no_error (error);
  g_assert_true (WIFEXITED (status));
  tool->status = WEXITSTATUS (status);
}

void
tool_run (Tool *tool, ...)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  char *word;
  va_list arguments;

  va_start (arguments, tool);
  while ((word = va_arg (arguments, char *)))
    g_ptr_array_add (words, word);
  va_end (arguments);
  g_ptr_array_add (words, NULL);
  tool_run_limited (tool, 0, (char **) words->pdata);
}

void
tool_write (Tool *tool, const char *name, const char *text)
{
  g_autofree char *path = tool_path (tool, name);

  g_assert_true (g_file_set_contents (path, text, -1, NULL));
}

char *
tool_read (Tool *tool, const char *name)
{
  g_autofree char *path = tool_path (tool, name);
  char *text;

  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  return text;
}

char *
tool_hash (Tool *tool, const char *name)
{
  g_autofree char *path = tool_path (tool, name);
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (guchar *) bytes, length);
}
