#include "app/batches/life_view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/build.h"
#include "app/widgets/timeline.h"
#include "model/farm/kinds.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "model/season/life.h"
#include "science/language.h"
#include "science/units.h"

#define EVENTS_MOST 60 /* in the list; the drawing has all */

enum
{
  LANE_LAY,
  LANE_SOAKED,
  LANE_PICKED,
  LANE_LOOKED,
  LANE_RETIRED, /* of a batch: log by log */
  N_LANES,
};

struct _BedLifeView
{
  BedPart parent_instance;
  BedFarm *farm;
  BedTimeline *timeline;
  GtkWidget *list; /* a grid */
};

BED_DEFINE_TYPE (BedLifeView, bed_life_view, BED_TYPE_PART)

/* --- words --------------------------------------------------------------------- */

static char *
dup_mass (BedLifeView *self, BedMeasure measure, double mass)
{
  return bed_measure_format_unit_rounded (measure, bed_farm_get_notation (self->farm), 1,
                                          llround (mass));
}

static char *
dup_check (const BedLifeEvent *event)
{
  return event->amount < 0 ? g_strdup (_ ("checked"))
                           : bed_say (_ ("checked, %.0f %% colonised"), event->amount / 100);
}

static const char *
get_reason (const char *key)
{
  return bed_field_choice_label (bed_kind_find_field (BED_KIND_LOG, "retired_why", NULL), key);
}

static char *
dup_picked (const BedLifeEvent *event, const char *mass)
{
  g_autofree char *until = event->until ? bed_date_format (event->until) : NULL;

  /* Translators: weight, day. */
  return until ? g_strdup_printf (_ ("picked %s in all, until %s"), mass, until)
               : g_strdup_printf (_ ("picked %s"), mass);
}

static char *
dup_what (BedLifeView *self, const BedLifeEvent *event)
{
  g_autofree char *mass = NULL;

  switch (event->kind)
    {
    case BED_LIFE_FELLED:
      return g_strdup_printf (_ ("felled, %s"), event->what);
    case BED_LIFE_INOCULATED:
      return g_strdup_printf (_ ("inoculated, %s"), event->what);
    case BED_LIFE_LAY:
      return g_strdup_printf (_ ("to %s"), event->what);
    case BED_LIFE_SOAKED:
      return g_strdup_printf (_ ("soaked, %s"), event->what);
    case BED_LIFE_PICKED:
      /* A log's share of a pick is small. */
      mass = dup_mass (self, event->logs == 1 ? BED_MEASURE_MASS_FINE : BED_MEASURE_MASS,
                       event->amount);
      return dup_picked (event, mass);
    case BED_LIFE_CHECKED:
      return dup_check (event);
    case BED_LIFE_WEIGHED:
      mass = dup_mass (self, BED_MEASURE_MASS, event->amount);
      return g_strdup_printf (_ ("weighed %s"), mass);
    case BED_LIFE_RETIRED:
      return event->what ? g_strdup_printf (_ ("retired, %s"), get_reason (event->what))
                         : g_strdup (_ ("retired"));
    case BED_N_LIFE_KINDS:
    default:
      g_return_val_if_reached (NULL);
    }
}

static char *
dup_words (BedLifeView *self, const BedLifeEvent *event)
{
  g_autofree char *what = dup_what (self, event);

  /* Translators: what was done, with how many logs of a batch. */
  return event->logs > 1 ? bed_say (
             g_dngettext (GETTEXT_PACKAGE, "%s, %d log", "%s, %d logs", (gulong) event->logs), what,
             (int) event->logs)
                         : g_steal_pointer (&what);
}

/* --- the drawing --------------------------------------------------------------- */

static int
get_julian (const char *day)
{
  GDate date;

  g_date_clear (&date, 1);
  g_date_set_parse (&date, day);
  return g_date_valid (&date) ? (int) g_date_get_julian (&date) : 0;
}

/* What bars are drawn to: the most that one day gave, the most logs together. */
typedef struct
{
  double mass, logs;
  int today; /* Julian day */
  guint n_lanes;
} Scale;

static Scale
find_scale (const GPtrArray *events, int today, guint n_lanes)
{
  Scale scale = { 1, 1, today, n_lanes };

  for (guint i = 0; i < events->len; i++)
    {
      const BedLifeEvent *event = events->pdata[i];
      if (event->kind == BED_LIFE_PICKED && !event->until)
        scale.mass = MAX (scale.mass, event->amount);
      if (event->kind == BED_LIFE_LAY || event->kind == BED_LIFE_SOAKED)
        scale.logs = MAX (scale.logs, (double) event->logs);
    }
  return scale;
}

/* "felled 8 Mar 2022" */
static char *
dup_name (const BedLifeEvent *event, const char *day)
{
  if (event->kind == BED_LIFE_FELLED)
    return g_strdup_printf (_ ("felled %s"), day);
  return event->kind == BED_LIFE_INOCULATED ? g_strdup_printf (_ ("inoculated %s"), day)
                                            : g_strdup_printf (_ ("retired %s"), day);
}

/* @label and @words are borrowed. */
static BedTimelineItem
make_item (const BedLifeEvent *event, const Scale *scale)
{
  static const struct
  {
    int lane;
    BedTimelineTone tone;
  } looks[BED_N_LIFE_KINDS] = {
    [BED_LIFE_FELLED] = { -1, BED_TIMELINE_INK },
    [BED_LIFE_INOCULATED] = { -1, BED_TIMELINE_INK },
    [BED_LIFE_LAY] = { LANE_LAY, BED_TIMELINE_WOOD },
    [BED_LIFE_SOAKED] = { LANE_SOAKED, BED_TIMELINE_WATER },
    [BED_LIFE_PICKED] = { LANE_PICKED, BED_TIMELINE_BARK },
    [BED_LIFE_CHECKED] = { LANE_LOOKED, BED_TIMELINE_INK },
    [BED_LIFE_WEIGHED] = { LANE_LOOKED, BED_TIMELINE_WATER },
    [BED_LIFE_RETIRED] = { -1, BED_TIMELINE_INK },
  };
  BedTimelineItem item = { .lane = looks[event->kind].lane,
                           .tone = looks[event->kind].tone,
                           .from = get_julian (event->day),
                           .height = 0.6 };

  item.to = event->until                  ? get_julian (event->until)
            : event->kind == BED_LIFE_LAY ? MAX (scale->today, item.from)
                                          : item.from;
  if (event->kind == BED_LIFE_RETIRED && scale->n_lanes > LANE_RETIRED)
    item.lane = LANE_RETIRED;
  /* A total is of no day: its bar says from when until when, and not how much. */
  if (event->kind == BED_LIFE_PICKED)
    item.height = event->until ? 0.2 : event->amount / scale->mass;
  else if (event->kind == BED_LIFE_LAY || event->kind == BED_LIFE_SOAKED)
    item.height = (double) event->logs / scale->logs;
  return item;
}

static char *
keep (GPtrArray *texts, char *text)
{
  g_ptr_array_add (texts, text);
  return text;
}

static void
draw (BedLifeView *self, const GPtrArray *events, guint n_lanes)
{
  const char *lanes[N_LANES] = { [LANE_LAY] = _ ("Lay"),
                                 [LANE_SOAKED] = _ ("Soaked"),
                                 [LANE_PICKED] = C_ ("lane", "Picked"),
                                 [LANE_LOOKED] = _ ("Checked"),
                                 [LANE_RETIRED] = _ ("Retired") };
  g_autofree BedTimelineItem *items = g_new0 (BedTimelineItem, MAX (events->len, 1));
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  Scale scale = find_scale (events, get_julian (bed_farm_get_today (self->farm)), n_lanes);
  BedTimelineSpec spec = {
    _ ("The life, from the felled tree to today"), lanes, n_lanes, items, events->len, scale.today
  };

  for (guint i = 0; i < events->len; i++)
    {
      const BedLifeEvent *event = events->pdata[i];
      g_autofree char *day = bed_date_format (event->day);
      g_autofree char *words = dup_words (self, event);
      items[i] = make_item (event, &scale);
      items[i].words = keep (texts, bed_dup_labelled (day, words));
      if (event->kind == BED_LIFE_LAY)
        items[i].label = event->what;
      else if (items[i].lane < 0)
        items[i].label = keep (texts, dup_name (event, day));
    }
  bed_timeline_set (self->timeline, &spec);
}

/* --- the list ------------------------------------------------------------------ */

static void
list (BedLifeView *self, const GPtrArray *events)
{
  int row = 0;

  bed_box_clear (self->list);
  for (guint i = events->len; i-- > 0 && row < EVENTS_MOST; row++)
    {
      const BedLifeEvent *event = events->pdata[i];
      g_autofree char *day = bed_date_format (event->day);
      g_autofree char *words = dup_words (self, event);
      GtkWidget *what = bed_words_new (words, NULL);
      gtk_widget_set_hexpand (what, TRUE);
      gtk_grid_attach (GTK_GRID (self->list),
                       bed_styled (bed_label_new (day, "numeric"), "dim-label"), 0, row, 1, 1);
      gtk_grid_attach (GTK_GRID (self->list), what, 1, row, 1, 1);
    }
}

static gboolean
show (BedLifeView *self, GPtrArray *events, guint n_lanes)
{
  if (!events)
    return FALSE;
  draw (self, events, n_lanes);
  list (self, events);
  g_ptr_array_unref (events);
  return TRUE;
}

static void
bed_life_view_dispose (GObject *object)
{
  g_clear_object (&BED_LIFE_VIEW (object)->list);
  G_OBJECT_CLASS (bed_life_view_parent_class)->dispose (object);
}

static void
bed_life_view_class_init (BedLifeViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = bed_life_view_dispose;
}

BedLifeView *
bed_life_view_new (BedFarm *farm)
{
  BedLifeView *self = g_object_new (BED_TYPE_LIFE_VIEW, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->timeline = bed_timeline_new ();
  self->list = g_object_ref_sink (bed_grid_new (12, 3));
  bed_part_set_child (BED_PART (self), GTK_WIDGET (self->timeline));
  return self;
}

GtkWidget *
bed_life_view_get_list (BedLifeView *self)
{
  g_return_val_if_fail (BED_IS_LIFE_VIEW (self), NULL);
  return self->list;
}

gboolean
bed_life_view_show_log (BedLifeView *self, gint64 log, GError **error)
{
  g_return_val_if_fail (BED_IS_LIFE_VIEW (self), FALSE);
  return show (self, bed_life_of_log (self->farm, log, error), LANE_RETIRED);
}

gboolean
bed_life_view_show_batch (BedLifeView *self, gint64 batch, GError **error)
{
  g_return_val_if_fail (BED_IS_LIFE_VIEW (self), FALSE);
  return show (self, bed_life_of_batch (self->farm, batch, error), N_LANES);
}
