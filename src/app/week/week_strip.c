#include "app/week/week_strip.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"
#include "model/farm/value.h"
#include "science/units.h"

#define DAYS ((int) G_N_ELEMENTS (((BedWeek *) NULL)->days))
#define PAD 9
#define SMALL 0.85f
#define NUMBER 1.5f
#define WEATHER_LINES 4.4f /* height of the weather, in lines of text */
#define LEAST_SPAN 12000.0 /* of the temperatures, thousandths of a degree: mild days look mild */
#define LEAST_RAIN 10000.0 /* um: a drizzle looks like one */
#define COLUMN_LEAST 72    /* px */

/* What stands under a day. */
typedef struct
{
  char *what;
  gint64 logs; /* 0: not of logs */
  gboolean done;
} Line;

struct _BedWeekStrip
{
  GtkWidget parent_instance;
  BedFarm *farm;
  BedWeek *week;       /* NULL until it is set */
  GArray *lines[DAYS]; /* Line */
  guint n_lines;       /* of the day with most */
};

BED_DEFINE_TYPE (BedWeekStrip, bed_week_strip, GTK_TYPE_WIDGET)

/* --- words --------------------------------------------------------------------- */

static char *
dup_measure (BedWeekStrip *self, BedMeasure measure, int decimals, gint64 value)
{
  return bed_measure_format_unit_rounded (measure, bed_farm_get_notation (self->farm), decimals,
                                          value);
}

static char *
dup_logs (const char *what, gint64 logs)
{
  /* Translators: what is due or was done, of how many logs. */
  return logs ? bed_say (g_dngettext (GETTEXT_PACKAGE, "%s, %d log", "%s, %d logs", logs), what,
                         (int) logs)
              : g_strdup (what);
}

static void
clear_line (gpointer line)
{
  g_free (((Line *) line)->what);
}

static void
add_line (BedWeekStrip *self, int at, Line line)
{
  g_array_append_val (self->lines[at], line);
}

static void
add_lines (BedWeekStrip *self, int at)
{
  const BedWeekDay *day = &self->week->days[at];

  if (day->picked)
    {
      g_autofree char *mass = dup_measure (self, BED_MEASURE_MASS, 1, day->picked);
      add_line (self, at, (Line){ g_strdup_printf (_ ("picked %s"), mass), 0, TRUE });
    }
  if (day->soaked)
    add_line (self, at, (Line){ g_strdup (_ ("soaked")), day->soaked, TRUE });
  for (BedDueRuleId id = 0; id < BED_DUE_N_RULES; id++)
    if (day->due[id])
      add_line (self, at,
                (Line){ g_strdup (_ (bed_due_rule_get (id)->what)), day->due_logs[id], FALSE });
  for (guint i = 0; i < day->tasks->len; i++)
    add_line (self, at, (Line){ g_strdup (day->tasks->pdata[i]), 0, FALSE });
  if (day->moves)
    add_line (self, at, (Line){ g_strdup (_ ("Move")), day->moves, FALSE });
}

static void
say_weather (BedWeekStrip *self, const BedWeekDay *day, GString *words)
{
  const BedNotation *notation = bed_farm_get_notation (self->farm);

  if (day->has_rain)
    {
      g_autofree char *rain = dup_measure (self, BED_MEASURE_LENGTH_FINE, 1, day->rain);
      g_string_append_printf (words, _ ("; rain %s"), rain);
    }
  if (day->has_temperatures)
    {
      g_autofree char *least
          = bed_measure_format_rounded (BED_MEASURE_TEMPERATURE, notation, 0, day->least);
      g_autofree char *most = dup_measure (self, BED_MEASURE_TEMPERATURE, 0, day->most);
      /* Translators: the lowest and the highest temperature of a day. */
      g_string_append_printf (words, _ ("; %s to %s"), least, most);
    }
}

static char *
dup_tank (const BedWeekTank *tank)
{
  return dup_logs (tank->name, tank->logs);
}

char *
bed_week_strip_dup_day (BedWeekStrip *self, int at)
{
  g_return_val_if_fail (BED_IS_WEEK_STRIP (self) && at >= 0 && at < DAYS, NULL);
  const BedWeekDay *day = self->week ? &self->week->days[at] : NULL;
  GString *words = g_string_new (NULL);

  if (!day)
    return g_string_free (words, FALSE);
  g_autofree char *name = bed_date_format_day (day->day);
  g_string_append (words, name);
  if (at == self->week->today)
    g_string_append (words, _ (", today"));
  say_weather (self, day, words);
  for (guint i = 0; i < self->week->tanks->len; i++)
    {
      const BedWeekTank *tank = self->week->tanks->pdata[i];
      g_autofree char *in = dup_tank (tank);
      if (at >= tank->first && at <= tank->last)
        g_string_append_printf (words, _ ("; in the water: %s"), in);
    }
  for (guint i = 0; i < self->lines[at]->len; i++)
    {
      const Line *line = &g_array_index (self->lines[at], Line, i);
      g_autofree char *what = dup_logs (line->what, line->logs);
      g_string_append_printf (words, line->done ? "; %s" : _ ("; due: %s"), what);
    }
  return g_string_free (words, FALSE);
}

/* --- drawing ------------------------------------------------------------------- */

/* Where things stand: @line the height of a line of text, px. */
typedef struct
{
  GtkSnapshot *snapshot;
  const BedInk *ink;
  float line, column;
  float weather, tanks, lines; /* tops */
} Plan;

static float
measure_line (BedWeekStrip *self)
{
  g_autoptr (PangoLayout) layout = bed_plot_layout_new (GTK_WIDGET (self), "8", 1);
  int height;

  pango_layout_get_pixel_size (layout, NULL, &height);
  return (float) height;
}

/* A farm that writes no weather down has no room for it either. */
static gboolean
has_weather (BedWeekStrip *self)
{
  for (int i = 0; self->week && i < DAYS; i++)
    if (self->week->days[i].has_rain || self->week->days[i].has_temperatures)
      return TRUE;
  return FALSE;
}

static float
measure_height (BedWeekStrip *self, Plan *plan)
{
  float weather = has_weather (self) ? WEATHER_LINES : 0;
  guint tanks = self->week ? self->week->tanks->len : 0;

  plan->line = measure_line (self);
  plan->weather = PAD + plan->line * 2.6f;
  plan->tanks = plan->weather + plan->line * weather + PAD;
  plan->lines = plan->tanks + tanks * (plan->line + 6);
  return plan->lines + MAX (self->n_lines, 1) * (plan->line + 2) + PAD;
}

static void
draw_text (BedWeekStrip *self, const Plan *plan, const char *text, BedPlotText how)
{
  bed_plot_text (plan->snapshot, GTK_WIDGET (self), text, &how);
}

static void
draw_head (BedWeekStrip *self, const Plan *plan, int at)
{
  const char *today = self->week->days[self->week->today].day;
  const char *day = self->week->days[at].day;
  gboolean now = g_str_equal (today, day);
  float x = plan->column * at, wide = plan->column;
  GDate date;
  char name[32], number[8];

  g_date_clear (&date, 1);
  g_date_set_parse (&date, day);
  g_date_strftime (name, sizeof name, "%a", &date);
  g_snprintf (number, sizeof number, "%d", g_date_get_day (&date));
  if (now)
    {
      bed_plot_box (plan->snapshot, x, 0, wide, bed_plot_height (GTK_WIDGET (self)),
                    &plan->ink->shade);
      bed_plot_box (plan->snapshot, x, 0, wide, 4, &plan->ink->bark);
    }
  else if (at > 0 && at - 1 != self->week->today)
    bed_plot_box (plan->snapshot, x, PAD, 1, bed_plot_height (GTK_WIDGET (self)) - 2 * PAD,
                  &plan->ink->line);
  draw_text (self, plan, number,
             (BedPlotText){ x + PAD, PAD + plan->line, 0, NUMBER, 0,
                            at < self->week->today ? &plan->ink->dim : &plan->ink->ink });
  draw_text (self, plan, now ? _ ("today") : name,
             (BedPlotText){ x + wide - PAD, PAD + plan->line, 1, SMALL, 0, &plan->ink->dim });
}

/* The range of all temperatures of the week, and the most rain. */
static void
find_scales (const BedWeek *week, double *least, double *most, double *rain)
{
  *least = INFINITY;
  *most = -INFINITY;
  *rain = LEAST_RAIN;
  for (int i = 0; i < DAYS; i++)
    {
      const BedWeekDay *day = &week->days[i];
      if (day->has_temperatures)
        {
          *least = MIN (*least, (double) day->least);
          *most = MAX (*most, (double) day->most);
        }
      *rain = MAX (*rain, (double) day->rain);
    }
  if (*most - *least < LEAST_SPAN)
    *most = *least + LEAST_SPAN;
}

/* A bar from the lowest to the highest, with both beside it. */
static void
draw_temperatures (BedWeekStrip *self, const Plan *plan, int at)
{
  const BedNotation *notation = bed_farm_get_notation (self->farm);
  const BedWeekDay *day = &self->week->days[at];
  double least, most, rain;
  float height = plan->line * (WEATHER_LINES - 2), top = plan->weather + plan->line;
  float x = roundf (plan->column * (at + 0.32f));

  if (!day->has_temperatures)
    return;
  find_scales (self->week, &least, &most, &rain);
  float high = roundf (top + height * (float) ((most - day->most) / (most - least)));
  float low = roundf (top + height * (float) ((most - day->least) / (most - least)));
  g_autofree char *warm
      = bed_measure_format_rounded (BED_MEASURE_TEMPERATURE, notation, 0, day->most);
  g_autofree char *cold
      = bed_measure_format_rounded (BED_MEASURE_TEMPERATURE, notation, 0, day->least);
  g_autofree char *warm_text = g_strdup_printf ("%s°", warm);
  g_autofree char *cold_text = g_strdup_printf ("%s°", cold);
  bed_plot_box (plan->snapshot, x - 3, high, 6, MAX (low - high, 2), &plan->ink->bark);
  draw_text (self, plan, warm_text,
             (BedPlotText){ x, high - plan->line / 2, 0.5f, SMALL, 0, &plan->ink->ink });
  draw_text (self, plan, cold_text,
             (BedPlotText){ x, low + plan->line / 2, 0.5f, SMALL, 0, &plan->ink->dim });
}

/* A column of water standing on the foot of the weather. */
static void
draw_rain (BedWeekStrip *self, const Plan *plan, int at)
{
  const BedWeekDay *day = &self->week->days[at];
  double least, most, rain;
  float foot = plan->weather + plan->line * WEATHER_LINES;
  float height = plan->line * (WEATHER_LINES - 1);
  float x = roundf (plan->column * (at + 0.72f));

  if (!day->has_rain)
    return;
  find_scales (self->week, &least, &most, &rain);
  float full = roundf (height * (float) ((double) day->rain / rain));
  g_autofree char *text = dup_measure (self, BED_MEASURE_LENGTH_FINE, 1, day->rain);
  bed_plot_box (plan->snapshot, x - 8, foot - MAX (full, 1), 16, MAX (full, 1), &plan->ink->water);
  draw_text (self, plan, text,
             (BedPlotText){ x, foot - full - plan->line / 2, 0.5f, SMALL, plan->column / 2,
                            &plan->ink->ink });
}

static void
draw_tank (BedWeekStrip *self, const Plan *plan, guint row)
{
  const BedWeekTank *tank = self->week->tanks->pdata[row];
  g_autofree char *text = dup_tank (tank);
  float x = plan->column * tank->first + PAD, y = plan->tanks + row * (plan->line + 6);
  float wide = plan->column * (tank->last - tank->first + 1) - 2 * PAD;
  const GdkRGBA *colour = tank->inside ? &plan->ink->water : &plan->ink->line;

  bed_plot_box (plan->snapshot, x, y, wide, plan->line + 2, colour);
  draw_text (self, plan, text,
             (BedPlotText){ x + 6, y + plan->line / 2 + 1, 0, SMALL, wide - 9,
                            tank->inside ? &plan->ink->paper : &plan->ink->ink });
}

/* What is still to be done has a mark before it; how many logs stands at the right. */
static void
draw_line (BedWeekStrip *self, const Plan *plan, int at, guint row)
{
  const Line *line = &g_array_index (self->lines[at], Line, row);
  const GdkRGBA *colour = line->done ? &plan->ink->dim : &plan->ink->ink;
  float x = plan->column * at + PAD, end = plan->column * (at + 1) - PAD;
  float y = plan->lines + (row + 0.5f) * (plan->line + 2);

  if (line->logs)
    {
      g_autofree char *logs = bed_say ("%d", (int) line->logs);
      end -= 6
             + bed_plot_text (plan->snapshot, GTK_WIDGET (self), logs,
                              &(BedPlotText){ end, y, 1, SMALL, 0, &plan->ink->dim });
    }
  if (!line->done)
    {
      bed_plot_box (plan->snapshot, x, y - 3, 6, 6, &plan->ink->bark);
      x += 10;
    }
  draw_text (self, plan, line->what, (BedPlotText){ x, y, 0, SMALL, end - x, colour });
}

static void
bed_week_strip_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedWeekStrip *self = BED_WEEK_STRIP (widget);
  Plan plan = { snapshot, bed_ink_get (), 0, bed_plot_width (widget) / (float) DAYS, 0, 0, 0 };

  bed_plot_begin (widget, snapshot);
  if (!self->week)
    return;
  measure_height (self, &plan);
  for (int i = 0; i < DAYS; i++)
    {
      draw_head (self, &plan, i);
      draw_temperatures (self, &plan, i);
      draw_rain (self, &plan, i);
      for (guint j = 0; j < self->lines[i]->len; j++)
        draw_line (self, &plan, i, j);
    }
  for (guint i = 0; i < self->week->tanks->len; i++)
    draw_tank (self, &plan, i);
}

static void
bed_week_strip_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum,
                        int *natural, int *minimum_baseline, int *natural_baseline)
{
  Plan plan = { 0 };

  *minimum = *natural
      = bed_plot_to_px (widget, orientation == GTK_ORIENTATION_HORIZONTAL
                                    ? COLUMN_LEAST * DAYS
                                    : ceilf (measure_height (BED_WEEK_STRIP (widget), &plan)));
}

static gboolean
query_tooltip_cb (BedWeekStrip *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int at = (int) (bed_plot_x_from_px (widget, x) * DAYS / MAX (bed_plot_width (widget), 1));

  if (keyboard || !self->week || at < 0 || at >= DAYS)
    return FALSE;
  g_autofree char *words = bed_week_strip_dup_day (self, at);
  gtk_tooltip_set_text (tooltip, words);
  return TRUE;
}

/* --- widget -------------------------------------------------------------------- */

static void
bed_week_strip_finalize (GObject *object)
{
  BedWeekStrip *self = BED_WEEK_STRIP (object);

  g_clear_pointer (&self->week, bed_week_free);
  for (int i = 0; i < DAYS; i++)
    g_array_unref (self->lines[i]);
  g_clear_object (&self->farm);
  G_OBJECT_CLASS (bed_week_strip_parent_class)->finalize (object);
}

static void
bed_week_strip_class_init (BedWeekStripClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_week_strip_finalize;
  widget_class->snapshot = bed_week_strip_snapshot;
  widget_class->measure = bed_week_strip_measure;
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_IMG);
}

BedWeekStrip *
bed_week_strip_new (BedFarm *farm)
{
  BedWeekStrip *self = g_object_new (BED_TYPE_WEEK_STRIP, NULL);

  self->farm = g_object_ref (farm);
  for (int i = 0; i < DAYS; i++)
    {
      self->lines[i] = g_array_new (FALSE, FALSE, sizeof (Line));
      g_array_set_clear_func (self->lines[i], clear_line);
    }
  gtk_widget_add_css_class (GTK_WIDGET (self), "week-strip");
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  bed_ink_follow (GTK_WIDGET (self));
  return self;
}

static void
describe (BedWeekStrip *self)
{
  g_autoptr (GString) words = g_string_new (NULL);

  for (int i = 0; i < DAYS; i++)
    {
      g_autofree char *day = bed_week_strip_dup_day (self, i);
      g_string_append_printf (words, "%s%s", i ? ". " : "", day);
    }
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("The week, day by day"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  words->str, -1);
}

void
bed_week_strip_set (BedWeekStrip *self, BedWeek *week)
{
  g_return_if_fail (BED_IS_WEEK_STRIP (self) && week != NULL);

  g_clear_pointer (&self->week, bed_week_free);
  self->week = week;
  self->n_lines = 0;
  for (int i = 0; i < DAYS; i++)
    {
      g_array_set_size (self->lines[i], 0);
      add_lines (self, i);
      self->n_lines = MAX (self->n_lines, self->lines[i]->len);
    }
  describe (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
