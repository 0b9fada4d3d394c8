#include "app/desk/recall_button.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "model/season/recall.h"

GtkWidget *
bed_recall_button_new (BedKind kind, gint64 id)
{
  if (!bed_recall_is_of (kind))
    return NULL;
  GtkWidget *button = bed_action_button_new (_ ("Recall…"), "win.recall");

  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "(ix)", (gint32) kind, id);
  gtk_widget_set_tooltip_text (button, _ ("Who has what came of it, and where it came from"));
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  return button;
}
