/* Copies and going back at the console. */
#include "tool_test.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <string.h>

#define FARM "./hill.bedlog"

static void
set_up (Tool *tool, gconstpointer data)
{
  tool_set_up (tool, data);
  g_autofree char *config = tool_path (tool, "config");
  g_setenv ("XDG_CONFIG_HOME", config, TRUE);
  tool_does (tool, "new", FARM, "--units", "metric");
}

/* One change more. */
static void
add_stand (Tool *tool, const char *name)
{
  g_autofree char *text = g_strdup_printf ("name\n%s\n", name);

  tool_write (tool, "./stand.csv", text);
  tool_does (tool, "import", FARM, "stand", "./stand.csv");
}

/* The path that the last run printed. */
static char *
printed (Tool *tool)
{
  return g_strchomp (g_strdup (tool->out));
}

static JsonNode *
list (Tool *tool)
{
  tool_does (tool, "backup", FARM, "--list", "--json");
  JsonNode *node = json_from_string (tool->out, NULL);
  g_assert_nonnull (node);
  return node;
}

static gboolean
has_stand (Tool *tool, const char *name)
{
  g_autofree char *text = NULL;

  tool_does (tool, "export", FARM, "./out");
  text = tool_read (tool, "./out/stand.csv");
  return strstr (text, name) != NULL;
}

/* Whenever the farm differs, several a day, and never without need. */
static void
test_each_change (Tool *tool, gconstpointer data)
{
  tool_does (tool, "backup", FARM);
  g_autofree char *first = printed (tool);
  add_stand (tool, "North");
  tool_does (tool, "backup", FARM);
  g_autofree char *second = printed (tool);
  g_assert_cmpint (strcmp (first, second), <, 0);
  tool_does (tool, "backup", FARM);
  g_assert_nonnull (strstr (tool->out, "No need"));
  g_autoptr (JsonNode) node = list (tool);
  JsonArray *copies = json_node_get_array (node);
  g_assert_cmpuint (json_array_get_length (copies), ==, 2);
  JsonObject *newest = json_array_get_object_element (copies, 0);
  g_assert_cmpstr (json_object_get_string_member (newest, "path"), ==, second);
  g_assert_cmpint (json_object_get_int_member (newest, "changes_since"), ==, 0);
  JsonObject *older = json_array_get_object_element (copies, 1);
  g_assert_cmpint (json_object_get_int_member (older, "changes_since"), ==, 1);
}

static void
test_restore (Tool *tool, gconstpointer data)
{
  add_stand (tool, "North");
  tool_does (tool, "backup", FARM);
  g_autofree char *first = printed (tool);
  add_stand (tool, "South");
  tool_does (tool, "restore", FARM);
  g_assert_nonnull (strstr (tool->out, "1 change since; Imported 1 stand"));
  tool_does (tool, "restore", FARM, first);
  g_assert_nonnull (strstr (tool->out, "As it was before: "));
  g_assert_true (has_stand (tool, "North"));
  g_assert_false (has_stand (tool, "South"));
  /* By its date: the newest of that day, which is what was given up. */
  g_autofree char *name = g_path_get_basename (first);
  g_autofree char *day = g_strndup (name + strlen ("hill "), 10);
  tool_does (tool, "restore", FARM, day);
  g_assert_true (has_stand (tool, "South"));
  tool_fails (tool, 1, "There is no copy “1999-01-01”", "restore", FARM, "1999-01-01");
}

static void
test_restore_damaged (Tool *tool, gconstpointer data)
{
  g_autofree char *farm = tool_path (tool, FARM);
  g_autofree char *bytes = NULL;
  gsize size;

  add_stand (tool, "North");
  tool_does (tool, "backup", FARM);
  g_autofree char *copy = printed (tool);
  g_assert_true (g_file_get_contents (farm, &bytes, &size, NULL));
  memset (bytes + 8192, 0xa5, 12288);
  g_assert_true (g_file_set_contents (farm, bytes, size, NULL));
  tool_fails (tool, 2, "bedlog-tool restore", "check", FARM);
  tool_does (tool, "restore", FARM);
  g_assert_nonnull (strstr (tool->out, "Imported 1 stand"));
  tool_does (tool, "restore", FARM, copy);
  g_assert_nonnull (strstr (tool->out, "What could not be opened is kept: "));
  g_assert_true (has_stand (tool, "North"));
  tool_does (tool, "check", FARM);
}

/* A copy is for reading, by the tool as by the window. */
static void
test_copy_is_for_reading (Tool *tool, gconstpointer data)
{
  tool_does (tool, "backup", FARM);
  g_autofree char *copy = printed (tool);
  tool_write (tool, "./stand.csv", "name\nNorth\n");
  tool_fails (tool, 2, "This is a copy of the farm, made on ", "import", copy, "stand",
              "./stand.csv");
  tool_does (tool, "history", copy);
}

static void
test_place (Tool *tool, gconstpointer data)
{
  g_autofree char *stick = tool_path (tool, "stick");
  g_autofree char *away = tool_path (tool, "away");

  tool_fails (tool, 1, "is not a folder", "backup", FARM, "--place", "./stick");
  tool_fails (tool, 1, "Choose one of", "backup", FARM, "--place", "./stick", "--list");
  g_assert_cmpint (g_mkdir (stick, 0700), ==, 0);
  tool_does (tool, "backup", FARM, "--place", "./stick");
  tool_does (tool, "backup", FARM);
  g_assert_true (g_str_has_prefix (tool->out, stick));
  g_assert_cmpint (g_rename (stick, away), ==, 0);
  tool_does (tool, "backup", FARM);
  g_assert_nonnull (strstr (tool->err, "is not there"));
  g_assert_false (g_str_has_prefix (tool->out, stick));
  tool_does (tool, "backup", FARM, "--beside");
  add_stand (tool, "North");
  g_assert_cmpstr (tool->err, ==, "");
}

#define ADD(name, function)                                                                        \
  g_test_add ("/backup/" name, Tool, NULL, set_up, function, tool_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("each-change", test_each_change);
  ADD ("restore", test_restore);
  ADD ("restore-damaged", test_restore_damaged);
  ADD ("copy-is-for-reading", test_copy_is_for_reading);
  ADD ("place", test_place);
  return g_test_run ();
}
