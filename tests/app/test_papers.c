#include "app/papers.h"

#include <glib/gstdio.h>
#include <string.h>

#include "model/demo.h"
#include "model/query.h"

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
    [BED_PRINT_GUIDE] = "SELECT id FROM batch ORDER BY id DESC LIMIT 1",
    [BED_PRINT_INOCULATION] = "SELECT id FROM batch ORDER BY id DESC LIMIT 1",
    [BED_PRINT_WEIGHING] = "SELECT id FROM batch ORDER BY id DESC LIMIT 1",
    [BED_PRINT_TALLY] = "SELECT id FROM felling ORDER BY id DESC LIMIT 1",
    [BED_PRINT_MEASURING] = "SELECT id FROM felling ORDER BY id DESC LIMIT 1",
    [BED_PRINT_SPAWN] = "SELECT id FROM spawn ORDER BY id DESC LIMIT 1",
    [BED_PRINT_MAP] = "SELECT id FROM area ORDER BY id LIMIT 1",
    [BED_PRINT_SIGN] = "SELECT min (id) FROM stack WHERE taken_down_on IS NULL",
    [BED_PRINT_SIGNS] = "SELECT id FROM area ORDER BY id LIMIT 1",
    [BED_PRINT_CRATES] = "SELECT lot FROM pick WHERE lot IS NOT NULL ORDER BY id DESC LIMIT 1",
  };

  return questions[what] ? bed_query_one (desk->farm, questions[what], 0) : 0;
}

static char *
write_pages (Desk *desk, const BedPrintOffer *offer, const char *name, gsize *length)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (desk->folder, name, NULL);
  BedPrintChoice choice = { .sheet = bed_sheet_list_find (desk->sheets, "letter-2x5", &error),
                            .copies = 1 };
  char *bytes = NULL;

  g_assert_no_error (error);
  g_autoptr (BedDocument) document = bed_print_make (desk->farm, offer, &choice, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (bed_document_get_n_pages (document), >=, 1);
  bed_document_check (document, &error);
  g_assert_no_error (error);
  bed_document_write_pdf (document, path, "2026-07-14T09:00", &error);
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
      BedPrintOffer offer = { what, subject_of (desk, what), NULL };
      gsize first_length = 0, second_length = 0;
      g_autofree char *first = write_pages (desk, &offer, "a.pdf", &first_length);
      g_autofree char *second = write_pages (desk, &offer, "b.pdf", &second_length);
      g_autofree char *name = bed_print_dup_file_name (desk->farm, &offer);

      g_assert_cmpmem (first, first_length, second, second_length);
      g_assert_true (g_str_has_prefix (name, bed_print_title (what)));
    }
}

/* Three of each is three times the labels. */
static void
test_copies (Desk *desk, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  BedPrintOffer offer = { BED_PRINT_TAGS, subject_of (desk, BED_PRINT_TAGS), NULL };
  BedPrintChoice choice = { .sheet = bed_sheet_list_find (desk->sheets, "letter-2x5", &error),
                            .copies = 1 };
  gint64 logs = bed_query_one (desk->farm,
                               "SELECT count (*) FROM log_today WHERE batch = ?1"
                               " AND stage <> 'retired'",
                               offer.subject);

  for (choice.copies = 1; choice.copies <= 3; choice.copies += 2)
    {
      g_autoptr (BedDocument) document = bed_print_make (desk->farm, &offer, &choice, &error);
      g_assert_no_error (error);
      g_assert_cmpint (bed_document_get_n_pages (document), ==,
                       (logs * choice.copies + 9) / 10);
    }
}

/* A label that holds less than it must says so, and names itself. */
static void
test_too_small (Desk *desk, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  BedPrintOffer offer = { BED_PRINT_CRATES, subject_of (desk, BED_PRINT_CRATES), NULL };
  BedPrintChoice choice = { .sheet = bed_sheet_list_find (desk->sheets, "letter-4x20", &error),
                            .copies = 1 };

  g_assert_no_error (error);
  g_autoptr (BedDocument) document = bed_print_make (desk->farm, &offer, &choice, &error);
  g_assert_true (document == NULL || !bed_document_check (document, &error));
  g_assert_nonnull (error);
  g_assert_cmpuint (strlen (error->message), >, 20);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/papers/each", Desk, NULL, set_up, test_each, tear_down);
  g_test_add ("/papers/copies", Desk, NULL, set_up, test_copies, tear_down);
  g_test_add ("/papers/too-small", Desk, NULL, set_up, test_too_small, tear_down);
  return g_test_run ();
}
