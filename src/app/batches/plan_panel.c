#include "app/batches/plan_panel.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/bark_view.h"
#include "app/widgets/build.h"
#include "model/farm/query.h"
#include "model/farm/say.h"
#include "science/units.h"

#define WORDS_CHARS 40 /* of sentences, as wide as they like to be */

enum
{
  FACT_ROWS,
  FACT_FARTHEST,
  FACT_PER_LOG,
  FACT_HOLES,
  FACT_SPAWN,
  FACT_STORE,
  FACT_WAX,
  FACT_HOURS,
  N_FACTS
};

struct _BedPlanPanel
{
  BedPart parent_instance;
  BedFarm *farm;
  BedBatchTotals totals;
  GtkWidget *head;
  BedBarkView *bark;
  GtkWidget *advice;
  GtkWidget *range;
  GtkWidget *values[N_FACTS];
};

BED_DEFINE_TYPE (BedPlanPanel, bed_plan_panel, BED_TYPE_PART)

static const char *const fact_labels[N_FACTS] = {
  [FACT_ROWS] = N_ ("Rows"),
  [FACT_FARTHEST] = N_ ("Farthest point"),
  [FACT_PER_LOG] = N_ ("Holes a log"),
  [FACT_HOLES] = N_ ("Holes"),
  [FACT_SPAWN] = N_ ("Spawn"),
  [FACT_STORE] = N_ ("In store"),
  [FACT_WAX] = N_ ("Wax"),
  [FACT_HOURS] = N_ ("Work"),
};

static void
say (BedPlanPanel *self, int fact, char *text)
{
  gtk_label_set_label (GTK_LABEL (self->values[fact]), text);
  g_free (text);
}

static char *
dup_grams (BedPlanPanel *self, double grams)
{
  return bed_measure_format_unit_rounded (BED_MEASURE_MASS, bed_farm_get_notation (self->farm), 2,
                                          llround (grams * 1000));
}

static char *
dup_length (BedPlanPanel *self, double mm)
{
  return bed_measure_format_unit_rounded (BED_MEASURE_LENGTH, bed_farm_get_notation (self->farm), 1,
                                          llround (mm * 1000));
}

static char *
dup_count (gint64 n)
{
  return g_strdup_printf ("%" G_GINT64_FORMAT, n);
}

static void
show_store (BedPlanPanel *self, gint64 spawn)
{
  gint64 mass = 0, pieces = 0;
  /* Who reads says that it could not be read; here it is no number. */
  gboolean known = spawn
                   && bed_query_one (self->farm, "SELECT mass_left FROM spawn_left WHERE id = ?1",
                                     spawn, &mass, NULL)
                   && bed_query_one (self->farm, "SELECT pieces_left FROM spawn_left WHERE id = ?1",
                                     spawn, &pieces, NULL);
  gboolean short_of = self->totals.pieces
                          ? self->totals.pieces > pieces
                          : (self->totals.spawn_g + self->totals.spawn_reserve_g) * 1000 > mass;

  if (!known)
    say (self, FACT_STORE, g_strdup ("–"));
  else if (self->totals.pieces)
    say (self, FACT_STORE, dup_count (pieces));
  else
    say (self, FACT_STORE, dup_grams (self, mass / 1000.0));
  if (known && short_of)
    gtk_widget_add_css_class (self->values[FACT_STORE], "warning");
  else
    gtk_widget_remove_css_class (self->values[FACT_STORE], "warning");
}

/* An odd number of rows cannot all be shifted by half: two of them meet in step. */
static const char *
get_advice (const BedDrillPlan *plan)
{
  if (plan->rows % 2 == 1 && plan->seam.distance > plan->inside.distance * 1.001)
    return _ (
        "An odd number of rows leaves a seam where the holes of two rows stand side by side. An "
        "even number, or spiral rows, closes it.");
  return "";
}

/* How far farms differ, and whose measure it is. */
static char *
dup_range (BedPlanPanel *self)
{
  const BedBatchTotals *t = &self->totals;

  if (t->pieces)
    return g_strdup ("");
  g_autofree char *low = dup_grams (self, t->spawn_low_g);
  g_autofree char *high = dup_grams (self, t->spawn_high_g);
  if (t->own)
    return bed_say (ngettext ("Spawn between %s and %s, by what %u batch of your own took.",
                              "Spawn between %s and %s, by what %u batches of your own took.",
                              t->own),
                    low, high, t->own);
  return g_strdup_printf (
      _ ("Spawn between %s and %s: common practice, no source, until two of your own batches "
         "show it."),
      low, high);
}

/* " With your reserve 2.97 kg.", or nothing. */
static char *
dup_reserve (BedPlanPanel *self)
{
  const BedBatchTotals *t = &self->totals;

  if (t->pieces || t->spawn_reserve_g <= 0)
    return g_strdup ("");
  g_autofree char *all = dup_grams (self, t->spawn_g + t->spawn_reserve_g);
  g_autofree char *sentence = g_strdup_printf (_ ("With your reserve %s."), all);
  return g_strconcat (" ", sentence, NULL);
}

/* Nothing stands under it that could jump. */
static void
say_advice (BedPlanPanel *self, const char *advice)
{
  gtk_label_set_label (GTK_LABEL (self->advice), advice);
  gtk_widget_set_visible (self->advice, *advice != '\0');
}

static void
show_totals (BedPlanPanel *self, gint64 spawn)
{
  const BedBatchTotals *t = &self->totals;
  guint logs = MAX (t->logs, 1);
  g_autofree char *far = dup_length (self, t->plan->farthest.distance);
  g_autofree char *head
      = t->logs ? bed_say (ngettext ("Plan for %u log", "Plan for %u logs", t->logs), t->logs)
                : g_strdup (_ ("Plan for one log of usual size"));

  gtk_label_set_label (GTK_LABEL (self->head), head);
  bed_bark_view_set_plan (self->bark, t->plan, t->hole_diameter, far);
  say_advice (self, get_advice (t->plan));
  g_autofree char *range = dup_range (self), *reserve = dup_reserve (self);
  g_autofree char *words = g_strconcat (range, reserve, NULL);
  gtk_label_set_label (GTK_LABEL (self->range), words);
  say (self, FACT_ROWS, dup_count (t->plan->rows));
  say (self, FACT_FARTHEST, g_strdup (far));
  say (self, FACT_PER_LOG, dup_count ((t->holes + logs / 2) / logs));
  say (self, FACT_HOLES, dup_count (t->holes));
  say (self, FACT_SPAWN, t->pieces ? dup_count (t->pieces) : dup_grams (self, t->spawn_g));
  say (self, FACT_WAX, dup_grams (self, t->wax_g));
  say (self, FACT_HOURS,
       bed_measure_format_unit_rounded (BED_MEASURE_TIME, bed_farm_get_notation (self->farm), 1,
                                        llround (t->minutes)));
  show_store (self, spawn);
}

static void
show_nothing (BedPlanPanel *self, const char *why)
{
  gtk_label_set_label (GTK_LABEL (self->head), _ ("Plan"));
  bed_bark_view_set_plan (self->bark, NULL, 0, NULL);
  say_advice (self, why);
  gtk_label_set_label (GTK_LABEL (self->range), "");
  for (int i = 0; i < N_FACTS; i++)
    say (self, i, g_strdup ("–"));
}

static void
bed_plan_panel_dispose (GObject *object)
{
  BedPlanPanel *self = BED_PLAN_PANEL (object);

  bed_batch_totals_clear (&self->totals);
  G_OBJECT_CLASS (bed_plan_panel_parent_class)->dispose (object);
}

static void
bed_plan_panel_class_init (BedPlanPanelClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_plan_panel_dispose;
}

static GtkWidget *
make_fact (BedPlanPanel *self, int at)
{
  GtkWidget *label = bed_words_new (_ (fact_labels[at]), "fact-label");

  self->values[at] = bed_line_new ("–", "plan-value");
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self->values[at]),
                                  GTK_ACCESSIBLE_RELATION_LABELLED_BY, label, NULL, -1);
  return bed_column_new (0, self->values[at], label, NULL);
}

static GtkWidget *
make_facts (BedPlanPanel *self)
{
  GtkWidget *grid = bed_grid_new (12, 12);

  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  for (int i = 0; i < N_FACTS; i++)
    gtk_grid_attach (GTK_GRID (grid), make_fact (self, i), i % 4, i / 4, 1, 1);
  return grid;
}

BedPlanPanel *
bed_plan_panel_new (BedFarm *farm)
{
  BedPlanPanel *self = g_object_new (BED_TYPE_PLAN_PANEL, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->head = bed_label_new (_ ("Plan"), "heading");
  self->bark = bed_bark_view_new ();
  self->advice = bed_words_new (NULL, "caption");
  self->range = bed_words_new (NULL, "caption");
  /* Beside the fields of a form the figures are what it is wide for. */
  gtk_label_set_max_width_chars (GTK_LABEL (self->advice), WORDS_CHARS);
  gtk_label_set_max_width_chars (GTK_LABEL (self->range), WORDS_CHARS);
  bed_part_set_child (
      BED_PART (self),
      bed_styled (bed_column_new (12, self->head, GTK_WIDGET (self->bark), make_facts (self),
                                  self->range, self->advice, NULL),
                  "panel"));
  return self;
}

void
bed_plan_panel_show (BedPlanPanel *self, const BedBatchNeeds *needs, gint64 spawn)
{
  g_autoptr (GError) error = NULL;

  g_return_if_fail (BED_IS_PLAN_PANEL (self));
  bed_bark_view_set_plan (self->bark, NULL, 0, NULL);
  bed_batch_totals_clear (&self->totals);
  if (bed_batch_totals_init (&self->totals, needs, &error))
    show_totals (self, spawn);
  else
    {
      bed_batch_totals_clear (&self->totals);
      show_nothing (self, error->message);
    }
}

const BedBatchTotals *
bed_plan_panel_get_totals (BedPlanPanel *self)
{
  g_return_val_if_fail (BED_IS_PLAN_PANEL (self), NULL);
  return &self->totals;
}

GPtrArray *
bed_plan_load_logs (BedFarm *farm, gint64 batch, GError **error)
{
  g_autoptr (GPtrArray) logs = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (BedQuery) query = bed_query_new (farm, "SELECT id FROM log WHERE batch = ?1");

  bed_query_bind_int (query, 1, batch);
  while (bed_query_next (query))
    {
      BedRecord *log = bed_farm_load (farm, BED_KIND_LOG, bed_query_int (query, 0), NULL);

      if (log)
        g_ptr_array_add (logs, log);
    }
  return bed_query_finish (query, error) ? g_steal_pointer (&logs) : NULL;
}
