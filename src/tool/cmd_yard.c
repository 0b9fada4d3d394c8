#include <glib/gi18n-lib.h>

#include "model/farm/names.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "print/yard/yard_map.h"
#include "science/language.h"
#include "tool/commands.h"
#include "tool/paper.h"
#include "yard/load.h"

typedef struct
{
  char *area, *on, *paper, *output, *colours;
  char **stacks;
  int scale;
  gboolean elevations;
} Options;

static int
read_options (Options *o, int *argc, char ***argv)
{
  const GOptionEntry entries[] = {
    { "area", 'a', 0, G_OPTION_ARG_STRING, &o->area, N_ ("The area, where there are several"),
      N_ ("NAME") },
    { "on", 0, 0, G_OPTION_ARG_STRING, &o->on, N_ ("As it lay that day (default: today)"),
      N_ ("DATE") },
    { "paper", 'p', 0, G_OPTION_ARG_STRING, &o->paper, N_ ("a4 or letter"), N_ ("PAPER") },
    { "scale", 0, 0, G_OPTION_ARG_INT, &o->scale,
      N_ ("1:N, from 20 to 2000, on as many sheets as that takes (default: as goes on one)"), "N" },
    { "colours", 0, 0, G_OPTION_ARG_STRING, &o->colours,
      N_ ("What colours say: batch, stage, soaked, moisture, age or picked"), N_ ("WHAT") },
    { "elevations", 'e', 0, G_OPTION_ARG_NONE, &o->elevations, N_ ("With every stack from its end"),
      NULL },
    { "stack", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->stacks,
      N_ ("With that stack from its end; may be given again"), N_ ("NAME") },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o->output,
      N_ ("The file to write: .pdf, .svg or .png"), "X.pdf" },
    G_OPTION_ENTRY_NULL,
  };

  return bed_tool_options ("yard", entries, 1, argc, argv);
}

/* Without a name: the only area, or 0 with the names there are to choose from. */
static gint64
find_area (BedFarm *farm, const char *name, GError **error)
{
  g_autoptr (BedQuery) q = NULL;
  g_autoptr (GString) names = g_string_new (NULL);
  g_autofree char *only = NULL;
  guint n = 0;

  if (name)
    return bed_farm_find (farm, BED_KIND_AREA, name, error);
  q = bed_query_new (farm, "SELECT name FROM area ORDER BY name");
  while (bed_query_next (q))
    {
      g_string_append_printf (names, "%s“%s”", names->len ? bed_comma () : "",
                              bed_query_text (q, 0));
      g_free (only);
      only = n++ == 0 ? g_strdup (bed_query_text (q, 0)) : NULL;
    }
  if (!bed_query_finish (q, error))
    return 0;
  if (only)
    return bed_farm_find (farm, BED_KIND_AREA, only, error);
  if (names->len == 0)
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND, _ ("The farm has no area yet."));
  else
    g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                 _ ("Say which area with --area: %s."), names->str);
  return 0;
}

/* FALSE when one of the stacks is not there. */
static gboolean
find_stacks (BedFarm *farm, char **names, GArray *stacks, GError **error)
{
  for (; names && *names; names++)
    {
      gint64 stack = bed_farm_find (farm, BED_KIND_STACK, *names, error);
      if (!stack)
        return FALSE;
      g_array_append_val (stacks, stack);
    }
  return TRUE;
}

static gboolean
read_colours (const Options *o, BedColourBy *by, GError **error)
{
  *by = o->colours ? bed_colour_by_from_key (o->colours) : BED_COLOUR_BY_BATCH;
  if (*by < BED_N_COLOUR_BYS)
    return TRUE;
  g_autofree char *keys = bed_colour_by_dup_keys ();
  g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND,
               _ ("Colours cannot say “%s”; they can say: %s."), o->colours, keys);
  return FALSE;
}

static BedDocument *
make_map (BedFarm *farm, const Options *o, const char *date, GError **error)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autofree char *shown = bed_date_format (date);
  g_autoptr (GArray) stacks = g_array_new (FALSE, FALSE, sizeof (gint64));
  BedYardMapSpec spec = { .farm = bed_record_get_text (bed_farm_get_settings (farm), "name"),
                          .date = shown,
                          .system = notation->system,
                          .scale = o->scale < 0 ? 1 : (guint) o->scale,
                          .elevations = o->elevations ? BED_ELEVATIONS_ALL
                                        : o->stacks   ? BED_ELEVATIONS_CHOSEN
                                                      : BED_ELEVATIONS_NONE,
                          .stacks = stacks };
  gint64 area = find_area (farm, o->area, error);
  BedYard *yard = area && read_colours (o, &spec.colour_by, error)
                          && find_stacks (farm, o->stacks, stacks, error)
                          && bed_tool_find_paper (o->paper, notation, &spec.paper, error)
                      ? bed_yard_load (farm, area, date, error)
                      : NULL;

  if (yard && !bed_colour_by_read (spec.colour_by, yard, farm, date, error))
    g_clear_pointer (&yard, bed_yard_free);
  return yard ? bed_yard_map_new (yard, &spec, error) : NULL;
}

int
bed_cmd_yard (int argc, char **argv)
{
  static Options o;
  g_autoptr (BedFarm) farm = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *date = NULL;
  BedDocument *map;
  int code = read_options (&o, &argc, &argv);

  if (code)
    return code - 1;
  if (!o.output)
    return bed_tool_misused (_ ("Say where the map goes: -o yard.pdf"));
  farm = bed_tool_open (argv[1], &code);
  if (!farm)
    return code;
  date = o.on ? bed_date_parse (o.on, bed_farm_get_today (farm), &error)
              : g_strdup (bed_farm_get_today (farm));
  map = date ? make_map (farm, &o, date, &error) : NULL;
  if (!map)
    return bed_tool_fail_paper (g_steal_pointer (&error));
  return bed_tool_write_pages (map, o.output, bed_farm_get_now (farm));
}
