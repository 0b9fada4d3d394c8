#include "app/desk/page.h"

#include <glib/gi18n.h>

#include "app/host/host.h"
#include "app/host/typing.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/enter.h"
#include "app/widgets/trouble.h"
#include "app/widgets/wrap_layout.h"

typedef struct
{
  BedFarm *farm;
  guint64 stale; /* kinds changed since the last refresh */
  GSignalGroup *farm_signals;
  GtkStack *parts;    /* in the tree of the page, or NULL */
  GtkWidget *figures; /* the same */
  GtkWidget *trouble;
  GtkWidget *content;
  gboolean watched; /* late_cb() is called */
  guint frames;     /* as often as it was since the page is seen */
  guint late;       /* how much of what comes late has come */
} BedPagePrivate;

enum
{
  PROP_FARM = 1,
  N_PROPS
};

static GParamSpec *properties[N_PROPS];

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (BedPage, bed_page, ADW_TYPE_BIN)

static BedPagePrivate *
get_private (BedPage *self)
{
  return bed_page_get_instance_private (self);
}

/* In place of the content, which would hold what is old or wrong, but for what somebody types. */
static void
say_trouble (BedPage *self, const GError *error)
{
  BedPagePrivate *priv = get_private (self);

  bed_trouble_say (priv->trouble, error);
  gtk_widget_set_visible (priv->content, !error || bed_typing_is_seen (priv->content));
}

/* What cannot be read now, while another program holds the farm, stays as it is: the farm tells of
 * it again. */
static void
read_page (BedPage *self, BedPageRead reading)
{
  BedPagePrivate *priv = get_private (self);
  g_autoptr (GError) error = NULL;

  if (!bed_farm_begin_reading (priv->farm))
    return;
  gboolean read = !reading || reading (self, &error);
  gboolean all = bed_farm_end_reading (priv->farm, error ? NULL : &error);
  priv->stale = read && all ? 0 : G_MAXUINT64;
  say_trouble (self, error);
}

/* What comes late next, or NULL. */
static BedPageRead
get_late (BedPage *self)
{
  const BedPageRead *late = BED_PAGE_GET_CLASS (self)->refresh_late;

  return late ? late[get_private (self)->late] : NULL;
}

/* Called before each frame: the second time the first is painted. A page that is not seen waits. */
static gboolean
late_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  BedPage *self = BED_PAGE (widget);
  BedPagePrivate *priv = get_private (self);

  priv->watched = gtk_widget_get_mapped (widget);
  if (!priv->watched)
    return G_SOURCE_REMOVE;
  if (priv->frames++ == 0)
    return G_SOURCE_CONTINUE;
  BedPageRead next = get_late (self);
  priv->late++;
  if (!priv->stale)
    read_page (self, next);
  priv->watched = get_late (self) != NULL;
  return priv->watched ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

static gboolean
read_all (BedPage *self, GError **error)
{
  BedPageClass *klass = BED_PAGE_GET_CLASS (self);
  gboolean read = !klass->refresh || klass->refresh (self, error);

  for (guint i = 0; read && i < get_private (self)->late; i++)
    read = klass->refresh_late[i](self, error);
  return read;
}

static void
refresh (BedPage *self)
{
  if (get_private (self)->stale)
    read_page (self, read_all);
}

static void
farm_changed_cb (BedPage *self, guint64 kinds, BedFarm *farm)
{
  get_private (self)->stale |= kinds;
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    refresh (self);
}

static void
bed_page_map (GtkWidget *widget)
{
  BedPagePrivate *priv = get_private (BED_PAGE (widget));

  GTK_WIDGET_CLASS (bed_page_parent_class)->map (widget);
  refresh (BED_PAGE (widget));
  priv->frames = 0;
  if (!get_late (BED_PAGE (widget)) || priv->watched)
    return;
  priv->watched = TRUE;
  gtk_widget_add_tick_callback (widget, late_cb, NULL, NULL);
}

/* Never child_focus() of the page: where nothing takes the keyboard that asks this again. */
static gboolean
bed_page_grab_focus (GtkWidget *widget)
{
  return bed_enter (adw_bin_get_child (ADW_BIN (widget)));
}

/* As of a BedPart: it would never be left by Shift+Tab. */
static gboolean
bed_page_focus (GtkWidget *widget, GtkDirectionType direction)
{
  GtkWidget *child = adw_bin_get_child (ADW_BIN (widget));

  return child && gtk_widget_child_focus (child, direction);
}

static void
bed_page_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  BedPagePrivate *priv = get_private (BED_PAGE (object));

  switch (id)
    {
    case PROP_FARM:
      priv->farm = g_value_dup_object (value);
      g_signal_group_set_target (priv->farm_signals, priv->farm);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
bed_page_constructed (GObject *object)
{
  BedPage *self = BED_PAGE (object);
  BedPagePrivate *priv = get_private (self);

  G_OBJECT_CLASS (bed_page_parent_class)->constructed (object);
  priv->trouble = bed_trouble_new (priv->farm);
  priv->content = BED_PAGE_GET_CLASS (self)->make (self);
  gtk_widget_set_vexpand (priv->content, TRUE);
  adw_bin_set_child (ADW_BIN (self), bed_column_new (0, priv->trouble, priv->content, NULL));
}

static void
bed_page_dispose (GObject *object)
{
  BedPagePrivate *priv = get_private (BED_PAGE (object));

  g_clear_object (&priv->farm_signals);
  G_OBJECT_CLASS (bed_page_parent_class)->dispose (object);
}

/* The farm goes last: what a page shows still asks it while it is taken apart. */
static void
bed_page_finalize (GObject *object)
{
  g_clear_object (&get_private (BED_PAGE (object))->farm);
  G_OBJECT_CLASS (bed_page_parent_class)->finalize (object);
}

static void
bed_page_class_init (BedPageClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->set_property = bed_page_set_property;
  object_class->constructed = bed_page_constructed;
  object_class->dispose = bed_page_dispose;
  object_class->finalize = bed_page_finalize;
  GTK_WIDGET_CLASS (klass)->map = bed_page_map;
  GTK_WIDGET_CLASS (klass)->grab_focus = bed_page_grab_focus;
  GTK_WIDGET_CLASS (klass)->focus = bed_page_focus;

  properties[PROP_FARM]
      = g_param_spec_object ("farm", NULL, NULL, BED_TYPE_FARM,
                             G_PARAM_WRITABLE | G_PARAM_CONSTRUCT_ONLY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
}

static void
bed_page_init (BedPage *self)
{
  BedPagePrivate *priv = get_private (self);

  bed_hide_unseen (GTK_WIDGET (self));
  priv->stale = G_MAXUINT64;
  priv->farm_signals = g_signal_group_new (BED_TYPE_FARM);
  g_signal_group_connect_swapped (priv->farm_signals, "changed", G_CALLBACK (farm_changed_cb),
                                  self);
}

BedFarm *
bed_page_get_farm (BedPage *self)
{
  g_return_val_if_fail (BED_IS_PAGE (self), NULL);
  return get_private (self)->farm;
}

/* What a page reads for what it is asked to do, and could not, is said in passing. */
static void
end_reading (BedPage *self)
{
  g_autoptr (GError) error = NULL;

  if (!bed_farm_end_reading (get_private (self)->farm, &error))
    bed_host_say_error (GTK_WIDGET (self), error);
}

void
bed_page_add (BedPage *self)
{
  BedPageClass *klass = BED_PAGE_GET_CLASS (self);

  if (!klass->add || bed_farm_get_read_only_why (bed_page_get_farm (self)))
    return;
  gboolean reading = bed_farm_begin_reading (bed_page_get_farm (self));
  klass->add (self);
  if (reading)
    end_reading (self);
}

void
bed_page_print (BedPage *self)
{
  BedPageClass *klass = BED_PAGE_GET_CLASS (self);

  if (klass->print)
    klass->print (self);
}

void
bed_page_show_record (BedPage *self, BedKind kind, gint64 id)
{
  BedPageClass *klass = BED_PAGE_GET_CLASS (self);

  refresh (self);
  if (!klass->show_record)
    return;
  gboolean reading = bed_farm_begin_reading (bed_page_get_farm (self));
  klass->show_record (self, kind, id);
  if (reading)
    end_reading (self);
}

gint64
bed_page_get_record (BedPage *self, BedKind *kind)
{
  BedPageClass *klass = BED_PAGE_GET_CLASS (self);

  return klass->get_record ? klass->get_record (self, kind) : 0;
}

void
bed_page_show_draft (BedPage *self, BedRecord *draft, const char *logs)
{
  BedPageClass *klass = BED_PAGE_GET_CLASS (self);

  refresh (self);
  if (!klass->show_draft || bed_farm_get_read_only_why (bed_page_get_farm (self)))
    return;
  gboolean reading = bed_farm_begin_reading (bed_page_get_farm (self));
  klass->show_draft (self, draft, logs);
  if (reading)
    end_reading (self);
}

GtkWidget *
bed_page_column_new (BedPage *self, GtkWidget *extra, GtkWidget *content)
{
  BedPagePrivate *priv = get_private (self);
  GtkWidget *head = bed_styled (bed_wrap_new (24, 12), "page-head");

  priv->figures = bed_big_figures_new ();
  gtk_box_append (GTK_BOX (head), priv->figures);
  if (extra)
    {
      gtk_widget_set_valign (extra, GTK_ALIGN_CENTER);
      gtk_widget_set_halign (extra, GTK_ALIGN_END);
      gtk_box_append (GTK_BOX (head), extra);
    }
  gtk_widget_set_vexpand (content, TRUE);
  return bed_column_new (0, head, gtk_separator_new (GTK_ORIENTATION_HORIZONTAL), content, NULL);
}

void
bed_page_set_figures (BedPage *self, const BedPageFigure *figures, guint n)
{
  bed_big_figures_set (get_private (self)->figures, figures, n);
}

void
bed_page_set_parts (BedPage *self, GtkStack *parts)
{
  g_return_if_fail (BED_IS_PAGE (self) && GTK_IS_STACK (parts));
  get_private (self)->parts = parts;
}

gboolean
bed_page_show_part (BedPage *self, guint at)
{
  GtkStack *parts = get_private (self)->parts;
  GtkWidget *part = parts ? gtk_widget_get_first_child (GTK_WIDGET (parts)) : NULL;

  while (part && at-- > 0)
    part = gtk_widget_get_next_sibling (part);
  if (!part)
    return FALSE;
  gtk_stack_set_visible_child (parts, part);
  if (BED_PAGE_GET_CLASS (self)->open_parts)
    BED_PAGE_GET_CLASS (self)->open_parts (self);
  return bed_enter (part);
}

const char *
bed_page_get_part (BedPage *self)
{
  GtkStack *parts = get_private (self)->parts;

  return parts ? gtk_stack_get_visible_child_name (parts) : NULL;
}

void
bed_page_see_part (BedPage *self, const char *name)
{
  GtkStack *parts = get_private (self)->parts;

  if (parts && gtk_stack_get_child_by_name (parts, name))
    gtk_stack_set_visible_child_name (parts, name);
}

GtkWidget *
bed_empty_new (const BedEmpty *empty)
{
  GtkWidget *page = adw_status_page_new ();
  GtkWidget *button;

  /* What scrolls it takes the keyboard where there is no button. */
  bed_named (gtk_widget_get_first_child (page), _ (empty->title));
  adw_status_page_set_icon_name (ADW_STATUS_PAGE (page), empty->icon);
  adw_status_page_set_title (ADW_STATUS_PAGE (page), _ (empty->title));
  adw_status_page_set_description (ADW_STATUS_PAGE (page), _ (empty->text));
  if (!empty->button)
    return page;

  button = gtk_button_new_with_label (_ (empty->button));
  gtk_widget_set_halign (button, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (button, "pill");
  gtk_widget_add_css_class (button, "suggested-action");
  gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (button), empty->action);
  adw_status_page_set_child (ADW_STATUS_PAGE (page), button);
  return page;
}

GtkWidget *
bed_empty_stack_new (const BedEmpty *empty, GtkWidget *content, const char *name)
{
  GtkWidget *stack = gtk_stack_new ();

  gtk_stack_add_named (GTK_STACK (stack), bed_empty_new (empty), "empty");
  gtk_stack_add_named (GTK_STACK (stack), content, name);
  return stack;
}
