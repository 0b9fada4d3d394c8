#include "tool/calc/calc.h"

#include <json-glib/json-glib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "science/calendar.h"
#include "science/units.h"
#include "tool/calc/calc_command.h"

static const BedCalcCommand *const commands[] = {
  &bed_calc_air,       &bed_calc_break_even, &bed_calc_budget,      &bed_calc_check_character,
  &bed_calc_drill,     &bed_calc_dry,        &bed_calc_evaporation, &bed_calc_heat,
  &bed_calc_invest,    &bed_calc_log,        &bed_calc_moisture,    &bed_calc_rotation,
  &bed_calc_spawn_run, &bed_calc_share,      &bed_calc_soak,        &bed_calc_stack,
  &bed_calc_stand,     &bed_calc_tree,
};

/* From what answers are worked out in, by --units: value * factor + offset. Factors are those
 * of science/units.h. */
static const struct
{
  const char *metric, *us; /* what the key ends with */
  double factor, offset;
} units[BED_CALC_N_UNITS] = {
  [BED_CALC_PLAIN] = { "", "", 1, 0 },
  [BED_CALC_MM] = { "_mm", "_in", 1 / 25.4, 0 },
  [BED_CALC_CM] = { "_cm", "_in", 1 / 2.54, 0 },
  [BED_CALC_M] = { "_m", "_ft", 1 / 0.3048, 0 },
  [BED_CALC_ML] = { "_ml", "_fl_oz", 128 / 3785.411784, 0 },
  [BED_CALC_L] = { "_l", "_ft3", 1 / 28.316846592, 0 },
  [BED_CALC_G] = { "_g", "_oz", 16 / 453.59237, 0 },
  [BED_CALC_KG] = { "_kg", "_lb", 1 / 0.45359237, 0 },
  [BED_CALC_WEIGHTED_KG] = { "", "_lb", 1 / 0.45359237, 0 },
  [BED_CALC_M2] = { "_m2", "_ft2", 1 / 0.09290304, 0 },
  [BED_CALC_M2_HA] = { "_m2_ha", "_ft2_ac", 0.40468564224 / 0.09290304, 0 },
  [BED_CALC_PER_HA] = { "", "_per_ac", 0.40468564224, 0 },
  [BED_CALC_WHOLE_PER_HA] = { "", "_per_ac", 0.40468564224, 0 },
  [BED_CALC_C] = { "_c", "_f", 1.8, 32 },
  [BED_CALC_DEGREE_DAYS] = { "", "_f", 1.8, 0 },
};

struct _BedCalc
{
  const BedCalcCommand *command;
  BedNotation notation;
  GHashTable *given; /* option name to text */
  char *argument;
  gboolean json;
  gboolean help;
  JsonBuilder *answer;
  gboolean in_list;
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
               && !bed_measure_parse (option->measure, &calc->notation, text, &stored, &error))
        fault (calc, "--%s: %s", option->name, error->message);
    }
}

static gboolean
read_option_cb (const char *name, const char *value, gpointer data, GError **error)
{
  BedCalc *calc = data;
  const BedCalcOption *option = find_option (calc->command, name + 2, strlen (name + 2));

  g_assert (option != NULL);
  if (!g_hash_table_insert (calc->given, (char *) option->name, g_strdup (value)))
    fault (calc, "--%s: given twice", option->name);
  return TRUE;
}

static gboolean
read_units_cb (const char *name, const char *value, gpointer data, GError **error)
{
  BedCalc *calc = data;

  if (g_ascii_strcasecmp (value, "US") == 0)
    calc->notation.system = BED_SYSTEM_US;
  else if (g_ascii_strcasecmp (value, "metric") == 0)
    calc->notation.system = BED_SYSTEM_METRIC;
  else
    fault (calc, "--units: “%s” is none of metric, US", value);
  return TRUE;
}

/* What --help says of an option beside its unit. */
static char *
dup_description (const BedCalcOption *option)
{
  GString *text = g_string_new (option->help);

  if (option->fallback)
    g_string_append_printf (text, " [%s]", option->fallback);
  if (option->need == BED_CALC_REQUIRED)
    g_string_append (text, "; needed");
  return g_string_free (text, FALSE);
}

static const char *
get_unit (const BedCalc *calc, const BedCalcOption *option)
{
  const char *unit = option->kind == BED_CALC_MEASURE
                         ? bed_measure_unit (option->measure, calc->notation.system)
                         : "";

  return *unit ? unit : option->kind == BED_CALC_TEXT ? "TEXT" : "NUMBER";
}

/* The options of the command's table and those that all have. The texts they show are put
 * into @texts. */
static GOptionContext *
new_context (BedCalc *calc, GPtrArray *texts)
{
  const GOptionEntry common[] = {
    { "units", 0, 0, G_OPTION_ARG_CALLBACK, read_units_cb,
      "of bare numbers after options and of the answers; tables say theirs in their heads "
      "[metric]",
      "metric|US" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &calc->json, "the answers in JSON", NULL },
    { "help", 'h', 0, G_OPTION_ARG_NONE, &calc->help, "Show this help", NULL },
    G_OPTION_ENTRY_NULL,
  };
  GOptionContext *context = g_option_context_new (calc->command->argument);
  GOptionGroup *group = g_option_group_new ("calc", "", "", calc, NULL);

  for (const BedCalcOption *option = calc->command->options; option && option->name; option++)
    {
      char *description = dup_description (option);
      /* The bytes as they were given: a path need not be UTF-8. */
      const GOptionEntry entries[] = {
        { option->name, 0, G_OPTION_FLAG_FILENAME, G_OPTION_ARG_CALLBACK, read_option_cb,
          description, get_unit (calc, option) },
        G_OPTION_ENTRY_NULL,
      };

      g_ptr_array_add (texts, description);
      g_option_group_add_entries (group, entries);
    }
  g_option_group_add_entries (group, common);
  g_option_context_set_main_group (context, group);
  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_set_summary (context, calc->command->help);
  return context;
}

static void
read_line (BedCalc *calc, int argc, char **argv)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GOptionContext) context = new_context (calc, texts);
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) words = g_new0 (char *, argc + 1);

  for (int i = 0; i < argc; i++)
    words[i] = g_strdup (argv[i]);
  if (!g_option_context_parse_strv (context, &words, &error))
    {
      fault (calc, "%s; see %s --help", error->message, calc->command->name);
      return;
    }
  check_options (calc);
  for (guint i = 1; words[i]; i++)
    if (strcmp (words[i], "--") == 0)
      continue;
    else if (calc->command->argument == NULL || calc->argument != NULL)
      fault (calc, "“%s” is one word too many", words[i]);
    else
      calc->argument = g_strdup (words[i]);
  if (calc->command->argument && calc->argument == NULL)
    fault (calc, "%s is missing", calc->command->argument);
}

/* Writing the answer */

/* As a person says it: two decimals, of a part of one three digits. --json has them all. */
static void
write_number (GString *out, double value)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  if (fabs (value) < 1)
    {
      g_string_append (out, g_ascii_formatd (buffer, sizeof buffer, "%.3g", value));
      return;
    }
  g_string_append (out, g_ascii_formatd (buffer, sizeof buffer, "%.2f", value));
  while (out->str[out->len - 1] == '0')
    g_string_truncate (out, out->len - 1);
  if (out->str[out->len - 1] == '.')
    g_string_truncate (out, out->len - 1);
}

static void
write_node (GString *out, JsonNode *node)
{
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
    write_number (out, json_node_get_double (node));
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

/* Made anew: --units may have come after the options were named. */
static void
write_help (BedCalc *calc, GString *out)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GOptionContext) context = new_context (calc, texts);
  g_autofree char *program = g_strdup_printf ("bedlog-tool calc %s", calc->command->name);
  g_autofree char *text = NULL;

  g_set_prgname (program);
  text = g_option_context_get_help (context, TRUE, NULL);
  g_string_append (out, text);
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
  const char *rest = bed_calendar_read_day (text, date);

  return rest && !*rest;
}

gboolean
bed_calc_has (BedCalc *calc, const char *name)
{
  return bed_calc_text (calc, name) != NULL;
}

const char *
bed_calc_text (BedCalc *calc, const char *name)
{
  const BedCalcOption *option = find_option (calc->command, name, strlen (name));

  g_assert (option != NULL);
  return text_of (calc, option);
}

double
bed_calc_scale (BedMeasure measure)
{
  static const double scales[BED_N_MEASURES] = {
    [BED_MEASURE_LENGTH_FINE] = 1000, [BED_MEASURE_LENGTH] = 1000, [BED_MEASURE_LENGTH_LONG] = 1000,
    [BED_MEASURE_MASS_FINE] = 1000,   [BED_MEASURE_MASS] = 1e6,    [BED_MEASURE_TEMPERATURE] = 1000,
    [BED_MEASURE_PERCENT] = 100,      [BED_MEASURE_ANGLE] = 100,   [BED_MEASURE_BASAL_AREA] = 10000,
  };

  return scales[measure] > 0 ? scales[measure] : 1;
}

double
bed_calc_value (BedCalc *calc, const char *name)
{
  const BedCalcOption *option = find_option (calc->command, name, strlen (name));
  const char *text = bed_calc_text (calc, name);
  gint64 stored = 0;
  double value = NAN;

  g_assert (text != NULL && option->kind != BED_CALC_TEXT);
  gboolean read = option->kind == BED_CALC_NUMBER
                      ? bed_calc_read_number (text, &value)
                      : bed_measure_parse (option->measure, &calc->notation, text, &stored, NULL);
  g_assert (read);
  return option->kind == BED_CALC_NUMBER ? value
                                         : (double) stored / bed_calc_scale (option->measure);
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

BedSystem
bed_calc_system (BedCalc *calc)
{
  return calc->notation.system;
}

static void
name_member (BedCalc *calc, const char *key, BedCalcUnit unit)
{
  const char *ending = calc->notation.system == BED_SYSTEM_US ? units[unit].us : units[unit].metric;
  g_autofree char *whole = key ? g_strconcat (key, calc->in_list ? "" : ending, NULL) : NULL;

  if (whole)
    json_builder_set_member_name (calc->answer, whole);
}

void
bed_calc_add_int (BedCalc *calc, const char *key, gint64 value)
{
  name_member (calc, key, BED_CALC_PLAIN);
  json_builder_add_int_value (calc->answer, value);
}

void
bed_calc_add_double (BedCalc *calc, const char *key, BedCalcUnit unit, double value)
{
  name_member (calc, key, unit);
  if (calc->notation.system == BED_SYSTEM_US)
    value = value * units[unit].factor + units[unit].offset;
  if (unit == BED_CALC_WHOLE_PER_HA)
    value = floor (value + 1e-6); /* 900 from hectares is 900 */
  if (isfinite (value))
    json_builder_add_double_value (calc->answer, value);
  else
    json_builder_add_null_value (calc->answer);
}

void
bed_calc_add_text (BedCalc *calc, const char *key, const char *value)
{
  name_member (calc, key, BED_CALC_PLAIN);
  json_builder_add_string_value (calc->answer, value);
}

void
bed_calc_begin_list (BedCalc *calc, const char *key, BedCalcUnit unit)
{
  name_member (calc, key, unit);
  json_builder_begin_array (calc->answer);
  calc->in_list = TRUE;
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
  calc->in_list = FALSE;
}

/* Public */

const char *
bed_calc_get_name (guint index)
{
  return index < G_N_ELEMENTS (commands) ? commands[index]->name : NULL;
}

int
bed_calc_run (int argc, char **argv, GString *out, GString *err)
{
  g_return_val_if_fail (argv != NULL && out != NULL && err != NULL, 2);
  BedCalc calc = { .faults = err, .notation = { BED_SYSTEM_METRIC, '.', 2 } };
  int status = 1;

  for (gsize i = 0; argc > 0 && i < G_N_ELEMENTS (commands); i++)
    if (strcmp (commands[i]->name, argv[0]) == 0)
      calc.command = commands[i];
  if (calc.command == NULL)
    return list_commands (argc > 0 ? argv[0] : NULL, err);
  calc.given = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  read_line (&calc, argc, argv);
  if (calc.help)
    {
      g_string_truncate (err, 0);
      write_help (&calc, out);
      status = 0;
    }
  else if (err->len == 0)
    status = answer (&calc, out);
  g_clear_object (&calc.answer);
  g_hash_table_unref (calc.given);
  g_free (calc.argument);
  return status;
}
