#include "print/label/labels_farm.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/language.h"
#include "science/units.h"

#define TAGS                                                                                       \
  "SELECT l.code, w.common_name, bs.strain_name, b.inoculated_on FROM log l "                      \
  "JOIN felling f ON f.id = l.felling JOIN wood w ON w.id = f.wood "                               \
  "LEFT JOIN batch b ON b.id = l.batch LEFT JOIN batch_spawn bs ON bs.batch = l.batch "

/* Name, logs, batches, mushroom, strain, wood, first and last day of inoculation, and the batches
 * that are soaked in turn: with the stack they make the rotation's groups. */
#define SIGNS                                                                                      \
  "SELECT k.name, count (x.id), group_concat (DISTINCT b.code),"                                   \
  " group_concat (DISTINCT m.common_name), group_concat (DISTINCT t.name),"                        \
  " group_concat (DISTINCT w.common_name), min (b.inoculated_on), max (b.inoculated_on), g.codes " \
  "FROM stack k LEFT JOIN place x ON x.stack = k.id AND x.until IS NULL "                          \
  "LEFT JOIN log l ON l.id = x.log LEFT JOIN felling f ON f.id = l.felling "                       \
  "LEFT JOIN wood w ON w.id = f.wood LEFT JOIN batch b ON b.id = l.batch "                         \
  "LEFT JOIN main_spawn u ON u.batch = l.batch LEFT JOIN spawn s ON s.id = u.spawn "               \
  "LEFT JOIN strain t ON t.id = s.strain LEFT JOIN mushroom m ON m.id = t.mushroom "               \
  "LEFT JOIN (SELECT stack, group_concat (DISTINCT batch_code) AS codes FROM log_forced"           \
  "            GROUP BY stack) g ON g.stack = k.id "
#define STANDS "(k.taken_down_on IS NULL OR k.taken_down_on > bed_today ()) "
#define BY_NAME "GROUP BY k.id ORDER BY k.name"

/* Ohio State University, F-0042, 2022: mushrooms kept at 1 to 4 C; degrees. */
#define KEEP_FROM_C 1
#define KEEP_TO_C 4
#define KEEP_FROM_F 34
#define KEEP_TO_F 39

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

/* "26A, 26B" of what SQL joined by commas; NULL for nothing. */
static char *
dup_list (const char *joined)
{
  g_auto (GStrv) parts = joined ? g_strsplit (joined, ",", -1) : NULL;

  for (guint i = 0; parts && parts[i]; i++)
    g_strstrip (parts[i]);
  return parts ? g_strjoinv (bed_comma (), parts) : NULL;
}

/* "18 Apr 2026", of two days "18 Apr 2026 – 2 May 2026". */
static char *
dup_days (const char *first, const char *last)
{
  g_autofree char *from = dup_date (first), *to = dup_date (last);

  return !from || g_strcmp0 (first, last) == 0 ? g_steal_pointer (&from)
                                               : g_strdup_printf ("%s – %s", from, to);
}

/* The columns of SIGNS. */
static void
add_sign (BedLabels *labels, BedFarm *farm, BedQuery *query)
{
  gint64 logs = bed_query_int (query, 1);
  g_autofree char *count = bed_say (ngettext ("%d log", "%d logs", (gulong) logs), (int) logs);
  g_autofree char *batches = dup_list (bed_query_text (query, 2));
  g_autofree char *mushrooms = dup_list (bed_query_text (query, 3));
  g_autofree char *mushroom = dup_capital (mushrooms);
  g_autofree char *strain = dup_list (bed_query_text (query, 4));
  g_autofree char *woods = dup_list (bed_query_text (query, 5));
  g_autofree char *wood = dup_capital (woods);
  g_autofree char *days = dup_days (bed_query_text (query, 6), bed_query_text (query, 7));
  g_autofree char *soaked = dup_list (bed_query_text (query, 8));
  g_autofree char *group = soaked ? g_strdup_printf ("%s · %s", bed_query_text (query, 0), soaked)
                                  : NULL;

  bed_labels_add_stack_sign (
      labels,
      &(BedStackSign){ .name = bed_query_text (query, 0),
                       .batches = g_strcmp0 (batches, soaked) == 0 ? NULL : batches,
                       .mushroom = mushroom,
                       .strain = strain,
                       .wood = wood,
                       .inoculated = days,
                       .group = group,
                       .count = logs ? count : NULL,
                       .farm = bed_record_get_text (bed_farm_get_settings (farm), "name") });
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

/* What a lot tells of its crates. */
typedef struct
{
  char *mushroom, *latin;
  char *first_picked, *last_picked;
  gint64 holds; /* mg, fresh and neither lost nor dried; 0 where no pick of it is known */
} LotFacts;

static void
clear_facts (LotFacts *facts)
{
  g_free (facts->mushroom);
  g_free (facts->latin);
  g_free (facts->first_picked);
  g_free (facts->last_picked);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (LotFacts, clear_facts)

/* One mushroom as a rule, joined where two were picked together. */
static gboolean
read_facts (LotFacts *facts, BedFarm *farm, gint64 lot, GError **error)
{
  g_autoptr (BedQuery) names = bed_query_new (
      farm, "SELECT group_concat (DISTINCT m.common_name), group_concat (DISTINCT m.latin_name)"
            " FROM pick_log x JOIN log l ON l.id = x.log JOIN main_spawn u ON u.batch = l.batch"
            " JOIN spawn s ON s.id = u.spawn JOIN strain t ON t.id = s.strain"
            " JOIN mushroom m ON m.id = t.mushroom WHERE x.lot = ?1");
  g_autoptr (BedQuery) days = bed_query_new (
      farm,
      "SELECT min (coalesce (p.since, p.picked_on)), max (p.picked_on), t.picked - t.lost - t.dried"
      " FROM lot_summary t LEFT JOIN pick p ON p.lot = t.id WHERE t.id = ?1");

  bed_query_bind_int (names, 1, lot);
  if (bed_query_next (names))
    {
      g_autofree char *common = dup_list (bed_query_text (names, 0));
      facts->mushroom = dup_capital (common);
      facts->latin = dup_list (bed_query_text (names, 1));
    }
  if (!bed_query_finish (names, error))
    return FALSE;
  bed_query_bind_int (days, 1, lot);
  if (bed_query_next (days))
    {
      facts->first_picked = g_strdup (bed_query_text (days, 0));
      facts->last_picked = g_strdup (bed_query_text (days, 1));
      facts->holds = bed_query_int (days, 2);
    }
  return bed_query_finish (days, error);
}

static char *
format_price (BedFarm *farm, gint64 price)
{
  g_autofree char *number
      = bed_measure_format (BED_MEASURE_MONEY, bed_farm_get_notation (farm), price);

  return g_strdup_printf ("%s %s", number,
                          bed_record_get_text (bed_farm_get_settings (farm), "currency"));
}

#define MG_PER_POUND 453592
#define MG_PER_KG 1000000

/* Below a pound in ounces, below a kilogram in grams. @decimals of the large unit; of the small
 * one, which is finer by itself, one of ounces and none of grams; -1: as it was typed. */
static char *
dup_net (const BedNotation *notation, gint64 mass, int decimals)
{
  gboolean us = notation->system == BED_SYSTEM_US;
  gboolean is_small = mass < (us ? MG_PER_POUND : MG_PER_KG);
  BedMeasure measure = is_small ? BED_MEASURE_MASS_FINE : BED_MEASURE_MASS;

  return decimals < 0
             ? bed_measure_format_unit_said (measure, notation, mass)
             : bed_measure_format_unit_rounded (measure, notation, is_small ? us : decimals, mass);
}

/* In the farm's units; where these are US ones in both systems, as the Fair Packaging and Labeling
 * Act, 15 U.S.C. 1453 (a) (2) and (3), wants it. What was typed stands as it was typed. */
static char *
dup_amount (BedFarm *farm, gint64 typed, gint64 all)
{
  const BedNotation *notation = bed_farm_get_notation (farm);
  BedNotation metric = *notation;
  gint64 mass = typed ? typed : all;
  g_autofree char *own = dup_net (notation, mass, typed ? -1 : 2);

  metric.system = BED_SYSTEM_METRIC;
  g_autofree char *other = dup_net (&metric, mass, 2);
  if (mass <= 0)
    return NULL;
  return notation->system == BED_SYSTEM_US ? g_strdup_printf ("%s (%s)", own, other)
                                           : g_steal_pointer (&own);
}

static gboolean
check_crates (BedFarm *farm, const BedCrate *crate, gint64 holds, GError **error)
{
  gint64 n = MAX (crate->count, 1);
  g_autofree char *there
      = bed_measure_format_unit_rounded (BED_MEASURE_MASS, bed_farm_get_notation (farm), 2, holds);

  if (crate->mass == 0 && n > 1)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_AMOUNT,
                 _ ("The whole lot is in one crate: say how much is in each of %d."), (int) n);
  /* Nothing is known of a lot without picks. */
  else if (holds > 0 && n * crate->mass > holds)
    g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_AMOUNT,
                 ngettext ("The lot holds %s: too little for %d such crate.",
                           "The lot holds %s: too little for %d such crates.", (gulong) n),
                 there, (int) n);
  else
    return TRUE;
  return FALSE;
}

/* "Keep cold, 1 to 4 °C". */
static char *
dup_keep (BedFarm *farm)
{
  gboolean us = bed_farm_get_notation (farm)->system == BED_SYSTEM_US;

  return us ? bed_say (_ ("Keep cold, %d to %d °F"), KEEP_FROM_F, KEEP_TO_F)
            : bed_say (_ ("Keep cold, %d to %d °C"), KEEP_FROM_C, KEEP_TO_C);
}

/* Of a farm with a certificate, and of a lot that no spawn came into that was not organic. */
static gboolean
dup_organic (BedFarm *farm, gint64 lot, char **words, GError **error)
{
  BedRecord *settings = bed_farm_get_settings (farm);
  const char *number = bed_record_get_text (settings, "organic_certificate");
  const char *by = bed_record_get_text (settings, "organic_certifier");
  gint64 other;

  *words = NULL;
  if (!number)
    return TRUE;
  if (!bed_query_one (farm,
                      "SELECT count (*) FROM pick_log x JOIN log l ON l.id = x.log"
                      " JOIN spawn_used u ON u.batch = l.batch JOIN spawn s ON s.id = u.spawn"
                      " WHERE x.lot = ?1 AND s.organic = 'no'",
                      lot, &other, error))
    return FALSE;
  if (other == 0)
    *words = by ? g_strdup_printf (_ ("Certified organic by %s, no. %s"), by, number)
                : g_strdup_printf (_ ("Certified organic, no. %s"), number);
  return TRUE;
}

/* A note of several lines on one. */
static char *
dup_flat (const char *note)
{
  g_auto (GStrv) lines = note ? g_strsplit (note, "\n", -1) : NULL;
  g_autoptr (GString) flat = g_string_new (NULL);

  for (guint i = 0; lines && lines[i]; i++)
    if (*g_strstrip (lines[i]))
      g_string_append_printf (flat, "%s%s", flat->len ? bed_comma () : "", lines[i]);
  return flat->len ? g_string_free (g_steal_pointer (&flat), FALSE) : NULL;
}

/* The day the lot was packed: as typed, else when it was cooled, else picked last. */
static char *
dup_packed (const BedCrate *crate, BedRecord *lot, const LotFacts *facts)
{
  const char *cooled = bed_record_get_text (lot, "cooled_at");
  g_autofree char *day = cooled ? g_strndup (cooled, strlen ("YYYY-MM-DD")) : NULL;

  return dup_date (crate->packed ? crate->packed : day ? day : facts->last_picked);
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
      = { BED_KIND_STACK, SIGNS "WHERE k.id = ?1 OR ?1 = 0 AND " STANDS BY_NAME, add_sign };

  return add_all (labels, farm, &signs, stack, error);
}

gboolean
bed_labels_add_area_signs (BedLabels *labels, BedFarm *farm, gint64 area, GError **error)
{
  static const Question signs
      = { BED_KIND_AREA, SIGNS "WHERE k.area = ?1 AND " STANDS BY_NAME, add_sign };

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

  gboolean organic = g_strcmp0 (bed_record_get_text (record, "organic"), "yes") == 0;

  bed_labels_add_spawn_label (
      labels, &(BedSpawnLabel){ .code = bed_record_get_text (record, "code"),
                                .strain = bed_record_get_text (strain, "name"),
                                .mushroom = mushroom,
                                .supplier = bed_record_get_text (record, "supplier"),
                                .supplier_lot = bed_record_get_text (record, "supplier_lot"),
                                .form = form,
                                .quantity = loose ? quantity : pieces,
                                .received = received,
                                .use_by = use_by,
                                .organic = organic ? _ ("Organic") : NULL });
  return TRUE;
}

gboolean
bed_labels_add_crate (BedLabels *labels, BedFarm *farm, const BedCrate *crate, GError **error)
{
  g_return_val_if_fail (labels != NULL && BED_IS_FARM (farm) && crate != NULL, FALSE);
  g_autoptr (BedRecord) lot = bed_farm_load (farm, BED_KIND_LOT, crate->lot, error);
  BedRecord *settings = bed_farm_get_settings (farm);
  g_auto (LotFacts) facts = { 0 };
  g_autofree char *organic = NULL;

  if (!lot || !read_facts (&facts, farm, crate->lot, error)
      || !check_crates (farm, crate, facts.holds, error)
      || !dup_organic (farm, crate->lot, &organic, error))
    return FALSE;
  const char *own_day = bed_record_get_text (lot, "picked_on");
  if (!facts.first_picked)
    {
      facts.first_picked = g_strdup (own_day);
      facts.last_picked = g_strdup (own_day);
    }
  g_autofree char *amount = dup_amount (farm, crate->mass, facts.holds);
  g_autofree char *picked = dup_days (facts.first_picked, facts.last_picked);
  g_autofree char *packed = dup_packed (crate, lot, &facts);
  g_autofree char *address = dup_flat (bed_record_get_text (settings, "address"));
  g_autofree char *keep = dup_keep (farm);
  g_autofree char *price = crate->price ? format_price (farm, crate->price) : NULL;
  const BedCrateLabel label = { .lot = bed_record_get_text (lot, "code"),
                                .mushroom = facts.mushroom,
                                .latin = facts.latin,
                                .mass = amount,
                                .picked = picked,
                                .packed = packed,
                                .farm = bed_record_get_text (settings, "name"),
                                .address = address,
                                .contact = bed_record_get_text (settings, "contact"),
                                .keep = keep,
                                .organic = organic,
                                .price = price };
  for (guint i = 0; i < MAX (crate->count, 1); i++)
    bed_labels_add_crate_label (labels, &label);
  return TRUE;
}
