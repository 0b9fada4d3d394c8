#include "places.h"

#include "../ask.h"

#include <glib/gstdio.h>
#include <string.h>

#include "app/form/form.h"
#include "app/form/quick.h"
#include "app/host/host.h"
#include "app/import/import_page.h"
#include "app/paper/recall_dialog.h"
#include "app/paper/sheet_dialog.h"
#include "app/widgets/compat.h"
#include "app/window/backups_dialog.h"
#include "app/window/farm_dialog.h"
#include "model/demo/demo.h"
#include "model/farm/kinds.h"
#include "model/season/draft.h"

/* --- the desk ------------------------------------------------------------------------- */

static void
painted_cb (gpointer painted)
{
  *(gboolean *) painted = TRUE;
}

/* Twice, for what is given its size may ask for another one. */
static void
settle (gpointer window)
{
  GdkFrameClock *clock = gtk_widget_get_frame_clock (window);
  gboolean painted = FALSE;
  gulong handler
      = g_signal_connect_swapped (clock, "after-paint", G_CALLBACK (painted_cb), &painted);

  for (int round = 0; round < 2; round++)
    {
      app_settle (5);
      painted = FALSE;
      gdk_frame_clock_request_phase (clock, GDK_FRAME_CLOCK_PHASE_LAYOUT);
      while (!painted)
        g_main_context_iteration (NULL, TRUE);
    }
  g_signal_handler_disconnect (clock, handler);
}

void
places_settle (Places *self)
{
  settle (self->window);
}

/* For its style sheets; one for all, since it has a name on the bus. */
static GtkApplication *
get_application (void)
{
  static BedApplication *application;
  g_autoptr (GError) error = NULL;

  if (application)
    return GTK_APPLICATION (application);
  application = bed_application_new ();
  g_application_register (G_APPLICATION (application), NULL, &error);
  g_assert_no_error (error);
  return GTK_APPLICATION (application);
}

Places *
places_new (int width)
{
  BedDemoPlan plan = { .logs = 60, .years = 2, .seed = 1, .today = "2026-07-14" };
  Places *self = g_new0 (Places, 1);
  g_autoptr (GError) error = NULL;

  self->faults = g_ptr_array_new_with_free_func (g_free);
  self->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (self->folder, "demo.bedlog", NULL);
  self->farm = bed_demo_new (path, &plan, &error);
  g_assert_no_error (error);
  self->window = bed_window_new (get_application (), NULL);
  gtk_window_set_default_size (GTK_WINDOW (self->window), width, 800);
  gtk_window_present (GTK_WINDOW (self->window));
  bed_window_set_farm (self->window, self->farm);
  places_settle (self);
  return self;
}

void
places_end (Places *self)
{
  g_autofree char *path = g_build_filename (self->folder, "demo.bedlog", NULL);

  for (guint i = 0; i < self->faults->len; i++)
    g_test_message ("%s", (char *) self->faults->pdata[i]);
  if (self->faults->len > 0)
    g_test_fail_printf ("%u faults", self->faults->len);
  gtk_window_destroy (GTK_WINDOW (self->window));
  app_settle (50);
  g_assert_finalize_object (self->farm);
  g_remove (path);
  g_remove (self->folder);
  g_free (self->folder);
  g_ptr_array_unref (self->faults);
  g_free (self);
}

void
places_fault (Places *self, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_ptr_array_add (self->faults, g_strdup_vprintf (format, arguments));
  va_end (arguments);
}

void
places_each (Places *self, GtkWidget *inside, PlaceWidget seen, gpointer data)
{
  if (!gtk_widget_get_mapped (inside))
    return;
  seen (self, inside, data);
  for (GtkWidget *child = gtk_widget_get_first_child (inside); child;
       child = gtk_widget_get_next_sibling (child))
    places_each (self, child, seen, data);
}

GdkTexture *
places_take (GtkWidget *window)
{
  g_autoptr (GdkPaintable) paintable = gtk_widget_paintable_new (window);
  g_autoptr (GskRenderNode) node = NULL;
  int width = gtk_widget_get_width (window), height = gtk_widget_get_height (window);

  /* Nothing before its next frame. */
  for (guint i = 0; !node && i < 100; i++)
    {
      GtkSnapshot *snapshot = gtk_snapshot_new ();

      app_settle (20);
      gdk_paintable_snapshot (paintable, snapshot, width, height);
      node = gtk_snapshot_free_to_node (snapshot);
    }
  g_assert_nonnull (node);
  return gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (window)), node,
                                      &GRAPHENE_RECT_INIT (0, 0, width, height));
}

void
places_keep_picture (GdkTexture *texture, const char *style, const char *place)
{
  const char *folder = g_getenv ("BEDLOG_PICTURES");
  g_autofree char *path = g_strdup_printf ("%s/%s %s.png", folder, style, place);

  if (folder)
    gdk_texture_save_to_png (texture, path);
}

char *
places_dup_name (GtkWidget *widget)
{
  GString *name = g_string_new (G_OBJECT_TYPE_NAME (widget));
  GtkWidget *label = app_find_of_type (widget, GTK_TYPE_LABEL);
  GtkWidget *row = gtk_widget_get_ancestor (widget, BED_TYPE_FIELD_ROW);

  if (row)
    g_string_append_printf (name, " of %s", bed_field_row_get_field (BED_FIELD_ROW (row))->name);
  else if (label)
    g_string_append_printf (name, " “%.40s”", gtk_label_get_label (GTK_LABEL (label)));
  else if (gtk_widget_get_tooltip_text (widget))
    g_string_append_printf (name, " (%s)", gtk_widget_get_tooltip_text (widget));
  for (GtkWidget *up = gtk_widget_get_parent (widget); up; up = gtk_widget_get_parent (up))
    if (g_str_has_prefix (G_OBJECT_TYPE_NAME (up), "Bed"))
      {
        g_string_append_printf (name, " in %s", G_OBJECT_TYPE_NAME (up));
        break;
      }
  return g_string_free (name, FALSE);
}

/* --- pages and records ---------------------------------------------------------------- */

static const struct
{
  const char *name;
  guint parts;
} pages[] = { { "week", 0 },    { "woodlot", 3 }, { "batches", 5 }, { "yard", 0 },
              { "soaking", 2 }, { "picking", 3 }, { "money", 6 },   { "season", 0 },
              { "history", 0 }, { "care", 6 },    { "names", 9 },   { "import", 0 } };

static void
walk_parts (Places *self, guint at, PlaceSeen seen)
{
  BedPage *page = bed_window_get_page (self->window);

  for (guint part = 0; part < pages[at].parts; part++)
    {
      g_autofree char *name = g_strdup_printf ("%s, part %u", pages[at].name, part + 1);

      bed_page_show_part (page, part);
      places_settle (self);
      seen (self, name, GTK_WINDOW (self->window));
    }
  g_assert_false (bed_page_show_part (page, pages[at].parts));
}

void
places_walk_pages (Places *self, PlaceSeen seen)
{
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      g_assert_true (bed_window_show_page (self->window, pages[i].name));
      places_settle (self);
      if (pages[i].parts == 0)
        seen (self, pages[i].name, GTK_WINDOW (self->window));
      walk_parts (self, i, seen);
    }
}

/* Those that are not read beside the list that a part begins with. */
void
places_walk_records (Places *self, PlaceSeen seen)
{
  static const BedKind kinds[]
      = { BED_KIND_LOG, BED_KIND_AREA, BED_KIND_FEATURE, BED_KIND_STACK, BED_KIND_LOT };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      const BedKindInfo *info = bed_kind_get_info (kinds[i]);
      g_autofree char *sql = g_strdup_printf ("SELECT max (id) FROM \"%s\"", info->name);
      g_autofree char *name = g_strdup_printf ("a %s", info->singular);

      bed_host_show_record (GTK_WIDGET (self->window), kinds[i], ask_one (self->farm, sql, 0));
      places_settle (self);
      seen (self, name, GTK_WINDOW (self->window));
    }
}

/* --- forms ---------------------------------------------------------------------------- */

void
places_walk_forms (Places *self, PlaceSeen seen)
{
  static const BedKind kinds[] = { BED_KIND_DUE,       BED_KIND_CHECK,    BED_KIND_WEIGHING,
                                   BED_KIND_WATERING,  BED_KIND_RAIN,     BED_KIND_FELLING,
                                   BED_KIND_STAND,     BED_KIND_SPAWN,    BED_KIND_BATCH,
                                   BED_KIND_SOAK,      BED_KIND_LOT,      BED_KIND_SALE,
                                   BED_KIND_PICK,      BED_KIND_PURCHASE, BED_KIND_HOURS,
                                   BED_KIND_EQUIPMENT, BED_KIND_RATE,     BED_KIND_STOCK_COUNT };

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      g_autoptr (BedRecord) draft = bed_draft_new (self->farm, kinds[i]);
      g_autofree char *name = g_strdup_printf ("new %s", bed_kind_get_info (kinds[i])->singular);
      GtkWidget *form;

      bed_host_show_draft (GTK_WIDGET (self->window), draft, NULL);
      places_settle (self);
      seen (self, name, GTK_WINDOW (self->window));
      GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self->window));
      form = focus ? gtk_widget_get_ancestor (focus, BED_TYPE_FORM) : NULL;
      if (form)
        g_signal_emit_by_name (form, "left");
    }
}

/* --- dialogs -------------------------------------------------------------------------- */

static void
added_cb (const char *key, gpointer data)
{
}

static void
made_cb (gint64 id, const char *name, gpointer data)
{
}

static void
settings (Places *self)
{
  bed_farm_dialog_change (GTK_WINDOW (self->window));
}

static void
new_farm (Places *self)
{
  bed_farm_dialog_new_farm (GTK_WINDOW (self->window));
}

static void
backups (Places *self)
{
  bed_backups_dialog_show (GTK_WINDOW (self->window), bed_farm_get_path (self->farm));
}

static void
recall (Places *self)
{
  bed_recall_ask_for (GTK_WIDGET (self->window), self->farm);
}

static void
label_sheet (Places *self)
{
  bed_sheet_dialog_show (GTK_WIDGET (self->window), bed_farm_get_notation (self->farm), added_cb,
                         NULL);
}

static void
new_stand (Places *self)
{
  bed_quick_new (GTK_WIDGET (self->window), self->farm, BED_KIND_STAND, "Brook side", made_cb,
                 NULL);
}

static void
change_task (Places *self)
{
  gint64 pick = ask_one (self->farm, "SELECT max (id) FROM pick", 0);

  bed_quick_change (GTK_WIDGET (self->window), self->farm, BED_KIND_PICK, pick);
}

static void
print_page (Places *self, const char *page)
{
  bed_window_show_page (self->window, page);
  places_settle (self);
  bed_page_print (bed_window_get_page (self->window));
}

static void
print_tags (Places *self)
{
  print_page (self, "batches");
}

static void
print_map (Places *self)
{
  print_page (self, "yard");
}

static void
shortcuts (Places *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self->window), "win.shortcuts", NULL);
}

static void
manual (Places *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self->window), "win.help", NULL);
}

static void
question (Places *self)
{
  static const BedQuestion asked = { "Close the farm?", "What you typed is not saved.",
                                     "Close without saving", "Keep typing" };

  bed_ask (GTK_WIDGET (self->window), &asked, G_CALLBACK (gtk_widget_queue_draw), self->window);
}

/* The window over that of the farm; NULL: there is none. */
static GtkWindow *
find_dialog (Places *self)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (l->data != self->window && gtk_widget_get_mapped (l->data))
      return l->data;
  return NULL;
}

/* A sheet that is asked about. */
void
places_walk_import (Places *self, PlaceSeen seen)
{
  g_autofree char *path = g_build_filename (g_getenv ("BEDLOG_SOURCE"), "tests", "notebook",
                                            "sheets", "logs-mixed.csv", NULL);
  const BedImportSource source = { path, NULL, "logs-mixed.csv" };

  bed_window_show_page (self->window, "import");
  BedImportPage *page = BED_IMPORT_PAGE (bed_window_get_page (self->window));
  bed_import_page_open (page, &source);
  for (int i = 0; i < 200 && !app_find_button (GTK_WIDGET (page), "Begin again"); i++)
    app_settle (10);
  app_settle (300);
  places_settle (self);
  seen (self, "a sheet", GTK_WINDOW (self->window));
}

/* From the desk back to the first page, where there is no farm any more. */
void
places_walk_start (Places *self, PlaceSeen seen)
{
  bed_window_set_farm (self->window, NULL);
  places_settle (self);
  seen (self, "the first page", GTK_WINDOW (self->window));
}

void
places_walk_dialogs (Places *self, PlaceSeen seen)
{
  static const struct
  {
    const char *name;
    void (*open) (Places *self);
  } dialogs[] = {
    { "settings", settings },
    { "new farm", new_farm },
    { "backups", backups },
    { "recall", recall },
    { "label sheet", label_sheet },
    { "a stand made", new_stand },
    { "a pick put right", change_task },
    { "print tags", print_tags },
    { "print map", print_map },
    { "shortcuts", shortcuts },
    { "manual", manual },
    { "question", question },
  };

  for (guint i = 0; i < G_N_ELEMENTS (dialogs); i++)
    {
      dialogs[i].open (self);
      places_settle (self);
      GtkWindow *window = find_dialog (self);
      if (!window)
        g_error ("%s: nothing opens", dialogs[i].name);
      settle (window);
      seen (self, dialogs[i].name, window);
      gtk_window_destroy (window);
    }
}
