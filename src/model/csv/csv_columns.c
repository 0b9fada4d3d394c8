#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/say.h"
#include "science/units.h"

/* Faults of the first line that are listed: with more it is another sort of file. */
#define MOST_FAULTS 100

/* Columns that only import knows: they fill a second record beside the row's own. */
static const struct
{
  BedKind kind;
  const char *head;
  BedKind record_kind;
  const char *field;
} extras[] = {
  { BED_KIND_SOAK, "logs", BED_KIND_SOAKED, "log" },
  { BED_KIND_BATCH, "spawn", BED_KIND_SPAWN_USED, "spawn" },
  { BED_KIND_BATCH, "spawn_mass", BED_KIND_SPAWN_USED, "mass" },
  { BED_KIND_BATCH, "spawn_pieces", BED_KIND_SPAWN_USED, "pieces" },
  { BED_KIND_SPAWN, "mushroom", BED_KIND_STRAIN, "mushroom" },
  { BED_KIND_SPAWN, "type", BED_KIND_STRAIN, "type" },
};

/* `Large diameter (in)` -> `large_diameter` and `in`. */
static char *
split_head (const char *head, char **unit)
{
  g_autofree char *name = g_strstrip (g_ascii_strdown (head, -1));
  const char *open = strrchr (head, '(');

  *unit = NULL;
  if (open && g_str_has_suffix (name, ")"))
    {
      const char *close = strrchr (open, ')');
      *unit = g_strstrip (g_strndup (open + 1, close - open - 1));
      *strrchr (name, '(') = '\0';
      g_strstrip (name);
    }
  g_strdelimit (name, " ", '_');
  return g_steal_pointer (&name);
}

static gboolean
find_head (BedKind kind, const char *name, BedCsvColumn *column)
{
  column->record_kind = kind;
  column->field = bed_kind_find_field (kind, name, NULL);
  for (gsize i = 0; !column->field && i < G_N_ELEMENTS (extras); i++)
    if (extras[i].kind == kind && strcmp (extras[i].head, name) == 0)
      {
        column->record_kind = extras[i].record_kind;
        column->field = bed_kind_find_field (extras[i].record_kind, extras[i].field, NULL);
      }
  return column->field != NULL;
}

gboolean
bed_csv_knows_head (BedKind kind, const BedSheetRow *row)
{
  for (guint i = 0; i < row->n_cells; i++)
    {
      BedCsvColumn column;
      g_autofree char *unit = NULL;
      g_autofree char *name = split_head (row->cells[i].text, &unit);
      if (find_head (kind, name, &column))
        return TRUE;
    }
  return FALSE;
}

static char *
unknown_head (BedKind kind, const char *name)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree const char **names = g_new0 (const char *, info->n_fields + 1);

  for (guint i = 0; i < info->n_fields; i++)
    names[i] = info->fields[i].name;
  const char *nearest = bed_near_choose (name, names, info->n_fields, 3);
  if (nearest)
    return g_strdup_printf (_ ("There is no field “%s”. Did you mean “%s”?"), name, nearest);
  g_autofree char *all = g_strjoinv (", ", (char **) names);
  return g_strdup_printf (_ ("There is no field “%s”. The fields of %s.csv are: %s."), name,
                          info->name, all);
}

/* Tries the unit on a number, so that the list of units stays in one place. */
static char *
wrong_unit (BedCsvImporter *self, const BedCsvColumn *column)
{
  g_autoptr (GError) error = NULL;
  const char *currency = bed_record_get_text (self->settings, "currency");
  gint64 value;

  if (!column->unit)
    return NULL;
  if (column->field->type != BED_FIELD_MEASURE)
    return g_strdup_printf (_ ("The field %s has no unit: leave out (%s)."), column->field->name,
                            column->unit);
  if (column->field->measure == BED_MEASURE_MONEY)
    return g_ascii_strcasecmp (column->unit, currency) == 0
               ? NULL
               : g_strdup_printf (_ ("This farm counts its money in %s, not in %s."), currency,
                                  column->unit);
  if (bed_measure_parse_in (column->field->measure, &self->notation, column->unit, "1", &value,
                            &error)
      || !g_error_matches (error, BED_UNITS_ERROR, BED_UNITS_ERROR_UNIT))
    return NULL;
  return g_strdup (error->message);
}

guint
bed_csv_find_column (GArray *columns, BedKind kind, const char *field)
{
  for (guint i = 0; columns && i < columns->len; i++)
    {
      BedCsvColumn *column = &g_array_index (columns, BedCsvColumn, i);
      if (column->field && column->record_kind == kind && strcmp (column->field->name, field) == 0)
        return i + 1;
    }
  return 0;
}

static void
read_column (BedCsvImporter *self, const BedCsvRow *head, guint i)
{
  BedCsvColumn column = { .record_kind = self->kind };
  g_autofree char *name = split_head (head->cells[i], &column.unit);
  g_autofree char *wrong = NULL;

  if (!*name && !column.unit)
    {
      g_array_append_val (self->columns, column);
      return;
    }
  if (!find_head (self->kind, name, &column))
    wrong = unknown_head (self->kind, name);
  else if (bed_csv_find_column (self->columns, column.record_kind, column.field->name))
    wrong = g_strdup_printf (_ ("The field %s is there twice. Leave one out."), name);
  else
    wrong = wrong_unit (self, &column);
  /* Money is in the farm's currency: the word says no more to the reader of numbers. */
  if (column.field && column.field->type == BED_FIELD_MEASURE
      && column.field->measure == BED_MEASURE_MONEY)
    g_clear_pointer (&column.unit, g_free);
  g_array_append_val (self->columns, column);
  if (wrong)
    bed_csv_fault_at (self, head, i + 1, g_steal_pointer (&wrong));
}

/* Codes are given by the farm where they are left out; the one farm has its name. */
static gboolean
may_be_left_out (BedKind kind, const BedField *field)
{
  return !field->required || strcmp (field->name, "code") == 0 || kind == BED_KIND_FARM;
}

/* Who amends records needs but what they are called by. */
static void
miss_column (BedCsvImporter *self, const BedCsvRow *head, const char *name)
{
  const BedKindInfo *info = bed_kind_get_info (self->kind);

  if (self->import->differs == BED_DIFFERS_AMENDED && info->key
      && bed_csv_find_column (self->columns, self->kind, info->key))
    self->file->partial = TRUE;
  else
    bed_csv_fault_at (self, head, 0,
                      g_strdup_printf (_ ("The column %s is missing; every row needs it."), name));
}

gboolean
bed_csv_read_head (BedCsvImporter *self, const BedCsvRow *head)
{
  const BedKindInfo *info = bed_kind_get_info (self->kind);
  guint before = self->errors;

  for (guint i = 0; i < head->n_cells && self->errors < before + MOST_FAULTS; i++)
    read_column (self, head, i);
  if (self->errors == before + MOST_FAULTS)
    {
      bed_csv_fault_at (self, head, 0,
                        /* Translators: how many, kind of record in the plural. */
                        bed_say (_ ("The first line has %u columns, and those after these "
                                    "were not looked at. Is it the right list (%s)?"),
                                 head->n_cells, _ (info->plural)));
      return FALSE;
    }
  for (guint i = 0; i < info->n_fields; i++)
    if (!may_be_left_out (self->kind, &info->fields[i])
        && !bed_csv_find_column (self->columns, self->kind, info->fields[i].name))
      miss_column (self, head, info->fields[i].name);
  return self->errors == before;
}

gboolean
bed_csv_column_waits (BedCsvImporter *self, const BedCsvColumn *column)
{
  return column->record_kind == BED_KIND_SOAKED
             ? self->kind == BED_KIND_SOAK
             : self->kind == BED_KIND_SPAWN && column->field->type == BED_FIELD_REFERENCE
                   && column->field->refers == BED_KIND_STRAIN;
}
