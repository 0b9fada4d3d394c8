#pragma once

#include <glib.h>

#include "science/wood.h"

/* What a standing tree gives in bolts. National-scale volume equations, J. A.
 * Westfall et al., USDA Forest Service GTR-WO-104 (2024), tables S1 (wood), S2
 * (bark), S4 (taper over bark), without ecodivision. Taper in small oaks runs up to
 * 8 % thick at the butt. Felling is dangerous, licensed work: local rules first. */

typedef struct
{
  double dbh;    /* diameter over bark at 1.37 m, mm; 25 to 1500 */
  double height; /* total, mm; 2000 to 60000 */
  double stump;  /* left in the ground, mm */
  double bolt;   /* length of one, mm */
  double top;    /* smallest diameter over bark that is wanted, mm */
} BedTree;

typedef struct
{
  double large_diameter; /* over bark, mm */
  double small_diameter;
} BedTreeBolt;

/* Whose equation a wood is reckoned by. A wood of which only the density is known is taken as
 * mixed hardwood, as GTR-WO-104 takes species without coefficients of their own (example 2,
 * tanoak). */
typedef enum
{
  BED_TREE_BY_SPECIES,
  BED_TREE_BY_GROUP,
  BED_TREE_AS_MIXED_HARDWOOD,
} BedTreeEquation;

typedef struct
{
  BedTreeEquation by;
  double wood_l; /* of the whole stem, litres */
  double bark_l;
  double top_height; /* at which the stem is top thick, mm; 0 when it nowhere is */
  double bolts_l;    /* over bark, of the bolts alone */
  GArray *bolts;     /* BedTreeBolt, from the butt */
} BedTreeYield;

/* The bolts of @tree of @wood; NULL and an error naming the argument, or
 * BED_SCIENCE_ERROR_NO_ANSWER when the wood is in no list and its density is not known, which
 * the sentence asks for. Free with bed_tree_yield_free(). */
BedTreeYield *bed_tree_yield_new (const BedWood *wood, const BedTree *tree, GError **error);

/* The number of bolts by a second rule, to set beside the first: the height up to @top as a
 * share of the measured height, h = 4.5 + (H - 4.5) (1.00001 - T/D)^b5 feet and inches, A.
 * R. Ek, E. T. Birdsall, R. J. Spears, USDA Forest Service NC-RN-309 (1984), coefficients
 * as coded in the Forest Vegetation Simulator (tree height scaled to the measured one, so
 * that site and stand fall out). Errors as above. */
gboolean bed_tree_second_rule (const BedWood *wood, const BedTree *tree, guint *bolts,
                               GError **error);

void bed_tree_yield_free (BedTreeYield *yield);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedTreeYield, bed_tree_yield_free)
