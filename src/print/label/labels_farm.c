#include "print/label/labels_farm.h"

#include <glib/gi18n-lib.h>

#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/value.h"
#include "science/units.h"

#define TAGS                                                                                       \
  "SELECT l.code, w.common_name, bs.strain_name, b.inoculated_on FROM log l "                      \
  "JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood "                               \
  "LEFT JOIN batch b ON b.id = l.batch LEFT JOIN batch_spawn bs ON bs.batch = l.batch "

#define SIGNS "SELECT name, kind, batches, logs FROM stack_today "
#define STANDS "(taken_down_on IS NULL OR taken_down_on > bed_today ()) "

static char *
dup_date (const char *date)
{
  return date ? bed_date_format (date) : NULL;
}

/* The farm's lists are in small letters; a label begins with a capital. */
static char *
dup_capital (const char *text)
{
  if (!text || !*text)
    return NULL;
  const char *rest = g_utf8_next_char (text);
  g_autofree char *first = g_utf8_strup (text, rest - text);

  return g_strconcat (first, rest, NULL);
}

/* Code, wood, strain, date of inoculation: the columns of TAGS. */
static void
add_tag (BedLabels *labels, BedFarm *farm, BedQuery *query)
{
  g_autofree char *date = dup_date (bed_query_text (query, 3));
  g_autofree char *wood = dup_capital (bed_query_text (query, 1));

  bed_labels_add_log_tag (
      labels, &(BedLogTag){ bed_query_text (query, 0), wood, bed_query_text (query, 2), date });
}

/* Name, kind, batches, logs: the columns of stack_today. */
static void
add_sign (BedLabels *labels, BedFarm *farm, BedQuery *query)
{
  const BedField *kind = bed_kind_find_field (BED_KIND_STACK, "kind", NULL);
  g_autofree char *words = dup_capital (bed_field_choice_label (kind, bed_query_text (query, 1)));
  gint64 logs = bed_query_int (query, 3);
  g_autofree char *count
      = g_strdup_printf (ngettext ("%d log", "%d logs", (gulong) logs), (int) logs);
  g_auto (GStrv) parts
      = g_strsplit (bed_query_text (query, 2) ? bed_query_text (query, 2) : "", ",", -1);
  g_autofree char *batches = g_strjoinv (", ", parts);

  bed_labels_add_stack_sign (
      labels, &(BedStackSign){ bed_query_text (query, 0), words, batches, logs ? count : NULL,
                               bed_record_get_text (bed_farm_get_settings (farm), "name") });
}

typedef struct
{
  BedKind kind;
  const char *sql; /* ?1: the record; a row for each label */
  void (*add) (BedLabels *labels, BedFarm *farm, BedQuery *query);
} Question;

/* What @question gives for the record @id; 0 is any and need not be there. */
static gboolean
add_all (BedLabels *labels, BedFarm *farm, const Question *question, gint64 id, GError **error)
{
  g_return_val_if_fail (labels != NULL && BED_IS_FARM (farm), FALSE);
  g_autoptr (BedRecord) record = id ? bed_farm_load (farm, question->kind, id, error) : NULL;

  if (id && !record)
    return FALSE;
  g_autoptr (BedQuery) query = bed_query_new (farm, question->sql);
  bed_query_bind_int (query, 1, id);
  while (bed_query_next (query))
    question->add (labels, farm, query);
  return bed_query_finish (query, error);
}

/* The mushrooms of a lot: one as a rule, joined where two were picked together. */
static char *
dup_mushrooms (BedFarm *farm, gint64 lot, GError **error)
{
  g_autoptr (BedQuery) query = bed_query_new (
      farm, "SELECT DISTINCT bs.mushroom_name FROM pick_log x JOIN log l ON l.id = x.log "
            "JOIN batch_spawn bs ON bs.batch = l.batch "
            "WHERE x.lot = ?1 AND bs.mushroom_name IS NOT NULL ORDER BY 1");
  g_autoptr (GString) names = g_string_new (NULL);

  bed_query_bind_int (query, 1, lot);
  while (bed_query_next (query))
    g_string_append_printf (names, "%s%s", names->len ? ", " : "", bed_query_text (query, 0));
  if (!bed_query_finish (query, error))
    return NULL;
  char *capital = dup_capital (names->str);
  return capital ? capital : g_strdup ("");
}

static char *
format_price (BedFarm *farm, gint64 price)
{
  g_autofree char *number
      = bed_measure_format (BED_MEASURE_MONEY, bed_farm_get_notation (farm), price);

  return g_strdup_printf ("%s %s", number,
                          bed_record_get_text (bed_farm_get_settings (farm), "currency"));
}

/* What was typed for the crate as it was typed, else the lot's; NULL for nothing. */
static gboolean
dup_amount (BedFarm *farm, const BedCrate *crate, char **amount, GError **error)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  gint64 picked;

  if (crate->mass)
    {
      *amount = bed_measure_format_unit_said (BED_MEASURE_MASS, notation, crate->mass);
      return TRUE;
    }
  if (!bed_query_one (farm, "SELECT picked FROM lot_summary WHERE id = ?1", crate->lot, &picked,
                      error))
    return FALSE;
  if (picked)
    *amount = bed_measure_format_unit_rounded (BED_MEASURE_MASS, notation, 2, picked);
  return TRUE;
}

/* Public */

gboolean
bed_labels_add_batch_tags (BedLabels *labels, BedFarm *farm, gint64 batch, GError **error)
{
  static const Question tags = { BED_KIND_BATCH,
                                 TAGS "WHERE l.batch = ?1"
                                      " AND bed_alive (l.retired_on, bed_today ()) ORDER BY l.code",
                                 add_tag };

  return add_all (labels, farm, &tags, batch, error);
}

gboolean
bed_labels_add_tag (BedLabels *labels, BedFarm *farm, gint64 log, GError **error)
{
  static const Question tag = { BED_KIND_LOG, TAGS "WHERE l.id = ?1", add_tag };

  return add_all (labels, farm, &tag, log, error);
}

gboolean
bed_labels_add_signs (BedLabels *labels, BedFarm *farm, gint64 stack, GError **error)
{
  static const Question signs
      = { BED_KIND_STACK, SIGNS "WHERE id = ?1 OR ?1 = 0 AND " STANDS "ORDER BY name", add_sign };

  return add_all (labels, farm, &signs, stack, error);
}

gboolean
bed_labels_add_area_signs (BedLabels *labels, BedFarm *farm, gint64 area, GError **error)
{
  static const Question signs
      = { BED_KIND_AREA, SIGNS "WHERE area = ?1 AND " STANDS "ORDER BY name", add_sign };

  return add_all (labels, farm, &signs, area, error);
}

gboolean
bed_labels_add_spawn (BedLabels *labels, BedFarm *farm, gint64 spawn, GError **error)
{
  g_return_val_if_fail (labels != NULL && BED_IS_FARM (farm), FALSE);
  g_autoptr (BedRecord) record = bed_farm_load (farm, BED_KIND_SPAWN, spawn, error);

  if (!record)
    return FALSE;
  g_autoptr (BedRecord) strain
      = bed_farm_load (farm, BED_KIND_STRAIN, bed_record_get_int (record, "strain"), error);
  if (!strain)
    return FALSE;
  g_autofree char *mushroom_name = bed_value_dup_text (farm, strain, "mushroom");
  g_autofree char *mushroom = dup_capital (mushroom_name);
  g_autofree char *form_word = bed_value_dup_text (farm, record, "form");
  g_autofree char *form = dup_capital (form_word);
  gboolean loose = bed_record_has (record, "mass");
  g_autofree char *quantity = bed_value_dup_sentence (farm, record, loose ? "mass" : "pieces");
  g_autofree char *received = dup_date (bed_record_get_text (record, "received_on"));
  g_autofree char *use_by = dup_date (bed_record_get_text (record, "use_by"));
  g_autofree char *pieces = g_strdup_printf (_ ("%s pieces"), quantity);

  bed_labels_add_spawn_label (labels, &(BedSpawnLabel){ bed_record_get_text (record, "code"),
                                                        bed_record_get_text (strain, "name"),
                                                        mushroom, form, loose ? quantity : pieces,
                                                        received, use_by });
  return TRUE;
}

gboolean
bed_labels_add_crate (BedLabels *labels, BedFarm *farm, const BedCrate *crate, GError **error)
{
  g_return_val_if_fail (labels != NULL && BED_IS_FARM (farm) && crate != NULL, FALSE);
  g_autoptr (BedRecord) lot = bed_farm_load (farm, BED_KIND_LOT, crate->lot, error);
  g_autofree char *mushrooms = lot ? dup_mushrooms (farm, crate->lot, error) : NULL;

  if (!mushrooms)
    return FALSE;
  g_autofree char *amount = NULL;
  if (!dup_amount (farm, crate, &amount, error))
    return FALSE;
  g_autofree char *picked = dup_date (bed_record_get_text (lot, "picked_on"));
  g_autofree char *packed = dup_date (crate->packed ? crate->packed : bed_farm_get_today (farm));
  g_autofree char *price = crate->price ? format_price (farm, crate->price) : NULL;

  bed_labels_add_crate_label (
      labels, &(BedCrateLabel){ bed_record_get_text (lot, "code"), mushrooms, amount, picked,
                                packed, bed_record_get_text (bed_farm_get_settings (farm), "name"),
                                _ ("Keep cold"), price });
  return TRUE;
}
