#pragma once

#include "model/farm/kind.h"
#include <glib.h>

/* The farms this desk had open, newest first, and where somebody was in each. It is the desk's
 * memory, not the farm's: the file says nothing of it, and a copy at another desk begins anew. */
typedef struct
{
  char *path; /* absolute */
  char *name; /* of the farm, when it was last seen */
  char *page; /* see bed_window_show_page() */
  char *part; /* under that page's switch; NULL: it has none */
  BedKind kind;
  gint64 record;     /* chosen there, of @kind; 0: none */
  int width, height; /* px of its window; 0: never closed yet */
  gboolean maximized;
} BedRecentFarm;

void bed_recent_farm_free (BedRecentFarm *farm);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BedRecentFarm, bed_recent_farm_free)

/* BedRecentFarm; those whose file is not there now are left out, and come back with it. */
GPtrArray *bed_recent_list (void);

/* NULL: it is not remembered. */
BedRecentFarm *bed_recent_find (const char *path);

/* To the front, in the place of what was remembered of it. */
void bed_recent_keep (const BedRecentFarm *farm);
void bed_recent_forget (const char *path);
void bed_recent_clear (void);

/* "~/farms/ridge.bedlog": short enough to tell a file by. */
char *bed_recent_dup_words (const char *path);
