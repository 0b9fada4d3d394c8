#include "app/widgets/compat.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <string.h>

#include "app/widgets/build.h"

/* 255 bytes is the most a name may have on usual disks. */
#define LONGEST_NAME 200

#define LINE 40 /* letters, of a message */

typedef struct
{
  GtkFileChooserNative *native; /* owned: nothing else holds a native dialog */
  BedFileChosen chosen;
  gpointer user_data;
} Asking;

static GtkWindow *
window_of (GtkWidget *inside)
{
  GtkRoot *root = gtk_widget_get_root (inside);

  return GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL;
}

static void
file_response_cb (GtkNativeDialog *native, int response, Asking *asking)
{
  g_autoptr (GFile) file = NULL;
  g_autofree char *path = NULL;

  if (response == GTK_RESPONSE_ACCEPT)
    file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native));
  if (file)
    path = g_file_get_path (file);
  asking->chosen (path, asking->user_data);
  g_object_unref (asking->native);
  g_free (asking);
}

/* A farm may have been sent about and named anyhow. */
static void
add_filters (GtkFileChooser *chooser, const BedFileAsk *ask)
{
  g_autoptr (GtkFileFilter) own = gtk_file_filter_new ();
  g_autoptr (GtkFileFilter) all = gtk_file_filter_new ();
  g_auto (GStrv) suffixes = g_strsplit (ask->suffixes, " ", 0);

  for (guint i = 0; suffixes[i]; i++)
    gtk_file_filter_add_suffix (own, suffixes[i]);
  gtk_file_filter_set_name (own, ask->suffixes_name);
  gtk_file_chooser_add_filter (chooser, own);
  gtk_file_filter_add_pattern (all, "*");
  gtk_file_filter_set_name (all, _ ("All files"));
  gtk_file_chooser_add_filter (chooser, all);
}

static void
ask_file (GtkWidget *inside, const BedFileAsk *ask, GtkFileChooserAction action,
          BedFileChosen chosen, gpointer user_data)
{
  GtkFileChooserNative *native = gtk_file_chooser_native_new (ask->title, window_of (inside),
                                                              action, ask->accept, _ ("Cancel"));
  GtkFileChooser *chooser = GTK_FILE_CHOOSER (native);
  Asking *asking = g_new (Asking, 1);

  *asking = (Asking){ native, chosen, user_data };
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (native), TRUE);
  if (ask->name)
    {
      g_autofree char *name = bed_dup_file_name (ask->name);
      gtk_file_chooser_set_current_name (chooser, name);
    }
  if (ask->suffixes)
    add_filters (chooser, ask);
  g_signal_connect (native, "response", G_CALLBACK (file_response_cb), asking);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (native));
}

/* The end, which tells the kind of file, stays. */
static char *
shorten (const char *name)
{
  const char *dot = strrchr (name, '.');
  gsize end = dot && strlen (dot) < 10 ? strlen (dot) : 0;
  const char *cut = g_utf8_find_prev_char (name, name + LONGEST_NAME - end + 1);
  g_autofree char *front = g_strndup (name, cut - name);

  return g_strconcat (front, end ? dot : "", NULL);
}

char *
bed_dup_file_name (const char *words)
{
  g_autofree char *name = g_utf8_make_valid (words, -1);
  const char *first;

  /* Of these Windows and its disks, which go from farm to farm, take none. */
  g_strdelimit (name, "/\\:*?\"<>|", '-');
  for (char *at = name; *at; at++)
    if (g_ascii_iscntrl (*at))
      *at = '-';
  first = name + strspn (name, ".-~ ");
  return strlen (first) > LONGEST_NAME ? shorten (first) : g_strdup (*first ? first : "Bedlog");
}

void
bed_ask_open_file (GtkWidget *inside, const BedFileAsk *ask, BedFileChosen chosen,
                   gpointer user_data)
{
  ask_file (inside, ask, GTK_FILE_CHOOSER_ACTION_OPEN, chosen, user_data);
}

void
bed_ask_save_file (GtkWidget *inside, const BedFileAsk *ask, BedFileChosen chosen,
                   gpointer user_data)
{
  ask_file (inside, ask, GTK_FILE_CHOOSER_ACTION_SAVE, chosen, user_data);
}

void
bed_ask_folder (GtkWidget *inside, const BedFileAsk *ask, BedFileChosen chosen, gpointer user_data)
{
  ask_file (inside, ask, GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, chosen, user_data);
}

static void
say (GtkWidget *box, const char *text, const char *style)
{
  GtkWidget *words = bed_words_new (text, style);

  gtk_label_set_xalign (GTK_LABEL (words), 0.5f);
  gtk_label_set_justify (GTK_LABEL (words), GTK_JUSTIFY_CENTER);
  gtk_label_set_max_width_chars (GTK_LABEL (words), LINE);
  gtk_box_append (GTK_BOX (box), words);
}

/* In labels of its own: libadwaita 1.7 measures its heading in less than it needs, of which GTK
 * 4.18 warns. */
GtkWidget *
bed_message_new (GtkWindow *window, const char *heading, const char *text)
{
  GtkWidget *dialog = adw_message_dialog_new (window, NULL, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);

  say (box, heading, "title-2");
  if (text)
    say (box, text, NULL);
  adw_message_dialog_set_extra_child (ADW_MESSAGE_DIALOG (dialog), box);
  gtk_window_set_title (GTK_WINDOW (dialog), heading);
  return bed_named (dialog, heading);
}

void
bed_tell (GtkWidget *inside, const char *heading, const char *text)
{
  GtkWidget *dialog = bed_message_new (window_of (inside), heading, text);

  adw_message_dialog_add_response (ADW_MESSAGE_DIALOG (dialog), "close", _ ("Close"));
  gtk_window_present (GTK_WINDOW (dialog));
}

static GtkWidget *
ask (GtkWidget *inside, const BedQuestion *question, AdwResponseAppearance agree, const char *usual,
     GCallback agreed, gpointer user_data)
{
  GtkWidget *dialog = bed_message_new (window_of (inside), question->heading, question->text);
  AdwMessageDialog *asked = ADW_MESSAGE_DIALOG (dialog);

  adw_message_dialog_add_responses (asked, "stay", question->stay, "agree", question->agree, NULL);
  adw_message_dialog_set_close_response (asked, "stay");
  g_signal_connect_swapped (dialog, "response::agree", agreed, user_data);
  gtk_window_present (GTK_WINDOW (dialog));
  adw_message_dialog_set_response_appearance (asked, "agree", agree);
  adw_message_dialog_set_default_response (asked, usual);
  return dialog;
}

GtkWidget *
bed_ask (GtkWidget *inside, const BedQuestion *question, GCallback agreed, gpointer user_data)
{
  return ask (inside, question, ADW_RESPONSE_DESTRUCTIVE, "stay", agreed, user_data);
}

GtkWidget *
bed_offer (GtkWidget *inside, const BedQuestion *question, GCallback agreed, gpointer user_data)
{
  return ask (inside, question, ADW_RESPONSE_SUGGESTED, "agree", agreed, user_data);
}

#define SCROLL_TRIES 8 /* frames */

typedef struct
{
  guint position;
  int tries;
} Scroll;

/* Else the arrow keys would go on from the row that had the keyboard before. A list that was
 * given the keyboard before it had rows holds it itself. FALSE when the row is not made yet. */
static gboolean
focus_selected (GtkWidget *list)
{
  if (!gtk_widget_get_focus_child (list) && !gtk_widget_is_focus (list))
    return TRUE;
  for (GtkWidget *row = gtk_widget_get_first_child (list); row;
       row = gtk_widget_get_next_sibling (row))
    if (gtk_widget_get_state_flags (row) & GTK_STATE_FLAG_SELECTED)
      return gtk_widget_grab_focus (row);
  return FALSE;
}

/* Shift goes on from the row that was selected last by hand: from this one, now. */
static void
anchor (GtkWidget *list, GtkColumnView *view, guint position)
{
  g_autoptr (GtkBitset) chosen
      = gtk_selection_model_get_selection (gtk_column_view_get_model (view));

  if (gtk_bitset_get_size (chosen) == 1 && gtk_bitset_contains (chosen, position))
    gtk_widget_activate_action (list, "list.select-item", "(ubb)", position, FALSE, FALSE);
}

static gboolean
scroll_cb (GtkWidget *view, GdkFrameClock *clock, gpointer data)
{
  Scroll *scroll = data;
  gboolean there = TRUE;

  /* The action is on the list inside. */
  for (GtkWidget *child = gtk_widget_get_first_child (view); child;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_LIST_VIEW (child))
      {
        gtk_widget_activate_action (child, "list.scroll-to-item", "u", scroll->position);
        there = focus_selected (child);
        if (there)
          anchor (child, GTK_COLUMN_VIEW (view), scroll->position);
      }
  return there || --scroll->tries == 0 ? G_SOURCE_REMOVE : G_SOURCE_CONTINUE;
}

/* Later: a row that has just been put in is not there to scroll to, and one far off has no
 * widget before the list is laid out there. */
void
bed_scroll_to_row (GtkColumnView *view, guint position)
{
  Scroll *scroll = g_new (Scroll, 1);

  *scroll = (Scroll){ position, SCROLL_TRIES };
  gtk_widget_add_tick_callback (GTK_WIDGET (view), scroll_cb, scroll, g_free);
}

/* A head has no alignment of its own; where GTK is built otherwise inside, it stays left. */
void
bed_align_head_end (GtkColumnView *view, guint column)
{
  GtkWidget *head = gtk_widget_get_first_child (GTK_WIDGET (view));
  GtkWidget *title = head ? gtk_widget_get_first_child (head) : NULL;
  GtkWidget *label;

  while (title && column-- > 0)
    title = gtk_widget_get_next_sibling (title);
  label = title ? gtk_widget_get_first_child (title) : NULL;
  if (GTK_IS_BOX (label))
    label = gtk_widget_get_first_child (label);
  if (!GTK_IS_LABEL (label))
    return;
  gtk_widget_set_hexpand (label, TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 1);
}

/* GtkUriLauncher of GTK 4.10. */
static void
opened_cb (GObject *source, GAsyncResult *result, gpointer user_data)
{
  g_autoptr (GtkWindow) window = user_data;
  g_autoptr (GError) error = NULL;

  if (!gtk_show_uri_full_finish (window, result, &error))
    bed_tell (GTK_WIDGET (window), _ ("It could not be opened"), error->message);
}

void
bed_open_uri (GtkWidget *inside, const char *uri)
{
  GtkWindow *window = window_of (inside);

  gtk_show_uri_full (window, uri, GDK_CURRENT_TIME, NULL, opened_cb, g_object_ref (window));
}

/* The addresses are those of the metainfo file. */
void
bed_show_about (GtkWidget *inside, const char *const *sources)
{
  GtkWidget *about = adw_about_window_new ();

  g_object_set (
      about, "application-name", "Bedlog", "application-icon", "org.bedlog.Bedlog", "version",
      BED_VERSION, "developer-name", _ ("The Bedlog project"), "comments",
      _ ("The record book and planner of a farm that grows mushrooms on logs"), "website",
      "https://bedlog.example/", "issue-url", "https://bedlog.example/faults", "license-type",
      GTK_LICENSE_GPL_3_0, "translator-credits",
      /* Your name, or one to a line. */
      g_strcmp0 (_ ("translator-credits"), "translator-credits") ? _ ("translator-credits") : "",
      NULL);
  adw_about_window_add_credit_section (ADW_ABOUT_WINDOW (about), _ ("Published sources"),
                                       (const char **) sources);
  gtk_window_set_transient_for (GTK_WINDOW (about), window_of (inside));
  gtk_window_present (GTK_WINDOW (about));
}

static void
seen_cb (GtkWidget *child)
{
  gtk_accessible_update_state (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_STATE_HIDDEN,
                               !gtk_widget_get_mapped (child), -1);
}

void
bed_hide_unseen (GtkWidget *child)
{
  g_signal_connect_after (child, "map", G_CALLBACK (seen_cb), NULL);
  g_signal_connect_after (child, "unmap", G_CALLBACK (seen_cb), NULL);
  seen_cb (child);
}

static GtkWidget *
find_label (GtkWidget *inside)
{
  GtkWidget *found = GTK_IS_LABEL (inside) ? inside : NULL;

  for (GtkWidget *child = gtk_widget_get_first_child (inside); child && !found;
       child = gtk_widget_get_next_sibling (child))
    found = find_label (child);
  return found;
}

static void
name_items (GtkWidget *inside)
{
  GtkWidget *label
      = strcmp (gtk_widget_get_css_name (inside), "modelbutton") == 0 ? find_label (inside) : NULL;

  if (label)
    bed_named (inside, gtk_label_get_text (GTK_LABEL (label)));
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    name_items (child);
}

void
bed_name_menu (GtkWidget *menu)
{
  g_signal_connect_after (menu, "map", G_CALLBACK (name_items), NULL);
}

void
bed_name_menu_button (GtkWidget *button)
{
  const char *label = gtk_menu_button_get_label (GTK_MENU_BUTTON (button));
  g_auto (GStrv) parts = g_strsplit (label ? label : "", "_", -1);
  g_autofree char *words = g_strjoinv ("", parts);
  const char *name = label ? words : gtk_widget_get_tooltip_text (button);

  /* Since GTK 4.10 it would be called by all that its menu says, too. */
  bed_named (button, name);
  bed_named (gtk_widget_get_first_child (button), name);
  bed_name_menu (GTK_WIDGET (gtk_menu_button_get_popover (GTK_MENU_BUTTON (button))));
}

void
bed_stack_add (GtkWidget *stack, GtkWidget *child, const char *name)
{
  gtk_stack_add_named (GTK_STACK (stack), child, name);
  bed_hide_unseen (child);
}
