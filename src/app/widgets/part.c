#include "app/widgets/part.h"

#include "app/widgets/build.h"
#include "app/widgets/upright.h"

typedef struct
{
  BedFarm *farm;
  GtkWidget *child;
} BedPartPrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (BedPart, bed_part, GTK_TYPE_WIDGET)

static BedPartPrivate *
get_private (gpointer self)
{
  return bed_part_get_instance_private (self);
}

static void
bed_part_dispose (GObject *object)
{
  g_clear_pointer (&get_private (object)->child, gtk_widget_unparent);
  G_OBJECT_CLASS (bed_part_parent_class)->dispose (object);
}

static void
bed_part_finalize (GObject *object)
{
  g_clear_object (&get_private (object)->farm);
  G_OBJECT_CLASS (bed_part_parent_class)->finalize (object);
}

/* Shift+Tab out of one that has grab_focus() of its own: GTK would ask it to take the keyboard
 * instead, and it would never be left. */
static gboolean
bed_part_focus (GtkWidget *widget, GtkDirectionType direction)
{
  GtkWidget *child = get_private (widget)->child;

  if (child && !gtk_widget_get_focusable (widget))
    return gtk_widget_child_focus (child, direction);
  return GTK_WIDGET_CLASS (bed_part_parent_class)->focus (widget, direction);
}

static void
bed_part_class_init (BedPartClass *klass)
{
  GTK_WIDGET_CLASS (klass)->focus = bed_part_focus;
  G_OBJECT_CLASS (klass)->dispose = bed_part_dispose;
  G_OBJECT_CLASS (klass)->finalize = bed_part_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), BED_TYPE_UPRIGHT_LAYOUT);
}

static void
bed_part_init (BedPart *self)
{
}

BedFarm *
bed_part_hold (BedPart *self, BedFarm *farm)
{
  return get_private (self)->farm = g_object_ref (farm);
}

void
bed_part_set_child (BedPart *self, GtkWidget *child)
{
  gtk_widget_set_parent (child, GTK_WIDGET (self));
  get_private (self)->child = child;
}

/* --- a plain one ------------------------------------------------------------------- */

#define BED_TYPE_PLAIN_PART (bed_plain_part_get_type ())
G_DECLARE_FINAL_TYPE (BedPlainPart, bed_plain_part, BED, PLAIN_PART, BedPart)

struct _BedPlainPart
{
  BedPart parent_instance;
};

BED_DEFINE_PLAIN_TYPE (BedPlainPart, bed_plain_part, BED_TYPE_PART)

GtkWidget *
bed_part_new (GtkWidget *child)
{
  BedPart *self = g_object_new (BED_TYPE_PLAIN_PART, NULL);

  bed_part_set_child (self, child);
  return GTK_WIDGET (self);
}
