#include "app/desk/crop_detail.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/detail.h"
#include "app/desk/page_parts.h"
#include "app/widgets/facts.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/source.h"
#include "model/farm/value.h"
#include "science/units.h"

/* --- sale ---------------------------------------------------------------------- */

static const char *const line_fields[] = { "lot", "form", "use", "mass", "price" };

static void
add_line (GtkWidget *grid, BedFarm *farm, BedRecord *line, int row)
{
  for (guint i = 0; i < G_N_ELEMENTS (line_fields); i++)
    {
      const BedField *field = bed_kind_find_field (BED_KIND_LINE, line_fields[i], NULL);
      g_autofree char *text = bed_record_has (line, line_fields[i])
                                  ? bed_value_dup_sentence (farm, line, line_fields[i])
                                  : g_strdup ("");
      GtkWidget *label = bed_words_new (text, "numeric");
      if (field->type == BED_FIELD_MEASURE)
        gtk_label_set_xalign (GTK_LABEL (label), 1);
      gtk_grid_attach (GTK_GRID (grid), label, i, row, 1, 1);
    }
}

static GtkWidget *
make_lines (BedFarm *farm, gint64 sale, GError **error)
{
  g_autoptr (GtkWidget) grid = g_object_ref_sink (bed_grid_new (18, 6));
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT id FROM line WHERE sale = ?1 ORDER BY id");
  int row = 0;

  bed_query_bind_int (q, 1, sale);
  while (bed_query_next (q))
    {
      g_autoptr (BedRecord) line = bed_farm_load (farm, BED_KIND_LINE, bed_query_int (q, 0), NULL);
      if (line)
        add_line (grid, farm, line, row++);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&grid) : NULL;
}

gboolean
bed_sale_detail_show (GtkWidget *detail, gint64 sale, GError **error)
{
  BedFarm *farm = bed_detail_get_farm (detail);
  g_autoptr (GtkWidget) lines = make_lines (farm, sale, error);
  g_autoptr (BedRecord) record = lines ? bed_farm_load (farm, BED_KIND_SALE, sale, error) : NULL;

  if (!record)
    return FALSE;
  bed_detail_begin (detail, record, NULL);
  bed_detail_add (detail, bed_facts_new (farm, record));
  bed_detail_add (detail, bed_section_new (_ ("What was sold"), lines));
  return TRUE;
}

/* --- soak ---------------------------------------------------------------------- */

static GArray *
read_logs (BedFarm *farm, gint64 soak, GError **error)
{
  g_autoptr (GArray) logs = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (BedQuery) q
      = bed_query_new (farm, "SELECT log FROM soaked WHERE soak = ?1 ORDER BY id");

  bed_query_bind_int (q, 1, soak);
  while (bed_query_next (q))
    {
      gint64 id = bed_query_int (q, 0);
      g_array_append_val (logs, id);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&logs) : NULL;
}

/* The flush of a soak: what its logs gave until two weeks after it (Ohio State F-0042, 2022).
 * Log by log: of the view SQLite looks at a log's own picks only when it is told the log. */
static gboolean
read_flush (BedFarm *farm, gint64 soak, GArray *logs, double *flush, GError **error)
{
  *flush = 0;

  for (guint i = 0; i < logs->len; i++)
    {
      g_autoptr (BedQuery) q = bed_query_new (
          farm, "SELECT sum (mass) FROM pick_log WHERE log = ?1 AND since IS NULL"
                " AND picked_on >= (SELECT date (put_in) FROM soak WHERE id = ?2)"
                " AND picked_on <= (SELECT bed_flush_over (coalesce (taken_out, put_in))"
                "  FROM soak WHERE id = ?2)");

      bed_query_bind_int (q, 1, g_array_index (logs, gint64, i));
      bed_query_bind_int (q, 2, soak);
      if (bed_query_next (q))
        *flush += bed_query_real (q, 0);
      if (!bed_query_finish (q, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
bed_soak_detail_show (GtkWidget *detail, gint64 soak, GError **error)
{
  BedFarm *farm = bed_detail_get_farm (detail);
  const BedNotation *notation = bed_farm_get_notation (farm);
  g_autoptr (GArray) logs = read_logs (farm, soak, error);
  g_autoptr (BedRecord) record = logs ? bed_farm_load (farm, BED_KIND_SOAK, soak, error) : NULL;
  double given;

  if (!record || !read_flush (farm, soak, logs, &given, error))
    return FALSE;
  gint64 flush = llround (given);
  g_autofree char *names = bed_source_dup_names (farm, logs);
  g_autofree char *count
      = bed_say (g_dngettext (GETTEXT_PACKAGE, "%u log", "%u logs", logs->len), logs->len);

  bed_detail_begin (detail, record, count);
  bed_detail_add (detail, bed_facts_new (farm, record));
  bed_detail_add (detail, bed_section_new (_ ("Logs"), bed_words_new (names, NULL)));
  if (flush && logs->len)
    {
      g_autofree char *mass
          = bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 1, flush);
      g_autofree char *each
          = bed_measure_format_unit_rounded (BED_MEASURE_MASS_FINE, notation, 1, flush / logs->len);
      /* Translators: mass picked, mass a log. */
      g_autofree char *text
          = g_strdup_printf (_ ("%s in the two weeks after, %s a log"), mass, each);
      bed_detail_add (detail,
                      bed_section_new (_ ("What they gave"), bed_words_new (text, "numeric")));
    }
  return TRUE;
}
