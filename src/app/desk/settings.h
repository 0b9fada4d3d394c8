#pragma once

#include <gio/gio.h>

/* What this desk remembers (not the farm). Without an installed schema, as when run from the build
 * folder, nothing is remembered. */

/* The farms that were open, aa{sv}: see recent.h, which reads them. NULL when nothing is
 * remembered. Setting takes a floating one. */
GVariant *bed_settings_dup_farms (void);
void bed_settings_set_farms (GVariant *farms);

/* What the colours of the yard said last, a bed_colour_by_key(); NULL or empty: nothing yet. */
char *bed_settings_dup_yard_colours (void);
void bed_settings_set_yard_colours (const char *key);

/* The sheet last printed on (see print/sheet.h) with labels of that use, "tags"; NULL: none yet. */
char *bed_settings_dup_sheet (const char *use);
void bed_settings_set_sheet (const char *use, const char *key);
/* Keeps it, and what the printer needs on it, mm to the right and down. */
void bed_settings_set_offsets (const char *key, double right, double down);
/* The first label of the sheet that is still free, from 1; 1 for a sheet not printed on yet. */
guint bed_settings_get_start (const char *key);
void bed_settings_set_start (const char *key, guint start);
/* 0 and 0 for a sheet not printed on yet. */
void bed_settings_get_offsets (const char *key, double *right, double *down);
