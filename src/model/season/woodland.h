#pragma once

#include "model/farm/farm.h"
#include "science/stand.h"
#include "science/tree.h"

/* What trees will give and what a thinning takes: a felling's and a stand's records put to
 * science/tree.h and stand.h. Felling is dangerous, licensed work: local rules first. */

/* Both rules: J. A. Westfall et al., USDA Forest Service GTR-WO-104 (2024), and A. R. Ek et
 * al., NC-RN-309 (1984). */
typedef struct
{
  gint64 trees;   /* 1 where the felling does not say */
  guint bolts;    /* of one tree */
  guint second;   /* of one tree, by the second rule */
  double bolt_mm; /* length of one: the mean of the farm's last 100 logs, else 40 in */
  double top_mm;  /* and where the last ends */
  double wood_l;  /* of one stem, under bark */
  BedTreeEquation by;
} BedWoodlandBolts;

/* The bolts of @felling, a draft or a stored record (kind FELLING), down to 3 in thick, above
 * a stump of 6 in. FALSE with INVALID and a sentence that says which field is missing, or the
 * words of bed_tree_yield_new(). */
gboolean bed_woodland_bolts_read (BedFarm *farm, BedRecord *felling, BedWoodlandBolts *bolts,
                                  GError **error);

typedef enum
{
  BED_WOODLAND_NO_THINNING, /* no basal area to leave, or it is not below the stand's */
  BED_WOODLAND_THINNING,
} BedWoodlandPlan;

typedef struct
{
  BedStandState state; /* percent stocking is of upland oak and hickory */
  double trees_ha;
  BedWoodlandPlan plan;
  BedThinning thinning; /* per hectare */
  double take_trees;    /* of the whole stand */
} BedWoodlandStand;

/* FALSE with INVALID and what is missing: area, basal area and trees are needed. */
gboolean bed_woodland_stand_read (BedRecord *stand, BedWoodlandStand *found, GError **error);
