#include "tool/tool.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>

#include "model/farm/backup.h"
#include "model/farm/functions.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/season/season.h"

static const BedCommand *
find_command (const char *name)
{
  const BedCommand *command = bed_commands;

  while (command->name && strcmp (command->name, name) != 0)
    command++;
  if (!command->name)
    g_error ("no command %s", name);
  return command;
}

int
bed_tool_misused (const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_autofree char *message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_printerr ("%s\n", message);
  return BED_EXIT_WRONG;
}

int
bed_tool_unknown_kind (const char *name)
{
  const char *names[BED_N_KINDS + 1] = { NULL };

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    names[kind] = bed_kind_get_info (kind)->name;
  const char *nearest = bed_near_choose (name, names, BED_N_KINDS, 2);
  if (nearest)
    return bed_tool_misused (_ ("There is no kind of record “%s”. Did you mean “%s”?"), name,
                             nearest);
  g_autofree char *all = g_strjoinv (", ", (char **) names);
  return bed_tool_misused (_ ("There is no kind of record “%s”. There are: %s."), name, all);
}

/* After "--" a name may begin as an option does. GLib leaves it there when one does. */
static void
drop_dashes (int *argc, char **argv)
{
  int at = 1;

  while (at < *argc && strcmp (argv[at], "--") != 0)
    at++;
  if (at < *argc)
    {
      memmove (argv + at, argv + at + 1, (*argc - at) * sizeof (char *));
      (*argc)--;
    }
}

/* Where the options of a command go instead of being read: bed_tool_dup_options(). */
static GArray *described;

GArray *
bed_tool_dup_options (const BedCommand *command)
{
  char *words[] = { (char *) command->name, NULL };
  GArray *options = g_array_new (FALSE, FALSE, sizeof (GOptionEntry));

  described = options;
  command->run (1, words);
  described = NULL;
  return options;
}

int
bed_tool_options (const char *name, const GOptionEntry *entries, int n_arguments, int *argc,
                  char ***argv)
{
  const BedCommand *command = find_command (name);
  gboolean help = FALSE;

  if (described)
    {
      for (; entries && entries->long_name; entries++)
        g_array_append_vals (described, entries, 1);
      return BED_EXIT_OK + 1;
    }
  const GOptionEntry own[] = {
    { "help", 'h', 0, G_OPTION_ARG_NONE, &help, N_ ("Show this help"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (GOptionContext) context = g_option_context_new (command->usage);
  g_autoptr (GError) error = NULL;

  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  if (command->help)
    g_option_context_set_summary (context, _ (command->help));
  g_option_context_add_main_entries (context, own, GETTEXT_PACKAGE);
  if (entries)
    g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  g_autofree char *program = g_strdup_printf ("bedlog-tool %s", name);
  g_set_prgname (program);
  if (!g_option_context_parse (context, argc, argv, &error))
    return bed_tool_misused ("%s", error->message) + 1;
  drop_dashes (argc, *argv);
  if (help)
    {
      g_autofree char *text = g_option_context_get_help (context, TRUE, NULL);
      g_print ("%s", text);
      return BED_EXIT_OK + 1;
    }
  if (n_arguments < 0 ? *argc < 2 || *argc - 1 > -n_arguments : *argc - 1 != n_arguments)
    return bed_tool_misused (_ ("Usage: bedlog-tool %s %s"), name, command->usage) + 1;
  return 0;
}

int
bed_tool_fail (GError *error)
{
  g_autoptr (GError) self = error;
  gboolean wrong = g_error_matches (self, BED_FARM_ERROR, BED_FARM_ERROR_INVALID)
                   || g_error_matches (self, BED_FARM_ERROR, BED_FARM_ERROR_CONFLICT)
                   || g_error_matches (self, BED_FARM_ERROR, BED_FARM_ERROR_NOTHING)
                   || g_error_matches (self, BED_FARM_ERROR, BED_FARM_ERROR_EXISTS);

  g_printerr ("%s\n", self->message);
  return wrong ? BED_EXIT_WRONG : BED_EXIT_FAILED;
}

BedFarm *
bed_tool_open (const char *path, int *code)
{
  g_autoptr (GError) error = NULL;
  BedFarm *farm = bed_farm_open_patiently (path, &error);

  if (farm)
    return farm;
  bed_tool_fail (g_steal_pointer (&error));
  *code = BED_EXIT_FAILED;
  return NULL;
}

BedFarm *
bed_tool_open_to_write (const char *path, int *code)
{
  g_autoptr (GError) error = NULL;
  BedFarm *farm = bed_tool_open (path, code);

  g_auto (BedBackupMade) made = { NULL };

  if (!farm || bed_farm_get_read_only_why (farm))
    return farm;
  if (!bed_backup_make (farm, BED_BACKUP_OPENING, &made, &error))
    g_printerr (_ ("note: no backup was made: %s\n"), error->message);
  if (made.note)
    g_printerr (_ ("note: %s\n"), made.note);
  return farm;
}

void
bed_tool_print_json (JsonBuilder *builder)
{
  g_autoptr (JsonNode) root = json_builder_get_root (builder);
  g_autofree char *text = json_to_string (root, TRUE);

  g_print ("%s\n", text);
}

void
bed_tool_print_list (GPtrArray *elements,
                     void (*add) (JsonBuilder *json, gconstpointer element, gpointer data),
                     gpointer data)
{
  g_autoptr (JsonBuilder) json = json_builder_new ();

  json_builder_begin_array (json);
  for (guint i = 0; i < elements->len; i++)
    {
      json_builder_begin_object (json);
      add (json, elements->pdata[i], data);
      json_builder_end_object (json);
    }
  json_builder_end_array (json);
  bed_tool_print_json (json);
}

void
bed_tool_json_text (JsonBuilder *builder, const char *name, const char *text)
{
  json_builder_set_member_name (builder, name);
  if (text)
    json_builder_add_string_value (builder, text);
  else
    json_builder_add_null_value (builder);
}

void
bed_tool_json_int (JsonBuilder *builder, const char *name, gint64 value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_int_value (builder, value);
}

void
bed_tool_json_id (JsonBuilder *builder, const char *name, gint64 id)
{
  g_autofree char *text = g_strdup_printf ("%" G_GINT64_FORMAT, id);

  bed_tool_json_text (builder, name, text);
}

const char *
bed_tool_find_choice (const BedField *field, const char *word)
{
  g_autoptr (GString) keys = g_string_new (NULL);

  for (const BedChoice *choice = field->choices; choice->key; choice++)
    {
      if (g_ascii_strcasecmp (choice->key, word) == 0)
        return choice->key;
      g_string_append_printf (keys, "%s%s", keys->len ? ", " : "", choice->key);
    }
  /* Translators: what was typed; label of a field; the words there are. */
  bed_tool_misused (_ ("“%s” is none of the words for %s: %s."), word, _ (field->label), keys->str);
  return NULL;
}

gboolean
bed_tool_read_season (BedFarm *farm, const char *text, int *season)
{
  g_autoptr (GError) error = NULL;
  int first, last;
  guint64 year;

  const int running = bed_season_of (farm, bed_farm_get_today (farm));

  *season = running;
  if (!text)
    return TRUE;
  if ((strlen (text) != 4 && strlen (text) != 2)
      || !g_ascii_string_to_unsigned (text, 10, 0, 9999, &year, NULL))
    return bed_tool_misused (_ ("“%s” is no season: write the year it began, 2026 or 26."), text)
           == BED_EXIT_OK;
  *season = (int) year + (strlen (text) == 2 ? 2000 : 0);
  if (!bed_season_range (farm, &first, &last, &error))
    return bed_tool_fail (g_steal_pointer (&error)) == BED_EXIT_OK;
  if ((*season >= first && *season <= last) || *season == running)
    return TRUE;
  return bed_tool_misused (_ ("The farm has no record of the season %d; it has them from %d to "
                              "%d."),
                           *season, first, last)
         == BED_EXIT_OK;
}

const char *
bed_tool_input (const char *input)
{
  return g_str_equal (input, "-") ? "/dev/stdin" : input;
}

gboolean
bed_tool_begin_output (BedToolOutput *to, const char *output, const char *name, GError **error)
{
  g_return_val_if_fail (to != NULL && output != NULL, FALSE);
  gboolean piped = g_str_equal (output, "-");

  *to = (BedToolOutput){ 0 };
  if (piped && !(to->folder = g_dir_make_tmp ("bedlog-XXXXXX", error)))
    return FALSE;
  to->path = piped ? g_build_filename (to->folder, name, NULL) : g_strdup (output);
  return TRUE;
}

static int
copy_to_standard_output (const char *path)
{
  g_autofree char *content = NULL;
  g_autoptr (GError) error = NULL;
  gsize size;

  if (!g_file_get_contents (path, &content, &size, &error))
    return bed_tool_fail (g_steal_pointer (&error));
  if (fwrite (content, 1, size, stdout) == size && fflush (stdout) == 0)
    return BED_EXIT_OK;
  g_printerr (_ ("Standard output could not be written to: %s\n"), g_strerror (errno));
  return BED_EXIT_FAILED;
}

int
bed_tool_end_output (BedToolOutput *to, int code)
{
  if (to->folder)
    {
      if (code == BED_EXIT_OK)
        code = copy_to_standard_output (to->path);
      g_unlink (to->path);
      g_rmdir (to->folder);
    }
  g_free (to->path);
  g_free (to->folder);
  return code;
}
