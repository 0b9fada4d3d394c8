#include "app/widgets/caution_line.h"

#include "app/widgets/build.h"

GtkWidget *
bed_caution_line_new (const char *words)
{
  GtkWidget *sign = gtk_image_new_from_icon_name ("dialog-warning-symbolic");
  GtkWidget *label = bed_words_new (NULL, "caption");
  GtkWidget *line = bed_styled (bed_row_new (6, sign, label, NULL), "caution");

  gtk_widget_set_valign (sign, GTK_ALIGN_START);
  gtk_widget_set_hexpand (label, TRUE);
  bed_caution_line_set (line, words);
  return line;
}

void
bed_caution_line_set (GtkWidget *line, const char *words)
{
  gtk_label_set_label (GTK_LABEL (gtk_widget_get_last_child (line)), words ? words : "");
  gtk_widget_set_visible (line, words != NULL);
}
