#include "app/form/forms.h"

#include <glib/gi18n.h>

#include "app/form/day_form.h"
#include "app/widgets/compat.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/season/pick.h"

#define PAGE(p, h, ...)                                                                            \
  {                                                                                                \
    h, { __VA_ARGS__, NULL }, p                                                                    \
  }
#define GROUP(h, ...) PAGE (NULL, h, __VA_ARGS__)

/* A row of the table below. */
#define FORM(K, g, ...)                                                                            \
  [BED_KIND_##K] = { .kind = BED_KIND_##K,                                                         \
                     .groups = g##_groups,                                                         \
                     .n_groups = G_N_ELEMENTS (g##_groups),                                        \
                     ##__VA_ARGS__ }

static const BedFormGroup farm_groups[] = {
  PAGE (N_ ("Farm"), NULL, "name", "address", "contact", "organic_certificate",
        "organic_certifier"),
  GROUP (N_ ("Units and money"), "unit_system", "currency", "hemisphere", "latitude",
         "season_start", "labour_rate", "tax_reclaimed"),
  PAGE (N_ ("Logs and soaks"), N_ ("Log moisture"), "moisture_basis", "moisture_alarm",
        "moisture_low", "moisture_high"),
  GROUP (N_ ("Timing"), "wait_least", "wait_most", "rest_weeks", "tank_capacity", "weekly_demand"),
  PAGE (N_ ("Inoculating"), N_ ("How fast you drill, fill and wax"), "drill_tool", "drill_pace",
        "fill_pace", "wax_pace", "end_pace", "handle_pace"),
  GROUP (N_ ("Wax and spawn"), "wax_holes", "wax_ends", "spawn_litre", "spawn_reserve"),
  PAGE (N_ ("Stacks"), N_ ("Stacks and aisles"), "aisle", "pile_height", "crib_height", "lean_rail",
        "frame_rail", "water_distance"),
};

static char *
dup_farm_sentence (BedFarm *farm, BedRecord *record)
{
  return g_strdup (_ ("Changed the farm's settings"));
}

static const BedFormGroup wood_groups[] = {
  GROUP (NULL, "common_name", "latin_name", "basic_density", "green_moisture", "bark_share"),
  GROUP (N_ ("Suits"), "suits_shiitake", "suits_oyster", "suits_lions_mane"),
  GROUP (NULL, "cautions", "source"),
};

static const BedFormGroup stand_groups[] = {
  GROUP (NULL, "name", "area", "grows", "basal_area", "trees", "residual"),
  GROUP (N_ ("Permission to cut"), "owner", "permission", "declared_on", "notes"),
};

static const BedFormGroup felling_groups[] = {
  GROUP (NULL, "code", "felled_on", "wood", "stand", "supplier"),
  GROUP (N_ ("Trees"), "trees", "dbh", "height", "condition", "leaf"),
  GROUP (NULL, "felled_by", "notes"),
};
static const char *const felling_kept[]
    = { "felled_on", "stand", "condition", "leaf", "felled_by", NULL };

static const BedFormGroup mushroom_groups[] = {
  GROUP (NULL, "common_name", "latin_name", "usual_method", "notes"),
};

static const BedFormGroup strain_groups[] = {
  GROUP (NULL, "name", "mushroom", "type"),
  GROUP (N_ ("How it grows"), "fruits_from", "fruits_to", "run_least", "run_most", "rest_weeks"),
  GROUP (NULL, "notes"),
};

static const BedFormGroup spawn_groups[] = {
  GROUP (NULL, "code", "strain", "form", "received_on", "use_by"),
  GROUP (N_ ("How much"), "mass", "pieces", "cost"),
  GROUP (N_ ("From"), "supplier", "supplier_lot", "organic", "certificate", "notes"),
};
static const char *const spawn_kept[] = { "strain", "form", "received_on", "supplier", NULL };

static const BedFormGroup spawn_gone_groups[] = {
  GROUP (NULL, "spawn", "gone_on", "why", "mass", "pieces", "notes"),
};

static const BedFormGroup batch_groups[] = {
  GROUP (NULL, "code", "inoculated_on", "method"),
  GROUP (N_ ("Holes"), "hole_diameter", "hole_depth", "along", "between", "margin", "closing"),
  GROUP (N_ ("Sealing"), "holes_sealed", "ends_sealed", "wax", "wax_mass"),
  GROUP (NULL, "notes"),
};

static const BedFormGroup log_groups[] = {
  GROUP (NULL, "code", "mark", "felling", "batch"),
  GROUP (N_ ("Measured"), "length", "small_diameter", "large_diameter", "green_mass", "holes",
         "bark", "counted"),
  GROUP (N_ ("Retired"), "retired_on", "retired_why", "notes"),
};

/* Retiring is what is done to a log: the history says so, and not that it was changed. */
static char *
dup_log_sentence (BedFarm *farm, BedRecord *record)
{
  g_autoptr (BedRecord) before
      = bed_farm_load (farm, BED_KIND_LOG, bed_record_get_id (record), NULL);

  if (bed_record_has (record, "retired_on") && !(before && bed_record_has (before, "retired_on")))
    return bed_forms_dup_retired (record, 1);
  return g_strdup_printf (before ? _ ("Changed log %s") : _ ("Recorded log %s"),
                          bed_record_get_text (record, "code"));
}

static const BedFormGroup area_groups[] = {
  GROUP (NULL, "name", "width", "depth", "north", "outline"),
  GROUP (N_ ("Shade and water"), "shade", "shade_kind", "water", "water_source", "water_tested_on",
         "water_result"),
  GROUP (NULL, "slope", "notes"),
};

static const BedFormGroup feature_groups[] = {
  GROUP (NULL, "area", "kind", "label"),
  GROUP (N_ ("Its form"), "form", "outline", "width", "depth", "turn", "radius", "trunk"),
};
static const char *const feature_kept[] = { "area", "kind", NULL };

static const BedFormGroup place_groups[] = {
  GROUP (NULL, "log", "stack", "tier", "slot", "since", "until"),
};

static const BedFormGroup stack_groups[] = {
  GROUP (NULL, "name", "area", "kind", "built_on", "taken_down_on"),
  GROUP (N_ ("Where and how"), "x", "y", "turn", "tiers", "per_tier"),
  GROUP (NULL, "notes"),
};

static const BedFormGroup buyer_groups[] = {
  GROUP (NULL, "name", "kind", "contact"),
};

static const BedFormGroup check_groups[] = {
  GROUP (NULL, "checked_on", "log", "stack", "batch"),
  GROUP (N_ ("Seen"), "colonised", "bark", "weed", "severity", "animals"),
  GROUP (NULL, "action", "notes"),
};
static const char *const check_kept[] = { "checked_on", NULL };

static const BedFormGroup weighing_groups[] = {
  GROUP (NULL, "weighed_on", "log", "mass", "notes"),
};
static const char *const weighing_kept[] = { "weighed_on", NULL };

static const BedFormGroup disc_groups[] = {
  GROUP (NULL, "cut_on", "batch", "felling", "fresh_mass", "dry_mass"),
};

static const BedFormGroup stood_groups[] = {
  GROUP (NULL, "area", "x", "y", "turn", "until"),
};

static const BedFormGroup watering_groups[] = {
  GROUP (NULL, "watered_on", "area", "stack", "method", "minutes"),
};

static const BedFormGroup due_groups[] = {
  GROUP (NULL, "what", "due_on", "subject", "why"),
};

static const BedFormGroup soak_groups[] = {
  GROUP (NULL, "tank", "put_in", "taken_out", "code"),
  GROUP (N_ ("Water"), "water", "water_temperature", "air_temperature", "notes"),
};
static const char *const soak_kept[] = { "tank", "water", NULL };

static const BedFormGroup lot_groups[] = {
  GROUP (NULL, "code", "picked_on", "cooled_at", "cooled_to", "notes"),
};

static const BedFormGroup pick_groups[] = {
  GROUP (NULL, "picked_on", "since", "grade", "mass", "picker"),
  GROUP (N_ ("Picked from one of these"), "log", "stack", "batch"),
  GROUP (NULL, "lot", "notes"),
};

static char *
dup_pick_sentence (BedFarm *farm, BedRecord *record)
{
  g_autofree char *words = bed_pick_dup_words (farm, record);

  /* Translators: "210 g A from 26A-001-K". */
  return g_strdup_printf (_ ("Changed a pick to %s"), words);
}

static const BedFormGroup drying_groups[] = {
  GROUP (NULL, "dried_on", "lot", "fresh_mass", "dried_mass"),
};

static char *
dup_drying_sentence (BedFarm *farm, BedRecord *record)
{
  g_autofree char *fresh = bed_value_dup_sentence (farm, record, "fresh_mass");
  g_autofree char *dried = bed_value_dup_sentence (farm, record, "dried_mass");
  g_autofree char *lot = bed_value_dup_sentence (farm, record, "lot");

  /* Translators: fresh mass, code of a lot, dried mass. */
  return g_strdup_printf (_ ("Dried %s of lot %s to %s"), fresh, lot, dried);
}

static const BedFormGroup sale_groups[] = {
  GROUP (NULL, "code", "sold_on", "buyer", "paid_on", "notes"),
};

static const BedFormGroup purchase_groups[] = {
  GROUP (NULL, "bought_on", "category", "what", "quantity", "amount", "tax", "supplier"),
  GROUP (N_ ("What it was for"), "scope", "batch", "spawn", "notes"),
};
static const char *const purchase_kept[] = { "bought_on", "supplier", "scope", NULL };

static const BedFormGroup hours_groups[] = {
  GROUP (NULL, "worked_on", "task", "minutes", "person", "rate"),
  GROUP (N_ ("What it was for"), "batch", "stack", "logs", "notes"),
};
static const char *const hours_kept[] = { "worked_on", "person", "rate", NULL };

static const BedFormGroup rate_groups[] = {
  GROUP (NULL, "until", "rate"),
};

static const BedFormGroup stock_count_groups[] = {
  GROUP (NULL, "counted_on", "category", "amount", "notes"),
};
static const char *const stock_count_kept[] = { "counted_on", NULL };

static const BedFormGroup equipment_groups[] = {
  GROUP (NULL, "what", "bought_on", "price", "salvage", "life_years", "method", "share"),
};
static const BedFormSpec specs[BED_N_KINDS] = {
  FORM (FARM, farm, .title = N_ ("The farm and how it measures"),
        .dup_sentence = dup_farm_sentence),
  FORM (WOOD, wood),
  FORM (STAND, stand),
  FORM (FELLING, felling, .kept = felling_kept),
  FORM (MUSHROOM, mushroom),
  FORM (STRAIN, strain),
  FORM (SPAWN, spawn, .kept = spawn_kept),
  FORM (SPAWN_GONE, spawn_gone, .title = N_ ("Spawn written off")),
  FORM (BATCH, batch),
  FORM (LOG, log, .dup_sentence = dup_log_sentence),
  FORM (AREA, area),
  FORM (FEATURE, feature, .kept = feature_kept),
  FORM (STACK, stack),
  FORM (PLACE, place),
  FORM (BUYER, buyer),
  FORM (CHECK, check, .kept = check_kept),
  FORM (WEIGHING, weighing, .kept = weighing_kept),
  FORM (WATERING, watering),
  FORM (DISC, disc),
  FORM (STOOD, stood),
  FORM (DUE, due),
  FORM (SOAK, soak, .kept = soak_kept),
  FORM (PICK, pick, .title = N_ ("Change this pick"), .dup_sentence = dup_pick_sentence),
  FORM (DRYING, drying, .title = N_ ("Drying"), .dup_sentence = dup_drying_sentence),
  FORM (LOT, lot),
  FORM (SALE, sale),
  FORM (PURCHASE, purchase, .kept = purchase_kept),
  FORM (HOURS, hours, .kept = hours_kept),
  FORM (RATE, rate),
  FORM (EQUIPMENT, equipment),
  FORM (STOCK_COUNT, stock_count, .kept = stock_count_kept),
};

const BedFormSpec *
bed_forms_get_spec (BedKind kind)
{
  g_return_val_if_fail (kind < BED_N_KINDS, NULL);
  return specs[kind].groups ? &specs[kind] : NULL;
}

BedForm *
bed_forms_new (BedFarm *farm, BedKind kind)
{
  g_return_val_if_fail (kind < BED_N_KINDS, NULL);
  return kind == BED_KIND_RAIN ? bed_day_form_new (farm) : bed_form_new (farm, &specs[kind]);
}

BedForm *
bed_forms_get_in (GtkStack *stack, BedFarm *farm, BedKind kind, GCallback left, gpointer self)
{
  const char *name = bed_kind_get_info (kind)->name;
  GtkWidget *there = gtk_stack_get_child_by_name (stack, name);
  BedForm *form;

  if (there)
    return BED_FORM (there);
  form = bed_forms_new (farm, kind);
  bed_form_set_then (form, kind == BED_KIND_WEIGHING ? BED_FORM_THEN_NEXT : BED_FORM_THEN_LEAVE);
  g_signal_connect_object (form, "left", left, self, G_CONNECT_SWAPPED);
  bed_stack_add (GTK_WIDGET (stack), GTK_WIDGET (form), name);
  return form;
}

char *
bed_forms_dup_retired (BedRecord *log, guint n_logs)
{
  const BedField *field = bed_kind_find_field (BED_KIND_LOG, "retired_why", NULL);
  const char *key = bed_record_get_text (log, "retired_why");
  const char *why = key ? bed_field_choice_label (field, key) : "";

  if (n_logs == 1)
    return g_strdup_printf (_ ("Retired log %s: %s"), bed_record_get_text (log, "code"), why);
  return bed_say (ngettext ("Retired %u log: %s", "Retired %u logs: %s", n_logs), n_logs, why);
}
