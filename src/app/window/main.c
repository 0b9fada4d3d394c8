#include "app/window/application.h"
#include "science/language.h"

int
main (int argc, char **argv)
{
  g_autoptr (BedApplication) application = NULL;

  bed_language_begin (BED_LOCALE_DIR);

  application = bed_application_new ();
  return g_application_run (G_APPLICATION (application), argc, argv);
}
