#pragma once

#include <glib.h>

/* Water in logs. Masses kg, moisture percent, always with its basis. Definitions:
 * Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), chapter 4. */

typedef enum
{
  BED_BASIS_WET, /* water by all mass: 0 to under 100 */
  BED_BASIS_DRY  /* water by dry mass: may pass 100 */
} BedBasis;

typedef struct
{
  double wet_pct;
  double dry_pct;
} BedMoisture;

/* @pct on @basis, on both. Wet 0 to 99, dry 0 to 400. */
gboolean bed_moisture_convert (double pct, BedBasis basis, BedMoisture *moisture, GError **error);

/* Moisture of a log of @mass that holds @dry_mass of dry matter, today and not when
 * it was felled: a log loses dry matter as the fungus feeds. */
gboolean bed_moisture_from_mass (double mass, double dry_mass, BedMoisture *moisture,
                                 GError **error);

/* Dry mass of a log that weighed @mass at moisture @pct. */
gboolean bed_moisture_dry_mass (double mass, double pct, BedBasis basis, double *dry_mass,
                                GError **error);

/* The mass at which a log of @dry_mass has moisture @pct: the weight to wet it at. */
gboolean bed_moisture_mass_at (double dry_mass, double pct, BedBasis basis, double *mass,
                               GError **error);

/* Dry mass of a log of @log_mass from a disc sawn off it, weighed fresh and again
 * oven-dry (103 to 105 C to constant mass). */
gboolean bed_moisture_from_disc (double disc_fresh, double disc_dry, double log_mass,
                                 double *dry_mass, GError **error);
