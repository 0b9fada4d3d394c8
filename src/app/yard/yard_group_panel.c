#include "app/yard/yard_group_panel.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "yard/features.h"
#include "yard/handle.h"

#define MOST_COPIES 100
#define USUAL_COPIES 1

struct _BedYardGroupPanel
{
  BedPart parent_instance;
  GtkWidget *name;
  GtkWidget *measures;
  GtkWidget *kind; /* GtkDropDown */
  GtkWidget *kind_row;
  GtkWidget *details;
  GtkWidget *several; /* what takes more than one thing */
  GtkWidget *all;
  GtkWidget *copies;
  gint64 feature; /* the only one chosen, or 0 */
  gboolean showing;
};

G_DEFINE_FINAL_TYPE (BedYardGroupPanel, bed_yard_group_panel, BED_TYPE_PART)

/* --- what is done --------------------------------------------------------------- */

static void
deed_cb (GtkWidget *widget, const char *name, GVariant *which)
{
  const char *signal = strchr (name, '.') + 1;

  g_signal_emit_by_name (widget, signal, g_variant_get_uint32 (which));
}

static guint
read_copies (BedYardGroupPanel *self)
{
  guint64 n = 0;

  if (g_ascii_string_to_unsigned (gtk_editable_get_text (GTK_EDITABLE (self->copies)), 10, 1,
                                  MOST_COPIES, &n, NULL))
    return (guint) n;
  g_autofree char *usual = g_strdup_printf ("%d", USUAL_COPIES);
  gtk_editable_set_text (GTK_EDITABLE (self->copies), usual);
  return USUAL_COPIES;
}

static void
copy_cb (GtkWidget *widget, const char *name, GVariant *side)
{
  BedYardGroupPanel *self = BED_YARD_GROUP_PANEL (widget);

  g_signal_emit_by_name (self, "copy", read_copies (self), g_variant_get_uint32 (side));
}

static void
remove_cb (BedYardGroupPanel *self)
{
  g_signal_emit_by_name (self, "remove");
}

static void
details_cb (BedYardGroupPanel *self)
{
  if (self->feature)
    g_signal_emit_by_name (self, "details", self->feature);
}

static void
kind_cb (BedYardGroupPanel *self)
{
  if (!self->showing && self->feature)
    g_signal_emit_by_name (self, "kind", gtk_drop_down_get_selected (GTK_DROP_DOWN (self->kind)));
}

/* --- what is seen --------------------------------------------------------------- */

typedef struct
{
  const char *label, *name; /* N_(): the name says what the heading over it says, too */
  guint which;
} Deed;

static GtkWidget *
deed_new (const char *action, const Deed *deed)
{
  GtkWidget *button = bed_named (gtk_button_new_with_label (_ (deed->label)), _ (deed->name));
  GtkWidget *label = gtk_button_get_child (GTK_BUTTON (button));

  bed_cut_off (label);
  gtk_widget_set_tooltip_text (button, _ (deed->name));
  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), action);
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "u", deed->which);
  return button;
}

/* Two beside each other. */
static GtkWidget *
deeds_new (const char *action, const Deed *deeds, guint n)
{
  GtkWidget *grid = bed_grid_new (6, 6);

  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  for (guint i = 0; i < n; i++)
    gtk_grid_attach (GTK_GRID (grid), deed_new (action, &deeds[i]), (int) (i % 2), (int) (i / 2), 1,
                     1);
  return grid;
}

static GtkWidget *
make_several (void)
{
  static const Deed align[] = {
    { N_ ("West"), N_ ("West edges"), BED_ALIGN_WEST },
    { N_ ("East"), N_ ("East edges"), BED_ALIGN_EAST },
    { N_ ("South"), N_ ("South edges"), BED_ALIGN_SOUTH },
    { N_ ("North"), N_ ("North edges"), BED_ALIGN_NORTH },
    { N_ ("Across"), N_ ("Middles across"), BED_ALIGN_MIDDLE_Y },
    { N_ ("Up"), N_ ("Middles up"), BED_ALIGN_MIDDLE_X },
  };
  static const Deed along[] = {
    { N_ ("Across"), N_ ("West to east"), BED_ALONG_X },
    { N_ ("Up"), N_ ("South to north"), BED_ALONG_Y },
  };

  return bed_column_new (6, bed_words_new (_ ("Line up"), "heading"),
                         deeds_new ("group.align", align, G_N_ELEMENTS (align)),
                         bed_words_new (_ ("Same gaps"), "heading"),
                         deeds_new ("group.distribute", along, G_N_ELEMENTS (along)), NULL);
}

static GtkWidget *
make_copies (BedYardGroupPanel *self)
{
  static const Deed sides[] = {
    { N_ ("West"), N_ ("To the west"), BED_ALIGN_WEST },
    { N_ ("East"), N_ ("To the east"), BED_ALIGN_EAST },
    { N_ ("South"), N_ ("To the south"), BED_ALIGN_SOUTH },
    { N_ ("North"), N_ ("To the north"), BED_ALIGN_NORTH },
  };

  self->copies = bed_named (gtk_entry_new (), _ ("How many copies"));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->copies), 4);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->copies), 4);
  gtk_editable_set_text (GTK_EDITABLE (self->copies), "1");
  return bed_column_new (6, bed_words_new (_ ("Copies, an aisle apart"), "heading"),
                         bed_row_new (6, self->copies, gtk_label_new (_ ("copies")), NULL),
                         deeds_new ("group.copy", sides, G_N_ELEMENTS (sides)), NULL);
}

static GtkWidget *
make_kinds (BedYardGroupPanel *self)
{
  const BedField *field = bed_kind_find_field (BED_KIND_FEATURE, "kind", NULL);
  GtkStringList *words = gtk_string_list_new (NULL);

  for (guint i = 0; i < BED_N_FEATURE_KINDS; i++)
    gtk_string_list_append (words, bed_field_choice_label (field, bed_feature_kind_key (i)));
  self->kind = bed_drop_down_new (words, _ ("Kind"));
  gtk_widget_set_hexpand (self->kind, TRUE);
  g_signal_connect_object (self->kind, "notify::selected", G_CALLBACK (kind_cb), self,
                           G_CONNECT_SWAPPED);
  self->kind_row = bed_row_new (6, bed_label_new (_ ("Kind"), "dim-label"), self->kind, NULL);
  return self->kind_row;
}

static void
bed_yard_group_panel_class_init (BedYardGroupPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  bed_signal_new (BED_TYPE_YARD_GROUP_PANEL, "align", 1, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_GROUP_PANEL, "distribute", 1, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_GROUP_PANEL, "copy", 2, G_TYPE_UINT, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_GROUP_PANEL, "remove", 0);
  bed_signal_new (BED_TYPE_YARD_GROUP_PANEL, "kind", 1, G_TYPE_UINT);
  bed_signal_new (BED_TYPE_YARD_GROUP_PANEL, "details", 1, G_TYPE_INT64);
  gtk_widget_class_install_action (widget_class, "group.align", "u", deed_cb);
  gtk_widget_class_install_action (widget_class, "group.distribute", "u", deed_cb);
  gtk_widget_class_install_action (widget_class, "group.copy", "u", copy_cb);
}

static void
bed_yard_group_panel_init (BedYardGroupPanel *self)
{
  self->name = bed_words_new (NULL, "title-3");
  self->measures = bed_styled (bed_words_new (NULL, "dim-label"), "numeric");
  self->details = bed_button_new (_ ("Details"), G_CALLBACK (details_cb), self);
  self->several = make_several ();
  self->all = bed_column_new (12, make_kinds (self), self->details, self->several,
                              make_copies (self),
                              bed_button_new (_ ("Take away"), G_CALLBACK (remove_cb), self), NULL);
  bed_part_set_child (BED_PART (self), bed_scrolled_new (bed_column_new (
                                           9, self->name, self->measures, self->all, NULL)));
}

/* --- public --------------------------------------------------------------------- */

GtkWidget *
bed_yard_group_panel_new (void)
{
  return g_object_new (BED_TYPE_YARD_GROUP_PANEL, NULL);
}

/* "3 stacks, 72 logs; 2 on the ground" */
static void
count_things (BedYardGroupPanel *self, const BedYard *yard, const GArray *chosen)
{
  guint stacks = 0, logs = 0;

  for (guint i = 0; i < chosen->len; i++)
    {
      const BedThing *thing = &g_array_index (chosen, BedThing, i);
      const BedYardStack *stack
          = thing->kind == BED_THING_STACK ? bed_yard_find_stack (yard, thing->id, NULL) : NULL;
      stacks += stack != NULL;
      logs += stack ? stack->logs->len : 0;
    }
  g_autofree char *name = bed_say (ngettext ("%u thing", "%u things", chosen->len), chosen->len);
  g_autofree char *said_logs = bed_say (ngettext ("%u log", "%u logs", logs), logs);
  g_autofree char *said_stacks = bed_say (ngettext ("%u stack", "%u stacks", stacks), stacks);
  g_autofree char *measures = g_strdup_printf ("%s · %s", said_stacks, said_logs);
  gtk_label_set_label (GTK_LABEL (self->name), name);
  gtk_label_set_label (GTK_LABEL (self->measures), measures);
}

static void
show_feature (BedYardGroupPanel *self, const BedYardFeature *feature, const BedNotation *notation)
{
  g_autofree char *name = bed_feature_dup_name (feature);
  g_autofree char *size = bed_ground_describe (&feature->ground, notation);

  gtk_label_set_label (GTK_LABEL (self->name), name);
  gtk_label_set_label (GTK_LABEL (self->measures), size);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind), feature->kind);
}

void
bed_yard_group_panel_show (BedYardGroupPanel *self, const BedYard *yard, const GArray *chosen,
                           const BedNotation *notation, BedYardMode mode)
{
  g_return_if_fail (BED_IS_YARD_GROUP_PANEL (self));
  BedThing one = bed_things_get_only (chosen);
  const BedYardFeature *feature
      = one.id && one.kind == BED_THING_FEATURE ? bed_yard_find_feature (yard, one.id, NULL) : NULL;

  self->showing = TRUE;
  self->feature = feature ? feature->id : 0;
  if (feature)
    show_feature (self, feature, notation);
  else
    count_things (self, yard, chosen);
  gtk_widget_set_visible (self->kind_row, feature != NULL);
  gtk_widget_set_visible (self->details, feature != NULL);
  gtk_widget_set_visible (self->several, chosen->len > 1);
  gtk_widget_set_sensitive (self->all, mode == BED_YARD_CHANGE);
  self->showing = FALSE;
}
