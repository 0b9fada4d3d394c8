#pragma once

/* What is usual where the user lives, by the locale's own categories and not by its language. Only
 * a guess: forms offer it to be changed. */

/* "US" or "metric", a choice of farm.unit_system; NULL when the locale is of no country. */
const char *bed_locale_get_units (void);

/* Three letters, owned by the caller; NULL when the locale is of no country. */
char *bed_locale_dup_currency (void);
