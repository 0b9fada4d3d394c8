#include "../ask.h"

#include "app_test.h"

#include "app/batches/batch_form.h"
#include "app/batches/log_entry.h"
#include "app/form/form.h"
#include "app/form/forms.h"
#include "model/farm/history.h"
#include "model/farm/kinds.h"
#include "model/farm/names.h"

/* Beside the narrowest list of a window of 1280 x 800 its fields are this wide, and have this much
 * room above the foot with a caution of two lines. */
#define FIELDS_WIDTH 686
#define FIELDS_HEIGHT 590

static void
assert_fits (GtkWidget *form, const char *name)
{
  GtkWidget *sheet
      = gtk_viewport_get_child (GTK_VIEWPORT (app_find_of_type (form, GTK_TYPE_VIEWPORT)));
  int height, width;

  gtk_widget_measure (form, GTK_ORIENTATION_HORIZONTAL, -1, &width, NULL, NULL, NULL);
  gtk_widget_measure (sheet, GTK_ORIENTATION_VERTICAL, FIELDS_WIDTH, NULL, &height, NULL, NULL);
  if (height > FIELDS_HEIGHT || width > FIELDS_WIDTH)
    g_error ("the form of a %s is %d px high, at least %d wide", name, height, width);
}

/* Each kind's form is made, shown and finalised; each field of it has a row. */
static void
test_every_form (Scene *scene, gconstpointer data)
{
  guint n = 0;

  for (int kind = 0; kind < BED_N_KINDS; kind++)
    {
      const BedFormSpec *spec = bed_forms_get_spec (kind);
      GtkWidget *form, *window;

      if (!spec)
        continue;
      form = GTK_WIDGET (bed_form_new (scene->farm, spec));
      for (guint g = 0; g < spec->n_groups; g++)
        for (guint f = 0; spec->groups[g].fields[f]; f++)
          g_assert_nonnull (bed_form_get_text (BED_FORM (form), spec->groups[g].fields[f]));
      window = app_show (form);
      assert_fits (form, bed_kind_get_info (kind)->name);
      app_close (window, form);
      n++;
    }
  g_assert_cmpuint (n, >=, 10);
}

/* What cannot be understood keeps its text and its form, and is not saved. */
static void
test_text_is_kept (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_FELLING));
  GtkWidget *window = app_show (GTK_WIDGET (form));

  bed_form_set_text (form, "wood", "northern red oak");
  bed_form_set_text (form, "supplier", "the neighbour");
  bed_form_set_text (form, "dbh", "thick");
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpstr (bed_form_get_text (form, "dbh"), ==, "thick");
  g_assert_false (bed_record_has (bed_form_get_draft (form), "dbh"));
  g_assert_nonnull (
      app_find_button (GTK_WIDGET (form), "Save: look at “Mean diameter at breast height”"));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_FELLING), ==, 0);
  app_close (window, GTK_WIDGET (form));
}

static void
test_button_says_what_is_missing (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_FELLING));
  GtkWidget *window = app_show (GTK_WIDGET (form));

  g_assert_nonnull (app_find_button (GTK_WIDGET (form), "Save: “Wood” is missing"));
  bed_form_set_text (form, "wood", "northern red oak");
  app_settle (400);
  g_assert_null (app_find_button (GTK_WIDGET (form), "Save: “Wood” is missing"));
  app_close (window, GTK_WIDGET (form));
}

/* Metric farm: inches are taken, and said in centimetres. */
static void
test_other_unit (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_LOG));
  GtkWidget *window = app_show (GTK_WIDGET (form));

  bed_form_set_text (form, "small_diameter", "5 in");
  g_assert_cmpint (bed_record_get_int (bed_form_get_draft (form), "small_diameter"), ==, 127000);
  g_assert_nonnull (app_find_label (GTK_WIDGET (form), "= 12.7 cm"));
  app_close (window, GTK_WIDGET (form));
}

static void
test_save_and_next (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_FELLING));
  GtkWidget *window = app_show (GTK_WIDGET (form));

  bed_form_set_text (form, "wood", "northern red oak");
  bed_form_set_text (form, "supplier", "the neighbour");
  bed_form_set_text (form, "leaf", "dormant");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_NEXT));
  g_assert_cmpint (bed_farm_count (scene->farm, BED_KIND_FELLING), ==, 1);
  g_assert_cmpint (bed_record_get_id (bed_form_get_original (form)), ==, 0);
  g_assert_cmpstr (bed_form_get_text (form, "leaf"), ==, "dormant");
  g_assert_cmpstr (bed_form_get_text (form, "supplier"), ==, "");
  g_autofree char *sentence
      = bed_history_dup_sentence (scene->farm, bed_history_find_undo (scene->farm));
  g_assert_cmpstr (sentence, ==, "Recorded felling F26-1");
  app_close (window, GTK_WIDGET (form));
}

/* Esc and back: the typing is there, until it is saved. */
static void
test_resume (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_STAND));
  GtkWidget *window = app_show (GTK_WIDGET (form));

  bed_form_set_text (form, "name", "North slope");
  bed_form_resume (form, NULL);
  g_assert_cmpstr (bed_form_get_text (form, "name"), ==, "North slope");
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  bed_form_resume (form, NULL);
  g_assert_cmpstr (bed_form_get_text (form, "name"), ==, "");
  app_close (window, GTK_WIDGET (form));
}

static BedLogEntry *
find_entry (GtkWidget *inside)
{
  return BED_LOG_ENTRY (app_find_of_type (inside, BED_TYPE_LOG_ENTRY));
}

/* Pattern, spawn and logs go in as one change with one sentence; the logs get their codes and
 * the holes of the plan; the spawn used is what the plan needs. */
static void
test_inoculation_sheet (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 2);

  BedForm *form = bed_batch_form_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (form));
  BedLogEntry *entry = find_entry (GTK_WIDGET (form));
  g_autofree char *spawn = bed_farm_dup_name (scene->farm, BED_KIND_SPAWN,
                                              ask_one (scene->farm, "SELECT id FROM spawn", 0));

  bed_form_set_text (form, "hole_diameter", "12");
  bed_form_set_text (form, "hole_depth", "25");
  bed_form_set_text (form, "along", "15");
  bed_form_set_text (form, "between", "7.5");
  bed_form_set_text (form, "margin", "5");
  bed_form_set_text (form, "spawn", spawn);
  bed_form_set_text (form, "length", "100");
  for (int i = 0; i < 24; i++)
    {
      bed_form_set_text (form, "small_diameter", "12.5");
      g_assert_cmpuint (bed_log_entry_take_pending (entry)->len, ==, i + 1);
    }
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));

  g_autofree char *sentence
      = bed_history_dup_sentence (scene->farm, bed_history_find_undo (scene->farm));
  g_assert_cmpstr (sentence, ==, "Inoculated 24 logs, batch 26B");
  gint64 batch = bed_farm_find (scene->farm, BED_KIND_BATCH, "26B", NULL);
  g_assert_cmpint (ask_one (scene->farm, "SELECT count (*) FROM log WHERE batch = ?1", batch), ==,
                   24);
  g_assert_cmpint (ask_one (scene->farm,
                            "SELECT count (*) FROM log WHERE batch = ?1"
                            " AND holes > 20",
                            batch),
                   ==, 24);
  g_assert_cmpint (ask_one (scene->farm,
                            "SELECT count (*) FROM spawn_used"
                            " WHERE batch = ?1 AND mass > 0",
                            batch),
                   ==, 1);
  g_assert_true (bed_history_undo (scene->farm, NULL, NULL));
  g_assert_cmpint (bed_farm_find (scene->farm, BED_KIND_BATCH, "26B", NULL), ==, 0);
  app_close (window, GTK_WIDGET (form));
}

/* A log thinner than the field allows is refused where it is typed, and stays there. */
static void
test_log_out_of_range (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 1);

  BedForm *form = bed_batch_form_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (form));
  BedLogEntry *entry = find_entry (GTK_WIDGET (form));

  bed_form_set_text (form, "length", "100");
  bed_form_set_text (form, "small_diameter", "0.5");
  g_assert_cmpuint (bed_log_entry_take_pending (entry)->len, ==, 0);
  g_assert_cmpstr (bed_form_get_text (form, "small_diameter"), ==, "0.5");
  app_close (window, GTK_WIDGET (form));
}

/* A block of cells becomes lines, up to one that cannot be understood; when it is put right the
 * others follow. */
static void
test_paste (Scene *scene, gconstpointer data)
{
  scene_batch (scene->farm, 1);

  BedForm *form = bed_batch_form_new (scene->farm);
  GtkWidget *window = app_show (GTK_WIDGET (form));
  BedLogEntry *entry = find_entry (GTK_WIDGET (form));

  bed_form_set_text (form, "length", "100");
  g_assert_cmpuint (bed_log_entry_paste (entry, "10.5\r\n12\t90\n\n5 in\nthick\n11"), ==, 3);
  BedRecord *second = g_ptr_array_index (bed_log_entry_get_lines (entry), 1);
  g_assert_cmpint (bed_record_get_int (second, "small_diameter"), ==, 120000);
  g_assert_cmpint (bed_record_get_int (second, "length"), ==, 900000);
  g_assert_cmpstr (bed_form_get_text (form, "small_diameter"), ==, "thick");
  g_assert_nonnull (app_find_label (GTK_WIDGET (form), "1 pasted line waits"));
  bed_form_set_text (form, "small_diameter", "13");
  g_assert_cmpuint (bed_log_entry_take_pending (entry)->len, ==, 5);
  g_assert_cmpint (bed_record_get_int (bed_log_entry_get_lines (entry)->pdata[4], "small_diameter"),
                   ==, 110000);
  g_assert_null (app_find_label (GTK_WIDGET (form), "wait"));
  app_close (window, GTK_WIDGET (form));
}

static GtkWidget *
get_focus_of (gpointer form, const char *field)
{
  return bed_editor_get_focus_widget (bed_field_row_get_editor (app_find_row (form, field)));
}

/* The season's start is a month and a day of it that every year has. */
static void
test_season_start (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_FARM));
  GtkWidget *window = app_show (GTK_WIDGET (form));
  GtkWidget *month = get_focus_of (form, "season_start");
  GtkWidget *day = gtk_widget_get_next_sibling (month);

  bed_form_edit (form, bed_farm_get_settings (scene->farm));
  g_assert_cmpstr (bed_form_get_text (form, "season_start"), ==, "01-01");
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (month)), ==, 1);
  g_assert_false (bed_form_has_typing (form));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (day), 31);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (month), 2);
  g_assert_cmpstr (bed_form_get_text (form, "season_start"), ==, "02-28");
  g_assert_cmpuint (gtk_drop_down_get_selected (GTK_DROP_DOWN (day)), ==, 28);
  g_assert_true (bed_form_has_typing (form));
  g_assert_true (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_cmpstr (bed_record_get_text (bed_farm_get_settings (scene->farm), "season_start"), ==,
                   "02-28");
  app_close (window, GTK_WIDGET (form));
}

/* A field on a page that is not seen is led to by its fault. */
static void
test_pages (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_FARM));
  GtkWidget *window = app_show (GTK_WIDGET (form));
  GtkWidget *row = GTK_WIDGET (app_find_row (form, "aisle"));

  bed_form_edit (form, bed_farm_get_settings (scene->farm));
  g_assert_false (gtk_widget_get_mapped (row));
  bed_form_set_text (form, "aisle", "wide");
  g_assert_false (bed_form_save (form, BED_FORM_THEN_LEAVE));
  g_assert_true (gtk_widget_get_mapped (row));
  app_close (window, GTK_WIDGET (form));
}

/* Where there is nothing to choose from it says how one comes there. */
static void
test_nothing_to_choose (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_SALE));
  GtkWidget *window = app_show (GTK_WIDGET (form));

  g_assert_null (app_find_label (GTK_WIDGET (form), "type a name to add one"));
  g_signal_emit_by_name (get_focus_of (form, "buyer"), "icon-press", GTK_ENTRY_ICON_SECONDARY);
  g_assert_nonnull (app_find_label (GTK_WIDGET (form), "type a name to add one"));
  app_close (window, GTK_WIDGET (form));
}

/* A fault that is longer than its line is there whole once typing stops, and moves nothing. */
static void
test_long_fault (Scene *scene, gconstpointer data)
{
  static const char *const long_text
      = "a day between the first frost and the last of the leaves, perhaps";
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_FELLING));
  GtkWidget *window = app_show (GTK_WIDGET (form));
  GtkWidget *row = GTK_WIDGET (app_find_row (form, "felled_on")), *whole = NULL;
  int height = gtk_widget_get_height (row);

  bed_form_focus (form, "felled_on");
  bed_form_set_text (form, "felled_on", long_text);
  for (GtkWidget *child = gtk_widget_get_first_child (row); child;
       child = gtk_widget_get_next_sibling (child))
    if (GTK_IS_POPOVER (child))
      whole = child;
  g_assert_nonnull (whole);
  g_assert_false (gtk_widget_get_mapped (whole));
  app_settle (900);
  g_assert_true (gtk_widget_get_mapped (whole));
  g_assert_nonnull (app_find_label (whole, long_text));
  g_assert_cmpint (gtk_widget_get_height (row), ==, height);
  bed_form_set_text (form, "felled_on", "2026-02-03");
  app_settle (400);
  g_assert_false (gtk_widget_get_visible (whole));
  g_assert_nonnull (app_find_label (row, "Tue 3 Feb 2026"));
  app_close (window, GTK_WIDGET (form));
}

/* A wood is chosen by the name it has where it grows, and the form says what to ask before it is
 * moved; a name of several is not taken. Untested water is warned of as it is chosen. */
static void
test_names_and_cautions (Scene *scene, gconstpointer data)
{
  BedForm *form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_FELLING));
  GtkWidget *window = app_show (GTK_WIDGET (form));
  GtkWidget *entry = app_find_of_type (app_find_row (form, "wood"), GTK_TYPE_ENTRY);

  gtk_editable_set_text (GTK_EDITABLE (entry), "traubeneic");
  app_settle (50);
  g_assert_nonnull (app_find_label (GTK_WIDGET (app_find_row (form, "wood")), "sessile oak"));
  bed_form_set_text (form, "wood", "Traubeneiche");
  app_settle (400);
  g_assert_cmpint (bed_record_get_int (bed_form_get_draft (form), "wood"), ==,
                   bed_farm_find (scene->farm, BED_KIND_WOOD, "sessile oak", NULL));
  g_assert_nonnull (app_find_label (GTK_WIDGET (form), "chestnut blight"));
  bed_form_set_text (form, "wood", "Eiche");
  app_settle (400);
  g_assert_false (bed_record_has (bed_form_get_draft (form), "wood"));
  g_assert_null (app_find_label (GTK_WIDGET (form), "chestnut blight"));
  app_close (window, GTK_WIDGET (form));

  form = bed_form_new (scene->farm, bed_forms_get_spec (BED_KIND_SOAK));
  window = app_show (GTK_WIDGET (form));
  g_assert_null (app_find_label (GTK_WIDGET (form), "nobody tested"));
  bed_form_set_text (form, "water", "stream");
  app_settle (400);
  g_assert_nonnull (app_find_label (GTK_WIDGET (form), "nobody tested"));
  app_close (window, GTK_WIDGET (form));
}

#define ADD(path, function)                                                                        \
  g_test_add (path, Scene, "metric", scene_set_up, function, scene_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  app_begin ();
  ADD ("/app/form/every-kind", test_every_form);
  ADD ("/app/form/text-is-kept", test_text_is_kept);
  ADD ("/app/form/missing", test_button_says_what_is_missing);
  ADD ("/app/form/other-unit", test_other_unit);
  ADD ("/app/form/save-and-next", test_save_and_next);
  ADD ("/app/form/resume", test_resume);
  ADD ("/app/form/inoculation-sheet", test_inoculation_sheet);
  ADD ("/app/form/log-out-of-range", test_log_out_of_range);
  ADD ("/app/form/paste", test_paste);
  ADD ("/app/form/season-start", test_season_start);
  ADD ("/app/form/pages", test_pages);
  ADD ("/app/form/nothing-to-choose", test_nothing_to_choose);
  ADD ("/app/form/long-fault", test_long_fault);
  ADD ("/app/form/names-and-cautions", test_names_and_cautions);
  return g_test_run ();
}
