/* No command writes over a farm, or what belongs to one, or what is no plain file. */
#include "tool_test.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#define OUT "OUT"

/* Each command that writes a file, and what it needs to get as far as writing. */
static const char *const commands[][10] = {
  { "report", "./farm.bedlog", "-o", OUT },
  { "export", "./farm.bedlog", OUT },
  { "export", "./farm.bedlog", "-k", "stand", OUT },
  { "labels", "./farm.bedlog", "-b", "26A", "-o", OUT },
  { "sheet", "./farm.bedlog", "picking", "-o", OUT },
  { "recall", "./farm.bedlog", "26A", "-o", OUT },
  { "yard", "./farm.bedlog", "-a", "Laying yard", "-o", OUT },
  { "drill", "--farm", "./farm.bedlog", "-b", "26A", "-o", OUT },
  { "drill", "--diameter", "12cm", "--length", "1m", "-o", OUT },
  { "recall", "./farm.bedlog", "26A", "-o", OUT },
  { "backup", "./farm.bedlog", "-o", OUT },
  { "new", OUT },
  { "demo", OUT },
};

/* What is there already is replaced by the rest. */
static gboolean
is_particular (guint command)
{
  static const char *const words[] = { "backup", "new", "demo", NULL };

  return g_strv_contains (words, commands[command][0]);
}

/* All kinds at once go into a folder. */
static gboolean
wants_folder (guint command)
{
  return strcmp (commands[command][0], "export") == 0 && strcmp (commands[command][2], OUT) == 0;
}

/* Made by make_targets(). Papers look at the ending of the name, hence so many of these. */
static const char *const targets[] = {
  "./farm.bedlog",
  "./././farm.bedlog",
  "./dir.pdf/../farm.bedlog",
  "./soft.pdf",
  "./hard.pdf",
  "./chain.pdf",
  "./copy.pdf",
  "./database.pdf",
  "./damaged.bedlog",
  "./fifo.pdf",
  "./socket.pdf",
  "./journal.pdf",
  "./farm.bedlog-journal",
  "./farm.bedlog-wal",
  "./soft.pdf-journal",
  "./nowhere.pdf",
  "./loop.pdf",
  "./to-journal.pdf",
  "./dir.pdf",
};

static void
link_to (Tool *tool, const char *to, const char *name)
{
  g_autofree char *path = tool_path (tool, name);

  g_assert_cmpint (symlink (to, path), ==, 0);
}

static void
copy (Tool *tool, const char *from, const char *to)
{
  g_autofree char *source = tool_path (tool, from), *target = tool_path (tool, to);
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (source, &bytes, &length, NULL));
  g_assert_true (g_file_set_contents (target, bytes, length, NULL));
}

static void
make_socket (Tool *tool, const char *name)
{
  g_autofree char *path = tool_path (tool, name);
  struct sockaddr_un address = { .sun_family = AF_UNIX };
  int fd = socket (AF_UNIX, SOCK_STREAM, 0);

  g_assert_cmpuint (g_strlcpy (address.sun_path, path, sizeof address.sun_path), <,
                    sizeof address.sun_path);
  g_assert_cmpint (bind (fd, (struct sockaddr *) &address, sizeof address), ==, 0);
  close (fd);
}

static void
make_targets (Tool *tool)
{
  g_autofree char *farm = tool_path (tool, "farm.bedlog"), *hard = tool_path (tool, "hard.pdf");
  g_autofree char *fifo = tool_path (tool, "fifo.pdf"), *dir = tool_path (tool, "dir.pdf");
  g_autofree char *database = tool_path (tool, "database.pdf");

  tool_write (tool, "stand.csv", "name\nRidge\n");
  tool_does (tool, "demo", "./farm.bedlog");
  link_to (tool, "farm.bedlog", "soft.pdf");
  link_to (tool, "soft.pdf", "chain.pdf");
  g_assert_cmpint (link (farm, hard), ==, 0);
  copy (tool, "farm.bedlog", "copy.pdf");
  copy (tool, "stand.csv", "damaged.bedlog");
  g_assert_true (g_file_set_contents (database, "SQLite format 3\0more", 20, NULL));
  g_assert_cmpint (mkfifo (fifo, 0600), ==, 0);
  make_socket (tool, "socket.pdf");
  tool_write (tool, "journal.pdf", "\xd9\xd5\x05\xf9\x20\xa1\x63\xd7 and more of it");
  link_to (tool, "nothing", "nowhere.pdf");
  link_to (tool, "farm.bedlog-journal", "to-journal.pdf");
  link_to (tool, "loop.pdf", "loop.pdf");
  g_assert_cmpint (g_mkdir (dir, 0700), ==, 0);
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *) a, *(char *const *) b);
}

/* Every name in the folder, what it is, and what is in it. */
static char *
describe (Tool *tool)
{
  g_autoptr (GDir) dir = g_dir_open (tool->folder, 0, NULL);
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = tool_path (tool, name);
      GStatBuf is;

      g_assert_cmpint (g_lstat (path, &is), ==, 0);
      g_autofree char *hash = S_ISREG (is.st_mode) ? tool_hash (tool, name) : NULL;
      g_ptr_array_add (lines, g_strdup_printf ("%s %o %lu %s", name, is.st_mode, (gulong) is.st_ino,
                                               hash ? hash : ""));
    }
  g_ptr_array_sort (lines, by_name);
  g_ptr_array_add (lines, NULL);
  return g_strjoinv ("\n", (char **) lines->pdata);
}

static void
run (Tool *tool, guint command, const char *target)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();

  for (guint i = 0; commands[command][i]; i++)
    g_ptr_array_add (
        words,
        (gpointer) (strcmp (commands[command][i], OUT) == 0 ? target : commands[command][i]));
  g_ptr_array_add (words, NULL);
  tool_run_limited (tool, 0, (char **) words->pdata);
}

static void
test_bad_targets (Tool *tool, gconstpointer data)
{
  make_targets (tool);
  g_autofree char *before = describe (tool);

  for (guint c = 0; c < G_N_ELEMENTS (commands); c++)
    for (guint t = 0; t < G_N_ELEMENTS (targets); t++)
      {
        if (strcmp (targets[t], "./dir.pdf") == 0 && wants_folder (c))
          continue;
        run (tool, c, targets[t]);
        g_test_message ("%s %s: %d %s", commands[c][0], targets[t], tool->status, tool->err);
        g_assert_cmpint (tool->status, ==, 1);
        g_assert_cmpuint (strlen (tool->err), >, 20);
        g_autofree char *after = describe (tool);
        g_assert_cmpstr (before, ==, after);
      }
}

/* The folder is right, but one of the files in it is a name of the farm. */
static void
test_folder_with_a_farm (Tool *tool, gconstpointer data)
{
  g_autofree char *folder = NULL, *inner = NULL;

  make_targets (tool);
  folder = tool_path (tool, "csv");
  inner = g_build_filename (folder, "wood.csv", NULL);
  g_assert_cmpint (g_mkdir (folder, 0700), ==, 0);
  g_assert_cmpint (symlink ("../farm.bedlog", inner), ==, 0);
  g_autofree char *before = describe (tool);
  tool_fails (tool, 1, "wood.csv is a farm", "export", "./farm.bedlog", "./csv");
  g_autofree char *after = describe (tool);
  g_assert_cmpstr (before, ==, after);
  /* Not half of an export either. */
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_assert_cmpstr (g_dir_read_name (dir), ==, "wood.csv");
  g_assert_null (g_dir_read_name (dir));
}

/* --- what is there already ---------------------------------------------------------- */

/* The beginnings of older files of each kind; a ZIP's first name stands at its 30th byte. */
#define ZIP "PK\3\4zzzzzzzzzzzzzzzzzzzzzzzzzz"

static const struct
{
  const char *command; /* that writes such files; NULL: none does */
  const char *bytes;
} old_files[] = {
  { "report", ZIP "[Content_Types].xml and more of it" },
  { "export", "name,area (ha)\r\nRidge,2\r\n" },
  { "paper", "%PDF-1.5 and more of it" },
  { NULL, ZIP "mimetypeapplication/vnd.oasis.opendocument.text" },
  { NULL, "the old one" },
  { NULL, "Dear neighbour,\nof the logs" },
};

static gboolean
is_of_kind (guint command, guint old)
{
  const char *name = commands[command][0];
  const char *kind = strcmp (name, "report") == 0 || strcmp (name, "export") == 0 ? name : "paper";

  return g_strcmp0 (old_files[old].command, kind) == 0;
}

static const char *
old_of (guint command)
{
  guint old = 0;

  while (!is_of_kind (command, old))
    old++;
  return old_files[old].bytes;
}

/* A workbook replaces a workbook, and no letter, nor any other file of somebody's. */
static void
test_other_kinds (Tool *tool, gconstpointer data)
{
  make_targets (tool);
  for (guint c = 0; c < G_N_ELEMENTS (commands); c++)
    for (guint old = 0; old < G_N_ELEMENTS (old_files); old++)
      {
        if (wants_folder (c) || is_particular (c) || is_of_kind (c, old))
          continue;
        tool_write (tool, "old.pdf", old_files[old].bytes);
        g_autofree char *before = tool_hash (tool, "old.pdf");
        run (tool, c, "./old.pdf");
        g_autofree char *after = tool_hash (tool, "old.pdf");
        g_test_message ("%s over %s: %d %s", commands[c][0], old_files[old].bytes, tool->status,
                        tool->err);
        g_assert_cmpint (tool->status, ==, 1);
        g_assert_cmpstr (before, ==, after);
      }
}

/* A plain file is replaced, also through a link, which stays one; its other names keep what
 * they held. */
static void
test_good_targets (Tool *tool, gconstpointer data)
{
  for (guint c = 0; c < G_N_ELEMENTS (commands); c++)
    {
      if (c == 0)
        make_targets (tool);
      if (wants_folder (c) || is_particular (c))
        continue;
      g_autofree char *old = tool_path (tool, "old.pdf"), *other = tool_path (tool, "other.txt");
      g_autofree char *way = tool_path (tool, "way.pdf");
      const char *bytes = old_of (c);
      tool_write (tool, "old.pdf", bytes);
      g_assert_cmpint (link (old, other), ==, 0);
      link_to (tool, "old.pdf", "way.pdf");
      run (tool, c, "./way.pdf");
      g_test_message ("%s: %d %s", commands[c][0], tool->status, tool->err);
      g_assert_cmpint (tool->status, ==, 0);
      g_assert_true (g_file_test (way, G_FILE_TEST_IS_SYMLINK));
      g_autofree char *kept = tool_read (tool, "other.txt");
      g_assert_cmpstr (kept, ==, bytes);
      g_autofree char *written = tool_read (tool, "old.pdf");
      g_assert_cmpstr (written, !=, bytes);
      g_unlink (old);
      g_unlink (other);
      g_unlink (way);
    }
}

/* "-" is standard output, for all but farms and folders; what else the command would say there is
 * left out or refused. No file has that name then. */
static void
test_standard_output (Tool *tool, gconstpointer data)
{
  tool_does (tool, "demo", "./farm.bedlog");
  g_autofree char *dash = tool_path (tool, "-");
  for (guint c = 0; c < G_N_ELEMENTS (commands); c++)
    {
      const char *name = commands[c][0];
      const char *begin = strcmp (name, "report") == 0   ? "PK"
                          : strcmp (name, "export") == 0 ? "name,"
                                                         : "%PDF-";
      gboolean refused = is_particular (c) || wants_folder (c);
      run (tool, c, "-");
      g_test_message ("%s: %d %s", name, tool->status, tool->err);
      g_assert_cmpint (tool->status, ==, refused);
      g_assert_true (g_str_has_prefix (tool->out, refused ? "" : begin));
      g_assert_true (!refused || strstr (tool->err, "is standard output"));
      g_assert_null (strstr (tool->out, "exported"));
      g_assert_false (g_file_test (dash, G_FILE_TEST_EXISTS));
    }
  tool_fails (tool, 1, "not both", "report", "./farm.bedlog", "-o", "-", "--json");
}

/* What is cut off in the middle leaves the old file, under all its names. */
static void
test_no_room (Tool *tool, gconstpointer data)
{
  make_targets (tool);
  for (guint c = 0; c < G_N_ELEMENTS (commands); c++)
    {
      /* A kind of few records is no longer than the limit. */
      if (strcmp (commands[c][0], "export") == 0 || is_particular (c))
        continue;
      g_autofree char *old = tool_path (tool, "old.pdf"), *other = tool_path (tool, "other.txt");
      tool_write (tool, "old.pdf", old_of (c));
      g_assert_cmpint (link (old, other), ==, 0);
      g_autoptr (GPtrArray) words = g_ptr_array_new ();
      for (guint i = 0; commands[c][i]; i++)
        g_ptr_array_add (
            words, (gpointer) (strcmp (commands[c][i], OUT) == 0 ? "./old.pdf" : commands[c][i]));
      g_ptr_array_add (words, NULL);
      tool_run_limited (tool, 1024, (char **) words->pdata);
      g_test_message ("%s: %d %s", commands[c][0], tool->status, tool->err);
      g_assert_cmpint (tool->status, ==, 2);
      g_autofree char *kept = tool_read (tool, "old.pdf"), *same = tool_read (tool, "other.txt");
      g_assert_cmpstr (kept, ==, old_of (c));
      g_assert_cmpstr (same, ==, old_of (c));
      g_unlink (old);
      g_unlink (other);
    }
}

/* A command with an output that is not in the table above would go untried. */
static void
test_table_is_whole (Tool *tool, gconstpointer data)
{
  tool_does (tool, "--help");
  g_auto (GStrv) lines = g_strsplit (tool->out, "\n", -1);
  guint found = 0;

  for (char **line = lines; *line; line++)
    {
      g_auto (GStrv) words = g_strsplit (g_strstrip (*line), " ", 2);
      gboolean tried = FALSE;

      tool_run (tool, words[0] ? words[0] : "", "--help", NULL);
      if (!words[0] || tool->status != 0 || !strstr (tool->out, "--output"))
        continue;
      for (guint c = 0; c < G_N_ELEMENTS (commands); c++)
        tried |= strcmp (commands[c][0], words[0]) == 0;
      g_test_message ("%s", words[0]);
      g_assert_true (tried);
      found++;
    }
  g_assert_cmpuint (found, >=, 6);
}

#define ADD(name, function) g_test_add (name, Tool, NULL, tool_set_up, function, tool_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/output/bad-targets", test_bad_targets);
  ADD ("/output/folder-with-a-farm", test_folder_with_a_farm);
  ADD ("/output/good-targets", test_good_targets);
  ADD ("/output/other-kinds", test_other_kinds);
  ADD ("/output/no-room", test_no_room);
  ADD ("/output/standard-output", test_standard_output);
  ADD ("/output/table-is-whole", test_table_is_whole);
  return g_test_run ();
}
