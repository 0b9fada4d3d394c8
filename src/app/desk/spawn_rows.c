#include "app/desk/spawn_rows.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/build.h"
#include "model/farm/kinds.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "science/units.h"

enum
{
  ROW_SPAWN,
  ROW_MASS,
  ROW_PIECES,
  N_ROWS
};

static const char *const row_fields[N_ROWS] = { "spawn", "mass", "pieces" };

typedef struct
{
  BedRecord *used; /* kind SPAWN_USED */
  BedFieldRow *rows[N_ROWS];
} Line;

struct _BedSpawnRows
{
  BedPart parent_instance;
  BedFarm *farm;
  BedForm *form;    /* borrowed: it holds this */
  GPtrArray *lines; /* Line; those that are not needed now are hidden at the end */
  guint n_seen;
  GtkWidget *grid;
};

BED_DEFINE_TYPE (BedSpawnRows, bed_spawn_rows, BED_TYPE_PART)

static void
free_line (gpointer data)
{
  Line *line = data;

  g_clear_object (&line->used);
  g_free (line);
}

static Line *
get_line (BedSpawnRows *self, guint at)
{
  return g_ptr_array_index (self->lines, at);
}

static gboolean
is_counted (BedSpawnRows *self, Line *line)
{
  gint64 spawn = bed_record_get_int (line->used, "spawn");
  g_autoptr (BedRecord) lot = spawn ? bed_farm_load (self->farm, BED_KIND_SPAWN, spawn, NULL)
                                    : NULL;

  return lot && bed_spawn_is_counted (bed_record_get_text (lot, "form"));
}

static const char *
get_amount_field (gboolean counted)
{
  return row_fields[counted ? ROW_PIECES : ROW_MASS];
}

/* What the lines leave of what the plan needs, mg or pieces; 0 when it is not known. */
static gint64
find_rest (BedSpawnRows *self, gboolean counted, const BedBatchTotals *totals)
{
  gint64 need = 0;

  if (!totals->plan || totals->logs == 0 || counted != (totals->pieces > 0))
    return 0;
  need = counted ? totals->pieces : llround (totals->spawn_g * 1000);
  for (guint i = 0; i < self->n_seen; i++)
    need -= bed_record_get_int (get_line (self, i)->used, get_amount_field (counted));
  return MAX (need, 0);
}

static gboolean
is_without_amount (Line *line)
{
  return !bed_record_has (line->used, "mass") && !bed_record_has (line->used, "pieces");
}

/* The line whose amount is what the others leave, or -1. */
static int
find_open (BedSpawnRows *self)
{
  for (guint i = 0; i < self->n_seen; i++)
    if (is_without_amount (get_line (self, i)))
      return (int) i;
  return -1;
}

static void
show_line (BedSpawnRows *self, guint at)
{
  Line *line = get_line (self, at);
  gboolean seen = at < self->n_seen, counted = is_counted (self, line);

  gtk_widget_set_visible (GTK_WIDGET (line->rows[ROW_SPAWN]), seen);
  gtk_widget_set_visible (GTK_WIDGET (line->rows[ROW_MASS]), seen && !counted);
  gtk_widget_set_visible (GTK_WIDGET (line->rows[ROW_PIECES]), seen && counted);
}

static void
begin_line (BedSpawnRows *self, guint at, BedRecord *used)
{
  Line *line = get_line (self, at);

  g_set_object (&line->used, used);
  for (int i = 0; i < N_ROWS; i++)
    bed_field_row_set_draft (line->rows[i], line->used);
  show_line (self, at);
}

/* Comes in Enter's round after the line before it. */
static void
add_line (BedSpawnRows *self)
{
  Line *line = g_new0 (Line, 1);
  BedFieldRow *before = self->lines->len ? get_line (self, self->lines->len - 1)->rows[ROW_PIECES]
                                         : NULL;

  for (int i = 0; i < N_ROWS; i++)
    {
      line->rows[i] = bed_field_row_new (
          self->farm, bed_kind_find_field (BED_KIND_SPAWN_USED, row_fields[i], NULL));
      gtk_box_append (GTK_BOX (self->grid), GTK_WIDGET (line->rows[i]));
      bed_form_add_row_after (self->form, line->rows[i], before);
      before = line->rows[i];
    }
  g_ptr_array_add (self->lines, line);
}

static void
see_line (BedSpawnRows *self, BedRecord *used)
{
  if (self->n_seen == self->lines->len)
    add_line (self);
  self->n_seen++;
  begin_line (self, self->n_seen - 1, used);
}

static void
another_cb (BedSpawnRows *self)
{
  g_autoptr (BedRecord) used = bed_record_new (BED_KIND_SPAWN_USED);
  Line *line;

  see_line (self, used);
  line = get_line (self, self->n_seen - 1);
  gtk_widget_grab_focus (
      bed_editor_get_focus_widget (bed_field_row_get_editor (line->rows[ROW_SPAWN])));
}

static void
bed_spawn_rows_finalize (GObject *object)
{
  g_ptr_array_unref (BED_SPAWN_ROWS (object)->lines);
  G_OBJECT_CLASS (bed_spawn_rows_parent_class)->finalize (object);
}

static void
bed_spawn_rows_class_init (BedSpawnRowsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_spawn_rows_finalize;
}

BedSpawnRows *
bed_spawn_rows_new (BedFarm *farm, BedForm *form)
{
  BedSpawnRows *self = g_object_new (BED_TYPE_SPAWN_ROWS, NULL);
  GtkWidget *another;

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->form = form;
  self->lines = g_ptr_array_new_with_free_func (free_line);
  self->grid = bed_form_columns_new ();
  another = bed_styled (bed_button_new (_ ("Another spawn lot"), G_CALLBACK (another_cb), self),
                        "flat");
  gtk_widget_set_halign (another, GTK_ALIGN_START);
  gtk_widget_set_tooltip_text (another, _ ("If one lot was not enough; empty a line to remove it"));
  bed_part_set_child (
      BED_PART (self),
      bed_column_new (0, bed_row_new (6, bed_label_new (_ ("Spawn"), "heading"), another, NULL),
                      self->grid, NULL));
  bed_spawn_rows_load (self, 0);
  return self;
}

void
bed_spawn_rows_load (BedSpawnRows *self, gint64 batch)
{
  g_return_if_fail (BED_IS_SPAWN_ROWS (self));
  g_autoptr (BedQuery) q
      = bed_query_new (self->farm, "SELECT id FROM spawn_used WHERE batch = ?1 ORDER BY id");
  g_autoptr (BedRecord) none = bed_record_new (BED_KIND_SPAWN_USED);

  self->n_seen = 0;
  bed_query_bind_int (q, 1, batch);
  while (bed_query_next (q))
    {
      g_autoptr (BedRecord) used
          = bed_farm_load (self->farm, BED_KIND_SPAWN_USED, bed_query_int (q, 0), NULL);

      if (used)
        see_line (self, used);
    }
  if (!bed_query_finish (q, NULL))
    return; /* the form, which reads, hears of it */
  if (self->n_seen == 0)
    see_line (self, none);
  for (guint i = self->n_seen; i < self->lines->len; i++)
    begin_line (self, i, none);
}

gint64
bed_spawn_rows_get_lot (BedSpawnRows *self)
{
  g_return_val_if_fail (BED_IS_SPAWN_ROWS (self), 0);
  return bed_record_get_int (get_line (self, 0)->used, "spawn");
}

gboolean
bed_spawn_is_counted (const char *form)
{
  return g_strcmp0 (form, "dowel") == 0 || g_strcmp0 (form, "thimble") == 0;
}

void
bed_spawn_rows_offer (BedSpawnRows *self, const BedBatchTotals *totals)
{
  g_return_if_fail (BED_IS_SPAWN_ROWS (self));
  const BedNotation *notation = bed_farm_get_notation (self->farm);
  int open = find_open (self);

  for (guint i = 0; i < self->n_seen; i++)
    {
      Line *line = get_line (self, i);
      gboolean counted = is_counted (self, line);
      BedFieldRow *row = line->rows[counted ? ROW_PIECES : ROW_MASS];
      GtkWidget *entry = bed_editor_get_focus_widget (bed_field_row_get_editor (row));
      gint64 rest = (int) i == open ? find_rest (self, counted, totals) : 0;
      g_autofree char *need = NULL;

      if (rest)
        need = counted ? bed_say ("%" G_GINT64_FORMAT, rest)
                       : bed_measure_format_rounded (BED_MEASURE_MASS, notation, 2, rest);
      bed_entry_hint (entry, need);
      show_line (self, i);
    }
}

void
bed_spawn_rows_put (BedSpawnRows *self, BedEdit *edit, gint64 batch, const BedBatchTotals *totals)
{
  g_return_if_fail (BED_IS_SPAWN_ROWS (self) && edit != NULL);
  int open = find_open (self);

  for (guint i = 0; i < self->n_seen; i++)
    {
      Line *line = get_line (self, i);
      gboolean counted = is_counted (self, line);
      gint64 id = bed_record_get_id (line->used);
      gint64 rest = (int) i == open ? find_rest (self, counted, totals) : 0;

      if (!bed_record_has (line->used, "spawn"))
        {
          if (id)
            bed_edit_remove (edit, BED_KIND_SPAWN_USED, id);
          continue;
        }
      g_autoptr (BedRecord) used = bed_form_dup_draft (self->form, line->used);
      bed_record_set_int (used, "batch", batch);
      if (rest)
        bed_record_set_int (used, get_amount_field (counted), rest);
      bed_edit_put (edit, used);
    }
}
