/* Somebody's sheet of any bytes: byte 0 says what is decided about it, the rest is the file. It is
 * understood or refused with a sentence; whatever is answered, what it says of itself stays true,
 * and the records are those it counted. */
#include "fuzz.h"
#include "fuzz_farm.h"
#include "fuzz_sheet.h"
#include "model/farm/kinds.h"
#include "model/notebook/notebook.h"

static BedFarm *farm;

static void
look_at_columns (BedNotebook *notebook)
{
  for (guint i = 0; i < bed_notebook_get_n_columns (notebook); i++)
    {
      const BedNotebookColumn *column = bed_notebook_get_column (notebook, i);
      g_assert_true (g_utf8_validate (column->head, -1, NULL));
      g_assert_true (g_utf8_validate (column->why, -1, NULL));
      g_assert_nonnull (column->unit);
      g_assert_cmpuint (column->read, <=, column->filled);
    }
}

static void
stream (BedNotebook *notebook)
{
  g_autoptr (GError) error = NULL;
  guint counted[BED_N_KINDS], streamed[BED_N_KINDS] = { 0 };
  const BedNotebookRow *row;

  for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
    counted[kind] = bed_notebook_count_records (notebook, kind);
  if (!bed_notebook_begin (notebook, &error))
    {
      fuzz_assert_said (error);
      return;
    }
  while ((row = bed_notebook_next (notebook, &error)))
    for (guint i = 0; i < row->n_drafts; i++)
      {
        streamed[bed_record_get_kind (row->drafts[i].record)]++;
        for (guint r = 0; r < row->drafts[i].n_references; r++)
          g_assert_true (*row->drafts[i].references[r].name);
      }
  if (!error)
    for (BedKind kind = 0; kind < BED_N_KINDS; kind++)
      g_assert_cmpuint (counted[kind], ==, streamed[kind]);
}

/* What is kept of the decisions can be decided again. */
static void
keep (BedNotebook *notebook)
{
  g_autofree char *matching = bed_notebook_dup_matching (notebook);
  g_autofree char *heads = bed_notebook_dup_heads (notebook);
  g_autoptr (GError) error = NULL;
  guint decisions = bed_notebook_count_decisions (notebook);

  g_assert_nonnull (heads);
  bed_notebook_take_matching (notebook, matching, &error);
  g_assert_no_error (error);
  g_assert_true (bed_notebook_go_back (notebook));
  g_assert_cmpuint (bed_notebook_count_decisions (notebook), ==, decisions);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (size < 1)
    return 0;
  if (!farm)
    farm = fuzz_farm_new ("notebook.bedlog", 5);
  g_autoptr (BedNotebook) notebook = fuzz_notebook_new (farm, data + 1, size - 1);
  if (!notebook)
    return 0;
  guint n;
  const BedKind *kinds = bed_notebook_get_kinds (notebook, &n);
  if (data[0] & 1)
    bed_notebook_set_kind (notebook, kinds[data[0] / 2 % n], NULL);
  if (data[0] & 64)
    bed_notebook_set_aside (notebook, data[0] % 8, BED_ASIDE_NOT, NULL);
  fuzz_answer_all (notebook, data[0]);
  look_at_columns (notebook);
  if (bed_notebook_read_all (notebook, NULL, NULL))
    stream (notebook);
  keep (notebook);
  return 0;
}
