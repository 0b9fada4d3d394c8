/* Sentences of which a kind of record is a part, whole for each kind. */
#include "model/farm/kind_words.h"

#include <glib/gi18n-lib.h>

#include "model/farm/say.h"
#include "science/language.h"

typedef struct
{
  const char *count[2];
  const char *fresh;   /* of what has a form */
  const char *change;  /* of what has a form; with the name where it has one */
  const char *missing; /* of what has a name */
  const char *heading; /* of what is shown beside its table and has no name */
} Words;

#define WORDS(K, ...) [BED_KIND_##K] = { __VA_ARGS__ }

static const Words words[] = {
  WORDS (FARM, NP_ ("%u farm", "%u farms"), .missing = N_ ("There is no farm “%s”.")),
  WORDS (WOOD, NP_ ("%u wood", "%u woods"), .fresh = N_ ("New wood"),
         .change = N_ ("Change wood %s"), .missing = N_ ("There is no wood “%s”.")),
  WORDS (STAND, NP_ ("%u stand", "%u stands"), .fresh = N_ ("New stand"),
         .change = N_ ("Change stand %s"), .missing = N_ ("There is no stand “%s”.")),
  WORDS (FELLING, NP_ ("%u felling", "%u fellings"), .fresh = N_ ("New felling"),
         .change = N_ ("Change felling %s"), .missing = N_ ("There is no felling “%s”.")),
  WORDS (MUSHROOM, NP_ ("%u mushroom", "%u mushrooms"), .fresh = N_ ("New mushroom"),
         .change = N_ ("Change mushroom %s"), .missing = N_ ("There is no mushroom “%s”.")),
  WORDS (STRAIN, NP_ ("%u strain", "%u strains"), .fresh = N_ ("New strain"),
         .change = N_ ("Change strain %s"), .missing = N_ ("There is no strain “%s”.")),
  WORDS (SPAWN, NP_ ("%u spawn lot", "%u spawn lots"), .fresh = N_ ("New spawn lot"),
         .change = N_ ("Change spawn lot %s"), .missing = N_ ("There is no spawn lot “%s”.")),
  WORDS (BATCH, NP_ ("%u batch", "%u batches"), .fresh = N_ ("New batch"),
         .change = N_ ("Change batch %s"), .missing = N_ ("There is no batch “%s”.")),
  WORDS (SPAWN_USED, NP_ ("%u spawn use", "%u spawn uses")),
  WORDS (SPAWN_GONE, NP_ ("%u spawn loss", "%u spawn losses"), .fresh = N_ ("New spawn loss"),
         .change = N_ ("Change spawn loss"), .heading = NC_ ("heading", "Spawn loss")),
  WORDS (LOG, NP_ ("%u log", "%u logs"), .fresh = N_ ("New log"), .change = N_ ("Change log %s"),
         .missing = N_ ("There is no log “%s”.")),
  WORDS (AREA, NP_ ("%u area", "%u areas"), .fresh = N_ ("New area"),
         .change = N_ ("Change area %s"), .missing = N_ ("There is no area “%s”.")),
  WORDS (FEATURE, NP_ ("%u feature", "%u features"), .fresh = N_ ("New feature"),
         .change = N_ ("Change feature"), .heading = NC_ ("heading", "Feature")),
  WORDS (STACK, NP_ ("%u stack", "%u stacks"), .fresh = N_ ("New stack"),
         .change = N_ ("Change stack %s"), .missing = N_ ("There is no stack “%s”.")),
  WORDS (PLACE, NP_ ("%u place", "%u places"), .fresh = N_ ("New place"),
         .change = N_ ("Change place"), .heading = NC_ ("heading", "Place")),
  WORDS (STOOD, NP_ ("%u earlier place of a stack", "%u earlier places of stacks"),
         .fresh = N_ ("New earlier place of a stack"),
         .change = N_ ("Change earlier place of a stack"),
         .heading = NC_ ("heading", "Earlier place of a stack")),
  WORDS (PLANNED_STACK, NP_ ("%u planned stack", "%u planned stacks"),
         .missing = N_ ("There is no planned stack “%s”.")),
  WORDS (PLANNED_MOVE, NP_ ("%u planned move", "%u planned moves")),
  WORDS (CHECK, NP_ ("%u check", "%u checks"), .fresh = N_ ("New check"),
         .change = N_ ("Change check"), .heading = NC_ ("heading", "Check")),
  WORDS (WEIGHING, NP_ ("%u weighing", "%u weighings"), .fresh = N_ ("New weighing"),
         .change = N_ ("Change weighing"), .heading = NC_ ("heading", "Weighing")),
  WORDS (DISC, NP_ ("%u sample disc", "%u sample discs"), .fresh = N_ ("New sample disc"),
         .change = N_ ("Change sample disc"), .heading = NC_ ("heading", "Sample disc")),
  WORDS (WATERING, NP_ ("%u watering", "%u waterings"), .fresh = N_ ("New watering"),
         .change = N_ ("Change watering"), .heading = NC_ ("heading", "Watering")),
  WORDS (RAIN, NP_ ("%u rain", "%u rains")),
  WORDS (TEMPERATURE, NP_ ("%u temperature", "%u temperatures")),
  WORDS (SOAK, NP_ ("%u soak", "%u soaks"), .fresh = N_ ("New soak"),
         .change = N_ ("Change soak %s"), .missing = N_ ("There is no soak “%s”.")),
  WORDS (SOAKED, NP_ ("%u soaked log", "%u soaked logs")),
  WORDS (LOT, NP_ ("%u lot", "%u lots"), .fresh = N_ ("New lot"), .change = N_ ("Change lot %s"),
         .missing = N_ ("There is no lot “%s”.")),
  WORDS (PICK, NP_ ("%u pick", "%u picks"), .fresh = N_ ("New pick"), .change = N_ ("Change pick"),
         .heading = NC_ ("heading", "Pick")),
  WORDS (DRYING, NP_ ("%u drying", "%u dryings"), .fresh = N_ ("New drying"),
         .change = N_ ("Change drying"), .heading = NC_ ("heading", "Drying")),
  WORDS (BUYER, NP_ ("%u buyer", "%u buyers"), .fresh = N_ ("New buyer"),
         .change = N_ ("Change buyer %s"), .missing = N_ ("There is no buyer “%s”.")),
  WORDS (SALE, NP_ ("%u sale", "%u sales"), .fresh = N_ ("New sale"),
         .change = N_ ("Change sale %s"), .missing = N_ ("There is no sale “%s”.")),
  WORDS (LINE, NP_ ("%u sale line", "%u sale lines")),
  WORDS (PURCHASE, NP_ ("%u purchase", "%u purchases"), .fresh = N_ ("New purchase"),
         .change = N_ ("Change purchase"), .heading = NC_ ("heading", "Purchase")),
  WORDS (HOURS, NP_ ("%u hours", "%u hours"), .fresh = N_ ("New hours"),
         .change = N_ ("Change hours"), .heading = NC_ ("heading", "Hours")),
  WORDS (RATE, NP_ ("%u earlier labour rate", "%u earlier labour rates"),
         .fresh = N_ ("New earlier labour rate"), .change = N_ ("Change earlier labour rate"),
         .heading = NC_ ("heading", "Earlier labour rate")),
  WORDS (EQUIPMENT, NP_ ("%u equipment", "%u equipment"), .fresh = N_ ("New equipment"),
         .change = N_ ("Change equipment %s"), .missing = N_ ("There is no equipment “%s”.")),
  WORDS (STOCK_COUNT, NP_ ("%u stock count", "%u stock counts"), .fresh = N_ ("New stock count"),
         .change = N_ ("Change stock count"), .heading = NC_ ("heading", "Stock count")),
  WORDS (DUE, NP_ ("%u due task", "%u due tasks"), .fresh = N_ ("New due task"),
         .change = N_ ("Change due task"), .heading = NC_ ("heading", "Due task")),
  WORDS (MATCHING, NP_ ("%u matching of a sheet", "%u matchings of sheets"),
         .missing = N_ ("There is no matching of a sheet “%s”.")),
};

G_STATIC_ASSERT (G_N_ELEMENTS (words) == BED_N_KINDS);

const char *
bed_kind_get_new (BedKind kind)
{
  g_return_val_if_fail (kind < BED_N_KINDS && words[kind].fresh, "");
  return _ (words[kind].fresh);
}

char *
bed_kind_dup_change (BedKind kind, const char *name)
{
  g_return_val_if_fail (kind < BED_N_KINDS && words[kind].change, NULL);
  return g_strdup_printf (_ (words[kind].change), name ? name : "");
}

const char *
bed_kind_get_heading (BedKind kind)
{
  g_return_val_if_fail (kind < BED_N_KINDS && words[kind].heading, "");
  return g_dpgettext2 (GETTEXT_PACKAGE, "heading", words[kind].heading);
}

char *
bed_kind_dup_named (BedKind kind, const char *name)
{
  const char *singular = _ (bed_kind_get_info (kind)->singular);

  /* Translators: a kind of record and the name of one, as in "batch 26A". */
  return name ? g_strdup_printf (C_ ("kind and name", "%s %s"), singular, name)
              : g_strdup (singular);
}

char *
bed_kind_dup_numbered (BedKind kind, gint64 id)
{
  /* Translators: kind of record, its number in the file. */
  return g_strdup_printf (C_ ("kind and number", "%s %lld"), _ (bed_kind_get_info (kind)->singular),
                          (long long) id);
}

char *
bed_kind_dup_count (BedKind kind, guint64 n)
{
  g_return_val_if_fail (kind < BED_N_KINDS, NULL);
  const char *const *count = words[kind].count;

  return bed_say (ngettext (count[0], count[1], n), (guint) n);
}

char *
bed_kind_dup_missing (BedKind kind, const char *name)
{
  g_return_val_if_fail (kind < BED_N_KINDS && words[kind].missing && name, NULL);
  return g_strdup_printf (_ (words[kind].missing), name);
}
