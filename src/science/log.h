#pragma once

#include <glib.h>

/* Volume and mass of a log. Diameters and lengths mm, volumes litres, masses kg,
 * moisture percent of dry mass. */

typedef struct
{
  double large_diameter;
  double small_diameter;
  double length;
} BedLogSize;

/* Volume of @size as a cone cut off, L/3 (A1 + A2 + sqrt (A1 A2)), litres. D. R. Larsen,
 * Forest Functions, University of Missouri, cubic volume page. */
gboolean bed_log_volume (const BedLogSize *size, double *litres, GError **error);

/* What is known of a wood; data/wood.csv, columns of P. D. Miles, W. B. Smith,
 * USDA Forest Service Research Note NRS-38 (2009). */
typedef struct
{
  double basic_density; /* oven-dry mass by green volume, kg/l */
  double moisture_pct;  /* of green wood, mean, dry basis */
  double bark_density;  /* kg/l */
  double bark_moisture_pct;
  double bark_pct; /* volume of bark in percent of the volume of wood */
} BedWoodNumbers;

/* @known for a mass to be worked out: where its share is not known there is no bark, where no
 * more than its share is, it is as dense and wet as the wood; where nothing of the green moisture,
 * 80 % of dry mass (near the mean of the table's hardwoods). */
BedWoodNumbers bed_wood_numbers_complete (const BedWoodNumbers *known);

typedef struct
{
  double volume_l; /* over bark */
  double wood_l;
  double bark_l;
  double wood_dry_kg;
  double bark_dry_kg;
  double dry_kg;   /* wood and bark */
  double green_kg; /* at the wood's mean green moisture */
} BedLogMass;

/* Mass of @volume_l litres of log over bark. Wood and bark are shared by
 * the species' bark_pct, which is of the wood's volume, not of the whole log. */
gboolean bed_log_mass (const BedWoodNumbers *wood, double volume_l, BedLogMass *mass,
                       GError **error);
