/* replay FOLDER: feeds the driver every file of its corpus, one test each. */
#include "fuzz.h"

static void
test_input (gconstpointer path)
{
  g_autofree char *bytes = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  LLVMFuzzerTestOneInput ((const uint8_t *) bytes, length);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_autoptr (GDir) dir = argc == 2 ? g_dir_open (argv[1], 0, NULL) : NULL;
  const char *name;
  guint n = 0;

  for (; dir && (name = g_dir_read_name (dir)); n++)
    {
      g_autofree char *test = g_strdup_printf ("/fuzz/%s", name);
      g_test_add_data_func_full (test, g_build_filename (argv[1], name, NULL), test_input, g_free);
    }
  if (n == 0)
    g_error ("there is no corpus to replay");
  return g_test_run ();
}
