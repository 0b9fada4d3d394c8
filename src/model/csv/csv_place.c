/* Where records of an import came from. */
#include "model/csv/csv_private.h"

typedef struct
{
  gint64 first; /* id */
  guint n;
  guint line, step; /* of the first; from one to the next */
  const BedCsvFile *file;
} Run;

GArray *
bed_csv_runs_new (void)
{
  return g_array_new (FALSE, FALSE, sizeof (Run));
}

void
bed_csv_place_add (BedCsvImporter *self, gint64 id, guint line)
{
  Run *last = self->runs->len ? &g_array_index (self->runs, Run, self->runs->len - 1) : NULL;

  if (last && last->file == self->file && id == last->first + last->n)
    {
      guint before = last->line + (last->n - 1) * last->step;
      if (last->n == 1)
        last->step = line - before;
      if (line == before + last->step)
        {
          last->n++;
          return;
        }
    }
  const Run run = { id, 1, line, 0, self->file };
  g_array_append_val (self->runs, run);
}

/* The last run that begins at @id or before. */
static const Run *
find_run (GArray *runs, gint64 id)
{
  guint low = 0, high = runs->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      if (g_array_index (runs, Run, middle).first <= id)
        low = middle + 1;
      else
        high = middle;
    }
  return low ? &g_array_index (runs, Run, low - 1) : NULL;
}

BedCsvPlace
bed_csv_place_of (BedCsvImporter *self, gint64 id)
{
  if (id < 0)
    return g_array_index (self->asides, BedCsvPlace, -id - 1);
  const BedCsvPlace *amended = g_hash_table_lookup (self->amended, &id);
  if (amended)
    return *amended;
  const Run *run = find_run (self->runs, id);
  if (run && id - run->first < run->n)
    return (BedCsvPlace){ run->file, run->line + (guint) (id - run->first) * run->step };
  return (BedCsvPlace){ NULL, 0 };
}

gboolean
bed_csv_is_drafted (BedCsvImporter *self, gint64 id)
{
  return id < 0 || (self->first_id && id >= self->first_id)
         || g_hash_table_contains (self->amended, &id);
}
