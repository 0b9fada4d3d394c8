#include "model/farm/source.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/code.h"
#include "model/farm/names.h"
#include "model/farm/query.h"
#include "science/language.h"

static const BedKind kinds[] = { BED_KIND_LOG, BED_KIND_STACK, BED_KIND_BATCH };

/* Which of the kinds has a name nearest to what was typed. */
static BedKind
find_nearest_kind (BedFarm *farm, const char *text)
{
  BedKind nearest = BED_KIND_LOG;
  guint least = G_MAXUINT;

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autofree char *name = bed_near_dup_name (farm, kinds[i], text);
      guint distance = name ? bed_near_distance (name, text) : G_MAXUINT;
      if (distance < least)
        {
          least = distance;
          nearest = kinds[i];
        }
    }
  return nearest;
}

gint64
bed_source_find (BedFarm *farm, const char *text, BedKind *kind, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && text != NULL && kind != NULL, 0);
  g_autofree char *name = g_strstrip (g_strdup (text));
  g_autoptr (GError) why = NULL;
  gint64 id = bed_source_find_named (farm, name, kind, &why);

  if (!id && !why)
    {
      *kind = BED_KIND_LOG;
      id = bed_farm_find_marked (farm, name, &why);
    }
  if (why)
    g_propagate_error (error, g_steal_pointer (&why));
  else if (!id)
    bed_source_set_error (farm, name, error);
  return id;
}

gint64
bed_source_find_named (BedFarm *farm, const char *name, BedKind *kind, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && name != NULL && kind != NULL, 0);

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr (GError) why = NULL;
      gint64 id = bed_farm_find_named (farm, kinds[i], name, &why);
      *kind = kinds[i];
      if (id)
        return id;
      if (why)
        {
          g_propagate_error (error, g_steal_pointer (&why));
          return 0;
        }
    }
  return 0;
}

void
bed_source_set_error (BedFarm *farm, const char *name, GError **error)
{
  bed_near_set_error (farm, find_nearest_kind (farm, name), name, error);
}

static void
append_name (GString *names, const char *name)
{
  if (names->len)
    g_string_append (names, bed_comma ());
  g_string_append (names, name);
}

/* Stacks of which every log is in @left are named, and their logs taken out of it. */
static gboolean
name_stacks (BedFarm *farm, GHashTable *left, GString *names)
{
  g_autoptr (BedQuery) q = bed_query_new (
      farm,
      "SELECT k.name, group_concat (x.log) FROM stack k JOIN place x ON x.stack = k.id"
      " AND x.until IS NULL JOIN log l ON l.id = x.log AND bed_alive (l.retired_on, bed_today ())"
      " GROUP BY k.id ORDER BY k.name");

  while (bed_query_next (q))
    {
      g_auto (GStrv) ids = g_strsplit (bed_query_text (q, 1), ",", -1);
      gboolean whole = TRUE;
      for (guint i = 0; ids[i] && whole; i++)
        whole = g_hash_table_contains (left, GSIZE_TO_POINTER (g_ascii_strtoll (ids[i], NULL, 10)));
      if (!whole)
        continue;
      append_name (names, bed_query_text (q, 0));
      for (guint i = 0; ids[i]; i++)
        g_hash_table_remove (left, GSIZE_TO_POINTER (g_ascii_strtoll (ids[i], NULL, 10)));
    }
  return bed_query_finish (q, NULL);
}

char *
bed_source_dup_names (BedFarm *farm, GArray *logs)
{
  g_return_val_if_fail (BED_IS_FARM (farm) && logs != NULL, NULL);
  g_autoptr (GHashTable) left = g_hash_table_new (NULL, NULL);
  g_autoptr (GString) names = g_string_new (NULL);

  for (guint i = 0; i < logs->len; i++)
    g_hash_table_add (left, GSIZE_TO_POINTER (g_array_index (logs, gint64, i)));
  if (!name_stacks (farm, left, names))
    return NULL;
  for (guint i = 0; i < logs->len; i++)
    {
      gint64 id = g_array_index (logs, gint64, i);
      if (!g_hash_table_remove (left, GSIZE_TO_POINTER (id)))
        continue;
      g_autofree char *code = bed_farm_dup_name (farm, BED_KIND_LOG, id);
      append_name (names, code ? code : "");
    }
  return g_strdup (names->str);
}
