#include "fuzz_sheet.h"

#include "fuzz.h"

BedNotebook *
fuzz_notebook_new (BedFarm *farm, const uint8_t *data, size_t size)
{
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (GError) error = NULL;
  BedRows *rows = bed_rows_open_bytes (bytes, NULL, &error);

  if (!rows)
    return NULL;
  BedNotebook *notebook = bed_notebook_new (farm, rows, &error);
  if (!notebook)
    fuzz_assert_said (error);
  return notebook;
}

void
fuzz_answer_all (BedNotebook *notebook, guint seed)
{
  for (guint round = 0; round < 12; round++)
    {
      guint n;
      const BedNotebookQuestion *questions = bed_notebook_get_questions (notebook, &n);
      if (n == 0 || questions[0].answer)
        return;
      const BedNotebookQuestion *first = &questions[0];
      g_assert_true (g_utf8_validate (first->sentence, -1, NULL));
      g_assert_cmpuint (first->count, >, 0);
      g_assert_true (first->n_choices > 0 || first->typed);
      g_autofree char *key = g_strdup (first->key);
      g_autofree char *answer = first->n_choices > 0
                                    ? g_strdup (first->choices[seed % first->n_choices].key)
                                    : g_strdup (first->offer ? first->offer : "2024-05-01");
      g_autoptr (GError) error = NULL;
      if (!bed_notebook_answer (notebook, key, answer, &error))
        {
          fuzz_assert_said (error);
          return;
        }
    }
}
