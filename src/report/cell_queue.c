#include "report/cell_queue.h"

#include "report/numeric_locale.h"

#include <math.h>
#include <string.h>

#define BATCHES 4
#define CELLS_PER_BATCH 2048

/* Cells with their texts, which are places in ->texts, 0 for NULL. */
typedef struct
{
  BedCellValue cell;
  gsize formula, text;
} Stored;

typedef struct
{
  GArray *cells; /* Stored; empty: the last batch, to stop at */
  GString *texts;
} Batch;

struct _BedCellQueue
{
  lxw_worksheet *worksheet;
  Batch *filling;
  GAsyncQueue *full, *empty; /* Batch */
  GThread *writer;           /* NULL: no batch has been full yet */
  lxw_error error;           /* the writer's, once it has ended */
};

/* Helpers */

static Batch *
new_batch (void)
{
  Batch *batch = g_new (Batch, 1);

  batch->cells = g_array_sized_new (FALSE, FALSE, sizeof (Stored), CELLS_PER_BATCH);
  /* Place 0 stands for no text. */
  batch->texts = g_string_new (" ");
  return batch;
}

static void
free_batch (Batch *batch)
{
  g_array_unref (batch->cells);
  g_string_free (batch->texts, TRUE);
  g_free (batch);
}

static gsize
store (Batch *batch, const char *text)
{
  gsize place = batch->texts->len;

  if (!text)
    return 0;
  g_string_append_len (batch->texts, text, strlen (text) + 1);
  return place;
}

static void
write_batch (BedCellQueue *self, Batch *batch)
{
  for (guint i = 0; i < batch->cells->len; i++)
    {
      Stored *stored = &g_array_index (batch->cells, Stored, i);
      lxw_error error;

      stored->cell.formula = stored->formula ? batch->texts->str + stored->formula : NULL;
      stored->cell.text = stored->text ? batch->texts->str + stored->text : NULL;
      error = bed_cell_write (self->worksheet, &stored->cell);
      if (self->error == LXW_NO_ERROR)
        self->error = error;
    }
  g_array_set_size (batch->cells, 0);
  g_string_truncate (batch->texts, 1);
}

static gpointer
write_batches (gpointer data)
{
  BedCellQueue *self = data;
  /* A thread's locale is its own. */
  g_auto (BedNumericLocale) point G_GNUC_UNUSED = bed_numeric_locale_enter ();

  for (;;)
    {
      Batch *batch = g_async_queue_pop (self->full);
      gboolean last = batch->cells->len == 0;

      write_batch (self, batch);
      g_async_queue_push (self->empty, batch);
      if (last)
        return NULL;
    }
}

/* The thread, if there is one, gets what was filled. */
static void
hand_over (BedCellQueue *self)
{
  g_async_queue_push (self->full, self->filling);
  self->filling = g_async_queue_pop (self->empty);
}

/* Public */

lxw_error
bed_cell_write (lxw_worksheet *worksheet, const BedCellValue *cell)
{
  lxw_row_t row = cell->row;
  lxw_col_t column = cell->column;

  if (cell->formula && isnan (cell->number))
    return worksheet_write_formula_str (worksheet, row, column, cell->formula, cell->format, "");
  if (cell->formula)
    return worksheet_write_formula_num (worksheet, row, column, cell->formula, cell->format,
                                        cell->number);
  if (cell->text)
    return worksheet_write_string (worksheet, row, column, cell->text, cell->format);
  if (isnan (cell->number))
    return worksheet_write_blank (worksheet, row, column, cell->format);
  return worksheet_write_number (worksheet, row, column, cell->number, cell->format);
}

BedCellQueue *
bed_cell_queue_new (lxw_worksheet *worksheet)
{
  BedCellQueue *self = g_new0 (BedCellQueue, 1);

  self->worksheet = worksheet;
  self->filling = new_batch ();
  self->full = g_async_queue_new ();
  self->empty = g_async_queue_new_full ((GDestroyNotify) free_batch);
  return self;
}

void
bed_cell_queue_add (BedCellQueue *self, const BedCellValue *cell)
{
  Batch *batch = self->filling;
  Stored stored = { .cell = *cell,
                    .formula = store (batch, cell->formula),
                    .text = store (batch, cell->text) };

  g_array_append_val (batch->cells, stored);
  if (batch->cells->len < CELLS_PER_BATCH)
    return;
  if (!self->writer)
    {
      for (int i = 1; i < BATCHES; i++)
        g_async_queue_push (self->empty, new_batch ());
      self->writer = g_thread_new ("cells", write_batches, self);
    }
  hand_over (self);
}

lxw_error
bed_cell_queue_end (BedCellQueue *self)
{
  lxw_error error;

  if (self->writer)
    {
      if (self->filling->cells->len)
        hand_over (self);
      hand_over (self);
      g_thread_join (self->writer);
    }
  else
    write_batch (self, self->filling);
  error = self->error;
  free_batch (self->filling);
  g_async_queue_unref (self->full);
  g_async_queue_unref (self->empty);
  g_free (self);
  return error;
}
