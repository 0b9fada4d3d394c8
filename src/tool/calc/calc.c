#include "tool/calc/calc.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "science/units.h"
#include "tool/calc/calc_command.h"

static const BedCalcCommand *const commands[] = {
  &bed_calc_air,       &bed_calc_break_even, &bed_calc_budget,      &bed_calc_check_character,
  &bed_calc_drill,     &bed_calc_dry,        &bed_calc_evaporation, &bed_calc_heat,
  &bed_calc_invest,    &bed_calc_log,        &bed_calc_moisture,    &bed_calc_rotation,
  &bed_calc_spawn_run, &bed_calc_share,      &bed_calc_soak,        &bed_calc_stack,
  &bed_calc_stand,     &bed_calc_tree,
};

static const BedNotation notation = { BED_SYSTEM_METRIC, '.', 2 };

struct _BedCalc
{
  const BedCalcCommand *command;
  GHashTable *given; /* option name to text, borrowed */
  const char *argument;
  gboolean json;
  gboolean help;
  JsonBuilder *answer;
  GString *faults;
};

G_DEFINE_QUARK (bed - calc - error - quark, bed_calc_error)

/* Reading the command line */

static void G_GNUC_PRINTF (2, 3) fault (BedCalc *calc, const char *format, ...)
{
  va_list args;

  g_string_append_printf (calc->faults, "%s: ", calc->command->name);
  va_start (args, format);
  g_string_append_vprintf (calc->faults, format, args);
  va_end (args);
  g_string_append_c (calc->faults, '\n');
}

static const BedCalcOption *
find_option (const BedCalcCommand *command, const char *name, gsize length)
{
  for (const BedCalcOption *option = command->options; option && option->name; option++)
    if (strlen (option->name) == length && strncmp (option->name, name, length) == 0)
      return option;
  return NULL;
}

static const char *
text_of (BedCalc *calc, const BedCalcOption *option)
{
  const char *text = g_hash_table_lookup (calc->given, option->name);

  return text ? text : option->fallback;
}

/* One word of the command line, and the next when it is the word's value. */
static int
read_word (BedCalc *calc, int argc, char **argv, int at)
{
  const char *word = argv[at];

  if (!g_str_has_prefix (word, "--"))
    {
      if (calc->command->argument == NULL || calc->argument != NULL)
        fault (calc, "“%s” is one word too many", word);
      else
        calc->argument = word;
      return 1;
    }
  word += 2;
  if (strcmp (word, "json") == 0)
    calc->json = TRUE;
  else if (strcmp (word, "help") == 0)
    calc->help = TRUE;
  if (strcmp (word, "json") == 0 || strcmp (word, "help") == 0)
    return 1;
  gsize length = strcspn (word, "=");
  const BedCalcOption *option = find_option (calc->command, word, length);
  const char *value = word[length] == '=' ? word + length + 1 : at + 1 < argc ? argv[at + 1] : NULL;

  if (option == NULL)
    fault (calc, "no option --%.*s; see %s --help", (int) length, word, calc->command->name);
  else if (value == NULL)
    fault (calc, "--%s: its value is missing", option->name);
  else if (!g_hash_table_insert (calc->given, (char *) option->name, (char *) value))
    fault (calc, "--%s: given twice", option->name);
  /* A value that is itself an option was forgotten, not meant. */
  return word[length] == '=' || value == NULL || g_str_has_prefix (value, "--") ? 1 : 2;
}

static void
check_options (BedCalc *calc)
{
  for (const BedCalcOption *option = calc->command->options; option && option->name; option++)
    {
      const char *text = text_of (calc, option);
      g_autoptr (GError) error = NULL;
      gint64 stored;
      double number;

      if (text == NULL && option->need == BED_CALC_REQUIRED)
        fault (calc, "--%s is missing: %s", option->name, option->help);
      else if (text == NULL)
        continue;
      else if (g_str_has_prefix (text, "--"))
        fault (calc, "--%s: its value is missing", option->name);
      else if (option->kind == BED_CALC_NUMBER && !bed_calc_read_number (text, &number))
        fault (calc, "--%s: “%s” is not a number", option->name, text);
      else if (option->kind == BED_CALC_MEASURE
               && !bed_measure_parse (option->measure, &notation, text, &stored, &error))
        fault (calc, "--%s: %s", option->name, error->message);
    }
  if (calc->command->argument && calc->argument == NULL)
    fault (calc, "%s is missing", calc->command->argument);
}

/* Writing the answer */

static void
write_node (GString *out, JsonNode *node)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  if (JSON_NODE_HOLDS_ARRAY (node))
    {
      JsonArray *array = json_node_get_array (node);
      for (guint i = 0; i < json_array_get_length (array); i++)
        {
          g_string_append (out, i ? " " : "");
          write_node (out, json_array_get_element (array, i));
        }
    }
  else if (JSON_NODE_HOLDS_OBJECT (node))
    {
      JsonObjectIter iter;
      const char *key;
      JsonNode *member;
      json_object_iter_init_ordered (&iter, json_node_get_object (node));
      g_string_append (out, "\n ");
      while (json_object_iter_next_ordered (&iter, &key, &member))
        {
          g_string_append_printf (out, " %s ", key);
          write_node (out, member);
        }
    }
  else if (JSON_NODE_HOLDS_NULL (node))
    g_string_append (out, "-");
  else if (json_node_get_value_type (node) == G_TYPE_STRING)
    g_string_append (out, json_node_get_string (node));
  else if (json_node_get_value_type (node) == G_TYPE_INT64)
    g_string_append_printf (out, "%" G_GINT64_FORMAT, json_node_get_int (node));
  else
    g_string_append (out,
                     g_ascii_formatd (buffer, sizeof buffer, "%.6g", json_node_get_double (node)));
}

static void
write_answer (BedCalc *calc, GString *out)
{
  g_autoptr (JsonNode) root = json_builder_get_root (calc->answer);

  if (calc->json)
    {
      g_autofree char *text = json_to_string (root, TRUE);
      g_string_append_printf (out, "%s\n", text);
      return;
    }
  JsonObjectIter iter;
  const char *key;
  JsonNode *member;
  json_object_iter_init_ordered (&iter, json_node_get_object (root));
  while (json_object_iter_next_ordered (&iter, &key, &member))
    {
      g_string_append_printf (out, "%s: ", key);
      write_node (out, member);
      g_string_append_c (out, '\n');
    }
}

static void
write_help (const BedCalcCommand *command, GString *out)
{
  g_string_append_printf (out, "%s %s[--json]\n%s\n", command->name,
                          command->argument ? command->argument : "--option value ", command->help);
  for (const BedCalcOption *option = command->options; option && option->name; option++)
    {
      const char *unit = option->kind == BED_CALC_MEASURE
                             ? bed_measure_unit (option->measure, notation.system)
                             : "";
      g_string_append_printf (out, "  --%-16s %s%s%s%s", option->name, option->help,
                              *unit ? " (" : "", unit, *unit ? ")" : "");
      if (option->fallback)
        g_string_append_printf (out, " [%s]", option->fallback);
      g_string_append (out, option->need == BED_CALC_REQUIRED ? "; needed\n" : "\n");
    }
}

static int
list_commands (const char *name, GString *err)
{
  if (name)
    g_string_append_printf (err, "calc: there is no “%s”; choose one of\n", name);
  else
    g_string_append (err, "calc: say what to work out, one of\n");
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    g_string_append_printf (err, "  %-16s %s\n", commands[i]->name, commands[i]->help);
  return 1;
}

static int
answer (BedCalc *calc, GString *out)
{
  g_autoptr (GError) error = NULL;

  calc->answer = json_builder_new ();
  json_builder_begin_object (calc->answer);
  if (!calc->command->run (calc, &error))
    {
      fault (calc, "%s", error->message);
      return error->domain == G_IO_ERROR || error->domain == G_FILE_ERROR ? 2 : 1;
    }
  json_builder_end_object (calc->answer);
  write_answer (calc, out);
  return 0;
}

/* For commands */

gboolean
bed_calc_read_number (const char *text, double *value)
{
  char *end = NULL;

  *value = g_ascii_strtod (text, &end);
  /* strtod also takes nan, inf and hexadecimal: letters have no place here. */
  return end != text && *end == '\0' && isfinite (*value) && !strpbrk (text, "xXnN");
}

/* Not g_date_set_parse(): that goes by the locale. */
gboolean
bed_calc_read_date (const char *text, GDate *date)
{
  int y, m, d;

  if (!g_regex_match_simple ("^\\d{4}-\\d{2}-\\d{2}$", text, G_REGEX_DOLLAR_ENDONLY, 0)
      || sscanf (text, "%d-%d-%d", &y, &m, &d) != 3 || !g_date_valid_dmy (d, m, y))
    return FALSE;
  g_date_set_dmy (date, d, m, y);
  return TRUE;
}

gboolean
bed_calc_has (BedCalc *calc, const char *name)
{
  const BedCalcOption *option = find_option (calc->command, name, strlen (name));

  g_assert (option != NULL);
  return text_of (calc, option) != NULL;
}

const char *
bed_calc_text (BedCalc *calc, const char *name)
{
  const BedCalcOption *option = find_option (calc->command, name, strlen (name));

  g_assert (option != NULL);
  return text_of (calc, option);
}

double
bed_calc_number (BedCalc *calc, const char *name)
{
  double value = NAN;
  const char *text = bed_calc_text (calc, name);

  gboolean read = text != NULL && bed_calc_read_number (text, &value);
  g_assert (read);
  return value;
}

gint64
bed_calc_measure (BedCalc *calc, const char *name)
{
  const BedCalcOption *option = find_option (calc->command, name, strlen (name));
  gint64 value = 0;

  g_assert (option != NULL && option->kind == BED_CALC_MEASURE);
  gboolean read
      = bed_measure_parse (option->measure, &notation, text_of (calc, option), &value, NULL);
  g_assert (read);
  return value;
}

double
bed_calc_mm (BedCalc *calc, const char *name)
{
  return (double) bed_calc_measure (calc, name) / 1000;
}

const char *
bed_calc_argument (BedCalc *calc)
{
  return calc->argument;
}

int
bed_calc_choice (BedCalc *calc, const char *name, const char *const *words, GError **error)
{
  const char *text = bed_calc_text (calc, name);
  int found = -1, begun = 0;

  for (int i = 0; words[i]; i++)
    {
      if (g_ascii_strcasecmp (words[i], text) == 0)
        return i;
      if (*text && g_ascii_strncasecmp (words[i], text, strlen (text)) == 0)
        {
          found = i;
          begun++;
        }
    }
  if (begun == 1)
    return found;
  g_autofree char *all = g_strjoinv (", ", (char **) words);
  g_set_error (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE, "--%s: “%s” is none of %s", name, text,
               all);
  return -1;
}

GArray *
bed_calc_list (BedCalc *calc, const char *name, GError **error)
{
  g_auto (GStrv) words = g_strsplit (bed_calc_text (calc, name), ",", -1);
  g_autoptr (GArray) list = g_array_new (FALSE, FALSE, sizeof (double));

  for (char **word = words; *word; word++)
    {
      double value;
      if (!bed_calc_read_number (g_strstrip (*word), &value))
        {
          g_set_error (error, BED_CALC_ERROR, BED_CALC_ERROR_USAGE,
                       "--%s: “%s” is not a number; write a list such as -100,40,80", name, *word);
          return NULL;
        }
      g_array_append_val (list, value);
    }
  return g_steal_pointer (&list);
}

static void
name_member (BedCalc *calc, const char *key)
{
  if (key)
    json_builder_set_member_name (calc->answer, key);
}

void
bed_calc_add_int (BedCalc *calc, const char *key, gint64 value)
{
  name_member (calc, key);
  json_builder_add_int_value (calc->answer, value);
}

void
bed_calc_add_double (BedCalc *calc, const char *key, double value)
{
  name_member (calc, key);
  if (isfinite (value))
    json_builder_add_double_value (calc->answer, value);
  else
    json_builder_add_null_value (calc->answer);
}

void
bed_calc_add_text (BedCalc *calc, const char *key, const char *value)
{
  name_member (calc, key);
  json_builder_add_string_value (calc->answer, value);
}

void
bed_calc_begin_list (BedCalc *calc, const char *key)
{
  name_member (calc, key);
  json_builder_begin_array (calc->answer);
}

void
bed_calc_begin_object (BedCalc *calc)
{
  json_builder_begin_object (calc->answer);
}

void
bed_calc_end_object (BedCalc *calc)
{
  json_builder_end_object (calc->answer);
}

void
bed_calc_end_list (BedCalc *calc)
{
  json_builder_end_array (calc->answer);
}

/* Public */

int
bed_calc_run (int argc, char **argv, GString *out, GString *err)
{
  g_return_val_if_fail (argv != NULL && out != NULL && err != NULL, 2);
  BedCalc calc = { .faults = err };
  int status = 1;

  for (gsize i = 0; argc > 0 && i < G_N_ELEMENTS (commands); i++)
    if (strcmp (commands[i]->name, argv[0]) == 0)
      calc.command = commands[i];
  if (calc.command == NULL)
    return list_commands (argc > 0 ? argv[0] : NULL, err);
  calc.given = g_hash_table_new (g_str_hash, g_str_equal);
  for (int at = 1; at < argc;)
    at += read_word (&calc, argc, argv, at);
  if (calc.help)
    {
      g_string_truncate (err, 0);
      write_help (calc.command, out);
      status = 0;
    }
  else
    {
      check_options (&calc);
      if (err->len == 0)
        status = answer (&calc, out);
    }
  g_clear_object (&calc.answer);
  g_hash_table_unref (calc.given);
  return status;
}

int
bed_calc_main (int argc, char **argv)
{
  g_autoptr (GString) out = g_string_new (NULL);
  g_autoptr (GString) err = g_string_new (NULL);
  int status = bed_calc_run (argc, argv, out, err);

  g_print ("%s", out->str);
  g_printerr ("%s", err->str);
  return status;
}
