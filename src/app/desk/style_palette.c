#include "app/desk/style_palette.h"

#include <adwaita.h>

const BedPalette *
bed_style_palette (void)
{
  gboolean dark = adw_style_manager_get_dark (adw_style_manager_get_default ());

  return bed_palette_get (dark ? BED_PALETTE_DARK : BED_PALETTE_LIGHT);
}
