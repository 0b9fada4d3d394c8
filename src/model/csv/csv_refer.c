#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "model/csv/csv_private.h"
#include "model/farm/code.h"
#include "model/farm/kind_words.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"
#include "model/farm/query.h"
#include "science/check_character.h"
#include "science/language.h"

/* References by name, and the few records made on the way: a stand or an area that is
 * near no other, a lot whose code carries its date, a strain that its row describes. */

/* --- names ------------------------------------------------------------------------ */

char *
bed_csv_dup_nearest (BedCsvImporter *self, BedKind kind, const char *name)
{
  return bed_csv_names_try (bed_csv_names (self, kind)) && bed_csv_end_round (self)
             ? bed_near_dup_name (self->farm, kind, name)
             : NULL;
}

/* "a, b, c" of all names, or NULL when there are none or many. */
static char *
dup_few (BedCsvImporter *self, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  g_autofree char *sql
      = g_strdup_printf ("SELECT \"%s\" FROM \"%s\" ORDER BY id LIMIT 7", info->key, info->name);
  g_autoptr (BedQuery) q = bed_query_new (self->farm, sql);
  g_autoptr (GString) list = g_string_new (NULL);
  guint n = 0;

  for (; bed_query_next (q); n++)
    g_string_append_printf (list, "%s%s", n ? bed_comma () : "", bed_query_text (q, 0));
  return bed_query_finish (q, NULL) && n > 0 && n <= 6 ? g_strdup (list->str) : NULL;
}

char *
bed_csv_dup_missing (BedCsvImporter *self, BedKind kind, const char *name)
{
  g_autofree char *missing = bed_kind_dup_missing (kind, name);
  g_autofree char *nearest = bed_csv_dup_nearest (self, kind, name);
  g_autofree char *few = nearest ? NULL : dup_few (self, kind);

  if (nearest)
    /* Translators: the sentence "There is no batch “26X”.", likely name. */
    return g_strdup_printf (_ ("%s Did you mean “%s”?"), missing, nearest);
  if (few)
    /* Translators: the sentence "There is no batch “26X”.", list of names. */
    return g_strdup_printf (_ ("%s There are: %s."), missing, few);
  /* Translators: the sentence "There is no batch “26X”." */
  return g_strdup_printf (_ ("%s Add it first."), missing);
}

/* --- made on the way ---------------------------------------------------------------- */

static BedRecord *
make_named (BedCsvImporter *self, BedCsvLine *line, BedKind kind, const char *name)
{
  g_autoptr (BedRecord) record = bed_record_new (kind);

  bed_record_set_text (record, bed_kind_get_info (kind)->key, name);
  bed_csv_put (self, record, line->row->line);
  return record; /* the import keeps it */
}

static gint64
make_place (BedCsvImporter *self, BedCsvLine *line, guint column, BedKind kind, const char *name)
{
  g_autofree char *nearest = bed_csv_dup_nearest (self, kind, name);

  if (nearest)
    {
      bed_csv_fault_at (self, line->row, column, bed_csv_dup_missing (self, kind, name));
      return 0;
    }
  bed_csv_note_at (self, line->row, column,
                   /* Translators: a name, kind of record. */
                   g_strdup_printf (_ ("“%s” is new and is added (%s)."), name,
                                    _ (bed_kind_get_info (kind)->singular)));
  return bed_record_get_id (make_named (self, line, kind, name));
}

/* L260518-1-4: the day in the code, or NULL when it is no such code. */
static char *
date_in_lot (const char *code)
{
  int year, month, day, number, end = 0;

  if (sscanf (code, "L%2d%2d%2d-%d-%n", &year, &month, &day, &number, &end) != 4 || end == 0
      || strlen (code + end) != 1 || !bed_check_character_valid (code)
      || !g_date_valid_dmy (day, month, 2000 + year))
    return NULL;
  return g_strdup_printf ("20%02d-%02d-%02d", year, month, day);
}

static gint64
make_lot (BedCsvImporter *self, BedCsvLine *line, guint column, const char *code)
{
  g_autofree char *date = date_in_lot (code);

  if (!date)
    {
      bed_csv_fault_at (self, line->row, column,
                        g_strdup_printf (_ ("There is no lot “%s”, and it is not a whole lot "
                                            "code such as L260518-1-4 that would open one."),
                                         code));
      return 0;
    }
  BedRecord *lot = make_named (self, line, BED_KIND_LOT, code);
  bed_record_set_text (lot, "picked_on", date);
  bed_csv_note_at (self, line->row, column,
                   g_strdup_printf (_ ("The lot %s is new and is opened."), code));
  return bed_record_get_id (lot);
}

static gint64
make_strain (BedCsvImporter *self, BedCsvLine *line, guint column, const char *name)
{
  if (!line->beside || !bed_record_has (line->beside, "mushroom"))
    {
      g_autofree char *missing = bed_csv_dup_missing (self, BED_KIND_STRAIN, name);
      bed_csv_fault_at (self, line->row, column,
                        g_strdup_printf (_ ("%s To add it with this spawn lot, name its mushroom "
                                            "in a column mushroom."),
                                         missing));
      return 0;
    }
  bed_record_set_text (line->beside, "name", name);
  bed_csv_put (self, line->beside, line->row->line);
  bed_csv_note_at (self, line->row, column,
                   g_strdup_printf (_ ("The strain “%s” is new and is added."), name));
  return bed_record_get_id (line->beside);
}

/* Names of logs that are no own numbers either; then the file knows none. */
#define UNMARKED_MOST 50

/* By the grower's own number. */
static gint64
refer_marked (BedCsvImporter *self, BedCsvLine *line, guint column, const char *name)
{
  g_autoptr (GError) several = NULL;
  gint64 id = self->unmarked < UNMARKED_MOST && bed_csv_end_round (self)
                  ? bed_farm_find_marked (self->farm, name, &several)
                  : 0;

  self->unmarked += !id && !several;
  if (several)
    bed_csv_fault_at (self, line->row, column, g_strdup (several->message));
  else if (!id)
    {
      g_autofree char *code = bed_code_complete (BED_KIND_LOG, name, NULL);
      bed_csv_fault_at (self, line->row, column,
                        bed_csv_dup_missing (self, BED_KIND_LOG, code ? code : name));
    }
  return id;
}

gint64
bed_csv_refer (BedCsvImporter *self, BedCsvLine *line, guint column, const char *name)
{
  const BedField *field = g_array_index (self->columns, BedCsvColumn, column - 1).field;
  BedKind kind = field->refers;
  g_autoptr (GError) error = NULL;
  gint64 id = bed_csv_names_find (bed_csv_names (self, kind), name);
  g_autofree char *code = id ? NULL : bed_code_complete (kind, name, &error);

  if (id)
    return id;
  if (!code)
    {
      bed_csv_fault_at (self, line->row, column, g_strdup (error->message));
      return 0;
    }
  id = bed_csv_names_find (bed_csv_names (self, kind), code);
  if (id)
    return id;
  if (kind == BED_KIND_LOG)
    return refer_marked (self, line, column, name);
  if (kind == BED_KIND_STAND || kind == BED_KIND_AREA)
    return make_place (self, line, column, kind, code);
  if (kind == BED_KIND_LOT)
    return make_lot (self, line, column, code);
  if (kind == BED_KIND_STRAIN && self->kind == BED_KIND_SPAWN)
    return make_strain (self, line, column, code);
  bed_csv_fault_at (self, line->row, column, bed_csv_dup_missing (self, kind, code));
  return 0;
}
