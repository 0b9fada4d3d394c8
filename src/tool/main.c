/* bedlog-tool: the farm file at the console, for scripts, tests and cron jobs. */
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "model/farm/names.h"
#include "science/language.h"
#include "tool/commands.h"

const BedCommand bed_commands[] = {
  { "new", "FILE", N_ ("Make a new farm file"), bed_cmd_new },
  { "demo", "FILE", N_ ("Make a farm file with an invented farm in it"), bed_cmd_demo },
  { "import", "FILE KIND|all|sheet CSV|DIR",
    N_ ("Read records, or a sheet of your own (CSV, .xlsx, .ods), all or nothing"),
    bed_cmd_import },
  { "export", "FILE DIR", N_ ("Write every kind of record to CSV"), bed_cmd_export },
  { "report", "FILE", N_ ("Write the workbook of a season"), bed_cmd_report },
  { "labels", "FILE", N_ ("Print tags, signs and labels"), bed_cmd_labels },
  { "sheet", "FILE KIND", N_ ("Print a field sheet to fill in and type in again"), bed_cmd_sheet },
  { "yard", "FILE", N_ ("Print the map of an area to scale"), bed_cmd_yard },
  { "drill", "", N_ ("Print a drilling guide at true size"), bed_cmd_drill },
  { "calc", "NAME [OPTION…]", N_ ("The arithmetic of the trade, no farm file needed"),
    bed_cmd_calc },
  { "trace", "FILE CODE", N_ ("Where a lot, log, batch, spawn lot or felling came from and went"),
    bed_cmd_trace },
  { "recall", "FILE CODE|DAY|WATER",
    N_ ("Who has what came of it, what is still in store, and where it came from"),
    bed_cmd_recall },
  { "figures", "FILE",
    N_ ("What the farm, a season, week, batch or log gave, cost and may give, in figures"),
    bed_cmd_figures },
  { "due", "FILE", N_ ("What is due or overdue, and warnings"), bed_cmd_due },
  { "history", "FILE", N_ ("What was done, newest first"), bed_cmd_history },
  { "undo", "FILE", N_ ("Take back the last change"), bed_cmd_undo },
  { "redo", "FILE", N_ ("Do again what was taken back"), bed_cmd_redo },
  { "check", "FILE", N_ ("The file, its references, every rule on every record"), bed_cmd_check },
  { "backup", "FILE", N_ ("Copy the farm to a dated file, list the copies, choose their place"),
    bed_cmd_backup },
  { "restore", "FILE [COPY]", N_ ("List the copies; put one in the place of the farm"),
    bed_cmd_restore },
  { "rescue", "DAMAGED NEW", N_ ("Save what can be read of a damaged farm into a new one"),
    bed_cmd_rescue },
  { "format", "", NULL, bed_cmd_format }, /* hidden: writes docs/file-format.md */
  { "manual", "man|bash|fish|zsh", NULL,
    bed_cmd_manual }, /* hidden: what the build installs for man and for shells */
  { "format-figures", "", NULL,
    bed_cmd_format_figures }, /* hidden: the tables of docs/figures.md */
  { NULL },
};

/* Spaces from the end of a usage, in letters, to where the longest ends. */
static int
count_spaces (const BedCommand *of)
{
  glong longest = 0;

  for (const BedCommand *command = bed_commands; command->name; command++)
    if (command->help)
      longest = MAX (longest, g_utf8_strlen (command->usage, -1));
  return (int) (longest - g_utf8_strlen (of->usage, -1));
}

static int
print_help (void)
{
  g_print (_ ("Usage: bedlog-tool COMMAND FILE …\n"
              "A farm of mushroom logs at the console. Exit code 0: done; 1: the data or the\n"
              "usage are wrong, every fault is listed; 2: it could not run.\n\n"));
  for (const BedCommand *command = bed_commands; command->name; command++)
    if (command->help)
      g_print ("  %-8s %s%*s  %s\n", command->name, command->usage, count_spaces (command), "",
               _ (command->help));
  g_print (_ ("\nbedlog-tool COMMAND --help tells more about one.\n"));
  return BED_EXIT_OK;
}

static int
unknown_command (const char *name)
{
  const char *names[G_N_ELEMENTS (bed_commands)] = { NULL };

  for (gsize i = 0; bed_commands[i].name; i++)
    names[i] = bed_commands[i].help ? bed_commands[i].name : NULL;
  const char *nearest = bed_near_choose (name, names, G_N_ELEMENTS (names), 2);
  if (nearest)
    return bed_tool_misused (_ ("There is no command “%s”. Did you mean “%s”?"), name, nearest);
  return bed_tool_misused (_ ("There is no command “%s”. bedlog-tool --help lists them."), name);
}

int
main (int argc, char **argv)
{
  bed_language_begin (LOCALEDIR);

  if (argc < 2)
    {
      print_help ();
      return BED_EXIT_WRONG;
    }
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0
      || strcmp (argv[1], "help") == 0)
    return print_help ();
  if (strcmp (argv[1], "--version") == 0)
    {
      g_print ("bedlog-tool %s\n", VERSION);
      return BED_EXIT_OK;
    }
  for (const BedCommand *command = bed_commands; command->name; command++)
    if (strcmp (argv[1], command->name) == 0)
      return command->run (argc - 1, argv + 1);
  return unknown_command (argv[1]);
}
