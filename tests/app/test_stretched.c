/* Every page, form and dialog in a language in which each text stands between marks, with accents
 * and a third longer (stretched.py): what a person reads is either between marks, or typed by
 * somebody, a number, a day or a unit; and it is not cut off. What is typed has marks here, too, so
 * that it is not taken for a text that was left out. In another LANGUAGE nothing is cut off,
 * either. */
#include "app_test.h"

#include <glib/gi18n-lib.h>
#include <locale.h>
#include <sqlite3.h>
#include <string.h>

#include "app/desk/parts_page.h"
#include "app/form/forms.h"
#include "app/form/quick.h"
#include "app/host/host.h"
#include "app/manual/manual_book.h"
#include "app/window/window.h"
#include "model/demo/demo.h"
#include "model/farm/kinds.h"
#include "model/farm/stage.h"
#include "model/season/draft.h"
#include "science/language.h"

static BedFarm *farm;
static BedWindow *window;
static GHashTable *found; /* faults of a test, each once */
static GHashTable *seen;  /* those of one look */

#define TRIES 50

/* --- the farm --------------------------------------------------------------------------- */

static gboolean
is_typed (const BedField *field)
{
  return (field->type == BED_FIELD_TEXT || field->type == BED_FIELD_NOTE) && !field->year_day
         && !field->points && !g_str_equal (field->name, "code")
         && !g_str_equal (field->name, "mark") && !g_str_equal (field->name, "currency");
}

static void
run (sqlite3 *db, const char *sql)
{
  char *why = NULL;

  if (sqlite3_exec (db, sql, NULL, NULL, &why) != SQLITE_OK)
    g_error ("%s: %s", sql, why);
}

/* No rule is asked: nothing but marks is added. */
static void
mark_typed (const char *path)
{
  sqlite3 *db;

  g_assert_cmpint (sqlite3_open (path, &db), ==, SQLITE_OK);
  run (db, "BEGIN");
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    for (guint i = 0; kind != BED_KIND_MATCHING && i < bed_kind_get_info (kind)->n_fields; i++)
      {
        const BedKindInfo *info = bed_kind_get_info (kind);
        const char *name = info->fields[i].name;
        g_autofree char *sql
            = g_strdup_printf ("UPDATE \"%s\" SET \"%s\" = '‹' || \"%s\" || '›' WHERE \"%s\" <> ''",
                               info->name, name, name, name);

        if (is_typed (&info->fields[i]))
          run (db, sql);
      }
  run (db, "UPDATE change SET sentence = '‹' || sentence || '›', who = '‹' || who || '›'");
  run (db, "COMMIT");
  sqlite3_close (db);
}

static BedFarm *
make_farm (const char *folder)
{
  const BedDemoPlan plan = { .logs = 12, .years = 2, .today = "2026-07-14" };
  g_autofree char *path = g_build_filename (folder, "farm.bedlog", NULL);
  g_autoptr (GError) error = NULL;
  BedFarm *made = bed_demo_new (path, &plan, &error);

  g_assert_no_error (error);
  g_object_unref (made);
  mark_typed (path);
  made = bed_farm_open (path, &error);
  g_assert_no_error (error);
  bed_farm_fix_clock (made, "2026-07-14T09:00", 1);
  return made;
}

/* --- what is read ------------------------------------------------------------------------- */

/* Days and months of the C library, units, keys, and names of files and things that have none in
 * another language. */
static gboolean
is_known (const char *word)
{
  static const char *const words[]
      = { "Mon",  "Tue",    "Wed",       "Thu",     "Fri",      "Sat",      "Sun",    "Jan",
          "Feb",  "Mar",    "Apr",       "May",     "Jun",      "Jul",      "Aug",    "Sep",
          "Oct",  "Nov",    "Dec",       "January", "February", "March",    "April",  "June",
          "July", "August", "September", "October", "November", "December", "USD",    "gal",
          "min",  "Ctrl",   "Shift",     "Alt",     "Bedlog",   "Letter",   "Return", "Escape",
          "Down", "Delete", "bedlog",    "PDF",     "PNG",      "SVG",      "CSV",    "xlsx",
          "ods",  "csv",    "Page",      NULL };

  return g_strv_contains (words, word);
}

/* The first word of at least three letters outside of marks that is neither known nor a code. */
static char *
dup_unmarked (const char *text)
{
  g_autoptr (GString) word = g_string_new (NULL);
  gboolean code = FALSE;
  int depth = 0;

  for (const char *at = text;; at = g_utf8_next_char (at))
    {
      gunichar c = g_utf8_get_char (at);

      if (depth == 0 && (g_unichar_isalpha (c) || g_unichar_isdigit (c)))
        {
          code |= g_unichar_isdigit (c);
          g_string_append_unichar (word, c);
          continue;
        }
      if (g_utf8_strlen (word->str, -1) >= 3 && !code && !is_known (word->str))
        return g_strdup (word->str);
      g_string_truncate (word, 0);
      code = FALSE;
      if (!c)
        return NULL;
      depth += c == L'‹' ? 1 : c == L'›' && depth > 0 ? -1 : 0;
    }
}

static void
tell (const char *what, GtkWidget *widget, const char *text)
{
  g_hash_table_add (seen, g_strdup_printf ("%s: %s (%s)", what, text, G_OBJECT_TYPE_NAME (widget)));
}

/* The language that all is marked in. */
static gboolean
is_marked (void)
{
  return g_strcmp0 (g_getenv ("LANGUAGE"), "xx") == 0;
}

static void
check_words (const char *what, GtkWidget *widget, const char *text)
{
  /* A file is called what it is called. */
  g_autofree char *word = is_marked () && text && !g_path_is_absolute (text) ? dup_unmarked (text)
                                                                             : NULL;

  if (word)
    tell (what, widget, text);
}

/* What a screen reader says; GTK tells it only as what it is not. */
static void
check_accessible (GtkWidget *widget)
{
  static const GtkAccessibleProperty properties[] = { GTK_ACCESSIBLE_PROPERTY_LABEL,
                                                      GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                                      GTK_ACCESSIBLE_PROPERTY_PLACEHOLDER };

  for (gsize i = 0; i < G_N_ELEMENTS (properties); i++)
    {
      g_autofree char *said
          = gtk_test_accessible_has_property (GTK_ACCESSIBLE (widget), properties[i])
                ? gtk_test_accessible_check_property (GTK_ACCESSIBLE (widget), properties[i],
                                                      "\x01")
                : NULL;
      check_words ("said unmarked", widget, said);
    }
}

/* --- what is cut -------------------------------------------------------------------------- */

static gboolean
has_tooltip (GtkWidget *widget)
{
  for (; widget && !GTK_IS_WINDOW (widget); widget = gtk_widget_get_parent (widget))
    if (gtk_widget_get_has_tooltip (widget))
      return TRUE;
  return FALSE;
}

/* Sideways, what is scrolled is no less there. */
static gboolean
is_scrolled (GtkWidget *widget)
{
  GtkWidget *scrolled = gtk_widget_get_ancestor (widget, GTK_TYPE_SCROLLED_WINDOW);
  GtkPolicyType across = GTK_POLICY_NEVER;

  if (scrolled)
    gtk_scrolled_window_get_policy (GTK_SCROLLED_WINDOW (scrolled), &across, NULL);
  return across != GTK_POLICY_NEVER;
}

static void
check_room (GtkLabel *label)
{
  GtkWidget *widget = GTK_WIDGET (label), *root = GTK_WIDGET (gtk_widget_get_root (widget));
  const char *text = gtk_label_get_text (label);
  int natural, least;
  graphene_rect_t bounds;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &least, &natural, NULL, NULL);
  if (!*text || !gtk_widget_compute_bounds (widget, root, &bounds) || bounds.size.width < 1)
    return;
  if (gtk_label_get_ellipsize (label) != PANGO_ELLIPSIZE_NONE)
    {
      if (pango_layout_is_ellipsized (gtk_label_get_layout (label)) && !has_tooltip (widget))
        tell ("shortened without a tooltip", widget, text);
    }
  else if (!gtk_label_get_wrap (label) && natural > bounds.size.width + 1)
    tell ("cut", widget, text);
  if (!is_scrolled (widget)
      && bounds.origin.x + bounds.size.width > gtk_widget_get_width (root) + 1)
    tell ("beyond the window", widget, text);
}

static void
check_widget (GtkWidget *widget)
{
  /* The toolkit has languages of its own. */
  if (!gtk_widget_get_mapped (widget) || GTK_IS_WINDOW_CONTROLS (widget))
    return;
  if (GTK_IS_LABEL (widget))
    {
      check_words ("unmarked", widget, gtk_label_get_text (GTK_LABEL (widget)));
      check_room (GTK_LABEL (widget));
    }
  if (GTK_IS_ENTRY (widget))
    check_words ("unmarked", widget, gtk_entry_get_placeholder_text (GTK_ENTRY (widget)));
  check_words ("tooltip unmarked", widget, gtk_widget_get_tooltip_text (widget));
  check_accessible (widget);
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child;
       child = gtk_widget_get_next_sibling (child))
    check_widget (child);
}

/* What is still on its way to its place and width is looked at again. */
static void
check_all (const char *where)
{
  for (int tries = 0; tries < TRIES; tries++)
    {
      g_autoptr (GList) windows = gtk_window_list_toplevels ();

      g_hash_table_remove_all (seen);
      for (GList *l = windows; l; l = l->next)
        check_widget (l->data);
      if (g_hash_table_size (seen) == 0)
        return;
      app_settle (100);
    }
  GHashTableIter faults;
  gpointer fault;
  g_hash_table_iter_init (&faults, seen);
  while (g_hash_table_iter_next (&faults, &fault, NULL))
    if (g_hash_table_add (found, g_strdup (fault)))
      g_print ("# %s: %s\n", where, (char *) fault);
}

static void
close_others (void)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (l->data != window && GTK_IS_WINDOW (l->data))
      gtk_window_destroy (l->data);
  app_settle (20);
}

/* --- tests ---------------------------------------------------------------------------------- */

static void
begin (void)
{
  g_hash_table_remove_all (found);
}

static void
end (void)
{
  /* What was found is told already; the rest is looked at, too. */
  if (g_hash_table_size (found) > 0)
    g_test_fail ();
}

static void
test_marks (void)
{
  g_autofree char *none = dup_unmarked ("‹Šààvéé: ‹Ľõõğ› 26A-001-K›, 3 lb, 14 Jul 2026, 26A-001-K");
  g_autofree char *one = dup_unmarked ("‹Ľõõğ› 4 batches");

  g_assert_null (none);
  g_assert_cmpstr (one, ==, "batches");
  g_assert_cmpstr (bed_comma (), ==, ", ");
  g_assert_true (g_str_has_prefix (_ ("Save"), "‹"));
}

static const char *
say_choice (BedKind kind, const char *field, const char *key)
{
  return bed_field_choice_label (bed_kind_find_field (kind, field, NULL), key);
}

/* What was said in the other language is not said again. */
static void
speak (const char *language)
{
  g_autofree char *locale = g_strdup (setlocale (LC_MESSAGES, NULL));

  g_setenv ("LANGUAGE", language, TRUE);
  setlocale (LC_MESSAGES, "C");
  setlocale (LC_MESSAGES, locale);
}

/* One English word, in each of its senses another. */
static void
test_senses (void)
{
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      const BedKindInfo *info = bed_kind_get_info (kind);
      for (guint i = 0; i < info->n_fields; i++)
        for (const BedChoice *c = info->fields[i].choices; c && c->key; c++)
          if (!g_str_has_prefix (bed_choice_get_word (c), "‹"))
            g_error ("%s.%s: %s", info->name, info->fields[i].name, bed_choice_get_word (c));
    }
  for (BedStage stage = 0; stage < BED_N_STAGES; stage++)
    g_assert_true (g_str_has_prefix (bed_stage_get_word (stage), "‹"));

  speak ("de");
  g_assert_cmpstr (say_choice (BED_KIND_CHECK, "bark", "lost"), ==, "abgefallen");
  g_assert_cmpstr (say_choice (BED_KIND_LOG, "retired_why", "lost"), ==, "verloren");
  g_assert_cmpstr (say_choice (BED_KIND_HOURS, "task", "felling"), ==, "Fällen");
  g_assert_cmpstr (_ (bed_kind_get_info (BED_KIND_FELLING)->singular), ==, "Fällung");
  g_assert_cmpstr (say_choice (BED_KIND_HOURS, "task", "soaking"), ==, "Tauchen");
  g_assert_cmpstr (bed_stage_get_word (BED_STAGE_SOAKING), ==, "im Bad");
  g_assert_cmpstr (say_choice (BED_KIND_BATCH, "wax", "other"), ==, "anderes");
  g_assert_cmpstr (say_choice (BED_KIND_SPAWN_GONE, "why", "other"), ==, "anderer Grund");
  g_assert_cmpstr (say_choice (BED_KIND_AREA, "shade_kind", "none"), ==, "keiner");
  speak ("xx");
}

/* A page that is translated is read so; one that is not is English, under the translated title. */
static void
test_manual (void)
{
  guint n;

  g_setenv ("LANGUAGE", "de", TRUE);
  const BedManualPage *pages = bed_manual_get_pages (&n);
  g_setenv ("LANGUAGE", "xx", TRUE);
  const BedManualPage *batch = &pages[bed_manual_find ("batch.md")];
  const BedManualPage *yard = &pages[bed_manual_find ("yard.md")];

  g_assert_cmpstr (batch->title, ==, "Ein Satz");
  g_assert_nonnull (strstr (batch->text, "# Ein Satz"));
  g_assert_cmpint (bed_manual_find_topic ("batches"), ==, batch - pages);
  g_assert_cmpstr (yard->title, ==, "Stämme legen und umlagern");
  g_assert_null (strstr (yard->text, yard->title));
}

static void
test_start (void)
{
  begin ();
  bed_window_set_farm (window, NULL);
  app_settle (50);
  check_all ("start");
  bed_window_set_farm (window, farm);
  end ();
}

static void
test_pages (gconstpointer width)
{
  static const char *const pages[] = { "week",  "woodlot", "batches", "yard",  "soaking", "picking",
                                       "money", "season",  "care",    "names", "history" };

  begin ();
  app_widen (GTK_WIDGET (window), GPOINTER_TO_INT (width));
  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      BedPage *page;

      g_assert_true (bed_window_show_page (window, pages[i]));
      app_settle (60);
      check_all (pages[i]);
      page = bed_window_get_page (window);
      for (int part = 1; BED_IS_PARTS_PAGE (page) && part < 9; part++)
        {
          gtk_widget_activate_action (GTK_WIDGET (window), "win.part", "i", part);
          app_settle (40);
          check_all (pages[i]);
        }
    }
  end ();
}

static void
test_forms (void)
{
  begin ();
  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    {
      g_autoptr (BedRecord) draft = NULL;

      if (!bed_forms_get_spec (kind) || kind == BED_KIND_FARM)
        continue;
      draft = bed_draft_new (farm, kind);
      bed_quick_add (GTK_WIDGET (window), farm, draft);
      app_settle (40);
      check_all (bed_kind_get_info (kind)->name);
      close_others ();
    }
  end ();
}

static void
test_dialogs (void)
{
  static const char *const actions[]
      = { "win.print", "win.settings", "win.backups", "win.shortcuts", "win.recall-of", "win.new" };

  begin ();
  g_assert_true (bed_window_show_page (window, "batches"));
  app_settle (150); /* under a dialog nothing moves on */
  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++)
    {
      g_assert_true (gtk_widget_activate_action (GTK_WIDGET (window), actions[i], NULL));
      app_settle (150);
      check_all (actions[i]);
      close_others ();
    }
  end ();
}

int
main (int argc, char *argv[])
{
  bed_language_begin ("");
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_autofree char *folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);

  farm = make_farm (folder);
  found = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  window = g_object_new (BED_TYPE_WINDOW, "default-width", 1280, "default-height", 800, NULL);
  gtk_window_present (GTK_WINDOW (window));
  bed_window_set_farm (window, farm);
  app_settle (100);
  if (is_marked ())
    {
      g_test_add_func ("/stretched/marks", test_marks);
      g_test_add_func ("/stretched/senses", test_senses);
      g_test_add_func ("/stretched/manual", test_manual);
    }
  g_test_add_func ("/stretched/start", test_start);
  g_test_add_data_func ("/stretched/pages/wide", GINT_TO_POINTER (1280), test_pages);
  g_test_add_data_func ("/stretched/pages/narrow", GINT_TO_POINTER (900), test_pages);
  g_test_add_func ("/stretched/forms", test_forms);
  g_test_add_func ("/stretched/dialogs", test_dialogs);
  return g_test_run ();
}
