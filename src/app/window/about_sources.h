#pragma once

#include <glib.h>

/* Whose published numbers the program reckons by: author, title, year of each, once, as
 * docs/sources.md has them. */
GStrv bed_about_dup_sources (void);
