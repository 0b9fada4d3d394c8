#include "science/moisture.h"

#include "science/argument.h"

static gboolean
check (double pct, BedBasis basis, GError **error)
{
  return bed_argument_between ("basis", basis, BED_BASIS_WET, BED_BASIS_DRY, error)
         && bed_argument_between ("moisture (%)", pct, 0, basis == BED_BASIS_WET ? 99 : 400, error);
}

/* Water per unit of dry mass. */
static double
ratio (double pct, BedBasis basis)
{
  return basis == BED_BASIS_WET ? pct / (100 - pct) : pct / 100;
}

static void
set (BedMoisture *moisture, double water, double dry)
{
  moisture->wet_pct = 100 * water / (water + dry);
  moisture->dry_pct = 100 * water / dry;
}

gboolean
bed_moisture_convert (double pct, BedBasis basis, BedMoisture *moisture, GError **error)
{
  g_return_val_if_fail (moisture != NULL, FALSE);
  if (!check (pct, basis, error))
    return FALSE;
  set (moisture, ratio (pct, basis), 1);
  return TRUE;
}

gboolean
bed_moisture_from_mass (double mass, double dry_mass, BedMoisture *moisture, GError **error)
{
  g_return_val_if_fail (moisture != NULL, FALSE);
  if (!bed_argument_positive ("dry mass (kg)", dry_mass, error)
      || !bed_argument_between ("mass (kg)", mass, dry_mass, 1e6, error))
    return FALSE;
  set (moisture, mass - dry_mass, dry_mass);
  return TRUE;
}

gboolean
bed_moisture_dry_mass (double mass, double pct, BedBasis basis, double *dry_mass, GError **error)
{
  g_return_val_if_fail (dry_mass != NULL, FALSE);
  if (!bed_argument_between ("mass (kg)", mass, 0, 1e6, error) || !check (pct, basis, error))
    return FALSE;
  *dry_mass = mass / (1 + ratio (pct, basis));
  return TRUE;
}

gboolean
bed_moisture_mass_at (double dry_mass, double pct, BedBasis basis, double *mass, GError **error)
{
  g_return_val_if_fail (mass != NULL, FALSE);
  if (!bed_argument_between ("dry mass (kg)", dry_mass, 0, 1e6, error)
      || !check (pct, basis, error))
    return FALSE;
  *mass = dry_mass * (1 + ratio (pct, basis));
  return TRUE;
}

gboolean
bed_moisture_from_disc (double disc_fresh, double disc_dry, double log_mass, double *dry_mass,
                        GError **error)
{
  g_return_val_if_fail (dry_mass != NULL, FALSE);
  if (!bed_argument_positive ("dry disc (kg)", disc_dry, error)
      || !bed_argument_between ("fresh disc (kg)", disc_fresh, disc_dry, 1e6, error)
      || !bed_argument_between ("log mass (kg)", log_mass, 0, 1e6, error))
    return FALSE;
  *dry_mass = log_mass * disc_dry / disc_fresh;
  return TRUE;
}
