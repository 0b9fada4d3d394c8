#include <glib/gi18n-lib.h>

#include "model/farm/names.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "print/yard/yard_map.h"
#include "tool/commands.h"
#include "tool/paper.h"
#include "yard/load.h"

typedef struct
{
  char *area, *on, *paper, *output;
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
      g_string_append_printf (names, "%s“%s”", names->len ? ", " : "", bed_query_text (q, 0));
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

static BedDocument *
make_map (BedFarm *farm, const Options *o, const char *date, GError **error)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autofree char *shown = bed_date_format (date);
  BedYardMapSpec spec = { .farm = bed_record_get_text (bed_farm_get_settings (farm), "name"),
                          .date = shown,
                          .system = notation->system };
  gint64 area = find_area (farm, o->area, error);
  BedYard *yard = area && bed_tool_find_paper (o->paper, notation, &spec.paper, error)
                      ? bed_yard_load (farm, area, date, error)
                      : NULL;

  return yard ? bed_yard_map_new (yard, &spec) : NULL;
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
