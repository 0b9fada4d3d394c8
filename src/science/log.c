#include "science/log.h"

#include <math.h>

#include "science/argument.h"

static double
area (double diameter)
{
  return G_PI / 4 * diameter * diameter;
}

gboolean
bed_log_volume (const BedLogSize *size, double *litres, GError **error)
{
  g_return_val_if_fail (size != NULL && litres != NULL, FALSE);
  if (!bed_argument_between ("large diameter (mm)", size->large_diameter, 1, 5000, error)
      || !bed_argument_between ("small diameter (mm)", size->small_diameter, 0,
                                size->large_diameter, error)
      || !bed_argument_between ("length (mm)", size->length, 1, 100000, error))
    return FALSE;
  double large = area (size->large_diameter), small = area (size->small_diameter);

  *litres = (large + small + sqrt (large * small)) / 3 * size->length / 1e6;
  return TRUE;
}

BedWoodNumbers
bed_wood_numbers_complete (const BedWoodNumbers *known)
{
  BedWoodNumbers wood = *known;

  if (isnan (wood.moisture_pct))
    wood.moisture_pct = 80;
  if (isnan (wood.bark_pct))
    wood.bark_pct = 0;
  if (isnan (wood.bark_density))
    wood.bark_density = wood.basic_density;
  if (isnan (wood.bark_moisture_pct))
    wood.bark_moisture_pct = wood.moisture_pct;
  return wood;
}

gboolean
bed_log_mass (const BedWoodNumbers *wood, double volume_l, BedLogMass *mass, GError **error)
{
  g_return_val_if_fail (wood != NULL && mass != NULL, FALSE);
  if (!bed_argument_between ("volume", volume_l, 0, 1e9, error)
      || !bed_argument_between ("basic density", wood->basic_density, 0.05, 1.5, error)
      || !bed_argument_between ("moisture", wood->moisture_pct, 0, 400, error)
      || !bed_argument_between ("bark share", wood->bark_pct, 0, 100, error)
      || !bed_argument_between ("bark density", wood->bark_density, 0, 1.5, error)
      || !bed_argument_between ("bark moisture", wood->bark_moisture_pct, 0, 400, error))
    return FALSE;
  *mass = (BedLogMass){ .volume_l = volume_l };
  mass->wood_l = volume_l / (1 + wood->bark_pct / 100);
  mass->bark_l = volume_l - mass->wood_l;
  mass->wood_dry_kg = mass->wood_l * wood->basic_density;
  mass->bark_dry_kg = mass->bark_l * wood->bark_density;
  mass->dry_kg = mass->wood_dry_kg + mass->bark_dry_kg;
  mass->green_kg = mass->wood_dry_kg * (1 + wood->moisture_pct / 100)
                   + mass->bark_dry_kg * (1 + wood->bark_moisture_pct / 100);
  return TRUE;
}
