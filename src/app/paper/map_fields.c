#include "app/paper/map_fields.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "print/yard/yard_sheets.h"

typedef struct
{
  GtkWidget *scale;
  GtkWidget *elevations; /* in the order of BED_ELEVATIONS_…, the chosen ones last */
} Fields;

static const BedMapElevations elevations[]
    = { BED_ELEVATIONS_NONE, BED_ELEVATIONS_ALL, BED_ELEVATIONS_CHOSEN };

static Fields *
get_fields (GtkWidget *box)
{
  return g_object_get_data (G_OBJECT (box), "fields");
}

static GtkWidget *
add_drop_down (GtkWidget *box, const char *label, GtkStringList *words)
{
  GtkWidget *drop = bed_drop_down_new (words, label);

  gtk_box_append (GTK_BOX (box), bed_label_new (label, "caption"));
  gtk_box_append (GTK_BOX (box), drop);
  return drop;
}

static GtkStringList *
list_scales (void)
{
  GtkStringList *words = gtk_string_list_new (NULL);

  gtk_string_list_append (words, _ ("To fit one sheet"));
  for (const guint *scale = bed_sheets_scales; *scale; scale++)
    {
      g_autofree char *text = g_strdup_printf ("1:%u", *scale);
      gtk_string_list_append (words, text);
    }
  return words;
}

GtkWidget *
bed_map_fields_new (GCallback changed, gpointer self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  Fields *fields = g_new0 (Fields, 1);
  GtkStringList *words = gtk_string_list_new (NULL);

  gtk_string_list_append (words, _ ("None"));
  gtk_string_list_append (words, _ ("Of every stack"));
  fields->scale = add_drop_down (box, _ ("Scale"), list_scales ());
  fields->elevations = add_drop_down (box, _ ("Elevations"), words);
  g_object_set_data_full (G_OBJECT (box), "fields", fields, g_free);
  g_signal_connect_swapped (fields->scale, "notify::selected", changed, self);
  g_signal_connect_swapped (fields->elevations, "notify::selected", changed, self);
  return box;
}

void
bed_map_fields_set_chosen (GtkWidget *box, guint stacks)
{
  GtkDropDown *drop = GTK_DROP_DOWN (get_fields (box)->elevations);
  GtkStringList *words = GTK_STRING_LIST (gtk_drop_down_get_model (drop));
  guint n = g_list_model_get_n_items (G_LIST_MODEL (words));

  if (stacks > 0 && n < G_N_ELEMENTS (elevations))
    gtk_string_list_append (words, _ ("Of the chosen stacks"));
  else if (stacks == 0 && n == G_N_ELEMENTS (elevations))
    gtk_string_list_remove (words, n - 1);
}

void
bed_map_fields_read (GtkWidget *box, BedPrintChoice *choice)
{
  const Fields *fields = get_fields (box);
  guint scale = gtk_drop_down_get_selected (GTK_DROP_DOWN (fields->scale));
  guint at = gtk_drop_down_get_selected (GTK_DROP_DOWN (fields->elevations));

  choice->scale = scale ? bed_sheets_scales[scale - 1] : 0;
  choice->elevations = elevations[MIN (at, G_N_ELEMENTS (elevations) - 1)];
}
