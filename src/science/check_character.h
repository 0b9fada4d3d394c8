#pragma once

#include <glib.h>

/* The letter or figure at the end of every code people read.
 *
 * ISO 7064 MOD 37,36 (ISO/IEC 7064:2003): characters 0-9 and A-Z, one check
 * character of the same alphabet; finds every single wrong character and
 * every swap of neighbours but the pairs the standard names.
 */

/* The check character of @code, or 0 when @code holds no character of the
 * alphabet. Hyphens and spaces are passed over; small letters count as large.
 * Any other character gives 0. */
char bed_check_character (const char *code);

/* Whether the last character of @code is the check character of the rest. */
gboolean bed_check_character_valid (const char *code);
