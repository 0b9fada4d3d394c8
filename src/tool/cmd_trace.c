#include <glib/gi18n-lib.h>

#include "model/farm/code.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/value.h"
#include "model/season/recall.h"
#include "print/field/recall_sheet.h"
#include "science/units.h"
#include "tool/commands.h"
#include "tool/paper.h"

/* Kinds whose codes can be traced, in the order they are tried. */
static const BedKind traced[]
    = { BED_KIND_LOT, BED_KIND_LOG, BED_KIND_BATCH, BED_KIND_SPAWN, BED_KIND_FELLING };

static gboolean
find_code (BedFarm *farm, const char *code, BedKind *kind, gint64 *id)
{
  for (gsize i = 0; i < G_N_ELEMENTS (traced); i++)
    {
      *kind = traced[i];
      *id = bed_farm_find (farm, traced[i], code, NULL);
      if (*id)
        return TRUE;
    }
  return FALSE;
}

/* --- for people ------------------------------------------------------------------ */

static void
print_row (BedFarm *farm, const BedTraceColumn *columns, BedQuery *q)
{
  g_autoptr (GString) line = g_string_new (NULL);

  for (int i = 0; columns[i].key; i++)
    {
      g_autofree char *text = bed_trace_dup_cell (farm, &columns[i], q, i);

      if (text)
        g_string_append_printf (line, "%s%s %s", line->len ? ", " : "  ", _ (columns[i].label),
                                text);
    }
  g_print ("%s\n", line->str);
}

static void
print_step (BedFarm *farm, const BedTraceStep *step, BedQuery *q)
{
  int n = 0;

  while (bed_query_next (q))
    {
      if (n++ == 0)
        g_print ("%s\n", _ (step->title));
      print_row (farm, step->columns, q);
    }
}

/* --- for machines ------------------------------------------------------------------ */

static void
add_row (JsonBuilder *json, const BedTraceColumn *columns, BedQuery *q)
{
  json_builder_begin_object (json);
  for (int i = 0; columns[i].key; i++)
    if (columns[i].type == BED_TRACE_TEXT || columns[i].type == BED_TRACE_DATE
        || bed_query_is_null (q, i))
      bed_tool_json_text (json, columns[i].key, bed_query_text (q, i));
    else
      bed_tool_json_int (json, columns[i].key, bed_query_int (q, i));
  json_builder_end_object (json);
}

static void
add_step (const BedTraceStep *step, BedQuery *q, JsonBuilder *json)
{
  json_builder_set_member_name (json, step->key);
  json_builder_begin_array (json);
  while (bed_query_next (q))
    add_row (json, step->columns, q);
  json_builder_end_array (json);
}

/* The steps of a recall are of no kind. */
static BedQuery *
ask (BedFarm *farm, const BedTraceStep *step, const BedRecallOf *of)
{
  return step->kind ? bed_trace_ask (farm, step, of->id) : bed_recall_ask (farm, of, step);
}

static gboolean
tell (BedFarm *farm, const BedTraceStep *step, const BedRecallOf *of, JsonBuilder *json,
      GError **error)
{
  g_autoptr (BedQuery) q = ask (farm, step, of);

  if (json)
    add_step (step, q, json);
  else
    print_step (farm, step, q);
  return bed_query_finish (q, error);
}

static int
trace (BedFarm *farm, BedKind kind, gint64 id, JsonBuilder *json)
{
  const BedTraceStep *step = NULL;
  g_autoptr (GError) error = NULL;

  if (json)
    {
      json_builder_begin_object (json);
      bed_tool_json_text (json, "kind", bed_kind_get_info (kind)->name);
    }
  while ((step = bed_trace_next (kind, step)))
    if (!tell (farm, step, &(BedRecallOf){ kind, id, NULL }, json, &error))
      return bed_tool_fail (g_steal_pointer (&error));
  if (json)
    {
      json_builder_end_object (json);
      bed_tool_print_json (json);
    }
  return BED_EXIT_OK;
}

/* A check character that does not fit says most; else the nearest code of any kind. */
static int
say_unknown (BedFarm *farm, const char *code)
{
  g_autoptr (GError) error = NULL;
  guint best = G_MAXUINT;
  g_autofree char *nearest = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (traced); i++)
    {
      g_autofree char *whole = bed_code_complete (traced[i], code, &error);
      if (!whole)
        return bed_tool_misused ("%s", error->message);
      g_autofree char *near = bed_near_dup_name (farm, traced[i], whole);
      if (!near || bed_near_distance (whole, near) >= best)
        continue;
      best = bed_near_distance (whole, near);
      g_free (nearest);
      nearest = g_steal_pointer (&near);
    }
  if (nearest)
    return bed_tool_misused (_ ("Nothing has the code “%s”. Did you mean “%s”?"), code, nearest);
  return bed_tool_misused (_ ("There is no lot, log, batch, spawn lot or felling with the code "
                              "“%s”."),
                           code);
}

int
bed_cmd_trace (int argc, char **argv)
{
  gboolean in_json = FALSE;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &in_json, N_ ("In JSON, masses in mg, money in minor units"),
      NULL },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("trace", entries, 2, &argc, &argv);
  BedKind kind;
  gint64 id;

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  if (!find_code (farm, argv[2], &kind, &id))
    return say_unknown (farm, argv[2]);
  g_autoptr (JsonBuilder) json = in_json ? json_builder_new () : NULL;
  return trace (farm, kind, id, json);
}

/* --- recall ------------------------------------------------------------------------- */

static int
recall (BedFarm *farm, const BedRecallOf *of, JsonBuilder *json)
{
  const BedTraceStep *step = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *words = bed_recall_dup_words (farm, of);

  if (json)
    {
      json_builder_begin_object (json);
      bed_tool_json_text (json, "of", words);
    }
  else
    g_print (_ ("Recall: %s\n"), words);
  while ((step = bed_recall_next (step)))
    if (!tell (farm, step, of, json, &error))
      return bed_tool_fail (g_steal_pointer (&error));
  if (json)
    {
      json_builder_end_object (json);
      bed_tool_print_json (json);
    }
  return BED_EXIT_OK;
}

static int
print_recall (BedFarm *farm, const BedRecallOf *of, const char *paper_name, const char *output)
{
  g_autoptr (GError) error = NULL;
  BedPaper paper;
  BedDocument *document
      = bed_tool_find_paper (paper_name, bed_farm_get_notation (farm), &paper, &error)
            ? bed_recall_sheet_new (farm, of, &paper, &error)
            : NULL;

  return document ? bed_tool_write_pages (document, output, bed_farm_get_now (farm))
                  : bed_tool_fail_paper (g_steal_pointer (&error));
}

int
bed_cmd_recall (int argc, char **argv)
{
  gboolean in_json = FALSE;
  char *paper_name = NULL, *output_name = NULL;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &in_json, N_ ("In JSON, masses in mg"), NULL },
    { "paper", 'p', 0, G_OPTION_ARG_STRING, &paper_name, N_ ("a4 or letter"), N_ ("PAPER") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output_name,
      N_ ("The sheet to write; - is standard output"), "X.pdf" },
    G_OPTION_ENTRY_NULL,
  };
  int code = bed_tool_options ("recall", entries, 2, &argc, &argv);
  g_autofree char *paper = paper_name, *output = output_name;
  g_autoptr (GError) error = NULL;
  g_autofree char *day = NULL;
  BedRecallOf of;

  if (code)
    return code - 1;
  g_autoptr (BedFarm) farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  if (!bed_recall_find (farm, argv[2], &of, &day, &error))
    return bed_tool_misused ("%s", error->message);
  g_autoptr (JsonBuilder) json = in_json ? json_builder_new () : NULL;
  return output ? print_recall (farm, &of, paper, output) : recall (farm, &of, json);
}
