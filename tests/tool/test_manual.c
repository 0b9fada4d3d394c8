/* The manual page and the completions say what the commands say of themselves. */
#include "tool_test.h"

#include <string.h>

/* Where the words about a command begin, in letters. */
static glong
find_words (const char *line)
{
  const char *gap = g_strrstr (line, "  ");

  return gap ? g_utf8_pointer_to_offset (line, gap) : 0;
}

/* The commands that --help lists, one below the other. */
static GPtrArray *
list_commands (Tool *tool)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);

  tool_does (tool, "--help");
  g_auto (GStrv) lines = g_strsplit (tool->out, "\n", -1);
  glong at = 0;
  for (char **line = lines; *line; line++)
    if (g_str_has_prefix (*line, "  ") && g_ascii_isalpha ((*line)[2]))
      {
        g_ptr_array_add (names, g_strndup (*line + 2, strcspn (*line + 2, " ")));
        at = at ? at : find_words (*line);
        g_assert_cmpint (find_words (*line), ==, at);
      }
  g_assert_cmpuint (names->len, >, 15);
  return names;
}

/* "--json" and its like of a command's --help; of calc none, each of its things has its own. */
static GPtrArray *
list_options (Tool *tool, const char *command)
{
  GPtrArray *options = g_ptr_array_new_with_free_func (g_free);

  if (strcmp (command, "calc") == 0)
    return options;
  tool_does (tool, command, "--help");
  for (const char *at = strstr (tool->out, "\n  "); at; at = strstr (at + 1, "\n  "))
    {
      const char *dashes = strstr (at, "--");
      const char *end = strchr (at + 1, '\n');
      if (dashes && (!end || dashes < end) && dashes < at + 10)
        g_ptr_array_add (options,
                         g_strndup (dashes, strspn (dashes, "-abcdefghijklmnopqrstuvwxyz")));
    }
  g_assert_cmpuint (options->len, >, 0);
  return options;
}

/* Its part of the text, from @from to @to. */
static char *
cut (const char *text, const char *from, const char *to)
{
  const char *begin = strstr (text, from);

  g_test_message ("%s", from);
  g_assert_nonnull (begin);
  const char *end = strstr (begin + strlen (from), to);
  return end ? g_strndup (begin, end - begin) : g_strdup (begin);
}

static void
test_man (Tool *tool, gconstpointer data)
{
  g_autoptr (GPtrArray) commands = list_commands (tool);

  tool_does (tool, "manual", "man");
  g_autofree char *man = g_strdup (tool->out);
  for (guint i = 0; i < commands->len; i++)
    {
      g_autofree char *head = g_strdup_printf (".SS %s ", (char *) commands->pdata[i]);
      g_autofree char *part = cut (man, head, ".SS ");
      g_autoptr (GPtrArray) options = list_options (tool, commands->pdata[i]);
      for (guint o = 0; o < options->len; o++)
        {
          g_auto (GStrv) pieces = g_strsplit (options->pdata[o], "-", -1);
          g_autofree char *escaped = g_strjoinv ("\\-", pieces);
          g_test_message ("%s", escaped);
          g_assert_nonnull (strstr (part, escaped));
        }
    }
  for (const char *p = man; *p; p++)
    g_assert_true (*p > 0); /* troff reads ASCII */
}

/* One letter means one thing wherever it is. */
static void
test_short_options (Tool *tool, gconstpointer data)
{
  g_autoptr (GPtrArray) commands = list_commands (tool);
  g_autoptr (GHashTable) meanings = g_hash_table_new_full (NULL, NULL, NULL, g_free);

  for (guint i = 0; i < commands->len; i++)
    {
      tool_run (tool, commands->pdata[i], "--help", NULL);
      for (const char *at = strstr (tool->out, "\n  -"); at; at = strstr (at + 1, "\n  -"))
        {
          g_autofree char *name = NULL;
          if (at[4] == '-')
            continue;
          name = g_strndup (at + 7, strspn (at + 7, "-abcdefghijklmnopqrstuvwxyz"));
          gpointer letter = GINT_TO_POINTER ((int) at[4]);
          const char *other = g_hash_table_lookup (meanings, letter);
          g_test_message ("%s: -%c is %s", (char *) commands->pdata[i], at[4], name);
          if (other)
            g_assert_cmpstr (name, ==, other);
          else
            g_hash_table_insert (meanings, letter, g_steal_pointer (&name));
        }
    }
  g_assert_cmpuint (g_hash_table_size (meanings), >, 5);
}

/* What bash offers for the last of @words, which end the line. */
static char *
complete (Tool *tool, const char *words)
{
  g_autofree char *bash = tool_path (tool, "bedlog-tool.bash");
  g_autofree char *script = g_strdup_printf ("source '%s'; COMP_WORDS=(bedlog-tool %s); "
                                             "COMP_CWORD=$((${#COMP_WORDS[@]} - 1)); _bedlog_tool; "
                                             "echo \" ${COMPREPLY[*]} \"",
                                             bash, words);
  const char *argv[] = { "bash", "-uc", script, NULL };
  char *out = NULL;
  int status;

  g_assert_true (g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out,
                               NULL, &status, NULL));
  g_assert_cmpint (status, ==, 0);
  return out;
}

static void
test_bash (Tool *tool, gconstpointer data)
{
  g_autoptr (GPtrArray) commands = list_commands (tool);

  tool_does (tool, "manual", "bash");
  tool_write (tool, "bedlog-tool.bash", tool->out);
  g_autofree char *all = complete (tool, "''");
  for (guint i = 0; i < commands->len; i++)
    {
      g_autofree char *name = g_strdup_printf (" %s ", (char *) commands->pdata[i]);
      g_autofree char *line = g_strdup_printf ("%s --", (char *) commands->pdata[i]);
      g_autoptr (GPtrArray) options = list_options (tool, commands->pdata[i]);
      g_autofree char *offered = complete (tool, line);
      g_assert_nonnull (strstr (all, name));
      for (guint o = 0; o < options->len; o++)
        {
          g_autofree char *option = g_strdup_printf (" %s ", (char *) options->pdata[o]);
          g_assert_nonnull (strstr (offered, option));
        }
    }
  g_autofree char *import = complete (tool, "imp");
  g_assert_cmpstr (import, ==, " import \n");
  g_autofree char *kind = complete (tool, "import farm.bedlog wat");
  g_assert_cmpstr (kind, ==, " watering \n");
  g_autofree char *calc = complete (tool, "calc mois");
  g_assert_cmpstr (calc, ==, " moisture \n");
}

/* The other two shells are not at hand everywhere: that each command and option is there. */
static void
test_others (Tool *tool, gconstpointer data)
{
  g_autoptr (GPtrArray) commands = list_commands (tool);

  tool_does (tool, "manual", "fish");
  g_autofree char *fish = g_strdup (tool->out);
  tool_does (tool, "manual", "zsh");
  g_autofree char *zsh = g_strdup (tool->out);
  for (guint i = 0; i < commands->len; i++)
    {
      const char *name = commands->pdata[i];
      g_autofree char *from = g_strdup_printf ("\n  %s)\n", name);
      g_autofree char *part = cut (zsh, from, ";;");
      g_autofree char *offered = g_strdup_printf ("__fish_use_subcommand -f -a %s ", name);
      g_autoptr (GPtrArray) options = list_options (tool, name);
      g_assert_nonnull (strstr (fish, offered));
      for (guint o = 0; o < options->len; o++)
        {
          const char *option = options->pdata[o];
          g_autofree char *in_zsh = g_strdup_printf ("'%s[", option);
          g_autofree char *in_fish
              = g_strdup_printf ("'__fish_seen_subcommand_from %s' -l %s ", name, option + 2);
          g_assert_nonnull (strstr (part, in_zsh));
          g_assert_nonnull (strstr (fish, in_fish));
        }
    }
  tool_fails (tool, 1, "man|bash|fish|zsh", "manual", "csh");
}

#define ADD(name, function) g_test_add (name, Tool, NULL, tool_set_up, function, tool_tear_down)

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/manual/man", test_man);
  ADD ("/manual/short-options", test_short_options);
  ADD ("/manual/bash", test_bash);
  ADD ("/manual/others", test_others);
  return g_test_run ();
}
