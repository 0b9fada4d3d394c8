/* Draws one of everything into a folder, for the eye: test-print-gallery FOLDER. */
#include "print/drill/drill_guide.h"
#include "print/field/field_sheet_kinds.h"
#include "print/label/label.h"

static const BedSheet *
get_sheet (GPtrArray *sheets, const char *key)
{
  g_autoptr (GError) error = NULL;
  const BedSheet *sheet = bed_sheet_list_find (sheets, key, &error);

  g_assert_no_error (error);
  return sheet;
}

static void
write_page (BedDocument *document, double dpi, const char *folder, const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *file = g_strdup_printf ("%s.png", name);
  g_autofree char *path = g_build_filename (folder, file, NULL);

  if (!bed_document_write_png (document, 0, dpi, path, &error))
    g_printerr ("%s: %s\n", name, error->message);
}

static void
add_labels (BedLabels *labels, BedLabelUse use)
{
  for (int i = 0; i < 3 && use == BED_LABEL_TAG; i++)
    {
      g_autofree char *code = g_strdup_printf ("26A-%03d-%c", i + 17, "KO3"[i]);
      bed_labels_add_log_tag (
          labels, &(BedLogTag){ code, "Northern red oak", "Alder Run 7", "18 Apr 2026" });
    }
  if (use == BED_LABEL_SIGN)
    bed_labels_add_stack_sign (labels, &(BedStackSign){ .name = "Crib 4",
                                                        .mushroom = "Shiitake",
                                                        .strain = "Alder Run 7",
                                                        .wood = "Northern red oak",
                                                        .inoculated = "18 Apr 2026",
                                                        .group = "Crib 4 · 26A, 26B",
                                                        .count = "48 logs",
                                                        .farm = "Fernhollow" });
  for (int i = 0; i < 2 && use == BED_LABEL_CRATE; i++)
    bed_labels_add_crate_label (
        labels, &(BedCrateLabel){ .lot = "L260518-1-C",
                                  .mushroom = "Shiitake",
                                  .latin = "Lentinula edodes",
                                  .mass = "6.6 lb (3.00 kg)",
                                  .picked = "18 May 2026",
                                  .packed = "19 May 2026",
                                  .farm = i ? "Fernhollow Farm on the long hill behind the old mill"
                                            : "Fernhollow",
                                  .address = "12 Mill Lane, Upper Fernhollow, 00012",
                                  .contact = "555 0100, farm@fernhollow.example",
                                  .keep = "Keep cold, 1 to 4 °C",
                                  .organic = "Certified organic by Leafmark, no. 00-1234",
                                  .price = "36.00 USD" });
  if (use == BED_LABEL_SPAWN)
    bed_labels_add_spawn_label (labels, &(BedSpawnLabel){ .code = "S26-1",
                                                          .strain = "Alder Run 7",
                                                          .mushroom = "Shiitake",
                                                          .supplier = "Hollow Spawn",
                                                          .supplier_lot = "HS-2231",
                                                          .form = "Sawdust",
                                                          .quantity = "2.5 kg",
                                                          .received = "2 Mar 2026",
                                                          .use_by = "20 May 2026",
                                                          .organic = "Organic" });
}

/* Five rows: the seam and the farthest point on it show. */
static const BedDrill drill = { 120, 100, 1000, 150, 75, 50, 12, 25, BED_CLOSING_NEAREST };

static void
write_bark (const char *folder, const char *name, const BedBarkColours *colours)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (BedDrillPlan) plan = bed_drill_plan_new (&drill, &error);
  g_autoptr (BedTypesetter) type = bed_typesetter_new ();
  g_autofree char *path = g_build_filename (folder, name, NULL);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 800, 320);
  cairo_t *cr = cairo_create (surface);

  g_assert_no_error (error);
  double ground = colours == &bed_bark_dark ? 0.14 : 0.98;
  cairo_set_source_rgb (cr, ground, ground, ground);
  cairo_paint (cr);
  bed_bark_draw (&(BedBark){ plan, 12, colours, type, "79 mm", 13 }, cr,
                 &(BedBox){ 12, 12, 776, 296 });
  cairo_surface_write_to_png (surface, path);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
write_guide (const char *folder, const BedPaper *paper, const char *stem)
{
  g_autoptr (GError) error = NULL;
  const BedNotation notation = { BED_SYSTEM_METRIC, '.', 2 };
  BedDrillGuide guide = { &drill, &notation, "Drilling guide, batch 26A", *paper };
  g_autoptr (BedDocument) document = bed_drill_guide_new (&guide, &error);

  g_assert_no_error (error);
  for (guint page = 0; page < bed_document_get_n_pages (document); page++)
    {
      g_autofree char *name = g_strdup_printf ("%s-%u.png", stem, page + 1);
      g_autofree char *path = g_build_filename (folder, name, NULL);

      bed_document_write_png (document, page, 80, path, &error);
      g_assert_no_error (error);
    }
}

typedef struct
{
  BedDrillPlan *plan;
  BedTypesetter *type;
} Figure;

static gboolean
draw_figure_cb (cairo_t *cr, const BedBox *box, gpointer data, GError **error)
{
  Figure *figure = data;

  bed_bark_draw (&(BedBark){ figure->plan, 12, &bed_bark_paper, figure->type, "90 mm", 8 }, cr,
                 box);
  return TRUE;
}

static void
write_sheets (const char *folder)
{
  const BedNotation notation = { BED_SYSTEM_METRIC, '.', 2 };
  Figure figure = { bed_drill_plan_new (&drill, NULL), bed_typesetter_new () };

  for (BedPaperKind kind = 0; kind < BED_N_PAPERS; kind++)
    {
      const BedPaperForm *form = bed_paper_get_form (kind);
      g_autoptr (GHashTable) values = g_hash_table_new (g_str_hash, g_str_equal);
      BedPaperHead head = { &notation, "Fernhollow · Mon 18 May 2026", NULL, values };

      if (kind == BED_PAPER_INOCULATION)
        {
          head.about = "26A";
          g_hash_table_insert (values, (gpointer) "inoculated_on", (gpointer) "18 Apr 2026");
          g_hash_table_insert (values, (gpointer) "hole_diameter", (gpointer) "12 mm");
          g_hash_table_insert (values, (gpointer) "hole_depth", (gpointer) "25 mm");
          g_hash_table_insert (values, (gpointer) "along", (gpointer) "15 cm");
          g_hash_table_insert (values, (gpointer) "between", (gpointer) "7.5 cm");
          g_hash_table_insert (values, (gpointer) "margin", (gpointer) "5 cm");
        }
      BedFieldSheet *sheet = bed_field_sheet_new_kind (kind, &head);
      if (kind == BED_PAPER_INOCULATION)
        {
          bed_field_sheet_set_code (sheet, "26A");
          bed_field_sheet_set_figure (sheet,
                                      &(BedSheetFigure){ 130, draw_figure_cb, &figure, NULL });
        }
      for (int i = 0; i < 9 && kind != BED_PAPER_FELLING; i++)
        {
          g_autofree char *code = g_strdup_printf ("26A-%03d-%c", i + 1, "KO3A7"[i % 5]);
          const char *cells[14] = { NULL };
          for (int c = 0; c < 14 && form->columns[c].weight > 0; c++)
            if (form->columns[c].kind == BED_COLUMN_CODE)
              cells[c] = form->columns[c].field ? code : "Crib 4";
          bed_field_sheet_add_row (sheet, cells);
        }
      g_autoptr (BedDocument) document = bed_field_sheet_document_new (sheet, &bed_paper_a4, 8);
      g_autofree char *name = g_strdup_printf ("sheet-%s", form->name);
      write_page (document, 100, folder, name);
    }
  bed_drill_plan_free (figure.plan);
  bed_typesetter_free (figure.type);
}

/* A picture for each use the sheet is offered for. */
static void
write_labels (const BedSheet *sheet, const char *folder)
{
  for (BedLabelUse use = 0; use < BED_N_LABEL_USES; use++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *name = g_strdup_printf ("%s-%s", bed_label_use_get_word (use), sheet->key);
      BedLabels *labels = bed_labels_new ("Gallery");

      add_labels (labels, use);
      g_autoptr (BedDocument) document = bed_labels_document_new (labels, sheet, NULL, &error);
      if (!document)
        continue;
      write_page (document, 110, folder, name);
      g_autofree char *note = bed_document_dup_note (document);
      if (note)
        g_print ("%s: %s\n", name, note);
    }
}

int
main (int argc, char *argv[])
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  const char *folder = argc > 1 ? argv[1] : ".";

  for (guint i = 0; i < sheets->len; i++)
    write_labels (sheets->pdata[i], folder);
  g_autoptr (BedDocument) test
      = bed_sheet_test_page_new (get_sheet (sheets, "letter-3x10"), NULL, NULL);
  write_page (test, 110, folder, "test-page");
  write_bark (folder, "bark-light.png", &bed_bark_light);
  write_bark (folder, "bark-dark.png", &bed_bark_dark);
  write_bark (folder, "bark-paper.png", &bed_bark_paper);
  write_sheets (folder);
  write_guide (folder, &bed_paper_a4, "guide-a4");
  return 0;
}
