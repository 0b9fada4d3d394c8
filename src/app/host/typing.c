#include "app/host/typing.h"

#include <glib/gi18n.h>

#include "app/widgets/compat.h"
#include "app/widgets/enter.h"
#include "app/widgets/split.h"
#include "model/farm/kinds.h"

#define QUESTION "bed-typing" /* a dialog's data: it is one about typing */

G_DEFINE_INTERFACE (BedTyping, bed_typing, GTK_TYPE_WIDGET)

static void
bed_typing_default_init (BedTypingInterface *iface)
{
}

/* --- what is typed ---------------------------------------------------------------- */

typedef struct
{
  BedTyping *first; /* borrowed */
  GString *words;   /* a sentence a line */
} Found;

static void
look_at (GtkWidget *widget, Found *found)
{
  g_autofree char *words = BED_IS_TYPING (widget)
                               ? BED_TYPING_GET_IFACE (widget)->dup_words (BED_TYPING (widget))
                               : NULL;

  if (!words)
    return;
  if (!found->first)
    found->first = BED_TYPING (widget);
  g_string_append_printf (found->words, "%s%s", found->words->len ? "\n" : "", words);
}

/* The parts of a form before the form: they know better what was typed, and where. */
static void
find_inside (GtkWidget *widget, Found *found)
{
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    find_inside (child, found);
  look_at (widget, found);
}

static GList *
list_over (GtkWindow *window)
{
  GList *over = NULL;
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (gtk_window_get_transient_for (l->data) == window)
      over = g_list_prepend (over, l->data);
  return over;
}

/* What lies over the others first. */
static void
find_typing (GtkWidget *inside, Found *found)
{
  g_autoptr (GList) over = GTK_IS_WINDOW (inside) ? list_over (GTK_WINDOW (inside)) : NULL;

  for (GList *l = over; l; l = l->next)
    find_typing (l->data, found);
  find_inside (inside, found);
}

/* The one that is asked in @window already, or NULL. */
static GtkWindow *
find_question (GtkWindow *window)
{
  g_autoptr (GList) over = list_over (window);
  GtkWindow *found = NULL;

  for (GList *l = over; l && !found; l = l->next)
    found = g_object_get_data (l->data, QUESTION) ? l->data : find_question (l->data);
  return found;
}

/* --- leaving it --------------------------------------------------------------------- */

/* Brings it in view, in its window, and gives it the keyboard, where that was in it before. */
static void
go (BedTyping *self)
{
  GtkWidget *parent, *child;

  for (child = GTK_WIDGET (self); (parent = gtk_widget_get_parent (child)); child = parent)
    if (GTK_IS_STACK (parent))
      gtk_stack_set_visible_child (GTK_STACK (parent), child);
    else if (BED_IS_SPLIT (parent))
      bed_split_show_detail (BED_SPLIT (parent));
  gtk_window_present (GTK_WINDOW (child));
  bed_enter (GTK_WIDGET (self));
}

static gboolean guard_cb (GtkWindow *window);

static void
destroy_over (GtkWindow *window)
{
  g_autoptr (GList) over = list_over (window);

  for (GList *l = over; l; l = l->next)
    {
      destroy_over (l->data);
      gtk_window_destroy (l->data);
    }
}

static void
close_at_last (GtkWindow *window)
{
  g_signal_handlers_disconnect_by_func (window, guard_cb, NULL);
  destroy_over (window);
  gtk_window_close (g_object_ref (window));
  /* The question is still to be taken off it. */
  g_idle_add_once (g_object_unref, window);
}

static gboolean
guard_cb (GtkWindow *window)
{
  return bed_typing_ask (GTK_WIDGET (window), G_CALLBACK (close_at_last), window);
}

/* --- public ------------------------------------------------------------------------- */

char *
bed_typing_dup_half (BedKind kind)
{
  /* Translators: kind of record. */
  return g_strdup_printf (_ ("Half typed and not saved: %s."),
                          _ (bed_kind_get_info (kind)->singular));
}

gboolean
bed_typing_is_seen (GtkWidget *inside)
{
  g_autofree char *words = BED_IS_TYPING (inside) && gtk_widget_get_mapped (inside)
                               ? BED_TYPING_GET_IFACE (inside)->dup_words (BED_TYPING (inside))
                               : NULL;
  gboolean seen = words != NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (inside); child && !seen;
       child = gtk_widget_get_next_sibling (child))
    seen = bed_typing_is_seen (child);
  return seen;
}

gboolean
bed_typing_ask (GtkWidget *inside, GCallback leave, gpointer user_data)
{
  g_autoptr (GString) words = g_string_new (NULL);
  Found found = { NULL, words };

  g_return_val_if_fail (GTK_IS_WIDGET (inside), FALSE);
  find_typing (inside, &found);
  if (!found.first)
    return FALSE;
  GtkWindow *asked = find_question (GTK_WINDOW (gtk_widget_get_root (inside)));
  if (asked)
    {
      gtk_window_present (asked);
      return TRUE;
    }
  BedQuestion question = { _ ("Something typed is not saved"), words->str,
                           _ ("Close without saving"), _ ("Keep typing") };
  GtkWidget *dialog = bed_ask (inside, &question, leave, user_data);
  g_object_set_data (G_OBJECT (dialog), QUESTION, dialog);
  g_signal_connect_object (dialog, "response::stay", G_CALLBACK (go), found.first,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (inside, "destroy", G_CALLBACK (gtk_window_destroy), dialog,
                           G_CONNECT_SWAPPED);
  return TRUE;
}

void
bed_typing_guard (GtkWindow *window)
{
  g_return_if_fail (GTK_IS_WINDOW (window));
  g_signal_connect (window, "close-request", G_CALLBACK (guard_cb), NULL);
}
