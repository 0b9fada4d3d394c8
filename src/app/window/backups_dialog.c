#include "app/window/backups_dialog.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#include "app/desk/page.h"
#include "app/host/host.h"
#include "app/widgets/build.h"
#include "app/widgets/compat.h"
#include "app/widgets/toasts.h"
#include "app/widgets/topic.h"
#include "app/window/keeper.h"
#include "app/window/restore_flow.h"
#include "model/farm/backup.h"
#include "model/farm/say.h"

typedef struct
{
  GtkWindow *over;
  GtkWidget *window;
  BedToasts *notes;
  GtkWidget *place; /* label */
  GtkWidget *now;   /* button */
  GtkWidget *beside;
  GtkWidget *list; /* AdwBin */
  char *path;
} Dialog;

static void
free_dialog (gpointer data)
{
  Dialog *self = data;

  bed_toasts_free (self->notes);
  g_free (self->path);
  g_free (self);
}

static Dialog *
dialog_of (GtkWidget *inside)
{
  return g_object_get_data (G_OBJECT (gtk_widget_get_root (inside)), "dialog");
}

static void
say (Dialog *self, const char *text)
{
  bed_toasts_say (self->notes, text, BED_TOAST_PLAIN, 0);
}

/* --- one copy -------------------------------------------------------------------- */

static void
look_cb (GtkWidget *button, const char *path)
{
  bed_host_open_beside (button, path);
}

static void
restore_cb (GtkWidget *button, const char *path)
{
  Dialog *self = dialog_of (button);

  bed_restore_flow_begin (self->over, GTK_WINDOW (self->window), self->path, path);
}

static void
free_path (gpointer path, GClosure *closure)
{
  g_free (path);
}

static GtkWidget *
make_button (const char *label, const char *words, const BedBackup *copy, GCallback run)
{
  GtkWidget *button = gtk_button_new_with_label (label);
  g_autofree char *name = g_strdup_printf ("%s, %s", label, words);

  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  bed_named (button, name);
  g_signal_connect_data (button, "clicked", run, g_strdup (copy->path), free_path, 0);
  return button;
}

/* "12 changes since; the last in it: Picked 3 lb from 26A" */
static char *
dup_subtitle (BedFarm *farm, const BedBackup *copy)
{
  gint64 since = farm ? bed_backup_changes_since (farm, copy) : -1;
  g_autofree char *last = bed_backup_dup_last (copy);

  if (copy->fault)
    return g_strdup (copy->fault);
  if (since < 0)
    return g_strdup_printf (_ ("The last in it: %s"), last);
  if (since == 0)
    return g_strdup_printf (_ ("The farm as it is. The last in it: %s"), last);
  return bed_say (ngettext ("%d change since. The last in it: %s",
                            "%d changes since. The last in it: %s", since),
                  (int) since, last);
}

static GtkWidget *
make_row (BedFarm *farm, const BedBackup *copy)
{
  GtkWidget *row = adw_action_row_new ();
  g_autofree char *words = bed_backup_dup_words (copy);
  g_autofree char *subtitle = dup_subtitle (farm, copy);

  adw_preferences_row_set_use_markup (ADW_PREFERENCES_ROW (row), FALSE);
  adw_preferences_row_set_title (ADW_PREFERENCES_ROW (row), words);
  adw_action_row_set_subtitle (ADW_ACTION_ROW (row), subtitle);
  adw_action_row_set_subtitle_lines (ADW_ACTION_ROW (row), 2);
  if (copy->fault)
    return row;
  adw_action_row_add_suffix (ADW_ACTION_ROW (row),
                             make_button (_ ("Look into"), words, copy, G_CALLBACK (look_cb)));
  adw_action_row_add_suffix (ADW_ACTION_ROW (row),
                             make_button (_ ("Restore…"), words, copy, G_CALLBACK (restore_cb)));
  return row;
}

/* --- all of them ------------------------------------------------------------------- */

static const BedEmpty none
    = { NULL, N_ ("No copies yet"),
        N_ ("One is made by itself when the farm is opened, after every hour with changes, and "
            "when it is closed."),
        NULL, NULL };

static GtkWidget *
make_list (BedFarm *farm, GPtrArray *copies)
{
  GtkWidget *list = bed_styled (gtk_list_box_new (), "boxed-list");

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_set_valign (list, GTK_ALIGN_START);
  bed_named (list, _ ("Copies, newest first"));
  for (guint i = 0; i < copies->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (list), make_row (farm, copies->pdata[i]));
  return list;
}

/* Of the window's own farm, when it is the one whose copies these are. */
static BedFarm *
farm_of (Dialog *self)
{
  BedFarm *farm = bed_host_get_farm (GTK_WIDGET (self->over));

  return farm && g_strcmp0 (bed_farm_get_path (farm), self->path) == 0 ? farm : NULL;
}

static void
update (Dialog *self)
{
  g_autoptr (GPtrArray) copies = bed_backup_list (self->path);
  g_autofree char *place = bed_backup_dup_place (self->path);
  g_autofree char *shown = place ? g_filename_display_name (place) : NULL;
  g_autofree char *text = NULL;

  if (place && !g_file_test (place, G_FILE_TEST_IS_DIR))
    text = g_strdup_printf (_ ("Copies go to %s, which is not there now: until it is, they lie "
                               "beside the farm."),
                            shown);
  else if (place)
    text = g_strdup_printf (_ ("Copies go to %s."), shown);
  else
    text = g_strdup (_ ("Copies lie in a folder beside the farm. A place on another disk or a "
                        "stick outlives this one."));
  gtk_label_set_label (GTK_LABEL (self->place), text);
  gtk_widget_set_visible (self->beside, place != NULL);
  gtk_widget_set_sensitive (self->now, farm_of (self) != NULL);
  adw_bin_set_child (ADW_BIN (self->list),
                     copies->len ? make_list (farm_of (self), copies) : bed_empty_new (&none));
}

/* --- its buttons ---------------------------------------------------------------------- */

static void
made_cb (const BedBackupMade *made, const GError *error, GtkWidget *window)
{
  Dialog *self = window ? dialog_of (window) : NULL;

  if (!self)
    return;
  update (self);
  if (error)
    say (self, error->message);
  else if (made->note)
    say (self, made->note);
  else
    say (self, made->path ? _ ("Made a copy") : _ ("No need: the newest copy holds the same"));
}

static void
now_cb (Dialog *self)
{
  bed_keeper_make (self->path, BED_BACKUP_DIFFERS, made_cb, self->window);
}

static void
set_place (Dialog *self, const char *place)
{
  g_autoptr (GError) error = NULL;

  if (!bed_backup_set_place (self->path, place, &error))
    bed_tell (self->window, _ ("Copies cannot lie there"), error->message);
  update (self);
}

static void
place_chosen_cb (const char *path, gpointer data)
{
  g_autoptr (GtkWidget) window = data;
  Dialog *self = dialog_of (window);

  if (path && self)
    set_place (self, path);
}

static void
place_cb (Dialog *self)
{
  BedFileAsk ask = { _ ("Where to keep copies"), _ ("Choose"), NULL, NULL, NULL };

  bed_ask_folder (self->window, &ask, place_chosen_cb, g_object_ref (self->window));
}

static void
beside_cb (Dialog *self)
{
  set_place (self, NULL);
}

static GtkWidget *
make_content (Dialog *self)
{
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->place = bed_words_new ("", NULL);
  self->list = adw_bin_new ();
  self->now = bed_button_add (buttons, _ ("Back up now"), G_CALLBACK (now_cb), self);
  gtk_widget_add_css_class (self->now, "suggested-action");
  bed_button_add (buttons, _ ("Choose a place…"), G_CALLBACK (place_cb), self);
  self->beside = bed_button_add (buttons, _ ("Beside the farm"), G_CALLBACK (beside_cb), self);
  return bed_styled (bed_column_new (12, self->place, buttons, self->list, NULL), "page");
}

static GtkWidget *
make_window (Dialog *self)
{
  GtkWidget *window = adw_window_new (), *foot = adw_bin_new ();
  GtkWidget *scrolled = bed_named (bed_scrolled_new (make_content (self)), _ ("Backups"));

  self->notes = bed_toasts_new ();
  bed_styled (foot, "notes");
  gtk_widget_set_vexpand (scrolled, TRUE);
  bed_toasts_stand_in (self->notes, ADW_BIN (foot), GTK_ORIENTATION_HORIZONTAL);
  bed_window_build (window, GTK_WIDGET (self->over), _ ("Backups"),
                    bed_column_new (0, scrolled, foot, NULL));
  bed_topic_set (window, "backups");
  bed_window_close_on_escape (window);
  bed_window_set_size (window, 640, 560);
  return window;
}

void
bed_backups_dialog_show (GtkWindow *window, const char *path)
{
  g_return_if_fail (BED_IS_HOST (window) && path != NULL);
  Dialog *self = g_new0 (Dialog, 1);

  self->over = window;
  self->path = g_strdup (path);
  self->window = make_window (self);
  g_object_set_data_full (G_OBJECT (self->window), "dialog", self, free_dialog);
  update (self);
  gtk_window_present (GTK_WINDOW (self->window));
}
