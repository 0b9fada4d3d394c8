#pragma once

#include <glib.h>

/* Where a sheet comes from: a file, or what was copied in another program. */
typedef struct
{
  const char *path; /* or NULL: */
  GBytes *bytes;
  const char *name; /* for people */
  guint64 kinds;    /* as bed_notebook_expect(); 0: any */
  const char *back; /* the page to be on when it is in; NULL: it stays */
} BedImportSource;
