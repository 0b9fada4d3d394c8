#include "science/language.h"

#include <glib/gi18n-lib.h>
#include <locale.h>

void
bed_language_begin (const char *folder)
{
  const char *own = g_getenv ("BEDLOG_LOCALEDIR");

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, own ? own : folder);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}

const char *
bed_comma (void)
{
  /* Translators: between the names of a list. */
  return C_ ("list", ", ");
}

const char *
bed_semicolon (void)
{
  /* Translators: between the parts of a list that have commas themselves. */
  return C_ ("list", "; ");
}

char *
bed_dup_labelled (const char *label, const char *value)
{
  /* Translators: what something is and how much or which it is. */
  return g_strdup_printf (C_ ("label and value", "%s: %s"), label, value);
}
