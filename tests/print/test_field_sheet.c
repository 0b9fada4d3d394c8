#include "print/field/field_sheet_kinds.h"

#include <glib/gstdio.h>
#include <string.h>

#include "model/farm/kinds.h"
#include "read_back.h"

static const BedNotation metric = { BED_SYSTEM_METRIC, '.', 2 };

/* Every field named is one of its kind; what is none has a head of its own. */
static void
test_fields (void)
{
  for (BedPaperKind kind = 0; kind < BED_N_PAPERS; kind++)
    {
      const BedPaperForm *form = bed_paper_get_form (kind);

      for (guint i = 0; form->columns[i].weight > 0; i++)
        g_assert_true (form->columns[i].field
                           ? bed_kind_find_field (form->line, form->columns[i].field, NULL) != NULL
                           : form->columns[i].head != NULL);
      for (guint i = 0; form->boxes[i]; i++)
        g_assert_nonnull (bed_kind_find_field (form->sheet, form->boxes[i], NULL));
      for (guint i = 0; form->more_boxes[i]; i++)
        g_assert_nonnull (bed_kind_find_field (form->more, form->more_boxes[i], NULL));
      g_assert_cmpint (bed_paper_kind_from_name (form->name), ==, kind);
    }
  g_assert_cmpint (bed_paper_kind_from_name ("nothing"), ==, BED_N_PAPERS);
}

/* What a new record cannot do without has its place on the sheet that makes one. */
static void
test_required (void)
{
  const struct
  {
    BedPaperKind kind;
    const char *elsewhere; /* given by the program, or known from the sheet itself */
  } cases[] = {
    { BED_PAPER_FELLING, "code" },        { BED_PAPER_MEASURING, "" },
    { BED_PAPER_WEIGHING, "weighed_on" }, { BED_PAPER_SOAK, "code" },
    { BED_PAPER_PICKING, "picked_on" },   { BED_PAPER_MOVES, "since" },
    { BED_PAPER_PLAN, "planned_on" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const BedPaperForm *form = bed_paper_get_form (cases[i].kind);
      const BedKindInfo *info = bed_kind_get_info (form->line);

      for (guint f = 0; f < info->n_fields; f++)
        {
          const char *name = info->fields[f].name;
          gboolean there = !strcmp (name, cases[i].elsewhere)
                           || g_strv_contains ((const char *const *) form->boxes, name);

          for (guint c = 0; form->columns[c].weight > 0; c++)
            there |= !g_strcmp0 (form->columns[c].field, name);
          if (info->fields[f].required && !there)
            g_error ("%s has no place for %s", form->name, name);
        }
    }
}

/* Every sheet can be drawn in both systems, on both papers, empty and with many lines. */
static void
test_draws (void)
{
  const BedNotation us = { BED_SYSTEM_US, '.', 2 };
  const BedNotation *notations[] = { &metric, &us };
  const BedPaper *papers[] = { &bed_paper_a4, &bed_paper_letter };

  for (BedPaperKind kind = 0; kind < BED_N_PAPERS; kind++)
    for (int turn = 0; turn < 4; turn++)
      {
        g_autoptr (GError) error = NULL;
        BedPaperHead head = { notations[turn % 2], "Fernhollow · Mon 18 May 2026", "26A", NULL };
        BedFieldSheet *sheet = bed_field_sheet_new_kind (kind, &head);
        const char *cells[BED_PAPER_COLUMNS] = { "26A-001-K" };
        guint rows = turn < 2 ? 0 : 200;

        for (guint i = 0; i < rows; i++)
          bed_field_sheet_add_row (sheet, cells);
        g_autoptr (BedDocument) document
            = bed_field_sheet_document_new (sheet, papers[turn / 2], 5);
        g_assert_true (bed_document_check (document, &error));
        g_assert_no_error (error);
        guint pages = bed_document_get_n_pages (document);
        g_assert_cmpuint (pages, >=, rows / 30 + 1);
        g_assert_cmpuint (pages, <=, rows / 10 + 1);
      }
}

/* A long name makes a larger code, and with it higher rows; it is not refused. */
static void
test_long_name (void)
{
  g_autoptr (GError) error = NULL;
  BedFieldSheet *sheet
      = bed_field_sheet_new_kind (BED_PAPER_SOAK, &(BedPaperHead){ .notation = &metric });

  for (int i = 0; i < 40; i++)
    bed_field_sheet_add_row (
        sheet, (const char *[BED_PAPER_COLUMNS]){ "The long crib under the old oak" });
  g_autoptr (BedDocument) document = bed_field_sheet_document_new (sheet, &bed_paper_a4, 0);
  g_assert_true (bed_document_check (document, &error));
  g_assert_no_error (error);
}

/* Letters that no font has are told of a sheet, too; of one whose letters all are there nothing is.
 */
static void
test_missing_letters (void)
{
  const char *names[] = { "Run \uE0F1", "Run 1" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      BedFieldSheet *sheet = bed_field_sheet_new_kind (
          BED_PAPER_WEIGHING, &(BedPaperHead){ .notation = &metric, .about = names[i] });
      g_autoptr (BedDocument) document = bed_field_sheet_document_new (sheet, &bed_paper_a4, 2);
      g_assert_true (bed_document_check (document, NULL));
      g_autofree char *note = bed_document_dup_note (document);
      g_assert_true ((note != NULL) == (i == 0));
    }
}

/* The codes of a sheet's lines are read back where they stand. */
static void
test_read_back (void)
{
  g_autofree char *pdf = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) boxes = g_array_new (FALSE, FALSE, sizeof (BedBox));
  const char *codes[] = { "26A-001-K", "26A-002-O", "26A-003-3" };

  if (!read_back_possible ())
    return;
  g_close (g_file_open_tmp ("bedlog-sheet-XXXXXX.pdf", &pdf, NULL), NULL);
  BedFieldSheet *sheet
      = bed_field_sheet_new_kind (BED_PAPER_WEIGHING, &(BedPaperHead){ .notation = &metric });
  for (gsize i = 0; i < G_N_ELEMENTS (codes); i++)
    bed_field_sheet_add_row (sheet, (const char *[BED_PAPER_COLUMNS]){ codes[i] });
  g_autoptr (BedDocument) document = bed_field_sheet_document_new (sheet, &bed_paper_a4, 0);
  bed_document_write_pdf (document, pdf, "2026-05-18T12:00", &error);
  g_assert_no_error (error);

  static const double dpis[] = { 300, 203, 200, 300 };
  static const ReadHow hows[] = { READ_CLEAN, READ_TURNED, READ_CLEAN, READ_BLURRED };
  for (gsize d = 0; d < G_N_ELEMENTS (dpis); d++)
    {
      cairo_surface_t *page = read_back_render (pdf, 0, dpis[d]);
      g_autoptr (GPtrArray) found = NULL;

      /* The lines are 11.5 mm high; strips of 23 mm every 11.5 mm hold each code whole. */
      g_array_set_size (boxes, 0);
      for (double y = 99; y < 330; y += 33)
        {
          BedBox box = { 20, y, 100, 66 };
          g_array_append_val (boxes, box);
        }
      found = read_back_codes (page, dpis[d], boxes, hows[d], G_N_ELEMENTS (codes));
      cairo_surface_destroy (page);
      g_autofree char *all = NULL;
      g_ptr_array_add (found, NULL);
      all = g_strjoinv ("\n", (char **) found->pdata);
      for (gsize i = 0; i < G_N_ELEMENTS (codes); i++)
        g_assert_nonnull (strstr (all, codes[i]));
    }
  g_unlink (pdf);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/field-sheet/fields", test_fields);
  g_test_add_func ("/field-sheet/required", test_required);
  g_test_add_func ("/field-sheet/draws", test_draws);
  g_test_add_func ("/field-sheet/long-name", test_long_name);
  g_test_add_func ("/field-sheet/missing-letters", test_missing_letters);
  g_test_add_func ("/field-sheet/read-back", test_read_back);
  return g_test_run ();
}
