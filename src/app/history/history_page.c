#include "app/history/history_page.h"

#include <glib/gi18n.h>

#include "app/desk/figure_answer.h"
#include "app/desk/page_parts.h"
#include "app/host/host.h"
#include "app/host/wait.h"
#include "app/paper/paper_dialog.h"
#include "app/widgets/split.h"
#include "app/widgets/table.h"
#include "model/farm/history.h"
#include "model/farm/query.h"
#include "model/farm/value.h"

/* Bytes of a change: a larger one, an import of thousands, is only tried when it is asked for. */
#define TRY_MOST 200000
#define DIFFERENCES_MOST 300 /* an import of thousands of logs is not read line by line */

struct _BedHistoryPage
{
  BedPage parent_instance;
  BedTable *table;
  GtkWidget *sentence;
  GtkWidget *about;
  GtkWidget *put_back;
  GtkWidget *why_not; /* it cannot be put back */
  GtkWidget *differences;
  guint try_source;
};

BED_DEFINE_TYPE (BedHistoryPage, bed_history_page, BED_TYPE_PAGE)

/* "Tue 12 May, 09:31" */
static char *
dup_moment (const char *at)
{
  g_autofree char *date = g_strndup (at ? at : "", 10);
  g_autofree char *day = bed_date_format_day (date);

  return at && strlen (at) >= 16 ? g_strdup_printf ("%s, %.5s", day, at + 11) : g_strdup (day);
}

static char *
dup_when (BedFarm *farm, BedRow *row)
{
  return dup_moment (bed_row_text (row, "at"));
}

/* What was undone since stands in the list with a word for it. */
static char *
dup_what (BedFarm *farm, BedRow *row)
{
  const char *sentence = bed_row_text (row, "sentence");

  if (bed_row_has (row, "undone_by"))
    return g_strdup_printf (_ ("undone: %s"), sentence);
  return g_strdup (sentence);
}

static const BedTableColumn columns[] = {
  { .column = "at",
    .title = N_ ("When"),
    .cell = BED_CELL_CUSTOM,
    .dup_text = dup_when,
    .width = 16 },
  { .column = "sentence", .title = N_ ("What"), .cell = BED_CELL_CUSTOM, .dup_text = dup_what },
};

static const BedTableSpec table = {
  .label = N_ ("Changes"),
  .source = "change",
  .columns = columns,
  .n_columns = G_N_ELEMENTS (columns),
  .order = "id DESC",
  .search = "sentence || ' ' || who || bed_change_words (id)",
};

/* --- one change ---------------------------------------------------------------- */

static GtkWidget *
make_value (const char *text, const char *style)
{
  GtkWidget *label = bed_words_new (text ? text : "–", style);

  gtk_label_set_width_chars (GTK_LABEL (label), 12);
  return label;
}

/* What was only added has nothing before it to show. */
static void
add_difference (GtkWidget *grid, const BedDifference *difference, int row)
{
  GtkWidget *field = bed_words_new (difference->field, "dim-label");
  GtkWidget *arrow = bed_styled (gtk_label_new ("→"), "dim-label");

  bed_styled (field, "changed-field");
  gtk_grid_attach (GTK_GRID (grid), field, 0, row, 1, 1);
  if (!difference->from)
    {
      gtk_grid_attach (GTK_GRID (grid), make_value (difference->to, NULL), 1, row, 3, 1);
      return;
    }
  gtk_grid_attach (GTK_GRID (grid), make_value (difference->from, "dim-label"), 1, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), arrow, 2, row, 1, 1);
  gtk_grid_attach (GTK_GRID (grid), make_value (difference->to, NULL), 3, row, 1, 1);
}

static GtkWidget *
add_record (BedHistoryPage *self, const char *record)
{
  GtkWidget *grid = bed_grid_new (12, 3);

  gtk_box_append (GTK_BOX (self->differences), bed_section_new (record, grid));
  return grid;
}

static void
show_differences (BedHistoryPage *self, gint64 change)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (GPtrArray) differences = bed_history_differences (farm, change);
  /* Records without a name of their own are told apart by a field coming round again. */
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  const char *record = NULL;
  GtkWidget *grid = NULL;

  bed_box_clear (self->differences);
  for (guint i = 0; i < MIN (differences->len, DIFFERENCES_MOST); i++)
    {
      const BedDifference *difference = differences->pdata[i];
      if (g_strcmp0 (record, difference->record) != 0
          || g_hash_table_contains (seen, difference->field))
        {
          grid = add_record (self, difference->record);
          g_hash_table_remove_all (seen);
        }
      g_hash_table_add (seen, difference->field);
      record = difference->record;
      add_difference (grid, difference, i);
    }
  if (differences->len > DIFFERENCES_MOST)
    {
      g_autofree char *more
          = g_strdup_printf (_ ("and %u more fields"), differences->len - DIFFERENCES_MOST);
      gtk_box_append (GTK_BOX (self->differences), bed_words_new (more, "dim-label"));
    }
}

/* --- put back -------------------------------------------------------------------- */

static gboolean
is_large (BedFarm *farm, gint64 change)
{
  gint64 size;

  return !bed_query_one (farm, "SELECT length (changeset) FROM change WHERE id = ?1", change, &size,
                         NULL)
         || size > TRY_MOST;
}

/* Later changes may rest on it: that is found out by trying, and said. */
static gboolean
try_cb (gpointer data)
{
  BedHistoryPage *self = data;
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  gint64 change = bed_table_get_selected (self->table);
  g_autoptr (GError) error = NULL;

  self->try_source = 0;
  if (!change)
    return G_SOURCE_REMOVE;
  gboolean offer = is_large (farm, change) || bed_history_try_put_back (farm, change, &error)
                   || g_error_matches (error, BED_FARM_ERROR, BED_FARM_ERROR_BUSY);
  g_autofree char *why = offer ? NULL
                               : g_strdup_printf (_ ("It cannot be put back: %s"), error->message);
  gtk_widget_set_visible (self->put_back, offer);
  gtk_widget_set_visible (self->why_not, !offer);
  gtk_label_set_label (GTK_LABEL (self->why_not), why ? why : "");
  return G_SOURCE_REMOVE;
}

/* Trying writes and takes it back: not while the views are told. */
static void
try_soon (BedHistoryPage *self)
{
  if (!self->try_source)
    self->try_source = g_idle_add (try_cb, self);
}

static gboolean
show_change (BedHistoryPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  gint64 id = bed_table_get_selected (self->table);
  g_autoptr (BedQuery) q = bed_query_new (
      farm,
      "SELECT sentence, at, who, undone_by, role = 'do' AND id > (SELECT min (id) FROM change)"
      " FROM change WHERE id = ?1");
  g_autofree char *moment = NULL;
  g_autofree char *about = NULL;
  gboolean undone;

  bed_query_bind_int (q, 1, id);
  gtk_widget_set_visible (self->put_back, FALSE);
  gtk_widget_set_visible (self->why_not, FALSE);
  if (!id || !bed_query_next (q))
    {
      gtk_label_set_label (GTK_LABEL (self->sentence), "");
      gtk_label_set_label (GTK_LABEL (self->about), _ ("Choose one in the list"));
      bed_box_clear (self->differences);
      return bed_query_finish (q, error);
    }
  undone = !bed_query_is_null (q, 3);
  moment = dup_moment (bed_query_text (q, 1));
  about = g_strdup_printf (undone ? _ ("%s, by %s; undone since") : _ ("%s, by %s"), moment,
                           bed_query_text (q, 2));
  gtk_label_set_label (GTK_LABEL (self->sentence), bed_query_text (q, 0));
  gtk_label_set_label (GTK_LABEL (self->about), about);
  if (bed_query_int (q, 4) && !undone && !bed_farm_get_read_only_why (farm))
    try_soon (self);
  show_differences (self, id);
  return bed_query_finish (q, error);
}

static void
selected_cb (BedHistoryPage *self)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (GError) error = NULL;

  /* While another program holds the farm the one that was read stays. */
  if (!bed_farm_begin_reading (farm))
    return;
  gboolean read = show_change (self, &error);
  if (bed_farm_end_reading (farm, error ? NULL : &error) && read)
    return;
  gtk_label_set_label (GTK_LABEL (self->sentence), "");
  gtk_label_set_label (GTK_LABEL (self->about), error->message);
  bed_box_clear (self->differences);
}

static gboolean
try_put_back_cb (gpointer data, GError **error)
{
  BedHistoryPage *self = data;

  return bed_history_put_back (bed_page_get_farm (BED_PAGE (self)),
                               bed_table_get_selected (self->table), error);
}

static void
put_back_cb (BedHistoryPage *self)
{
  g_autoptr (GError) error = NULL;

  if (bed_wait_to_write (GTK_WIDGET (self), try_put_back_cb, self, &error))
    bed_host_say (GTK_WIDGET (self), _ ("Put back"));
  else
    bed_host_say_error (GTK_WIDGET (self), error);
}

/* --- the page ------------------------------------------------------------------ */

static gboolean
show_figures (BedHistoryPage *self, GError **error)
{
  BedFarm *farm = bed_page_get_farm (BED_PAGE (self));
  g_autoptr (BedQuery) q = bed_query_new (farm, "SELECT min (at) FROM change");
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *since = NULL;
  BedFigureAnswers got;

  if (bed_query_next (q) && !bed_query_is_null (q, 0))
    {
      g_autofree char *day = g_strndup (bed_query_text (q, 0), 10);
      since = bed_date_format (day);
    }
  if (!bed_query_finish (q, error)
      || !bed_figures_read_farm (farm, BED_FIGURE_CHANGES, BED_FIGURE_PEOPLE, &got, error))
    return FALSE;
  BedPageFigure figures[] = {
    bed_figure_answer (farm, &got, BED_FIGURE_CHANGES, texts),
    bed_figure_answer (farm, &got, BED_FIGURE_PEOPLE, texts),
    { since, NULL, _ ("The first") },
  };
  bed_page_set_figures (BED_PAGE (self), figures, G_N_ELEMENTS (figures));
  return TRUE;
}

static gboolean
bed_history_page_refresh (BedPage *page, GError **error)
{
  BedHistoryPage *self = BED_HISTORY_PAGE (page);

  return show_figures (self, error) && show_change (self, error);
}

static GtkWidget *
make_detail (BedHistoryPage *self)
{
  GtkWidget *box;
  GtkWidget *words;

  self->sentence = bed_words_new (NULL, "title-2");
  self->about = bed_words_new (NULL, "dim-label");
  self->put_back = bed_button_new (_ ("Put back"), G_CALLBACK (put_back_cb), self);
  self->differences = gtk_box_new (GTK_ORIENTATION_VERTICAL, 18);
  gtk_widget_set_tooltip_text (self->put_back, _ ("Takes this change back; later ones stay"));
  gtk_widget_set_focus_on_click (self->put_back, FALSE);
  gtk_widget_set_valign (self->put_back, GTK_ALIGN_START);
  self->why_not = bed_words_new (NULL, NULL);
  words = bed_column_new (0, self->sentence, self->about, self->why_not, NULL);
  gtk_widget_set_hexpand (words, TRUE);
  box = bed_styled (
      bed_column_new (18, bed_row_new (12, words, self->put_back, NULL), self->differences, NULL),
      "sheet");
  return bed_named (bed_scrolled_new (box), _ ("What was changed"));
}

static GtkWidget *
bed_history_page_make (BedPage *page)
{
  BedHistoryPage *self = BED_HISTORY_PAGE (page);
  BedSplit *split;

  self->table = bed_table_new (bed_page_get_farm (page), &table);
  split = bed_split_new (GTK_WIDGET (self->table), make_detail (self));
  g_signal_connect_object (self->table, "selected", G_CALLBACK (selected_cb), self,
                           G_CONNECT_SWAPPED);
  g_signal_connect_object (self->table, "opened", G_CALLBACK (bed_split_show_detail), split,
                           G_CONNECT_SWAPPED);
  return bed_page_column_new (page, NULL, GTK_WIDGET (split));
}

static void
bed_history_page_dispose (GObject *object)
{
  g_clear_handle_id (&BED_HISTORY_PAGE (object)->try_source, g_source_remove);
  G_OBJECT_CLASS (bed_history_page_parent_class)->dispose (object);
}

static void
print_shown (BedPage *page)
{
  bed_paper_dialog_show_page (GTK_WIDGET (page), bed_page_get_farm (page), _ ("History"));
}

static void
bed_history_page_class_init (BedHistoryPageClass *klass)
{
  BedPageClass *page_class = BED_PAGE_CLASS (klass);

  page_class->print = print_shown;
  page_class->print_title = N_ ("Print what this page shows");
  G_OBJECT_CLASS (klass)->dispose = bed_history_page_dispose;

  page_class->make = bed_history_page_make;
  page_class->refresh = bed_history_page_refresh;
}
