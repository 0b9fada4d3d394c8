/* labels, sheet and drill of bedlog-tool, run as a person runs them: test-print-commands TOOL. */
#include <glib/gstdio.h>
#include <string.h>

#include "print/page/sheet.h"
#include "read_back.h"

static const char *tool;

typedef struct
{
  char *folder, *farm, *out, *errors;
} Fixture;

/* Runs the tool with words split at spaces; its exit code, its complaints in f->errors. */
static int
run (Fixture *f, const char *words, ...)
{
  va_list arguments;
  g_auto (GStrv) argv = NULL;
  g_autoptr (GError) error = NULL;
  int status = 0;

  va_start (arguments, words);
  g_autofree char *line = g_strdup_vprintf (words, arguments);
  va_end (arguments);
  g_autofree char *whole = g_strdup_printf ("%s %s", tool, line);
  g_assert_true (g_shell_parse_argv (whole, NULL, &argv, NULL));
  g_clear_pointer (&f->errors, g_free);
  g_spawn_sync (NULL, argv, NULL, G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, NULL, &f->errors, &status,
                &error);
  g_assert_no_error (error);
  g_assert_true (WIFEXITED (status));
  return WEXITSTATUS (status);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  f->folder = g_dir_make_tmp ("bedlog-commands-XXXXXX", NULL);
  f->farm = g_build_filename (f->folder, "demo.bedlog", NULL);
  f->out = g_build_filename (f->folder, "out.pdf", NULL);
  g_assert_cmpint (run (f, "demo %s --logs 60 --years 2 --seed 1 --today 2026-05-12", f->farm), ==,
                   0);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_autoptr (GDir) folder = g_dir_open (f->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (folder)))
    {
      g_autofree char *path = g_build_filename (f->folder, name, NULL);
      g_unlink (path);
    }
  g_rmdir (f->folder);
  g_free (f->folder);
  g_free (f->farm);
  g_free (f->out);
  g_free (f->errors);
}

/* The tags of a batch, begun at the fourth label: their codes are read from the paper. */
static void
test_labels (Fixture *f, gconstpointer data)
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  const BedSheet *sheet = bed_sheet_list_find (sheets, "a4-3x7", NULL);
  const BedSheetPlace place = { 4, 0, 0 };
  g_autoptr (GArray) boxes = g_array_new (FALSE, FALSE, sizeof (BedBox));

  if (!read_back_possible ())
    return;
  g_assert_cmpint (run (f, "labels %s --batch 25A --sheet a4-3x7 --start 4 -o %s", f->farm, f->out),
                   ==, 0);
  for (guint i = 0; i < 18; i++)
    {
      BedBox box = bed_sheet_get_label_box (sheet, &place, i);
      g_array_append_val (boxes, box);
    }
  cairo_surface_t *page = read_back_render (f->out, 0, 203);
  g_autoptr (GPtrArray) codes = read_back_codes (page, 203, boxes, READ_CLEAN, boxes->len);
  cairo_surface_destroy (page);
  g_assert_cmpuint (codes->len, ==, 18);
  for (guint i = 0; i < codes->len; i++)
    g_assert_true (g_str_has_prefix (codes->pdata[i], "25A-"));
}

static void
test_sheets (Fixture *f, gconstpointer data)
{
  const char *kinds[] = { "felling", "measuring", "inoculation", "weighing", "soak",
                          "picking", "moves",     "plan",        "week",     "day" };

  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_assert_cmpint (run (f, "sheet %s %s --batch 25A -o %s", f->farm, kinds[i], f->out), ==, 0);
      g_assert_cmpint (g_unlink (f->out), ==, 0);
    }
}

static void
test_drill (Fixture *f, gconstpointer data)
{
  g_assert_cmpint (run (f, "drill --diameter '12 cm' --length '1 m' -o %s", f->out), ==, 0);
  g_assert_cmpint (g_unlink (f->out), ==, 0);
  g_assert_cmpint (
      run (f, "drill --farm %s --batch 25A --units US --paper letter -o %s", f->farm, f->out), ==,
      0);
  g_assert_cmpint (g_unlink (f->out), ==, 0);
}

/* The map on several sheets with what follows it, and on one as a picture. */
static void
test_yard (Fixture *f, gconstpointer data)
{
  const char *area = "-a 'Fruiting yard'";

  g_assert_cmpint (
      run (f, "yard %s %s --scale 40 --colours age --elevations -o %s", f->farm, area, f->out), ==,
      0);
  g_assert_cmpint (g_unlink (f->out), ==, 0);
  g_assert_cmpint (
      run (f, "yard %s %s --colours picked --on 2026-04-01 -o %s.png", f->farm, area, f->out), ==,
      0);
  g_assert_cmpint (run (f, "yard %s %s --colours soaked -o %s.svg", f->farm, area, f->out), ==, 0);
}

/* Every mistake of use: exit 1, a sentence with the word in question, no file. */
static void
test_mistakes (Fixture *f, gconstpointer data)
{
  const struct
  {
    const char *words; /* %s: the farm, the file to write */
    const char *says;
  } cases[] = {
    { "labels %s --batch 99Z -o %s", "99Z" },
    { "labels %s --batch 25A --sheet a4-99 -o %s", "a4-3x7" },
    { "labels %s --batch 25A --sheet a4-3x7 --start 22 -o %s", "22" },
    { "labels %s --batch 25A --offset-x 30 -o %s", "20 mm" },
    { "labels %s --batch 25A --copies 2000 -o %s", "1000" },
    { "labels %s -o %s", "nothing to print" },
    { "labels %s --lot L260101-1-X -o %s", "L260101" },
    { "sheet %s nothing -o %s", "inoculation" },
    { "sheet %s weighing --paper foolscap -o %s", "foolscap" },
    { "drill --farm %s -o %s", "--batch" },
    { "drill --farm %s --batch 25A --closing spiral -o %s", "spiral" },
    { "drill --farm %s --batch 25A --along '5 parsec' -o %s", "parsec" },
    { "drill --farm %s --batch 25A --diameter 2mm -o %s", "diameter" },
    { "drill --farm %s --batch 25A -o %s.doc", ".pdf" },
    { "drill --farm %s --batch 25A -o %s.png", ".pdf" },
    { "yard %s -a 'Fruiting yard' --scale 19 -o %s", "1:20" },
    { "yard %s -a 'Fruiting yard' --scale -100 -o %s", "1:20" },
    { "yard %s -a 'Fruiting yard' --scale 20 -o %s.png", ".pdf" },
    { "yard %s -a 'Fruiting yard' --colours smell -o %s", "moisture" },
    { "yard %s -a 'Fruiting yard' --stack Nowhere -o %s", "Nowhere" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      int code = run (f, cases[i].words, f->farm, f->out);

      if (code != 1 || !strstr (f->errors, cases[i].says))
        g_error ("%s: exit %d: %s", cases[i].words, code, f->errors);
      g_assert_false (g_file_test (f->out, G_FILE_TEST_EXISTS));
    }
  g_assert_cmpint (run (f, "labels %s.none --batch 25A -o %s", f->farm, f->out), ==, 2);
  g_assert_cmpint (run (f, "labels %s --batch 25A -o %s/none/out.pdf", f->farm, f->folder), ==, 2);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_assert_cmpint (argc, ==, 2);
  tool = argv[1];
#define ADD(path, test) g_test_add ("/commands/" path, Fixture, NULL, set_up, test, tear_down)
  ADD ("labels", test_labels);
  ADD ("sheets", test_sheets);
  ADD ("drill", test_drill);
  ADD ("yard", test_yard);
  ADD ("mistakes", test_mistakes);
  return g_test_run ();
}
