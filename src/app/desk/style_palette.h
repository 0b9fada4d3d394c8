#pragma once

#include "print/yard/yard_palette.h"

/* The colours of the yard for the style in use, light or dark, as libadwaita has it now. Static. */
const BedPalette *bed_style_palette (void);
