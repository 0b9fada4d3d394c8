#include "app/forms.h"

#include <glib/gi18n.h>

#include "app/retire_form.h"
#include "model/query.h"

#define GROUP(h, ...) { h, { __VA_ARGS__, NULL } }
#define SPEC(K, g, ...) \
  static const BedFormSpec g##_form = { .kind = BED_KIND_##K, .groups = g##_groups, \
                                        .n_groups = G_N_ELEMENTS (g##_groups), ##__VA_ARGS__ }

static const BedFormGroup farm_groups[] = {
  GROUP (N_ ("Farm"), "name", "address", "contact", "organic_certificate"),
  GROUP (N_ ("Units and money"), "unit_system", "currency", "hemisphere", "latitude",
         "season_start", "labour_rate"),
  GROUP (N_ ("Log moisture"), "moisture_basis", "moisture_alarm", "moisture_low",
         "moisture_high"),
  GROUP (N_ ("Timing"), "wait_least", "wait_most", "rest_weeks", "tank_capacity",
         "weekly_demand"),
};

static char *
dup_farm_sentence (BedFarm *farm, BedRecord *record)
{
  return g_strdup (_ ("Changed the farm's settings"));
}

SPEC (FARM, farm, .title = N_ ("The farm and how it measures"),
      .dup_sentence = dup_farm_sentence);

static const BedFormGroup wood_groups[] = {
  GROUP (NULL, "common_name", "latin_name", "basic_density", "green_moisture", "bark_share"),
  GROUP (N_ ("Suits"), "suits_shiitake", "suits_oyster", "suits_lions_mane"),
  GROUP (NULL, "cautions", "source"),
};
SPEC (WOOD, wood);

static const BedFormGroup stand_groups[] = {
  GROUP (NULL, "name", "area", "grows", "basal_area", "trees", "residual"),
  GROUP (N_ ("Leave to cut"), "owner", "permission", "declared_on", "notes"),
};
SPEC (STAND, stand);

static const BedFormGroup felling_groups[] = {
  GROUP (NULL, "code", "felled_on", "wood", "stand", "supplier"),
  GROUP (N_ ("Trees"), "trees", "dbh", "height", "condition", "leaf"),
  GROUP (NULL, "felled_by", "notes"),
};
static const char *const felling_kept[] = { "felled_on", "stand", "condition", "leaf",
                                            "felled_by", NULL };
SPEC (FELLING, felling, .kept = felling_kept);

static const BedFormGroup mushroom_groups[] = {
  GROUP (NULL, "common_name", "latin_name", "usual_method", "notes"),
};
SPEC (MUSHROOM, mushroom);

static const BedFormGroup strain_groups[] = {
  GROUP (NULL, "name", "mushroom", "type"),
  GROUP (N_ ("Habit"), "fruits_from", "fruits_to", "run_least", "run_most", "rest_weeks"),
  GROUP (NULL, "notes"),
};
SPEC (STRAIN, strain);

static const BedFormGroup spawn_groups[] = {
  GROUP (NULL, "code", "strain", "form", "received_on", "use_by"),
  GROUP (N_ ("How much"), "mass", "pieces", "cost"),
  GROUP (N_ ("From"), "supplier", "supplier_lot", "organic", "certificate", "notes"),
};
static const char *const spawn_kept[] = { "strain", "form", "received_on", "supplier", NULL };
SPEC (SPAWN, spawn, .kept = spawn_kept);

static const BedFormGroup batch_groups[] = {
  GROUP (NULL, "code", "inoculated_on", "method"),
  GROUP (N_ ("Holes"), "hole_diameter", "hole_depth", "along", "between", "margin", "closing"),
  GROUP (N_ ("Sealing"), "holes_sealed", "ends_sealed", "wax", "wax_mass"),
  GROUP (NULL, "notes"),
};
SPEC (BATCH, batch);

static const BedFormGroup log_groups[] = {
  GROUP (NULL, "code", "felling", "batch"),
  GROUP (N_ ("Measured"), "length", "small_diameter", "large_diameter", "green_mass", "holes",
         "bark"),
  GROUP (N_ ("Retired"), "retired_on", "retired_why", "notes"),
};

/* Retiring is what is done to a log: the history says so, and not that it was changed. */
static char *
dup_log_sentence (BedFarm *farm, BedRecord *record)
{
  g_autoptr (BedRecord) before
      = bed_farm_load (farm, BED_KIND_LOG, bed_record_get_id (record), NULL);

  if (bed_record_has (record, "retired_on") && !(before && bed_record_has (before, "retired_on")))
    return bed_retire_dup_sentence (record, 1);
  return g_strdup_printf (before ? _ ("Changed log %s") : _ ("Recorded log %s"),
                          bed_record_get_text (record, "code"));
}

SPEC (LOG, log, .dup_sentence = dup_log_sentence);

static const BedFormGroup area_groups[] = {
  GROUP (NULL, "name", "width", "depth"),
  GROUP (N_ ("Shade and water"), "shade", "shade_kind", "water", "water_source",
         "water_tested_on"),
};
SPEC (AREA, area);

static const BedFormGroup buyer_groups[] = {
  GROUP (NULL, "name", "kind", "contact"),
};
SPEC (BUYER, buyer);

static const BedFormGroup check_groups[] = {
  GROUP (NULL, "checked_on", "batch", "stack", "log"),
  GROUP (N_ ("Seen"), "colonised", "bark", "weed", "severity", "animals"),
  GROUP (NULL, "action", "notes"),
};
static const char *const check_kept[] = { "checked_on", NULL };
SPEC (CHECK, check, .kept = check_kept);

static const BedFormGroup weighing_groups[] = {
  GROUP (NULL, "weighed_on", "log", "mass", "notes"),
};
static const char *const weighing_kept[] = { "weighed_on", NULL };
SPEC (WEIGHING, weighing, .kept = weighing_kept);

static const BedFormGroup disc_groups[] = {
  GROUP (NULL, "cut_on", "batch", "felling", "fresh_mass", "dry_mass"),
};
SPEC (DISC, disc);

static const BedFormGroup rain_groups[] = {
  GROUP (NULL, "fell_on", "depth"),
};
SPEC (RAIN, rain);

static const BedFormGroup temperature_groups[] = {
  GROUP (NULL, "measured_on", "least", "most"),
};
SPEC (TEMPERATURE, temperature);

static const BedFormGroup watering_groups[] = {
  GROUP (NULL, "watered_on", "area", "stack", "method", "minutes"),
};
SPEC (WATERING, watering);

static const BedFormGroup due_groups[] = {
  GROUP (NULL, "what", "due_on", "subject", "why"),
};
SPEC (DUE, due);

static const BedFormGroup soak_groups[] = {
  GROUP (NULL, "tank", "put_in", "taken_out", "code"),
  GROUP (N_ ("Water"), "water", "water_temperature", "air_temperature", "notes"),
};
static const char *const soak_kept[] = { "tank", "water", NULL };
SPEC (SOAK, soak, .kept = soak_kept);

static const BedFormGroup lot_groups[] = {
  GROUP (NULL, "code", "picked_on", "cooled_at", "cooled_to", "notes"),
};
SPEC (LOT, lot);

static const BedFormGroup sale_groups[] = {
  GROUP (NULL, "sold_on", "buyer", "code", "notes"),
};
SPEC (SALE, sale);

static const BedFormGroup purchase_groups[] = {
  GROUP (NULL, "bought_on", "category", "what", "quantity", "amount", "tax", "supplier"),
  GROUP (N_ ("What it was for"), "scope", "batch", "notes"),
};
static const char *const purchase_kept[] = { "bought_on", "supplier", "scope", NULL };
SPEC (PURCHASE, purchase, .kept = purchase_kept);

static const BedFormGroup hours_groups[] = {
  GROUP (NULL, "worked_on", "task", "minutes", "person", "rate"),
  GROUP (N_ ("What it was for"), "batch", "stack", "logs", "notes"),
};
static const char *const hours_kept[] = { "worked_on", "person", "rate", NULL };
SPEC (HOURS, hours, .kept = hours_kept);

static const BedFormGroup equipment_groups[] = {
  GROUP (NULL, "what", "bought_on", "price", "salvage", "life_years", "share"),
};
SPEC (EQUIPMENT, equipment);

static const BedFormSpec *const specs[BED_N_KINDS] = {
  [BED_KIND_FARM] = &farm_form,         [BED_KIND_WOOD] = &wood_form,
  [BED_KIND_STAND] = &stand_form,       [BED_KIND_FELLING] = &felling_form,
  [BED_KIND_MUSHROOM] = &mushroom_form, [BED_KIND_STRAIN] = &strain_form,
  [BED_KIND_SPAWN] = &spawn_form,       [BED_KIND_BATCH] = &batch_form,
  [BED_KIND_LOG] = &log_form,           [BED_KIND_AREA] = &area_form,
  [BED_KIND_BUYER] = &buyer_form,       [BED_KIND_CHECK] = &check_form,
  [BED_KIND_WEIGHING] = &weighing_form, [BED_KIND_WATERING] = &watering_form,
  [BED_KIND_DISC] = &disc_form,         [BED_KIND_RAIN] = &rain_form,
  [BED_KIND_TEMPERATURE] = &temperature_form,
  [BED_KIND_DUE] = &due_form,           [BED_KIND_SOAK] = &soak_form,
  [BED_KIND_LOT] = &lot_form,           [BED_KIND_SALE] = &sale_form,
  [BED_KIND_PURCHASE] = &purchase_form, [BED_KIND_HOURS] = &hours_form,
  [BED_KIND_EQUIPMENT] = &equipment_form,
};

const BedFormSpec *
bed_forms_get_spec (BedKind kind)
{
  g_return_val_if_fail (kind < BED_N_KINDS, NULL);
  return specs[kind];
}

/* The last batch's habits are this one's. */
static void
fill_batch (BedFarm *farm, BedRecord *record)
{
  static const char *const habits[] = { "method", "hole_diameter", "hole_depth", "along", "between",
                                        "margin", "closing", "holes_sealed", "ends_sealed",
                                        "wax" };
  gint64 last = bed_query_one (farm, "SELECT id FROM batch"
                                     " ORDER BY inoculated_on DESC, id DESC LIMIT 1", 0);
  g_autoptr (BedRecord) before = last ? bed_farm_load (farm, BED_KIND_BATCH, last, NULL) : NULL;

  bed_record_set_text (record, "method", "drilled");
  bed_record_set_text (record, "closing", "nearest");
  if (before)
    for (guint i = 0; i < G_N_ELEMENTS (habits); i++)
      bed_record_take_field (record, before, habits[i]);
}

BedRecord *
bed_forms_new_record (BedFarm *farm, BedKind kind)
{
  const BedKindInfo *info = bed_kind_get_info (kind);
  BedRecord *record = bed_record_new (kind);

  for (guint i = 0; i < info->n_fields; i++)
    if (info->fields[i].required && info->fields[i].type == BED_FIELD_DATE)
      bed_record_set_text (record, info->fields[i].name, bed_farm_get_today (farm));
    else if (info->fields[i].required && info->fields[i].type == BED_FIELD_MOMENT)
      bed_record_set_text (record, info->fields[i].name, bed_farm_get_now (farm));
  if (kind == BED_KIND_BATCH)
    fill_batch (farm, record);
  return record;
}
