#include "app/yard/yard_pages.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/yard/yard_overview.h"

struct _BedYardPages
{
  BedPart parent_instance;
  BedFarm *farm;
  const BedScene *scene;
  BedColourBy colour_by;
  GHashTable *looks;   /* see bed_yard_pages_set_looks() */
  GtkWidget *stack;    /* "none", "plan", "arrange" */
  GtkWidget *overview; /* GtkBox, filled anew */
  GtkWidget *buttons;
  GtkWidget *plan;
  GtkWidget *arrange;
  gboolean planning; /* since the plan was opened, until it is left for today */
};

BED_DEFINE_TYPE (BedYardPages, bed_yard_pages, BED_TYPE_PART)

static gboolean
is_on (BedYardPages *self, const char *page)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), page) == 0;
}

static void
show_overview (BedYardPages *self)
{
  bed_box_clear (self->overview);
  if (self->scene && is_on (self, "none"))
    gtk_box_append (GTK_BOX (self->overview),
                    bed_yard_overview_new (self->scene, self->colour_by, self->looks, self->farm));
}

/* What is not seen is not reckoned. */
static void
show_page (BedYardPages *self)
{
  gboolean arrange = is_on (self, "arrange"), plan = is_on (self, "plan");
  g_autoptr (GError) error = NULL;

  show_overview (self);
  bed_yard_arrange_set_day (BED_YARD_ARRANGE (self->arrange), bed_yard_pages_get_day (self));
  if (!bed_yard_arrange_show (BED_YARD_ARRANGE (self->arrange), arrange ? self->scene : NULL,
                              &error)
      || (plan && self->scene && !bed_yard_plan_show (BED_YARD_PLAN (self->plan), &error)))
    bed_host_say_error (GTK_WIDGET (self), error);
}

static void
day_cb (BedYardPages *self)
{
  g_signal_emit_by_name (self, "plan");
}

static void
page_cb (GtkWidget *widget, const char *action, GVariant *name)
{
  BedYardPages *self = BED_YARD_PAGES (widget);

  const char *page = g_variant_get_string (name, NULL);
  gboolean was = self->planning;

  /* From the form one comes back to where it was opened. */
  if (g_strcmp0 (page, "back") == 0)
    page = was ? "plan" : "none";
  self->planning = g_strcmp0 (page, "plan") == 0 || (was && g_strcmp0 (page, "arrange") == 0);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page);
  if (self->planning != was)
    day_cb (self);
  else
    show_page (self);
  gtk_widget_child_focus (gtk_stack_get_visible_child (GTK_STACK (self->stack)),
                          GTK_DIR_TAB_FORWARD);
}

static void
bed_yard_pages_dispose (GObject *object)
{
  g_clear_pointer (&BED_YARD_PAGES (object)->looks, g_hash_table_unref);
  G_OBJECT_CLASS (bed_yard_pages_parent_class)->dispose (object);
}

static void
bed_yard_pages_class_init (BedYardPagesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_yard_pages_dispose;
  bed_signal_new (BED_TYPE_YARD_PAGES, "plan", 0);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "yard.page", "s", page_cb);
}

static GtkWidget *
page_button_new (const char *label, const char *page)
{
  GtkWidget *button = bed_action_button_new (label, "yard.page");

  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "s", page);
  return button;
}

GtkWidget *
bed_yard_pages_new (BedFarm *farm)
{
  BedYardPages *self = g_object_new (BED_TYPE_YARD_PAGES, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->overview = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  self->buttons = bed_column_new (6, page_button_new (_ ("Arrange for me…"), "arrange"),
                                  page_button_new (_ ("Plan another day…"), "plan"), NULL);
  self->plan = bed_yard_plan_new (farm);
  g_signal_connect_object (self->plan, "day", G_CALLBACK (day_cb), self, G_CONNECT_SWAPPED);
  self->arrange = bed_yard_arrange_new (farm);
  self->stack = gtk_stack_new ();
  gtk_stack_set_hhomogeneous (GTK_STACK (self->stack), FALSE); /* the map keeps its half */
  GtkWidget *scroller = bed_scrolled_new (self->overview);
  gtk_widget_set_vexpand (scroller, TRUE);
  gtk_stack_add_named (GTK_STACK (self->stack), bed_column_new (9, scroller, self->buttons, NULL),
                       "none");
  gtk_stack_add_named (GTK_STACK (self->stack), self->plan, "plan");
  gtk_stack_add_named (GTK_STACK (self->stack), self->arrange, "arrange");
  bed_part_set_child (BED_PART (self), self->stack);
  return GTK_WIDGET (self);
}

void
bed_yard_pages_show (BedYardPages *self, const BedScene *scene, BedYardMode mode,
                     BedColourBy colour_by)
{
  g_return_if_fail (BED_IS_YARD_PAGES (self));
  self->scene = scene;
  self->colour_by = colour_by;
  if (mode == BED_YARD_LOOK)
    {
      self->planning = FALSE;
      gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "none");
    }
  gtk_widget_set_sensitive (self->buttons, mode == BED_YARD_CHANGE);
  show_page (self);
}

void
bed_yard_pages_set_looks (BedYardPages *self, GHashTable *looks)
{
  g_return_if_fail (BED_IS_YARD_PAGES (self));
  if (looks == self->looks)
    return;
  g_clear_pointer (&self->looks, g_hash_table_unref);
  self->looks = looks ? g_hash_table_ref (looks) : NULL;
  show_overview (self);
}

const char *
bed_yard_pages_get_day (BedYardPages *self)
{
  g_return_val_if_fail (BED_IS_YARD_PAGES (self), NULL);
  return self->planning ? bed_yard_plan_get_day (BED_YARD_PLAN (self->plan)) : NULL;
}

BedYardArrange *
bed_yard_pages_get_arrange (BedYardPages *self)
{
  g_return_val_if_fail (BED_IS_YARD_PAGES (self), NULL);
  return BED_YARD_ARRANGE (self->arrange);
}
