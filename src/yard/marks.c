#include "yard/marks.h"

#include <string.h>

#include "model/farm/query.h"

/* A batch in an area, from the first of its logs that came to the last that left. Days as whole
 * numbers, 20260518. */
typedef struct
{
  gint64 batch, area;
  gint64 since, until;
  int mark;
} Span;

/* First by stack, of which there are few. */
static const char spans_sql[]
    = "WITH lay AS (SELECT l.batch, x.stack, min (x.since) AS came,"
      "  max (coalesce (x.until, '9999-99-99')) AS went"
      "  FROM log l JOIN place x ON x.log = l.id WHERE l.batch IS NOT NULL"
      "  GROUP BY l.batch, x.stack),"
      " there AS (SELECT y.batch, s.area, max (y.came, s.since) AS since,"
      "  min (y.went, coalesce (s.until, '9999-99-99')) AS until"
      "  FROM lay y JOIN stack_place s ON s.stack = y.stack)"
      " SELECT batch, area, CAST (replace (min (since), '-', '') AS INTEGER),"
      "  CAST (replace (max (until), '-', '') AS INTEGER)"
      " FROM there WHERE since < until GROUP BY batch, area ORDER BY batch, area";

static GArray *
read_spans (BedFarm *farm, GError **error)
{
  g_autoptr (BedQuery) q = bed_query_new (farm, spans_sql);
  g_autoptr (GArray) spans = g_array_new (FALSE, FALSE, sizeof (Span));

  while (bed_query_next (q))
    {
      Span span = { bed_query_int (q, 0), bed_query_int (q, 1), bed_query_int (q, 2),
                    bed_query_int (q, 3), -1 };
      g_array_append_val (spans, span);
    }
  return bed_query_finish (q, error) ? g_steal_pointer (&spans) : NULL;
}

/* Notes in @taken which marks those before @first have that lay with one of [@first, @last). */
static void
find_taken (const GArray *spans, guint first, guint last, GByteArray *taken)
{
  memset (taken->data, 0, taken->len);
  for (guint i = first; i < last; i++)
    {
      const Span *one = &g_array_index (spans, Span, i);
      for (guint j = 0; j < first; j++)
        {
          const Span *other = &g_array_index (spans, Span, j);
          if (other->area == one->area && other->since < one->until && one->since < other->until)
            taken->data[other->mark] = 1;
        }
    }
}

/* The spans of a batch lie side by side. */
static void
give_marks (GArray *spans, GHashTable *marks)
{
  g_autoptr (GByteArray) taken = g_byte_array_sized_new (spans->len + 1);

  g_byte_array_set_size (taken, spans->len + 1);
  for (guint first = 0, last = 0; first < spans->len; first = last)
    {
      gint64 batch = g_array_index (spans, Span, first).batch;
      int mark = 0;
      while (last < spans->len && g_array_index (spans, Span, last).batch == batch)
        last++;
      find_taken (spans, first, last, taken);
      while (taken->data[mark])
        mark++;
      for (guint i = first; i < last; i++)
        g_array_index (spans, Span, i).mark = mark;
      g_hash_table_insert (marks, g_memdup2 (&batch, sizeof batch), GINT_TO_POINTER (mark));
    }
}

GHashTable *
bed_marks_peek (BedFarm *farm)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  return bed_farm_get_kept (farm, "batch-marks");
}

GHashTable *
bed_marks_get (BedFarm *farm, GError **error)
{
  g_return_val_if_fail (BED_IS_FARM (farm), NULL);
  GHashTable *marks = bed_marks_peek (farm);
  g_autoptr (GArray) spans = marks ? NULL : read_spans (farm, error);

  if (!spans)
    return marks;
  marks = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  give_marks (spans, marks);
  bed_farm_keep (farm, "batch-marks", marks, (GDestroyNotify) g_hash_table_unref);
  return marks;
}
