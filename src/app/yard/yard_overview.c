#include "app/yard/yard_overview.h"

#include <glib/gi18n.h>

#include "app/desk/page_parts.h"
#include "app/yard/yard_legend.h"
#include "yard/advice.h"

static GtkWidget *
look_new (const BedYardStack *stack, const BedAdvice *advice)
{
  GtkWidget *button = gtk_button_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *name = bed_words_new (stack->name, "heading");

  gtk_label_set_wrap (GTK_LABEL (name), FALSE);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_box_append (GTK_BOX (box), name);
  gtk_box_append (GTK_BOX (box), bed_words_new (advice->sentence, "yard-sentence"));
  gtk_button_set_child (GTK_BUTTON (button), box);
  gtk_widget_add_css_class (button, "flat");
  gtk_widget_set_tooltip_text (button, advice->source);
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "yard.select");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "x", stack->id);
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  stack->name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  advice->sentence, -1);
  return button;
}

/* The first advice of each stack that has one. */
static guint
add_looks (GtkWidget *box, const BedScene *scene, const BedNotation *notation)
{
  guint n = 0;

  for (guint i = 0; i < scene->yard->stacks->len; i++)
    {
      g_autoptr (GPtrArray) all = bed_yard_advice (scene, i, notation);
      if (all->len == 0)
        continue;
      gtk_box_append (GTK_BOX (box), look_new (scene->yard->stacks->pdata[i], all->pdata[0]));
      n++;
    }
  return n;
}

GtkWidget *
bed_yard_overview_new (const BedScene *scene, BedColourBy colour_by, const BedNotation *notation)
{
  gboolean stages = colour_by == BED_COLOUR_BY_STAGE;
  const BedYard *yard = scene->yard;

  GtkWidget *box = bed_column_new (
      12, bed_words_new (stages ? _ ("Stages") : _ ("Batches here"), "heading"),
      bed_yard_legend_new (yard, colour_by), bed_words_new (_ ("Worth a look"), "heading"), NULL);
  if (add_looks (box, scene, notation) > 0)
    return box;
  gtk_box_append (GTK_BOX (box),
                  bed_words_new (yard->stacks->len
                                     ? _ ("Nothing: every stack stands well.")
                                     : _ ("No stack yet. Press a kind at the left, then "
                                          "click where it stands."),
                                 "dim-label"));
  return box;
}
