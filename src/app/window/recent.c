#include "app/window/recent.h"

#include <gio/gio.h>
#include <string.h>

#include "app/desk/settings.h"
#include "model/farm/kinds.h"

#define MOST 10 /* remembered */

static char *
dup_text (GVariant *from, const char *key)
{
  char *text = NULL;

  g_variant_lookup (from, key, "s", &text);
  return text;
}

static BedRecentFarm *
read_farm (GVariant *from)
{
  BedRecentFarm *farm = g_new0 (BedRecentFarm, 1);
  const char *kind = "";

  g_variant_lookup (from, "path", "^ay", &farm->path);
  farm->name = dup_text (from, "name");
  farm->page = dup_text (from, "page");
  farm->part = dup_text (from, "part");
  g_variant_lookup (from, "record", "(&sx)", &kind, &farm->record);
  farm->kind = bed_kind_from_name (kind);
  if (farm->kind == BED_N_KINDS)
    farm->record = 0;
  g_variant_lookup (from, "size", "(ii)", &farm->width, &farm->height);
  g_variant_lookup (from, "maximized", "b", &farm->maximized);
  return farm;
}

static void
put_text (GVariantDict *into, const char *key, const char *text)
{
  if (text)
    g_variant_dict_insert (into, key, "s", text);
}

static GVariant *
write_farm (const BedRecentFarm *farm)
{
  GVariantDict into;

  g_variant_dict_init (&into, NULL);
  g_variant_dict_insert (&into, "path", "^ay", farm->path);
  put_text (&into, "name", farm->name);
  put_text (&into, "page", farm->page);
  put_text (&into, "part", farm->part);
  if (farm->record)
    g_variant_dict_insert (&into, "record", "(sx)", bed_kind_get_info (farm->kind)->name,
                           farm->record);
  g_variant_dict_insert (&into, "size", "(ii)", farm->width, farm->height);
  g_variant_dict_insert (&into, "maximized", "b", farm->maximized);
  return g_variant_dict_end (&into);
}

static GPtrArray *
read_all (void)
{
  GPtrArray *farms = g_ptr_array_new_with_free_func ((GDestroyNotify) bed_recent_farm_free);
  g_autoptr (GVariant) all = bed_settings_dup_farms ();

  for (gsize i = 0; all && i < g_variant_n_children (all); i++)
    {
      g_autoptr (GVariant) child = g_variant_get_child_value (all, i);
      g_autoptr (BedRecentFarm) farm = read_farm (child);

      if (farm->path)
        g_ptr_array_add (farms, g_steal_pointer (&farm));
    }
  return farms;
}

/* All but that of @path, behind @first, which may be NULL. */
static void
write_all (const BedRecentFarm *first, const char *path)
{
  g_autoptr (GPtrArray) farms = read_all ();
  GVariantBuilder all;
  int left = MOST;

  g_variant_builder_init (&all, G_VARIANT_TYPE ("aa{sv}"));
  if (first && left--)
    g_variant_builder_add_value (&all, write_farm (first));
  for (guint i = 0; i < farms->len; i++)
    {
      const BedRecentFarm *farm = farms->pdata[i];

      if (!g_str_equal (farm->path, path) && left-- > 0)
        g_variant_builder_add_value (&all, write_farm (farm));
    }
  bed_settings_set_farms (g_variant_builder_end (&all));
}

/* --- public ----------------------------------------------------------------------- */

void
bed_recent_farm_free (BedRecentFarm *farm)
{
  g_free (farm->path);
  g_free (farm->name);
  g_free (farm->page);
  g_free (farm->part);
  g_free (farm);
}

GPtrArray *
bed_recent_list (void)
{
  GPtrArray *farms = read_all ();

  for (guint i = farms->len; i-- > 0;)
    if (!g_file_test (((BedRecentFarm *) farms->pdata[i])->path, G_FILE_TEST_EXISTS))
      g_ptr_array_remove_index (farms, i);
  return farms;
}

BedRecentFarm *
bed_recent_find (const char *path)
{
  g_autoptr (GPtrArray) farms = read_all ();
  g_autofree char *whole = g_canonicalize_filename (path, NULL);

  for (guint i = 0; i < farms->len; i++)
    if (g_str_equal (((BedRecentFarm *) farms->pdata[i])->path, whole))
      return g_ptr_array_steal_index (farms, i);
  return NULL;
}

void
bed_recent_keep (const BedRecentFarm *farm)
{
  write_all (farm, farm->path);
}

void
bed_recent_forget (const char *path)
{
  write_all (NULL, path);
}

void
bed_recent_clear (void)
{
  bed_settings_set_farms (g_variant_new ("aa{sv}", NULL));
}

char *
bed_recent_dup_words (const char *path)
{
  const char *home = g_get_home_dir ();
  gsize n = strlen (home);
  g_autofree char *words = g_filename_display_name (path);

  /* A root's home may be the root of the disk. */
  if (n > 1 && g_str_has_prefix (words, home) && words[n] == G_DIR_SEPARATOR)
    return g_strconcat ("~", words + n, NULL);
  return g_steal_pointer (&words);
}
