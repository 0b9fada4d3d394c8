/* Draws one of everything into a folder, for the eye: test-print-gallery FOLDER. */
#include "print/label.h"

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
add_labels (BedLabels *labels)
{
  for (int i = 0; i < 3; i++)
    {
      g_autofree char *code = g_strdup_printf ("26A-%03d-%c", i + 17, "KO3"[i]);
      bed_labels_add_log_tag (labels, &(BedLogTag){ code, "Northern red oak", "Alder Run 7",
                                                    "18 Apr 2026" });
    }
  bed_labels_add_stack_sign (labels, &(BedStackSign){ "Crib 4", "Crib", "26A, 26B, 25C", "48 logs",
                                                      "Fernhollow" });
  bed_labels_add_crate_label (labels, &(BedCrateLabel){ "L260518-1-C", "Shiitake", "3.00 kg",
                                                        "18 May 2026", "19 May 2026",
                                                        "Fernhollow", "Keep cold", "36.00" });
  bed_labels_add_spawn_label (labels, &(BedSpawnLabel){ "S26-1", "Alder Run 7", "Shiitake",
                                                        "Sawdust", "2.5 kg", "2 Mar 2026",
                                                        "20 May 2026" });
}

int
main (int argc, char *argv[])
{
  g_autoptr (GPtrArray) sheets = bed_sheet_list_new ();
  const char *folder = argc > 1 ? argv[1] : ".";

  for (guint i = 0; i < sheets->len; i++)
    {
      const BedSheet *sheet = sheets->pdata[i];
      g_autoptr (GError) error = NULL;
      BedLabels *labels = bed_labels_new ("Gallery");

      add_labels (labels);
      g_autoptr (BedDocument) document = bed_labels_document_new (labels, sheet, NULL, &error);
      g_assert_no_error (error);
      write_page (document, 110, folder, sheet->key);
    }
  g_autoptr (BedDocument) test = bed_sheet_test_page_new (get_sheet (sheets, "letter-3x10"), NULL,
                                                          NULL);
  write_page (test, 110, folder, "test-page");
  return 0;
}
