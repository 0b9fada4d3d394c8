#include "app/widgets/drop_down.h"

#include "app/widgets/build.h"

/* GTK 4.8 gives the keyboard to a button in it, which has neither name nor value of its own. */
static GtkWidget *
get_button (GtkDropDown *drop)
{
  return gtk_widget_get_first_child (GTK_WIDGET (drop));
}

static void
say_chosen_cb (GtkDropDown *drop)
{
  gpointer chosen = gtk_drop_down_get_selected_item (drop);
  const char *word = GTK_IS_STRING_OBJECT (chosen) ? gtk_string_object_get_string (chosen) : NULL;

  gtk_accessible_update_property (GTK_ACCESSIBLE (drop), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT,
                                  word ? word : "", -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (get_button (drop)),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, word ? word : "", -1);
}

void
bed_drop_down_set_name (GtkDropDown *drop, const char *name)
{
  bed_named (get_button (drop), name);
}

void
bed_drop_down_let_search (GtkDropDown *drop)
{
  GtkExpression *text = gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string");

  gtk_drop_down_set_expression (drop, text);
  gtk_drop_down_set_enable_search (drop, TRUE);
  gtk_expression_unref (text);
}

GtkWidget *
bed_drop_down_new (GtkStringList *words, const char *name)
{
  GtkWidget *drop = gtk_drop_down_new (words ? G_LIST_MODEL (words) : NULL, NULL);

  /* GTK 4.18 takes what is chosen for its name, too. */
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (drop), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
  if (name)
    {
      bed_named (drop, name);
      bed_drop_down_set_name (GTK_DROP_DOWN (drop), name);
    }
  g_signal_connect (drop, "notify::selected-item", G_CALLBACK (say_chosen_cb), NULL);
  say_chosen_cb (GTK_DROP_DOWN (drop));
  return drop;
}
