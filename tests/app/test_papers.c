#include "../ask.h"

#include "app/form/forms.h"
#include "app/paper/papers.h"

#include <glib/gstdio.h>
#include <string.h>

#include "model/demo/demo.h"
#include "model/farm/edit.h"
#include "model/farm/query.h"
#include "print/field/field_sheet_kinds.h"

static const char *tool;

typedef struct
{
  char *folder;
  BedFarm *farm;
  GPtrArray *sheets;
} Desk;

static void
set_up (Desk *desk, gconstpointer data)
{
  BedDemoPlan plan = { .logs = 120, .years = 3, .seed = 5, .today = "2026-07-14" };
  g_autoptr (GError) error = NULL;

  desk->folder = g_dir_make_tmp ("bedlog-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (desk->folder, "demo.bedlog", NULL);
  desk->farm = bed_demo_new (path, &plan, &error);
  g_assert_no_error (error);
  desk->sheets = bed_sheet_list_new ();
}

static void
tear_down (Desk *desk, gconstpointer data)
{
  const char *names[] = { "demo.bedlog", "a.pdf", "b.pdf" };

  g_assert_finalize_object (desk->farm);
  g_ptr_array_unref (desk->sheets);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (desk->folder, names[i], NULL);
      g_unlink (path);
    }
  g_rmdir (desk->folder);
  g_free (desk->folder);
}

/* Some record the paper can be about. */
static gint64
subject_of (Desk *desk, BedPrint what)
{
  static const char *const questions[BED_N_PRINTS] = {
    [BED_PRINT_TAGS] = "SELECT id FROM batch ORDER BY id DESC LIMIT 1",
    [BED_PRINT_TAG] = "SELECT id FROM log ORDER BY id DESC LIMIT 1",
    [BED_PRINT_GUIDE_BARK] = "SELECT id FROM batch ORDER BY id DESC LIMIT 1",
    [BED_PRINT_GUIDE] = "SELECT id FROM batch ORDER BY id DESC LIMIT 1",
    [BED_PRINT_INOCULATION] = "SELECT id FROM batch ORDER BY id DESC LIMIT 1",
    [BED_PRINT_WEIGHING] = "SELECT id FROM batch ORDER BY id DESC LIMIT 1",
    [BED_PRINT_TALLY] = "SELECT id FROM felling ORDER BY id DESC LIMIT 1",
    [BED_PRINT_MEASURING] = "SELECT id FROM felling ORDER BY id DESC LIMIT 1",
    [BED_PRINT_SPAWN] = "SELECT id FROM spawn ORDER BY id DESC LIMIT 1",
    [BED_PRINT_MAP] = "SELECT id FROM area ORDER BY id LIMIT 1",
    [BED_PRINT_SIGN] = "SELECT min (id) FROM stack WHERE taken_down_on IS NULL",
    [BED_PRINT_SIGNS] = "SELECT id FROM area ORDER BY id LIMIT 1",
    [BED_PRINT_WEIGHING_STACK] = "SELECT min (id) FROM stack WHERE taken_down_on IS NULL",
    [BED_PRINT_RECALL] = "SELECT lot FROM pick WHERE lot IS NOT NULL ORDER BY id DESC LIMIT 1",
    [BED_PRINT_CRATES] = "SELECT lot FROM pick WHERE lot IS NOT NULL ORDER BY id DESC LIMIT 1",
  };

  return questions[what] ? ask_one (desk->farm, questions[what], 0) : 0;
}

static char *
write_pages (Desk *desk, const BedPrintOffer *offer, const char *name, const char *created,
             gsize *length)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (desk->folder, name, NULL);
  BedPrintChoice choice
      = { .sheet = bed_sheet_list_find (desk->sheets, "letter-2x5", &error), .copies = 1 };
  char *bytes = NULL;

  g_assert_no_error (error);
  g_autoptr (BedDocument) document = bed_print_make (desk->farm, offer, &choice, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_document_get_n_pages (document), >=, 1);
  bed_document_check (document, &error);
  g_assert_no_error (error);
  bed_document_write_pdf (document, path, created, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &bytes, length, NULL));
  return bytes;
}

/* Everything that is offered has pages, and the same ones twice. */
static void
test_each (Desk *desk, gconstpointer data)
{
  for (BedPrint what = 0; what < BED_N_PRINTS; what++)
    {
      BedPrintOffer offer
          = { .what = what, .subject = subject_of (desk, what), .of = BED_KIND_LOT };
      gsize first_length = 0, second_length = 0;

      /* What a page shows is not of the farm alone: tests/app/test_paper_dialog.c. */
      if (what == BED_PRINT_SHOWN)
        continue;
      g_autofree char *first
          = write_pages (desk, &offer, "a.pdf", "2026-07-14T09:00", &first_length);
      g_autofree char *second
          = write_pages (desk, &offer, "b.pdf", "2026-07-14T09:00", &second_length);
      g_autofree char *name = bed_print_dup_file_name (desk->farm, &offer);

      g_assert_cmpmem (first, first_length, second, second_length);
      g_assert_true (g_str_has_prefix (name, bed_print_title (what)));
    }
}

/* --- the same from the tool ----------------------------------------------------------- */

typedef struct
{
  BedPrint what;
  const char *words; /* for the tool; %s is the name of the subject */
} Twin;

static const Twin twins[] = {
  { BED_PRINT_TAGS, "labels {farm} --sheet letter-2x5 --batch '%s'" },
  { BED_PRINT_TAG, "labels {farm} --sheet letter-2x5 --log '%s'" },
  { BED_PRINT_SPAWN, "labels {farm} --sheet letter-2x5 --spawn '%s'" },
  { BED_PRINT_SIGN, "labels {farm} --sheet letter-2x5 --stack '%s'" },
  { BED_PRINT_SIGNS, "labels {farm} --sheet letter-2x5 --area '%s'" },
  { BED_PRINT_CRATES, "labels {farm} --sheet letter-2x5 --lot '%s'" },
  { BED_PRINT_GUIDE, "drill --farm {farm} --batch '%s'" },
  { BED_PRINT_GUIDE_BARK, "drill --whole --farm {farm} --batch '%s'" },
  { BED_PRINT_INOCULATION, "sheet {farm} inoculation --batch '%s'" },
  { BED_PRINT_WEIGHING, "sheet {farm} weighing --batch '%s'" },
  { BED_PRINT_TALLY, "sheet {farm} felling --felling '%s'" },
  { BED_PRINT_MEASURING, "sheet {farm} measuring --felling '%s'" },
  { BED_PRINT_MAP, "yard {farm} --area '%s'" },
  { BED_PRINT_MOVES, "sheet {farm} moves" },
  { BED_PRINT_PLAN, "sheet {farm} plan" },
  { BED_PRINT_SOAKS, "sheet {farm} soak" },
  { BED_PRINT_PICKING, "sheet {farm} picking" },
  { BED_PRINT_WEEK, "sheet {farm} week" },
  { BED_PRINT_DAYS, "sheet {farm} day" },
  { BED_PRINT_WEIGHING_STACK, "sheet {farm} weighing --stack '%s'" },
  { BED_PRINT_RECALL, "recall {farm} '%s'" },
};

static const BedKind subjects[BED_N_PRINTS] = {
  [BED_PRINT_TAGS] = BED_KIND_BATCH,           [BED_PRINT_TAG] = BED_KIND_LOG,
  [BED_PRINT_SPAWN] = BED_KIND_SPAWN,          [BED_PRINT_SIGN] = BED_KIND_STACK,
  [BED_PRINT_CRATES] = BED_KIND_LOT,           [BED_PRINT_GUIDE] = BED_KIND_BATCH,
  [BED_PRINT_GUIDE_BARK] = BED_KIND_BATCH,     [BED_PRINT_INOCULATION] = BED_KIND_BATCH,
  [BED_PRINT_WEIGHING] = BED_KIND_BATCH,       [BED_PRINT_TALLY] = BED_KIND_FELLING,
  [BED_PRINT_MEASURING] = BED_KIND_FELLING,    [BED_PRINT_MAP] = BED_KIND_AREA,
  [BED_PRINT_SIGNS] = BED_KIND_AREA,           [BED_PRINT_RECALL] = BED_KIND_LOT,
  [BED_PRINT_WEIGHING_STACK] = BED_KIND_STACK,
};

static char *
run_tool (Desk *desk, const Twin *twin, const char *name, gsize *length)
{
  g_autofree char *farm = g_build_filename (desk->folder, "demo.bedlog", NULL);
  g_autofree char *out = g_build_filename (desk->folder, "b.pdf", NULL);
  g_autoptr (GString) words = g_string_new (twin->words);
  g_auto (GStrv) argv = NULL;
  g_autoptr (GError) error = NULL;
  char *bytes = NULL;
  int status;

  g_string_replace (words, "{farm}", farm, 0);
  g_string_replace (words, "%s", name ? name : "", 0);
  g_string_append_printf (words, " -o '%s'", out);
  g_string_prepend (words, " ");
  g_string_prepend (words, tool);
  g_assert_true (g_shell_parse_argv (words->str, NULL, &argv, NULL));
  g_spawn_sync (NULL, argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_cmpint (status, ==, 0);
  g_assert_true (g_file_get_contents (out, &bytes, length, NULL));
  return bytes;
}

static gboolean
are_equal (Desk *desk, const Twin *twin)
{
  BedPrintOffer offer
      = { .what = twin->what, .subject = subject_of (desk, twin->what), .of = BED_KIND_LOT };
  BedKind kind = subjects[twin->what];
  g_autofree char *name = kind ? bed_farm_dup_name (desk->farm, kind, offer.subject) : NULL;
  gsize desk_length = 0, tool_length = 0;
  g_autofree char *desks
      = write_pages (desk, &offer, "a.pdf", bed_farm_get_now (desk->farm), &desk_length);
  g_autofree char *tools = run_tool (desk, twin, name, &tool_length);

  return desk_length == tool_length && memcmp (desks, tools, desk_length) == 0;
}

/* Both go by the clock here, which is in the file to the minute: where one passes between the two
 * they are made again. */
static void
test_tool (Desk *desk, gconstpointer data)
{
  g_autofree char *path = g_build_filename (desk->folder, "demo.bedlog", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_finalize_object (desk->farm);
  desk->farm = bed_farm_open (path, &error);
  g_assert_no_error (error);
  for (gsize i = 0; i < G_N_ELEMENTS (twins); i++)
    if (!are_equal (desk, &twins[i]) && !are_equal (desk, &twins[i]))
      g_error ("the tool's %s differ", bed_print_title (twins[i].what));
}

/* The sheet begun with holds what is printed on it, in both systems. */
static void
test_usual (Desk *desk, gconstpointer data)
{
  static const char *const units[] = { "US", "metric" };

  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    {
      g_autoptr (BedRecord) farm = bed_record_copy (bed_farm_get_settings (desk->farm));
      g_autoptr (BedEdit) edit = bed_edit_new (desk->farm);
      g_autoptr (GError) error = NULL;

      bed_record_set_text (farm, "unit_system", units[i]);
      bed_edit_put (edit, g_steal_pointer (&farm));
      bed_edit_commit (edit, "Changed units", &error);
      g_assert_no_error (error);
      for (BedPrint what = 0; what < BED_N_PRINTS; what++)
        {
          BedPrintOffer offer
              = { .what = what, .subject = subject_of (desk, what), .of = BED_KIND_LOT };
          BedPrintChoice choice = { .copies = 1 };

          if (!bed_print_is_label (what))
            continue;
          choice.sheet = bed_sheet_list_find (
              desk->sheets,
              bed_label_use_get_sheet (bed_print_get_use (what),
                                       bed_farm_get_notation (desk->farm)->system),
              &error);
          g_assert_no_error (error);
          g_autoptr (BedDocument) document = bed_print_make (desk->farm, &offer, &choice, &error);
          g_assert_no_error (error);
          bed_document_check (document, &error);
          g_assert_no_error (error);
        }
    }
}

/* Three of each is three times the labels. */
static void
test_copies (Desk *desk, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  BedPrintOffer offer = { BED_PRINT_TAGS, subject_of (desk, BED_PRINT_TAGS), NULL };
  BedPrintChoice choice
      = { .sheet = bed_sheet_list_find (desk->sheets, "letter-2x5", &error), .copies = 1 };
  gint64 logs = ask_one (desk->farm,
                         "SELECT count (*) FROM log_today WHERE batch = ?1"
                         " AND stage <> 'retired'",
                         offer.subject);

  for (choice.copies = 1; choice.copies <= 3; choice.copies += 2)
    {
      g_autoptr (BedDocument) document = bed_print_make (desk->farm, &offer, &choice, &error);
      g_assert_no_error (error);
      g_assert_cmpint (bed_document_get_n_pages (document), ==, (logs * choice.copies + 9) / 10);
    }
}

/* --- field sheets beside the forms ---------------------------------------------------- */

/* The place of a field in the form of its kind, or -1. */
static int
find_in_form (const BedFormSpec *spec, const char *name)
{
  int at = 0;

  for (guint g = 0; g < spec->n_groups; g++)
    for (guint i = 0; spec->groups[g].fields[i]; i++, at++)
      if (strcmp (spec->groups[g].fields[i], name) == 0)
        return at;
  return -1;
}

/* They stand in the form's order, each of them in it. */
static void
check_order (const BedFormSpec *spec, const char *sheet, const char *const *fields)
{
  int last = -1;

  for (guint i = 0; fields[i]; i++)
    {
      int at = find_in_form (spec, fields[i]);
      if (at <= last)
        g_error ("%s: %s stands elsewhere in the form", sheet, fields[i]);
      last = at;
    }
}

/* What the form asks for has its box or its column. */
static void
check_boxes (const BedFormSpec *spec, const char *sheet, const char *const *boxes,
             const char *const *columns, const char *const *elsewhere)
{
  for (guint g = 0; g < spec->n_groups; g++)
    for (guint i = 0; spec->groups[g].fields[i]; i++)
      {
        const char *name = spec->groups[g].fields[i];
        if (!g_strv_contains (boxes, name) && !g_strv_contains (columns, name)
            && !g_strv_contains (elsewhere, name))
          g_error ("%s has no place for %s, which the form asks for", sheet, name);
      }
}

/* The fields that have a column, from the left, ended by NULL. */
static void
list_columns (const BedPaperForm *form, const char *columns[14])
{
  guint n = 0;

  for (guint c = 0; form->columns[c].weight > 0; c++)
    if (form->columns[c].field)
      columns[n++] = form->columns[c].field;
}

/* Lines and boxes of each sheet in the order of the form they are typed into, and none missing but
 * what the program gives, what a sheet is titled by, or what is known only later. Lines of the rest
 * go into no form: a pick into a line of its own, where from, grade, weight; a move into the yard.
 */
static void
test_forms (void)
{
  static const struct
  {
    BedPaperKind kind;
    const char *elsewhere[8];
  } cases[] = {
    { BED_PAPER_FELLING, { "code" } },
    { BED_PAPER_MEASURING, { "mark", "counted", "batch", "holes", "retired_on", "retired_why" } },
    { BED_PAPER_INOCULATION, { "code" } },
    { BED_PAPER_WEIGHING, { NULL } },
    { BED_PAPER_SOAK, { "code" } },
    { BED_PAPER_DAY, { "rate" } },
  };
  static const struct
  {
    BedPaperKind kind;
    const char *fields[8];
  } lines[] = {
    { BED_PAPER_PICKING, { "log", "stack", "grade", "mass", "picker", "lot", "notes" } },
    { BED_PAPER_MOVES, { "log", "stack", "tier", "slot" } },
    { BED_PAPER_PLAN, { "log", "stack", "tier", "slot" } },
    { BED_PAPER_WEEK, { NULL } },
  };

  g_assert_cmpuint (G_N_ELEMENTS (cases) + G_N_ELEMENTS (lines), ==, BED_N_PAPERS);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const BedPaperForm *form = bed_paper_get_form (cases[i].kind);
      const char *columns[14] = { NULL };

      list_columns (form, columns);
      check_order (bed_forms_get_spec (form->sheet), form->name, form->boxes);
      check_order (bed_forms_get_spec (form->line), form->name, columns);
      check_boxes (bed_forms_get_spec (form->sheet), form->name, form->boxes, columns,
                   cases[i].elsewhere);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      const char *columns[14] = { NULL };

      list_columns (bed_paper_get_form (lines[i].kind), columns);
      g_assert_true (g_strv_equal (columns, lines[i].fields));
    }
}

/* A sheet too small for what is printed is refused by its name. */
static void
test_too_small (Desk *desk, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  BedPrintOffer offer = { BED_PRINT_CRATES, subject_of (desk, BED_PRINT_CRATES), NULL };
  BedPrintChoice choice
      = { .sheet = bed_sheet_list_find (desk->sheets, "letter-4x20", &error), .copies = 1 };

  g_assert_no_error (error);
  g_autoptr (BedDocument) document = bed_print_make (desk->farm, &offer, &choice, &error);
  g_assert_null (document);
  g_assert_error (error, BED_PRINT_ERROR, BED_PRINT_ERROR_SHEET);
  g_assert_nonnull (strstr (error->message, choice.sheet->name));
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_assert_cmpint (argc, ==, 2);
  tool = argv[1];
  g_test_add ("/papers/each", Desk, NULL, set_up, test_each, tear_down);
  g_test_add ("/papers/tool", Desk, NULL, set_up, test_tool, tear_down);
  g_test_add ("/papers/usual", Desk, NULL, set_up, test_usual, tear_down);
  g_test_add ("/papers/copies", Desk, NULL, set_up, test_copies, tear_down);
  g_test_add_func ("/papers/forms", test_forms);
  g_test_add ("/papers/too-small", Desk, NULL, set_up, test_too_small, tear_down);
  return g_test_run ();
}
