#include "science/wood.h"

#include <math.h>
#include <string.h>

#include "science/argument.h"

static const char *const columns[] = {
  "code",          "common_name",       "latin_name",
  "basic_density", "density_12",        "green_moisture_pct",
  "bark_density",  "bark_moisture_pct", "bark_pct_of_wood",
  "group",         "volume_equation",   "source",
  "mark",
};

static void
wood_free (gpointer data)
{
  BedWood *wood = data;

  g_free (wood->name);
  g_free (wood->latin);
  g_free (wood);
}

static gboolean
refuse (int line, const char *column, const char *what, GError **error)
{
  return bed_science_refuse (error, BED_SCIENCE_ERROR_DATA, "line %d, %s: %s", line, column, what);
}

/* An empty field is NAN: not known. */
static gboolean
read_field (char **fields, int column, int line, double *value, GError **error)
{
  char *end = NULL;

  *value = NAN;
  if (fields[column][0] == '\0')
    return TRUE;
  *value = g_ascii_strtod (fields[column], &end);
  if (*end != '\0' || !isfinite (*value) || *value < 0)
    return refuse (line, columns[column], "not a number from zero on", error);
  return TRUE;
}

static gboolean
read_wood (char **fields, int line, BedWood *wood, GError **error)
{
  double code, group;
  double *const numbers[] = {
    &wood->numbers.basic_density,     &wood->density_12,
    &wood->numbers.moisture_pct,      &wood->numbers.bark_density,
    &wood->numbers.bark_moisture_pct, &wood->numbers.bark_pct,
  };

  if (g_strv_length (fields) != G_N_ELEMENTS (columns))
    return refuse (line, "row", "has not as many fields as the first line", error);
  for (int i = 0; i < (int) G_N_ELEMENTS (numbers); i++)
    if (!read_field (fields, 3 + i, line, numbers[i], error))
      return FALSE;
  if (!read_field (fields, 0, line, &code, error) || !read_field (fields, 9, line, &group, error))
    return FALSE;
  if (isnan (wood->numbers.basic_density))
    return refuse (line, columns[3], "is missing", error);
  wood->code = isnan (code) ? 0 : (int) code;
  wood->group = isnan (group) ? 0 : (int) group;
  wood->name = g_strdup (fields[1]);
  wood->latin = g_strdup (fields[2]);
  return TRUE;
}

GPtrArray *
bed_wood_table_new (const char *csv, GError **error)
{
  g_return_val_if_fail (csv != NULL, NULL);
  g_autoptr (GPtrArray) table = g_ptr_array_new_with_free_func (wood_free);
  g_auto (GStrv) lines = g_strsplit (csv, "\n", -1);
  g_autoptr (GString) head = g_string_new (columns[0]);

  for (gsize i = 1; i < G_N_ELEMENTS (columns); i++)
    g_string_append_printf (head, ",%s", columns[i]);
  for (int i = 0; lines[i]; i++)
    {
      g_strchomp (lines[i]);
      if (i == 0 && strcmp (lines[0], head->str) != 0)
        {
          refuse (1, "columns", "are not those of the species table", error);
          return NULL;
        }
      if (i == 0 || lines[i][0] == '\0')
        continue;
      g_auto (GStrv) fields = g_strsplit (lines[i], ",", -1);
      BedWood *wood = g_new0 (BedWood, 1);
      g_ptr_array_add (table, wood);
      if (!read_wood (fields, i + 1, wood, error))
        return NULL;
    }
  return g_steal_pointer (&table);
}

const BedWood *
bed_wood_find (GPtrArray *table, const char *name, GError **error)
{
  g_return_val_if_fail (table != NULL && name != NULL, NULL);
  g_autofree char *wanted = g_utf8_casefold (name, -1);
  g_autoptr (GString) near = g_string_new (NULL);
  const BedWood *only = NULL;
  int found = 0;

  for (guint i = 0; i < table->len; i++)
    {
      const BedWood *wood = g_ptr_array_index (table, i);
      g_autofree char *common = g_utf8_casefold (wood->name, -1);
      g_autofree char *latin = g_utf8_casefold (wood->latin, -1);

      if (strcmp (wanted, common) == 0 || strcmp (wanted, latin) == 0)
        return wood;
      if (strstr (common, wanted) == NULL || *wanted == '\0')
        continue;
      only = wood;
      g_string_append_printf (near, "%s%s", found++ ? ", " : "", wood->name);
    }
  if (found == 1)
    return only;
  if (found > 1)
    g_set_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT,
                 "wood: “%s” may be any of %s", name, near->str);
  else
    g_set_error (error, BED_SCIENCE_ERROR, BED_SCIENCE_ERROR_ARGUMENT,
                 "wood: “%s” is not in the table; write a common or Latin name such as sugar maple",
                 name);
  return NULL;
}
