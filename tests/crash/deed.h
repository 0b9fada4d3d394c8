#pragma once

#include "model/farm/farm.h"

/* What a crash is made to cut in two: a farm in a folder of its own, and steps done to it. */
typedef struct
{
  char *folder;  /* absolute, without links in it */
  char *path;    /* of the farm file in it */
  BedFarm *farm; /* NULL when a step opens or makes it */
} Site;

typedef struct
{
  const char *name;
  guint n_steps;
  void (*prepare) (Site *site); /* leaves the farm closed */
  gboolean closed;              /* the first step makes or opens the farm itself */
  gboolean (*step) (Site *site, guint step, GError **error);
  /* How many copies of the farm lie in its folder for sure after so many steps. */
  guint (*copies) (guint steps);
} Deed;

extern const Deed deeds[];
const Deed *deed_find (const char *name);
guint deed_count (void);

/* A new folder, where disks are fast if there is such a place; @name may be NULL. */
char *site_new_folder (void);
void site_remove_folder (const char *folder);

/* @folder is made when missing; the farm is opened with the clock fixed. */
Site *site_new (const char *folder);
void site_open (Site *site);
void site_free (Site *site);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Site, site_free)

/* The farm of the deed, made once; its folder. */
Site *deed_begin (const Deed *deed, const char *folder);

/* Every row of every table with the history, as a digest; NULL with an error. */
char *farm_digest (BedFarm *farm, GError **error);
