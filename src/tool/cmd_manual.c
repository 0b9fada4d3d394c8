/* The hidden command that writes the manual page and the completions of shells from the table of
 * commands and the options they read: what one does not say, the other does not know. */
#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/kinds.h"
#include "tool/commands.h"

typedef void (*EachOption) (const BedCommand *command, const GOptionEntry *option);

static gboolean
has_value (const GOptionEntry *option)
{
  return option->arg != G_OPTION_ARG_NONE;
}

/* With "--help", which all have. */
static void
each_option (const BedCommand *command, EachOption visit)
{
  static const GOptionEntry help
      = { "help", 'h', 0, G_OPTION_ARG_NONE, NULL, N_ ("Show this help"), NULL };
  g_autoptr (GArray) options = bed_tool_dup_options (command);

  for (guint i = 0; i < options->len; i++)
    visit (command, &g_array_index (options, GOptionEntry, i));
  visit (command, &help);
}

/* What may follow the name of the command as its first or second word, or "" for files. */
static char *
dup_words (const BedCommand *command)
{
  g_autoptr (GString) words = g_string_new (NULL);
  const char *name;

  if (command->run == bed_cmd_calc)
    for (guint i = 0; (name = bed_cmd_calc_get_name (i)); i++)
      g_string_append_printf (words, "%s%s", i ? " " : "", name);
  if (strstr (command->usage, "KIND|all"))
    {
      g_string_append (words, "all sheet");
      for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
        g_string_append_printf (words, " %s", bed_kind_get_info (kind)->name);
    }
  return g_strdup (words->str);
}

/* --- manual page ------------------------------------------------------------------------- */

/* A hyphen that is typed, a backslash, what is not ASCII, a control at the beginning of a line. */
static char *
dup_roff (const char *text)
{
  GString *roff = g_string_new (*text == '.' || *text == '\'' ? "\\&" : NULL);

  for (const char *p = text; *p; p = g_utf8_next_char (p))
    if (*p == '-')
      g_string_append (roff, "\\-");
    else if (*p & 0x80)
      g_string_append_printf (roff, "\\[u%04X]", g_utf8_get_char (p));
    else if (*p == '\\')
      g_string_append (roff, "\\e");
    else
      g_string_append_c (roff, *p);
  return g_string_free (roff, FALSE);
}

static void
print_man_option (const BedCommand *command, const GOptionEntry *option)
{
  g_autofree char *name = dup_roff (option->long_name);
  g_autofree char *text = dup_roff (_ (option->description));
  g_autofree char *value = dup_roff (option->arg_description ? _ (option->arg_description) : "");

  g_print (".TP\n");
  if (option->short_name)
    g_print ("\\fB\\-%c\\fR, ", option->short_name);
  g_print (has_value (option) ? "\\fB\\-\\-%s\\fR=\\fI%s\\fR\n" : "\\fB\\-\\-%s\\fR%s\n", name,
           value);
  g_print ("%s\n", text);
}

static void
print_man_command (const BedCommand *command)
{
  g_autofree char *usage = dup_roff (command->usage);
  g_autofree char *help = dup_roff (_ (command->help));

  g_print (".SS %s %s\n%s.\n", command->name, usage, help);
  if (command->run == bed_cmd_calc)
    {
      g_autofree char *names = dup_words (command);
      g_autofree char *roff = dup_roff (names);
      g_print ("NAME is one of: %s.\n", roff);
    }
  else
    each_option (command, print_man_option);
}

static void
print_man (void)
{
  g_print (".TH BEDLOG\\-TOOL 1 \"\" \"bedlog %s\"\n"
           ".SH NAME\n"
           "bedlog\\-tool \\- a farm of mushroom logs at the console\n"
           ".SH SYNOPSIS\n"
           ".B bedlog\\-tool\n"
           ".I COMMAND FILE\n"
           "\\&...\n"
           ".SH DESCRIPTION\n"
           "Makes, fills, asks, prints, checks and saves the farm files of Bedlog without a "
           "display.\n"
           ".SH COMMANDS\n",
           VERSION);
  for (const BedCommand *command = bed_commands; command->name; command++)
    if (command->help)
      print_man_command (command);
  g_print (".SH EXIT STATUS\n"
           "0: done. 1: the data or the usage are wrong, every fault is listed. 2: it could not "
           "run.\n");
}

/* --- bash -------------------------------------------------------------------------------- */

static void
print_bash_option (const BedCommand *command, const GOptionEntry *option)
{
  g_print (" --%s", option->long_name);
}

static void
print_bash (void)
{
  g_print ("_bedlog_tool ()\n{\n  local word=\"${COMP_WORDS[COMP_CWORD]}\" options= words=\n"
           "  case \"${COMP_WORDS[1]}\" in\n");
  for (const BedCommand *command = bed_commands; command->name; command++)
    {
      g_autofree char *words = command->help ? dup_words (command) : NULL;
      if (!command->help)
        continue;
      g_print ("    %s)\n      words=\"%s\"\n      options=\"", command->name, words);
      if (command->run != bed_cmd_calc)
        each_option (command, print_bash_option);
      g_print ("\" ;;\n");
    }
  g_print ("  esac\n  if [ \"$COMP_CWORD\" -eq 1 ]; then\n    words=\"");
  for (const BedCommand *command = bed_commands; command->name; command++)
    if (command->help)
      g_print ("%s ", command->name);
  g_print ("--help --version\"\n  fi\n  case \"$word\" in\n"
           "    -*) COMPREPLY=($(compgen -W \"$words $options\" -- \"$word\")) ;;\n"
           "    *) COMPREPLY=($(compgen -W \"$words\" -- \"$word\")) ;;\n  esac\n"
           "}\ncomplete -o bashdefault -o default -F _bedlog_tool bedlog-tool\n");
}

/* --- fish -------------------------------------------------------------------------------- */

/* Between single quotes. */
static char *
dup_quoted (const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, "'", -1);

  return g_strjoinv ("\\'", parts);
}

static void
print_fish_option (const BedCommand *command, const GOptionEntry *option)
{
  g_autofree char *text = dup_quoted (_ (option->description));

  g_print ("complete -c bedlog-tool -n '__fish_seen_subcommand_from %s' -l %s", command->name,
           option->long_name);
  if (option->short_name)
    g_print (" -s %c", option->short_name);
  g_print ("%s -d '%s'\n", has_value (option) ? " -r" : "", text);
}

static void
print_fish (void)
{
  for (const BedCommand *command = bed_commands; command->name; command++)
    {
      g_autofree char *text = command->help ? dup_quoted (_ (command->help)) : NULL;
      g_autofree char *words = command->help ? dup_words (command) : NULL;
      if (!command->help)
        continue;
      g_print ("complete -c bedlog-tool -n __fish_use_subcommand -f -a %s -d '%s'\n", command->name,
               text);
      if (*words)
        g_print ("complete -c bedlog-tool -n '__fish_seen_subcommand_from %s' -a '%s'\n",
                 command->name, words);
      if (command->run != bed_cmd_calc)
        each_option (command, print_fish_option);
    }
}

/* --- zsh --------------------------------------------------------------------------------- */

/* Between single quotes, where brackets and colons have a meaning. */
static char *
dup_zsh (const char *text)
{
  GString *zsh = g_string_new (NULL);

  for (const char *p = text; *p; p++)
    if (*p == '\'')
      g_string_append (zsh, "'\\''");
    else if (strchr ("[]:\\", *p))
      g_string_append_printf (zsh, "\\%c", *p);
    else
      g_string_append_c (zsh, *p);
  return g_string_free (zsh, FALSE);
}

static void
print_zsh_option (const BedCommand *command, const GOptionEntry *option)
{
  g_autofree char *text = dup_zsh (_ (option->description));
  g_autofree char *what = dup_zsh (option->arg_description ? _ (option->arg_description) : "");
  g_autofree char *value = has_value (option) ? g_strdup_printf (":%s:_files", what) : NULL;

  g_print (" \\\n        '--%s[%s]%s'", option->long_name, text, value ? value : "");
  if (option->short_name)
    g_print (" \\\n        '-%c[%s]%s'", option->short_name, text, value ? value : "");
}

static void
print_zsh (void)
{
  g_print ("#compdef bedlog-tool\n\nlocal -a commands\ncommands=(\n");
  for (const BedCommand *command = bed_commands; command->name; command++)
    if (command->help)
      {
        g_autofree char *text = dup_zsh (_ (command->help));
        g_print ("  '%s:%s'\n", command->name, text);
      }
  g_print (")\nif (( CURRENT == 2 )); then\n  _describe command commands\n  return\nfi\n"
           "case $words[2] in\n");
  for (const BedCommand *command = bed_commands; command->name; command++)
    {
      g_autofree char *words = command->help ? dup_words (command) : NULL;
      if (!command->help)
        continue;
      g_print ("  %s)\n", command->name);
      if (*words)
        g_print ("    compadd -- %s\n", words);
      g_print ("    _arguments");
      if (command->run != bed_cmd_calc)
        each_option (command, print_zsh_option);
      g_print (" \\\n        '*:file:_files' ;;\n");
    }
  g_print ("esac\n");
}

int
bed_cmd_manual (int argc, char **argv)
{
  static const struct
  {
    const char *name;
    void (*print) (void);
  } forms[] = {
    { "man", print_man }, { "bash", print_bash }, { "fish", print_fish }, { "zsh", print_zsh }
  };

  for (gsize i = 0; argc == 2 && i < G_N_ELEMENTS (forms); i++)
    if (strcmp (argv[1], forms[i].name) == 0)
      {
        forms[i].print ();
        return BED_EXIT_OK;
      }
  return bed_tool_misused (_ ("Usage: bedlog-tool %s %s"), "manual", "man|bash|fish|zsh");
}
