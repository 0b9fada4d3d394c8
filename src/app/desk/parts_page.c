#include "app/desk/parts_page.h"

#include <glib/gi18n.h>

#include "app/widgets/compat.h"
#include "app/widgets/enter.h"
#include "app/widgets/wrap_layout.h"

/* That many fit a window of 1000 px as wide as elsewhere. */
#define PARTS_WIDE 7

typedef struct
{
  GtkStack *stack;
  GHashTable *stale; /* BedPagePart: lists that changed since they were last seen; a set */
} BedPartsPagePrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (BedPartsPage, bed_parts_page, BED_TYPE_PAGE)

static GtkStack *
get_stack (BedPartsPage *self)
{
  BedPartsPagePrivate *priv = bed_parts_page_get_instance_private (self);

  return priv->stack;
}

static const BedPagePart *
get_parts (BedPartsPage *self)
{
  return BED_PARTS_PAGE_GET_CLASS (self)->parts;
}

/* NULL where that part is none. */
static BedBrowser *
get_list (BedPartsPage *self, const BedPagePart *part)
{
  return part->make ? NULL
                    : BED_BROWSER (gtk_stack_get_child_by_name (get_stack (self), part->name));
}

static BedBrowser *
see_list (BedPartsPage *self, BedKind kind)
{
  BedBrowser *list = bed_parts_page_get_list (self, kind);

  if (list)
    gtk_stack_set_visible_child (get_stack (self), GTK_WIDGET (list));
  return list;
}

/* NULL while the parts are being made. */
static const BedPagePart *
find_seen (BedPartsPage *self)
{
  for (const BedPagePart *part = get_parts (self); part->name; part++)
    if (g_strcmp0 (part->name, bed_parts_page_get_seen (self)) == 0)
      return part;
  return NULL;
}

/* Those that are not seen wait until they are. */
static gboolean
refresh_lists (BedPartsPage *self, GError **error)
{
  BedPartsPagePrivate *priv = bed_parts_page_get_instance_private (self);
  const BedPagePart *seen = find_seen (self);

  for (const BedPagePart *part = get_parts (self); part->name; part++)
    if (!part->make && part != seen)
      g_hash_table_add (priv->stale, (gpointer) part);
  return !seen || seen->make || bed_browser_refresh (get_list (self, seen), error);
}

static gboolean
bed_parts_page_refresh (BedPage *page, GError **error)
{
  BedPartsPage *self = BED_PARTS_PAGE (page);
  BedPartsPageClass *klass = BED_PARTS_PAGE_GET_CLASS (self);

  return (!klass->refresh_own || klass->refresh_own (self, error)) && refresh_lists (self, error);
}

static void
seen_cb (BedPartsPage *self)
{
  BedPartsPagePrivate *priv = bed_parts_page_get_instance_private (self);
  const BedPagePart *seen = find_seen (self);

  if (seen && g_hash_table_remove (priv->stale, seen))
    bed_browser_read (get_list (self, seen));
}

/* To the list that is seen, else to the first. */
static void
bed_parts_page_add (BedPage *page)
{
  BedPartsPage *self = BED_PARTS_PAGE (page);
  const BedPagePart *to = find_seen (self);

  if (!to || to->make)
    for (to = get_parts (self); to->name && to->make; to++)
      ;
  if (to->name)
    bed_browser_add (see_list (self, to->list.kind), NULL);
}

static void
bed_parts_page_show_record (BedPage *page, BedKind kind, gint64 id)
{
  BedBrowser *list = see_list (BED_PARTS_PAGE (page), kind);

  if (list)
    bed_browser_show (list, id);
}

static gint64
bed_parts_page_get_record (BedPage *page, BedKind *kind)
{
  BedPartsPage *self = BED_PARTS_PAGE (page);
  const BedPagePart *seen = find_seen (self);

  if (!seen || seen->make)
    return 0;
  *kind = seen->list.kind;
  return bed_browser_get_selected (get_list (self, seen));
}

static void
bed_parts_page_show_draft (BedPage *page, BedRecord *draft, const char *logs)
{
  BedBrowser *list = see_list (BED_PARTS_PAGE (page), bed_record_get_kind (draft));

  if (list)
    bed_browser_add (list, draft);
}

static gboolean
bed_parts_page_grab_focus (GtkWidget *widget)
{
  GtkWidget *seen = gtk_stack_get_visible_child (get_stack (BED_PARTS_PAGE (widget)));

  return bed_enter (seen) || GTK_WIDGET_CLASS (bed_parts_page_parent_class)->grab_focus (widget);
}

static void
add_part (BedPartsPage *self, const BedPagePart *part)
{
  GtkWidget *child = part->make ? part->make (self)
                                : GTK_WIDGET (bed_browser_new (bed_page_get_farm (BED_PAGE (self)),
                                                               &part->list));

  gtk_stack_add_titled (get_stack (self), child, part->name, part->title ? _ (part->title) : NULL);
  bed_hide_unseen (child);
}

static GtkWidget *
bed_parts_page_make (BedPage *page)
{
  BedPartsPage *self = BED_PARTS_PAGE (page);
  GtkWidget *stack = GTK_WIDGET (get_stack (self));
  GtkWidget *change;
  guint n = 0;

  for (const BedPagePart *part = get_parts (self); part->name; part++)
    {
      add_part (self, part);
      n++;
    }
  if (!get_parts (self)->title)
    return stack;
  change = gtk_stack_switcher_new ();
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (change), get_stack (self));
  if (n > PARTS_WIDE)
    gtk_widget_add_css_class (change, "many");
  bed_page_set_parts (page, get_stack (self));
  if (BED_PARTS_PAGE_GET_CLASS (self)->make_beside)
    {
      GtkWidget *both = bed_wrap_new (24, 6);
      gtk_box_append (GTK_BOX (both), BED_PARTS_PAGE_GET_CLASS (self)->make_beside (self));
      gtk_box_append (GTK_BOX (both), change);
      change = both;
    }
  return bed_page_column_new (page, change, stack);
}

static void
bed_parts_page_finalize (GObject *object)
{
  BedPartsPagePrivate *priv = bed_parts_page_get_instance_private (BED_PARTS_PAGE (object));

  g_hash_table_unref (priv->stale);
  G_OBJECT_CLASS (bed_parts_page_parent_class)->finalize (object);
}

static void
bed_parts_page_class_init (BedPartsPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_parts_page_finalize;
  GTK_WIDGET_CLASS (klass)->grab_focus = bed_parts_page_grab_focus;
  page_class->make = bed_parts_page_make;
  page_class->refresh = bed_parts_page_refresh;
  page_class->add = bed_parts_page_add;
  page_class->show_record = bed_parts_page_show_record;
  page_class->get_record = bed_parts_page_get_record;
  page_class->show_draft = bed_parts_page_show_draft;
}

static void
bed_parts_page_init (BedPartsPage *self)
{
  BedPartsPagePrivate *priv = bed_parts_page_get_instance_private (self);

  priv->stack = GTK_STACK (gtk_stack_new ());
  priv->stale = g_hash_table_new (NULL, NULL);
  g_signal_connect_object (priv->stack, "notify::visible-child", G_CALLBACK (seen_cb), self,
                           G_CONNECT_SWAPPED);
}

BedBrowser *
bed_parts_page_get_list (BedPartsPage *self, BedKind kind)
{
  for (const BedPagePart *part = get_parts (self); part->name; part++)
    if (!part->make && part->list.kind == kind)
      return get_list (self, part);
  return NULL;
}

guint64
bed_parts_page_get_kinds (BedPartsPage *self)
{
  const BedPagePart *seen = find_seen (self);

  return seen && !seen->make ? BED_KIND_BIT (seen->list.kind) : 0;
}

const char *
bed_parts_page_get_seen (BedPartsPage *self)
{
  return gtk_stack_get_visible_child_name (get_stack (self));
}

void
bed_parts_page_see (BedPartsPage *self, const char *name)
{
  gtk_stack_set_visible_child_name (get_stack (self), name);
}
