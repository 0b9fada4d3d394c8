/* What copies are called, and how a name is read again. */
#include "model/farm/backup_private.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#include "model/farm/say.h"
#include "model/farm/value.h"

#define SUFFIX ".bedlog"
#define FOLDER " backups"

char *
bed_backup_dup_stem (const char *path)
{
  char *stem = g_path_get_basename (path);

  if (g_str_has_suffix (stem, SUFFIX))
    stem[strlen (stem) - strlen (SUFFIX)] = '\0';
  return stem;
}

char *
bed_backup_dup_folder_in (const char *place, const char *path)
{
  g_autofree char *stem = bed_backup_dup_stem (path);
  g_autofree char *name = g_strconcat (stem, FOLDER, NULL);

  return g_build_filename (place, name, NULL);
}

/* "2026-05-18", "2026-05-18 14-30", "2026-05-18 14-30b", "schema 1", "schema 1b". */
static gboolean
read_label (const char *label, char **made)
{
  g_autoptr (GRegex) regex = g_regex_new (
      "^(?:schema \\d+|(\\d{4}-\\d{2}-\\d{2})(?: ([01]\\d|2[0-3])-([0-5]\\d))?)[b-z]*$",
      G_REGEX_RAW | G_REGEX_DOLLAR_ENDONLY, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL;

  if (!g_regex_match (regex, label, 0, &match))
    return FALSE;
  g_autofree char *date = g_match_info_fetch (match, 1);
  g_autofree char *hour = g_match_info_fetch (match, 2);
  g_autofree char *minute = g_match_info_fetch (match, 3);
  if (hour && *hour)
    *made = g_strdup_printf ("%sT%s:%s", date, hour, minute);
  else if (date && *date)
    *made = g_steal_pointer (&date);
  return TRUE;
}

gboolean
bed_backup_read_name (const char *name, const char *stem, char **made)
{
  gsize length = strlen (stem);

  *made = NULL;
  if (!g_str_has_prefix (name, stem) || name[length] != ' ' || !g_str_has_suffix (name, SUFFIX)
      || strlen (name) <= length + 1 + strlen (SUFFIX))
    return FALSE;
  g_autofree char *label
      = g_strndup (name + length + 1, strlen (name) - length - 1 - strlen (SUFFIX));
  return read_label (label, made);
}

/* A letter sorts behind the dot of the first one's name: b, c … z, zb, zc … */
char *
bed_backup_free_name (const char *folder, const char *stem, const char *label)
{
  g_autoptr (GString) letters = g_string_new (NULL);

  for (;;)
    {
      g_autofree char *name = g_strdup_printf ("%s %s%s" SUFFIX, stem, label, letters->str);
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (!g_file_test (path, G_FILE_TEST_EXISTS) && !g_file_test (path, G_FILE_TEST_IS_SYMLINK))
        return g_steal_pointer (&path);
      if (letters->len == 0 || letters->str[letters->len - 1] == 'z')
        g_string_append_c (letters, 'b');
      else
        letters->str[letters->len - 1]++;
    }
}

char *
bed_backup_dup_label (const char *moment)
{
  char *label = g_strdup (moment);

  g_strdelimit (label, "T", ' ');
  return g_strdelimit (label, ":", '-');
}

/* The stem when @path lies in a folder of copies and bears the name of one. */
static char *
stem_of_copy (const char *path, char **made)
{
  g_autofree char *whole = realpath (path, NULL);
  g_autofree char *parent = whole ? g_path_get_dirname (whole) : NULL;
  g_autofree char *folder = parent ? g_path_get_basename (parent) : NULL;
  g_autofree char *name = whole ? g_path_get_basename (whole) : NULL;

  *made = NULL;
  if (!folder || !name || !g_str_has_suffix (folder, FOLDER))
    return NULL;
  folder[strlen (folder) - strlen (FOLDER)] = '\0';
  return bed_backup_read_name (name, folder, made) ? g_steal_pointer (&folder) : NULL;
}

char *
bed_backup_dup_words (const BedBackup *copy)
{
  g_return_val_if_fail (copy != NULL, NULL);

  if (copy->made)
    return bed_date_format_moment (copy->made);
  return bed_say (_ ("before version %d of the tables"), copy->version + 1);
}

char *
bed_backup_dup_last (const BedBackup *copy)
{
  g_return_val_if_fail (copy != NULL, NULL);

  if (!copy->sentence)
    return g_strdup (_ ("no change yet"));
  return copy->undo ? g_strdup_printf (_ ("Undone: %s"), copy->sentence)
                    : g_strdup (copy->sentence);
}

char *
bed_backup_dup_why (const char *path)
{
  g_return_val_if_fail (path != NULL, NULL);
  g_autofree char *made = NULL;
  g_autofree char *stem = stem_of_copy (path, &made);

  if (!stem)
    return NULL;
  if (!made)
    return g_strdup (_ ("This is a copy of the farm, made before a newer Bedlog opened it. It is "
                        "open for reading; restore it to go on from it."));
  g_autofree char *words = bed_date_format_moment (made);
  return g_strdup_printf (_ ("This is a copy of the farm, made on %s. It is open for reading; "
                             "restore it to go on from it."),
                          words);
}
