#pragma once

#include <glib.h>

/* A sentence with numbers in it for people, on screen and on paper: as g_strdup_printf(), but
 * what %d, %u, %f and their like give is written as the locale writes numbers (habits.h),
 * "12,345.6". Not for what has leading zeros (%02d), nor for what a program reads: keys, SQL,
 * files. Codes and ids come as %s. Free with g_free(). */
char *bed_say (const char *format, ...) G_GNUC_PRINTF (1, 2);
