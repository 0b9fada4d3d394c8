#include "app/desk/page_parts.h"
#include "app/widgets/compat.h"
#include "app/widgets/plot.h"

#include <adwaita.h>

#define READING_WIDTH 1100

GtkWidget *
bed_section_new (const char *heading, GtkWidget *content)
{
  return bed_column_new (6, bed_words_new (heading, "heading"), content, NULL);
}

static void
widen (gpointer clamp)
{
  int width = bed_plot_to_px (clamp, READING_WIDTH);

  adw_clamp_set_maximum_size (clamp, width);
  adw_clamp_set_tightening_threshold (clamp, width);
}

GtkWidget *
bed_reading_new (const char *name, GtkWidget *content)
{
  GtkWidget *scrolled;
  GtkWidget *clamp = adw_clamp_new ();

  widen (clamp);
  bed_letters_follow (clamp, widen);
  adw_clamp_set_child (ADW_CLAMP (clamp), content);
  gtk_widget_add_css_class (content, "page");
  scrolled = bed_named (bed_scrolled_new (clamp), name);
  gtk_widget_set_vexpand (scrolled, TRUE);
  return scrolled;
}
