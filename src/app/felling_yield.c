#include "app/felling_yield.h"

#include <gio/gio.h>
#include <glib/gi18n.h>

#include "model/query.h"
#include "science/tree.h"

#define UM_PER_MM 1000.0

/* Common practice, no source: bolts of 1 m (40 in) down to 7.5 cm (3 in), a stump of 15 cm (6 in).
 * The length follows the farm's own last log. */
#define USUAL_LENGTH_UM 1000000
#define USUAL_TOP_UM 75000
#define USUAL_STUMP_MM 150.0

static gboolean
check_known (BedRecord *felling, GError **error)
{
  static const char *const needed[] = { "trees", "dbh", "height" };

  for (guint i = 0; i < G_N_ELEMENTS (needed); i++)
    if (!bed_record_has (felling, needed[i]))
      {
        const BedField *field = bed_kind_find_field (BED_KIND_FELLING, needed[i], NULL);

        g_set_error (error, BED_FARM_ERROR, BED_FARM_ERROR_INVALID,
                     /* Translators: a field, as in "Mean height". */
                     _ ("How many bolts the trees give is shown when this is known: %s."),
                     _ (field->label));
        return FALSE;
      }
  return TRUE;
}

static GPtrArray *
read_woods (GError **error)
{
  g_autoptr (GBytes) csv = g_resources_lookup_data ("/org/bedlog/Bedlog/wood.csv",
                                                    G_RESOURCE_LOOKUP_FLAGS_NONE, error);
  g_autofree char *text = csv ? g_strndup (g_bytes_get_data (csv, NULL), g_bytes_get_size (csv))
                              : NULL;

  return text ? bed_wood_table_new (text, error) : NULL;
}

gboolean
bed_felling_yield_init (BedFellingYield *yield, BedFarm *farm, BedRecord *felling, GError **error)
{
  g_autofree char *name
      = bed_farm_dup_name (farm, BED_KIND_WOOD, bed_record_get_int (felling, "wood"));
  gint64 length = bed_query_one (farm, "SELECT length FROM log ORDER BY id DESC LIMIT 1", 0);
  g_autoptr (GPtrArray) woods = check_known (felling, error) ? read_woods (error) : NULL;
  const BedWood *wood = woods ? bed_wood_find (woods, name, error) : NULL;
  g_autoptr (BedTreeYield) tree = NULL;

  *yield = (BedFellingYield){ .length_um = length ? length : USUAL_LENGTH_UM,
                              .top_um = USUAL_TOP_UM };
  if (wood)
    tree = bed_tree_yield_new (
        wood,
        &(BedTree){ .dbh = bed_record_get_int (felling, "dbh") / UM_PER_MM,
                    .height = bed_record_get_int (felling, "height") / UM_PER_MM,
                    .stump = USUAL_STUMP_MM,
                    .bolt = yield->length_um / UM_PER_MM,
                    .top = yield->top_um / UM_PER_MM },
        error);
  if (!tree)
    return FALSE;
  yield->per_tree = tree->bolts->len;
  yield->all = yield->per_tree * bed_record_get_int (felling, "trees");
  return TRUE;
}
