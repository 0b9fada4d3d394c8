#pragma once

#include <adwaita.h>

/* bedlog [FILE…] [--demo] [--page NAME] */
#define BED_TYPE_APPLICATION (bed_application_get_type ())
G_DECLARE_FINAL_TYPE (BedApplication, bed_application, BED, APPLICATION, AdwApplication)

BedApplication *bed_application_new (void);
