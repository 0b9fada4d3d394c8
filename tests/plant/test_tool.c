/* Hostile text at the console: every command over a planted farm, named by planted names. */
#include "plant.h"

#include <glib/gstdio.h>
#include <string.h>

typedef struct
{
  Plant plant;
  char *texts;
  char *out, *err;
} Console;

static void
set_up (Console *console, gconstpointer data)
{
  plant_set_up (&console->plant, NULL);
  console->texts = plant_write_texts (console->plant.scene.folder);
  console->out = console->err = NULL;
}

static void
tear_down (Console *console, gconstpointer data)
{
  g_free (console->texts);
  g_free (console->out);
  g_free (console->err);
  plant_tear_down (&console->plant, NULL);
}

/* In the farm's folder; the exit code. */
static int
run (Console *console, const char *first, ...)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new ();
  g_autoptr (GError) error = NULL;
  const char *word = first;
  va_list rest;
  int status;

  g_ptr_array_add (words, (char *) g_getenv ("BEDLOG_TOOL"));
  va_start (rest, first);
  for (; word; word = va_arg (rest, const char *))
    g_ptr_array_add (words, (char *) word);
  va_end (rest);
  g_ptr_array_add (words, NULL);
  g_clear_pointer (&console->out, g_free);
  g_clear_pointer (&console->err, g_free);
  g_spawn_sync (console->plant.scene.folder, (char **) words->pdata, NULL, G_SPAWN_DEFAULT, NULL,
                NULL, &console->out, &console->err, &status, &error);
  g_assert_no_error (error);
  g_assert_true (WIFEXITED (status));
  /* JSON has escapes: follow_json() reads it as what it is. */
  if (*console->out != '{' && *console->out != '[')
    plant_check (first, console->out);
  plant_check (first, console->err);
  return WEXITSTATUS (status);
}

#define does(...) g_assert_cmpint (run (console, __VA_ARGS__, NULL), ==, 0)

static void
follow_json (Console *console)
{
  g_autofree char *path = g_build_filename (console->plant.scene.folder, "said.json", NULL);

  g_assert_true (g_file_set_contents (path, console->out, -1, NULL));
  plant_follow ("json", console->texts, path, NULL);
}

/* Nothing that was planted ran or became a file, here, above, or in the folder for such. */
static void
check_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  g_assert_false (g_file_test ("/tmp/planted", G_FILE_TEST_EXISTS));
  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *inside = g_build_filename (folder, name, NULL);

      if (strstr (name, "planted"))
        g_error ("%s was made", inside);
      if (g_file_test (inside, G_FILE_TEST_IS_DIR))
        check_files (inside);
    }
}

/* Lists and reports, as words and as JSON. */
static void
test_lists (Console *console, gconstpointer data)
{
  static const char *const commands[] = { "due", "history" };

  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      does (commands[i], "farm.bedlog");
      does (commands[i], "farm.bedlog", "--json");
      follow_json (console);
    }
  /* Warnings there are: 40 fellings of unknown make, for one. */
  g_assert_cmpint (run (console, "check", "farm.bedlog", NULL), <=, 1);
  g_assert_cmpint (run (console, "check", "farm.bedlog", "--json", NULL), <=, 1);
  follow_json (console);
  for (guint text = 0; text < plant_n_texts (); text += 8)
    {
      plant_rename_farm (&console->plant, text);
      does ("report", "farm.bedlog", "--json", "-o", "season.xlsx");
      follow_json (console);
    }
  g_test_message ("%u fields and texts", plant_n_met ());
  check_files (console->plant.scene.folder);
}

/* Where each came from and went, named by what was planted; and what is not there. */
static void
test_trace (Console *console, gconstpointer data)
{
  static const BedKind kinds[]
      = { BED_KIND_LOT, BED_KIND_LOG, BED_KIND_BATCH, BED_KIND_SPAWN, BED_KIND_FELLING };

  for (guint text = 0; text < plant_n_texts (); text++)
    {
      BedKind kind = kinds[text % G_N_ELEMENTS (kinds)];
      g_autofree char *name = plant_dup_planted (kind, "code", text);
      g_autofree char *wrong = g_strconcat (name, "!", NULL);

      does ("trace", "farm.bedlog", "--", name);
      does ("trace", "--json", "farm.bedlog", "--", name);
      follow_json (console);
      g_assert_cmpint (run (console, "trace", "farm.bedlog", "--", wrong, NULL), ==, 1);
      g_assert_nonnull (strstr (console->err, wrong));
    }
  g_assert_cmpuint (plant_n_met (), >, 4 * plant_n_texts ());
  check_files (console->plant.scene.folder);
}

/* @what "labels" or a field sheet. A text too long for its place is refused with the text in it. */
static void
print (Console *console, const char *what, const char *of, const char *path)
{
  int code = strcmp (what, "labels") == 0
                 ? run (console, what, "farm.bedlog", of, "-o", path, NULL)
                 : run (console, "sheet", "farm.bedlog", what, of, "-o", path, NULL);

  if (code == 1)
    g_assert_nonnull (strstr (console->err, "there is no room for"));
  else
    g_assert_cmpint (code, ==, 0);
}

/* Paper of one thing, named on the command line. */
static void
test_paper (Console *console, gconstpointer data)
{
  for (guint text = 0; text < plant_n_texts (); text++)
    {
      g_autofree char *area = plant_dup_planted (BED_KIND_AREA, "name", text);
      g_autofree char *stack = plant_dup_planted (BED_KIND_STACK, "name", text);
      g_autofree char *of_area = g_strconcat ("--area=", area, NULL);
      g_autofree char *of_stack = g_strconcat ("--stack=", stack, NULL);

      does ("yard", "farm.bedlog", of_area, "-o", text % 2 ? "map.png" : "map.svg");
      print (console, "labels", of_stack, "signs.pdf");
      print (console, "picking", of_stack, "sheet.pdf");
    }
  check_files (console->plant.scene.folder);
}

/* Out and in again as a person would; what is said of a faulty cell holds it as it is: of the
 * first, for those alike are counted. */
static void
test_csv (Console *console, gconstpointer data)
{
  g_autofree char *csv = g_build_filename (console->plant.scene.folder, "buyer.csv", NULL);
  GString *rows = g_string_new ("name,kind\nNobody,../../planted\n");

  does ("export", "farm.bedlog", "out");
  run (console, "import", "farm.bedlog", "all", "out", "--dry-run", "--json", NULL);
  follow_json (console);
  for (guint text = 0; text < plant_n_texts (); text++)
    {
      g_auto (GStrv) parts = NULL;
      g_autofree char *planted = plant_dup_planted (BED_KIND_BUYER, "kind?", text);
      g_autofree char *quoted = NULL;

      parts = g_strsplit (planted, "\"", -1);
      quoted = g_strjoinv ("\"\"", parts);
      g_string_append_printf (rows, "Nobody %u,\"%s\"\n", text, quoted);
    }
  g_assert_true (g_file_set_contents (csv, rows->str, -1, NULL));
  g_string_free (rows, TRUE);
  g_assert_cmpint (run (console, "import", "farm.bedlog", "buyer", "buyer.csv", NULL), ==, 1);
  g_assert_nonnull (strstr (console->err, "../../planted"));
  g_assert_cmpint (run (console, "import", "farm.bedlog", "buyer", "buyer.csv", "--json", NULL), ==,
                   1);
  follow_json (console);
  check_files (console->plant.scene.folder);
}

/* Copies and undo. */
static void
test_copies (Console *console, gconstpointer data)
{
  does ("backup", "farm.bedlog");
  does ("undo", "farm.bedlog");
  does ("redo", "farm.bedlog");
  check_files (console->plant.scene.folder);
}

#define ADD(name, function)                                                                        \
  g_test_add ("/plant/tool/" name, Console, NULL, set_up, function, tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("lists", test_lists);
  ADD ("trace", test_trace);
  ADD ("paper", test_paper);
  ADD ("csv", test_csv);
  ADD ("copies", test_copies);
  return g_test_run ();
}
