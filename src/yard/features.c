#include "yard/features.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "model/farm/kinds.h"
#include "yard/ground.h"

/* Tenths of a millimetre, as poses are kept. */
#define MICROMETRES(m) ((gint64) round ((m) *1e4) * 100)
#define HUNDREDTHS(radians) ((gint64) round ((radians) *180 / G_PI * 100))

static const char *
name_kind (BedFeatureKind kind)
{
  return bed_field_choice_label (bed_kind_find_field (BED_KIND_FEATURE, "kind", NULL),
                                 bed_feature_kind_key (kind));
}

static void
set_or_unset (BedRecord *record, const char *field, gboolean has, gint64 value)
{
  if (has)
    bed_record_set_int (record, field, value);
  else
    bed_record_unset (record, field);
}

/* Only the measures its form has. */
static void
store_ground (BedRecord *record, const BedGround *ground)
{
  gboolean box = ground->form == BED_GROUND_BOX, band = ground->form == BED_GROUND_BAND;
  g_autofree char *outline = bed_outline_format (ground->points);

  bed_record_set_text (record, "form", bed_ground_form_key (ground->form));
  bed_record_set_text (record, "outline", outline);
  set_or_unset (record, "turn", box, HUNDREDTHS (remainder (ground->turn, 2 * G_PI)));
  set_or_unset (record, "width", box || band, MICROMETRES (ground->width));
  set_or_unset (record, "depth", box, MICROMETRES (ground->depth));
  set_or_unset (record, "radius", ground->form == BED_GROUND_DISC, MICROMETRES (ground->radius));
  set_or_unset (record, "trunk", ground->trunk > 0, MICROMETRES (ground->trunk));
}

/* The record of a thing that is in the yard, or NULL with an error. */
static BedRecord *
load_feature (BedFarm *farm, const BedYard *yard, gint64 id, GError **error)
{
  if (id == 0)
    return bed_farm_load (farm, BED_KIND_AREA, yard->id, error);
  return bed_farm_load (farm, BED_KIND_FEATURE, id, error);
}

static char *
dup_name (BedRecord *record)
{
  gboolean area = bed_record_get_kind (record) == BED_KIND_AREA;
  const char *label = bed_record_get_text (record, area ? "name" : "label");

  if (label)
    return g_strdup (label);
  return g_strdup (name_kind (bed_feature_kind_from_key (bed_record_get_text (record, "kind"))));
}

/* --- public --------------------------------------------------------------------- */

BedYardFeature *
bed_yard_find_feature (const BedYard *yard, gint64 id, guint *index)
{
  for (guint i = 0; i < yard->features->len; i++)
    {
      BedYardFeature *feature = yard->features->pdata[i];
      if (feature->id != id)
        continue;
      if (index)
        *index = i;
      return feature;
    }
  return NULL;
}

gboolean
bed_feature_get_ground (const BedYard *yard, gint64 id, BedGround *ground)
{
  const BedYardFeature *feature = id ? bed_yard_find_feature (yard, id, NULL) : NULL;

  if (feature)
    *ground = feature->ground;
  else if (id == 0)
    *ground = (BedGround){ .form = BED_GROUND_POLYGON, .points = yard->outline };
  return feature || id == 0;
}

char *
bed_feature_dup_name (const BedYardFeature *feature)
{
  return g_strdup (feature->label ? feature->label : name_kind (feature->kind));
}

gint64
bed_feature_add_new (BedYardChange *change, const BedNewFeature *feature)
{
  g_autoptr (BedRecord) record = bed_record_new (BED_KIND_FEATURE);

  bed_record_set_int (record, "area", feature->area);
  bed_record_set_text (record, "kind", bed_feature_kind_key (feature->kind));
  if (feature->label)
    bed_record_set_text (record, "label", feature->label);
  store_ground (record, feature->ground);
  bed_edit_put (change->edit, record);
  return bed_record_get_id (record);
}

BedYardChange *
bed_feature_place (BedFarm *farm, const BedNewFeature *feature, gint64 *id)
{
  BedYardChange *change = bed_yard_change_new_empty (farm);
  gint64 made = bed_feature_add_new (change, feature);

  if (id)
    *id = made;
  /* Translators: a tree, a path… in the yard. */
  change->sentence = g_strdup_printf (_ ("Drew %s"),
                                      feature->label ? feature->label : name_kind (feature->kind));
  return change;
}

gboolean
bed_feature_add_shape (BedYardChange *change, BedFarm *farm, const BedYard *yard, gint64 id,
                       const BedGround *ground, GError **error)
{
  g_autoptr (BedRecord) record = load_feature (farm, yard, id, error);

  if (!record)
    return FALSE;
  g_autofree char *outline = bed_outline_format (ground->points);
  if (id == 0)
    bed_record_set_text (record, "outline", outline);
  else
    store_ground (record, ground);
  bed_edit_put (change->edit, record);
  return TRUE;
}

BedYardChange *
bed_feature_shape (BedFarm *farm, const BedYard *yard, gint64 id, const BedGround *ground,
                   GError **error)
{
  g_autoptr (BedYardChange) change = bed_yard_change_new_empty (farm);
  g_autoptr (BedRecord) record = load_feature (farm, yard, id, error);

  if (!record || !bed_feature_add_shape (change, farm, yard, id, ground, error))
    return NULL;
  g_autofree char *name = dup_name (record);
  /* Translators: an area or a thing in the yard whose outline or size was changed. */
  change->sentence = g_strdup_printf (_ ("Shaped %s"), name);
  return g_steal_pointer (&change);
}

BedYardChange *
bed_feature_set_kind (BedFarm *farm, const BedYard *yard, gint64 id, BedFeatureKind kind,
                      GError **error)
{
  g_autoptr (BedRecord) record = load_feature (farm, yard, id, error);
  const BedYardFeature *feature = bed_yard_find_feature (yard, id, NULL);
  BedGround ground;

  if (!record)
    return NULL;
  g_return_val_if_fail (feature != NULL, NULL);
  g_autofree char *name = dup_name (record);
  bed_ground_copy (&ground, &feature->ground);
  bed_ground_change_kind (&ground, kind);
  bed_record_set_text (record, "kind", bed_feature_kind_key (kind));
  store_ground (record, &ground);
  g_array_unref (ground.points);
  /* Translators: "North pond", "tank": what it is from now on. */
  return bed_yard_change_new (farm, record,
                              g_strdup_printf (_ ("Changed %s into: %s"), name, name_kind (kind)));
}
