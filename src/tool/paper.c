#include "tool/paper.h"

#include <glib/gi18n-lib.h>

#include "science/argument.h"
#include "science/units.h"

static int
write_pages (BedDocument *pages, const char *path, const char *now)
{
  g_autoptr (GError) error = NULL;

  if (bed_document_write (pages, path, now, &error))
    {
      g_autofree char *note = bed_document_dup_note (pages);
      if (note)
        g_printerr ("%s\n", note);
      return BED_EXIT_OK;
    }
  if (g_error_matches (error, BED_PRINT_ERROR, BED_PRINT_ERROR_FILE))
    return bed_tool_misused ("%s", error->message);
  return bed_tool_fail_paper (g_steal_pointer (&error));
}

/* Public */

int
bed_tool_fail_paper (GError *error)
{
  gboolean drawing = g_error_matches (error, BED_PRINT_ERROR, BED_PRINT_ERROR_DRAW);
  gboolean wrong = (error->domain == BED_PRINT_ERROR && !drawing)
                   || error->domain == BED_SCIENCE_ERROR || error->domain == BED_UNITS_ERROR
                   || g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_NOT_FOUND);

  if (!wrong)
    return bed_tool_fail (error);
  g_printerr ("%s\n", error->message);
  g_error_free (error);
  return BED_EXIT_WRONG;
}

gboolean
bed_tool_find_paper (const char *name, const BedNotation *notation, BedPaper *paper, GError **error)
{
  if (name && g_ascii_strcasecmp (name, "a4") && g_ascii_strcasecmp (name, "letter"))
    {
      g_set_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET,
                   _ ("There is no paper “%s” here; choose a4 or letter."), name);
      return FALSE;
    }
  if (name)
    *paper = g_ascii_strcasecmp (name, "letter") ? bed_paper_a4 : bed_paper_letter;
  else
    *paper = bed_paper_usual (notation->system);
  return TRUE;
}

gboolean
bed_tool_read_mm (const char *text, const BedNotation *notation, double *mm, GError **error)
{
  gint64 micrometres;

  if (!bed_measure_parse (BED_MEASURE_LENGTH_FINE, notation, text, &micrometres, error))
    return FALSE;
  *mm = micrometres / 1000.0;
  return TRUE;
}

int
bed_tool_write_pages (BedDocument *document, const char *path, const char *now)
{
  g_autoptr (BedDocument) pages = document;
  g_autoptr (GError) error = NULL;
  BedToolOutput to;

  if (!bed_tool_begin_output (&to, path, "pages.pdf", &error))
    return bed_tool_fail (g_steal_pointer (&error));
  return bed_tool_end_output (&to, write_pages (pages, to.path, now));
}
