#pragma once

#include "model/farm/farm.h"
#include "yard/moves.h"

/* What is done to things on the ground and to the area's outline, each as one change. NULL with an
 * error when a record is gone. A feature is meant by its id; 0 is the area's own outline, a
 * polygon. */

/* The thing's form and measures, its points borrowed; FALSE when it is not in the yard. */
gboolean bed_feature_get_ground (const BedYard *yard, gint64 feature, BedGround *ground);

/* The thing with that id and, through @index (may be NULL), its place; NULL when there is none. */
BedYardFeature *bed_yard_find_feature (const BedYard *yard, gint64 id, guint *index);

/* "oak by the gate", or its kind when it has no label. Free with g_free(). */
char *bed_feature_dup_name (const BedYardFeature *feature);

/* A new one in the area: "Drew path". @id (may be NULL) gets its id. */
typedef struct
{
  gint64 area;
  BedFeatureKind kind;
  const BedGround *ground;
  const char *label; /* may be NULL */
} BedNewFeature;

BedYardChange *bed_feature_place (BedFarm *farm, const BedNewFeature *feature, gint64 *id);

/* Of that form and measure from now on: "Shaped path", "Shaped Fruiting yard". */
BedYardChange *bed_feature_shape (BedFarm *farm, const BedYard *yard, gint64 feature,
                                  const BedGround *ground, GError **error);

/* "Made the tank a pond": what cannot have its form gets the nearest it can. */
BedYardChange *bed_feature_set_kind (BedFarm *farm, const BedYard *yard, gint64 feature,
                                     BedFeatureKind kind, GError **error);

/* Adds to @change that the thing has that form, as bed_feature_shape(). */
gboolean bed_feature_add_shape (BedYardChange *change, BedFarm *farm, const BedYard *yard,
                                gint64 feature, const BedGround *ground, GError **error);

/* Adds to @change a new one, as bed_feature_place(). Returns its id. */
gint64 bed_feature_add_new (BedYardChange *change, const BedNewFeature *feature);
