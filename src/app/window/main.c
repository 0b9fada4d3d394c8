#include <locale.h>

#include <glib/gi18n.h>

#include "app/window/application.h"

int
main (int argc, char **argv)
{
  g_autoptr (BedApplication) application = NULL;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, BED_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);

  application = bed_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
