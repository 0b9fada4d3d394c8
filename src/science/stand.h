#pragma once

#include <glib.h>

/* Stand arithmetic. Basal area m2 per ha at breast height, trees per ha. Formulas
 * as printed by D. R. Larsen, Forest Functions, University of Missouri. */

typedef struct
{
  double basal_area; /* m2/ha, 0.1 to 200 */
  double trees;      /* per ha, 1 to 100000 */
} BedStand;

typedef struct
{
  double qmd_cm;       /* quadratic mean diameter: that of the tree of mean basal area */
  double sdi;          /* stand density index, L. H. Reineke (1933): trees of 25.4 cm */
  double stocking_pct; /* upland oak-hickory; S. F. Gingrich, Forest Science 13 (1967) 38-53 */
} BedStandState;

/* Percent stocking is Gingrich's for upland central hardwoods; of another forest it
 * is only an indication. Mean diameter taken as -0.259 + 0.973 QMD, inches. */
gboolean bed_stand_state (const BedStand *stand, BedStandState *state, GError **error);

typedef struct
{
  double remove_basal_area; /* m2/ha */
  double remove_trees;      /* per ha, when those taken are of the stand's mean size */
  double share_pct;         /* of the basal area */
  BedStandState after;
} BedThinning;

/* What a thinning to @residual m2/ha takes, trees of all sizes alike. Residual at or
 * above the stand: nothing. Felling is licensed, skilled work: local rules first. */
gboolean bed_stand_thin (const BedStand *stand, double residual, BedThinning *thinning,
                         GError **error);
