#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/code.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/units.h"
#include "tool/commands.h"

/* One step forward or back from a code. Columns ending in _mg are masses, in _minor
 * money in minor units: shown in the farm's units, in JSON as they are stored. */
typedef struct
{
  BedKind kind;
  const char *name; /* JSON member */
  const char *title;
  const char *sql; /* ?1 is the record's id */
} Section;

/* Lots that logs matching a condition gave to, and who got those. A plain list inside IN: of
 * a view in parts SQLite asks only the parts' own indexes when nothing is grouped or sorted. */
#define LOTS_OF(where) "(SELECT x.lot FROM log l JOIN pick_log x ON x.log = l.id WHERE " where ")"
#define LOTS(where)                                                                                \
  "SELECT t.code AS lot, t.picked_on FROM lot t WHERE t.id IN " LOTS_OF (where) " ORDER BY 2, 1"
#define BUYERS(where)                                                                              \
  "SELECT f.sale_code AS sale, f.sold_on, f.buyer_name AS buyer, t.code AS lot, f.form, f.use,"    \
  " f.mass AS mass_mg FROM lot_forward f JOIN lot t ON t.id = f.lot"                               \
  " WHERE f.lot IN " LOTS_OF (where) " ORDER BY 2, 1"
#define OF_SPAWN "l.batch IN (SELECT batch FROM spawn_used WHERE spawn = ?1)"

static const Section sections[] = {
  { BED_KIND_LOT, "lot", N_ ("Lot"),
    "SELECT code, picked_on, cooled_at, picked AS picked_mg, sold AS sold_mg, lost AS lost_mg,"
    " dried AS dried_mg FROM lot_summary WHERE id = ?1" },
  { BED_KIND_LOT, "from", N_ ("From"),
    "SELECT batch_code AS batch, inoculated_on, strain_name AS strain, spawn_code AS spawn,"
    " spawn_supplier, supplier_lot, felling_code AS felling, felled_on, wood_name AS wood,"
    " stand_name AS stand FROM lot_back WHERE lot = ?1 ORDER BY 1, 4, 7" },
  { BED_KIND_LOT, "soaks", N_ ("Soaked"),
    "SELECT DISTINCT s.code AS soak, s.put_in, s.water FROM pick_log x"
    " JOIN soaked d ON d.log = x.log JOIN soak s ON s.id = d.soak WHERE x.lot = ?1"
    " AND date (s.put_in) BETWEEN date (x.picked_on, '-30 days') AND x.picked_on ORDER BY 2" },
  { BED_KIND_LOT, "picks", N_ ("Picked"),
    "SELECT from_what AS source, batch_code AS batch, picked_on, grade, mass AS mass_mg, picker"
    " FROM pick_named WHERE lot = ?1 ORDER BY id" },
  { BED_KIND_LOT, "to", N_ ("To"),
    "SELECT sale_code AS sale, sold_on, buyer_name AS buyer, form, use, mass AS mass_mg,"
    " price AS price_minor FROM lot_forward WHERE lot = ?1 ORDER BY 2, 1" },

  { BED_KIND_LOG, "log", N_ ("Log"),
    "SELECT code, stage, batch_code AS batch, inoculated_on, strain_name AS strain,"
    " wood_name AS wood, felling_code AS felling, stack_name AS stack, retired_on, retired_why"
    " FROM log_today WHERE id = ?1" },
  { BED_KIND_LOG, "places", N_ ("Lay in"),
    "SELECT k.name AS stack, a.name AS area, p.tier, p.slot, p.since, p.until FROM place p"
    " JOIN stack k ON k.id = p.stack JOIN area a ON a.id = k.area WHERE p.log = ?1 ORDER BY 5" },
  { BED_KIND_LOG, "soaks", N_ ("Soaked"),
    "SELECT s.code AS soak, s.tank, s.put_in, s.taken_out FROM soaked d"
    " JOIN soak s ON s.id = d.soak WHERE d.log = ?1 ORDER BY 3" },
  { BED_KIND_LOG, "lots", N_ ("Lots"), LOTS ("l.id = ?1") },
  { BED_KIND_LOG, "to", N_ ("To"), BUYERS ("l.id = ?1") },

  { BED_KIND_BATCH, "batch", N_ ("Batch"),
    "SELECT code, inoculated_on, method, mushroom_name AS mushroom, strain_name AS strain,"
    " spawn_code AS spawn, wood_name AS wood, logs, logs_alive, picked AS picked_mg"
    " FROM batch_summary WHERE id = ?1" },
  { BED_KIND_BATCH, "fellings", N_ ("Felled"),
    "SELECT DISTINCT f.code AS felling, f.felled_on, s.name AS stand, f.supplier FROM log l"
    " JOIN felling f ON f.id = l.felling LEFT JOIN stand s ON s.id = f.stand WHERE l.batch = ?1" },
  { BED_KIND_BATCH, "lots", N_ ("Lots"), LOTS ("l.batch = ?1") },
  { BED_KIND_BATCH, "to", N_ ("To"), BUYERS ("l.batch = ?1") },

  { BED_KIND_SPAWN, "spawn", N_ ("Spawn lot"),
    "SELECT code, strain_name AS strain, mushroom_name AS mushroom, form, received_on, use_by,"
    " mass_left AS mass_left_mg, pieces_left FROM spawn_left WHERE id = ?1" },
  { BED_KIND_SPAWN, "batches", N_ ("Batches"),
    "SELECT b.code AS batch, b.inoculated_on, u.mass AS mass_mg, u.pieces FROM spawn_used u"
    " JOIN batch b ON b.id = u.batch WHERE u.spawn = ?1 ORDER BY 2, 1" },
  { BED_KIND_SPAWN, "lots", N_ ("Lots"), LOTS (OF_SPAWN) },
  { BED_KIND_SPAWN, "to", N_ ("To"), BUYERS (OF_SPAWN) },

  { BED_KIND_FELLING, "felling", N_ ("Felling"),
    "SELECT code, felled_on, wood_name AS wood, stand_name AS stand, supplier, logs"
    " FROM felling_summary WHERE id = ?1" },
  { BED_KIND_FELLING, "batches", N_ ("Batches"),
    "SELECT DISTINCT b.code AS batch, b.inoculated_on FROM log l JOIN batch b ON b.id = l.batch"
    " WHERE l.felling = ?1 ORDER BY 2, 1" },
  { BED_KIND_FELLING, "lots", N_ ("Lots"), LOTS ("l.felling = ?1") },
  { BED_KIND_FELLING, "to", N_ ("To"), BUYERS ("l.felling = ?1") },
};

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

static char *
cell (BedFarm *farm, BedQuery *q, int column)
{
  const char *name = bed_query_column_name (q, column);
  const BedNotation *notation = bed_farm_get_notation (farm);

  if (g_str_has_suffix (name, "_mg"))
    return bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 2,
                                            bed_query_int (q, column));
  if (g_str_has_suffix (name, "_minor"))
    return bed_measure_format (BED_MEASURE_MONEY, notation, bed_query_int (q, column));
  return g_strdup (bed_query_text (q, column));
}

static void
print_row (BedFarm *farm, BedQuery *q)
{
  g_autoptr (GString) line = g_string_new (NULL);

  for (int i = 0; i < bed_query_n_columns (q); i++)
    {
      g_autofree char *name = g_strdup (bed_query_column_name (q, i));
      if (bed_query_is_null (q, i))
        continue;
      g_autofree char *text = cell (farm, q, i);
      char *suffix = g_str_has_suffix (name, "_mg")      ? name + strlen (name) - 3
                     : g_str_has_suffix (name, "_minor") ? name + strlen (name) - 6
                                                         : NULL;
      if (suffix)
        *suffix = '\0';
      g_strdelimit (name, "_", ' ');
      g_string_append_printf (line, "%s%s %s", line->len ? ", " : "  ", name, text);
    }
  g_print ("%s\n", line->str);
}

static gboolean
print_section (BedFarm *farm, const Section *section, gint64 id, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, section->sql);
  int n = 0;

  bed_query_bind_int (q, 1, id);
  while (bed_query_next (q))
    {
      if (n++ == 0)
        g_print ("%s\n", _ (section->title));
      print_row (farm, q);
    }
  return bed_query_finish (q, error);
}

/* --- for machines ------------------------------------------------------------------ */

static void
add_row (JsonBuilder *json, BedQuery *q)
{
  json_builder_begin_object (json);
  for (int i = 0; i < bed_query_n_columns (q); i++)
    {
      const char *name = bed_query_column_name (q, i);
      gboolean number = g_str_has_suffix (name, "_mg") || g_str_has_suffix (name, "_minor")
                        || g_str_has_prefix (name, "logs") || g_str_has_prefix (name, "pieces")
                        || strcmp (name, "tier") == 0 || strcmp (name, "slot") == 0;
      if (number && !bed_query_is_null (q, i))
        bed_tool_json_int (json, name, bed_query_int (q, i));
      else
        bed_tool_json_text (json, name, bed_query_text (q, i));
    }
  json_builder_end_object (json);
}

static gboolean
add_section (BedFarm *farm, const Section *section, gint64 id, JsonBuilder *json, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, section->sql);

  bed_query_bind_int (q, 1, id);
  json_builder_set_member_name (json, section->name);
  json_builder_begin_array (json);
  while (bed_query_next (q))
    add_row (json, q);
  json_builder_end_array (json);
  return bed_query_finish (q, error);
}

static int
trace (BedFarm *farm, BedKind kind, gint64 id, JsonBuilder *json)
{
  g_autoptr (GError) error = NULL;

  if (json)
    {
      json_builder_begin_object (json);
      bed_tool_json_text (json, "kind", bed_kind_get_info (kind)->name);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (sections); i++)
    if (sections[i].kind == kind
        && !(json ? add_section (farm, &sections[i], id, json, &error)
                  : print_section (farm, &sections[i], id, &error)))
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
