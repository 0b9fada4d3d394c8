#include "app/soaking/rotation_view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/batch_mark.h"
#include "app/widgets/build.h"
#include "app/widgets/plot.h"
#include "model/farm/say.h"
#include "model/farm/value.h"

#define NAMES BED_ROTATION_VIEW_NAMES
#define HEAD 40 /* months and weeks */
#define ROW 26
#define BAR 18
#define MARK 22
#define SMALL 0.85f

struct _BedRotationView
{
  GtkWidget parent_instance;
  BedFarm *farm;
  const BedSoakPlan *plan;
  int marked; /* group, or -1 */
};

G_DEFINE_FINAL_TYPE (BedRotationView, bed_rotation_view, GTK_TYPE_WIDGET)

static float
week_width (BedRotationView *self)
{
  return (bed_plot_width (GTK_WIDGET (self)) - NAMES) / (float) self->plan->n_weeks;
}

static float
week_x (BedRotationView *self, double week)
{
  return roundf (NAMES + week * week_width (self));
}

static float
row_y (guint group)
{
  return HEAD + ROW * (group + 0.5f);
}

/* The day of the month over each Monday that has room, the month's name over its first. */
static void
draw_weeks (BedRotationView *self, GtkSnapshot *snapshot, float height)
{
  const BedInk *ink = bed_ink_get ();
  char last_month[8] = "";
  float free_from = 0;

  bed_plot_box (snapshot, week_x (self, BED_SOAK_PLAN_WEEKS_BACK), 18, week_width (self),
                height - 18, &ink->shade);
  for (guint w = 0; w < self->plan->n_weeks; w++)
    {
      g_autofree char *monday = bed_date_add (self->plan->first_day, 7 * (int) w);
      float x = week_x (self, w);
      g_autofree char *day = g_strdup_printf ("%d", atoi (monday + 8));
      bed_plot_text (snapshot, GTK_WIDGET (self), day,
                     &(BedPlotText){ x + week_width (self) / 2, 29, 0.5f, SMALL, 0, &ink->dim });
      if (strncmp (last_month, monday, 7) != 0)
        {
          GDate date;
          char name[64];
          g_date_clear (&date, 1);
          g_date_set_parse (&date, monday);
          /* By its name alone nobody can tell which January it is. */
          g_date_strftime (name, sizeof name,
                           w && strncmp (last_month, monday, 4) != 0 ? "%b %Y" : "%b", &date);
          if (x >= free_from)
            free_from = x + 8
                        + bed_plot_text (snapshot, GTK_WIDGET (self), name,
                                         &(BedPlotText){ x + 4, 9, 0, SMALL, 0, &ink->ink });
          bed_plot_box (snapshot, x, 2, 1, height - 2, &ink->line);
        }
      g_strlcpy (last_month, monday, sizeof last_month);
    }
}

static void
draw_group (BedRotationView *self, GtkSnapshot *snapshot, guint i)
{
  const BedInk *ink = bed_ink_get ();
  const BedSoakGroup *group = self->plan->groups->pdata[i];
  g_autofree char *logs = bed_say ("%u", group->logs);
  float y = row_y (i), width = bed_plot_width (GTK_WIDGET (self));

  if ((int) i == self->marked && gtk_widget_has_focus (GTK_WIDGET (self)))
    bed_plot_box (snapshot, 0, y - ROW / 2, width, ROW, &ink->shade);
  gtk_snapshot_save (snapshot);
  bed_plot_turn (GTK_WIDGET (self), snapshot, 0, MARK);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, y - 7, MARK, 14));
  bed_batch_mark_draw (cr, self->farm, group->batch, &(GdkRectangle){ 0, (int) y - 7, MARK, 14 });
  cairo_destroy (cr);
  gtk_snapshot_restore (snapshot);
  bed_plot_text (snapshot, GTK_WIDGET (self), group->name,
                 &(BedPlotText){ MARK + 6, y, 0, 1, NAMES - MARK - 58, &ink->ink });
  bed_plot_text (snapshot, GTK_WIDGET (self), logs,
                 &(BedPlotText){ NAMES - 14, y, 1, SMALL, 0, &ink->dim });
  bed_plot_box (snapshot, 0, y + ROW / 2, width, 1, &ink->line);
}

/* The rest ends where the group may be soaked again. */
static void
draw_rest (BedRotationView *self, GtkSnapshot *snapshot, const BedSoakBar *bar)
{
  const BedInk *ink = bed_ink_get ();
  const BedSoakGroup *group = self->plan->groups->pdata[bar->group];
  double end = MIN (bar->week + group->rest_weeks, self->plan->n_weeks);
  float x = week_x (self, bar->week + 1), y = row_y (bar->group);

  bed_plot_box (snapshot, x, y, MAX (week_x (self, end) - x, 0), 1,
                bar->state == BED_SOAK_DONE ? &ink->bark : &ink->wood);
}

static void
draw_bar (BedRotationView *self, GtkSnapshot *snapshot, const BedSoakBar *bar)
{
  const BedInk *ink = bed_ink_get ();
  g_autofree char *logs = bed_say ("%u", bar->logs);
  float x = week_x (self, bar->week) + 1, y = row_y (bar->group) - BAR / 2;
  float width = week_x (self, bar->week + 1) - x - 1;
  gboolean done = bar->state == BED_SOAK_DONE;

  if (done)
    bed_plot_box (snapshot, x, y, width, BAR, &ink->bark);
  else
    {
      bed_plot_box (snapshot, x, y, width, BAR, &ink->shade);
      bed_plot_frame (snapshot, x, y, width, BAR, &ink->bark);
    }
  bed_plot_text (
      snapshot, GTK_WIDGET (self), logs,
      &(BedPlotText){ x + width / 2, y + BAR / 2, 0.5f, SMALL, 0, done ? &ink->paper : &ink->ink });
}

static void
bed_rotation_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  BedRotationView *self = BED_ROTATION_VIEW (widget);

  bed_plot_begin (widget, snapshot);
  if (!self->plan || bed_plot_width (widget) <= NAMES)
    return;
  draw_weeks (self, snapshot, HEAD + ROW * self->plan->groups->len);
  for (guint i = 0; i < self->plan->groups->len; i++)
    draw_group (self, snapshot, i);
  for (guint i = 0; i < self->plan->bars->len; i++)
    draw_rest (self, snapshot, &g_array_index (self->plan->bars, BedSoakBar, i));
  for (guint i = 0; i < self->plan->bars->len; i++)
    draw_bar (self, snapshot, &g_array_index (self->plan->bars, BedSoakBar, i));
}

static void
bed_rotation_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size,
                           int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  BedRotationView *self = BED_ROTATION_VIEW (widget);
  int height = HEAD + ROW * (self->plan ? (int) self->plan->groups->len : 0) + 2;
  gboolean down = orientation == GTK_ORIENTATION_VERTICAL;

  *minimum = bed_plot_to_px (widget, down ? height : NAMES + 24 * 18);
  *natural = bed_plot_to_px (widget, down ? height : NAMES + 24 * 32);
}

/* What the marked group is told of, seen or not. */
static void
describe (BedRotationView *self)
{
  if (!self->plan || self->marked < 0)
    return;
  const BedSoakGroup *group = self->plan->groups->pdata[self->marked];
  g_autofree char *day = bed_date_format_day (group->ready_on);
  /* Translators: a group of logs, how many they are, when they may be soaked. */
  g_autofree char *text
      = bed_say (_ ("%s, %u logs, may be soaked from %s"), group->name, group->logs, day);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text,
                                  -1);
}

static void
mark (BedRotationView *self, int group)
{
  int most = self->plan ? (int) self->plan->groups->len - 1 : -1;

  self->marked = CLAMP (group, MIN (0, most), most);
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static gboolean
key_cb (BedRotationView *self, guint keyval, guint keycode, GdkModifierType state)
{
  if (keyval == GDK_KEY_Down || keyval == GDK_KEY_Up)
    mark (self, self->marked + (keyval == GDK_KEY_Down ? 1 : -1));
  else if ((keyval == GDK_KEY_Return || keyval == GDK_KEY_KP_Enter) && self->marked >= 0)
    g_signal_emit_by_name (self, "opened", self->marked);
  else
    return GDK_EVENT_PROPAGATE;
  return GDK_EVENT_STOP;
}

static void
pressed_cb (BedRotationView *self, int n_press, double x, double y)
{
  int group = floorf ((bed_plot_from_px (GTK_WIDGET (self), y) - HEAD) / ROW);

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (!self->plan || group < 0 || group >= (int) self->plan->groups->len)
    return;
  mark (self, group);
  if (n_press == 2)
    g_signal_emit_by_name (self, "opened", group);
}

static const BedSoakBar *
find_bar (BedRotationView *self, double x, double y)
{
  int week = floorf ((bed_plot_x_from_px (GTK_WIDGET (self), x) - NAMES) / week_width (self));
  int group = floorf ((bed_plot_from_px (GTK_WIDGET (self), y) - HEAD) / ROW);

  for (guint i = 0; i < self->plan->bars->len; i++)
    {
      const BedSoakBar *bar = &g_array_index (self->plan->bars, BedSoakBar, i);
      if ((int) bar->week == week && (int) bar->group == group)
        return bar;
    }
  return NULL;
}

static gboolean
query_tooltip_cb (BedRotationView *self, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  const BedSoakBar *bar = self->plan && !keyboard ? find_bar (self, x, y) : NULL;

  if (!bar)
    return FALSE;
  g_autofree char *monday = bed_date_add (self->plan->first_day, 7 * (int) bar->week);
  g_autofree char *day = bed_date_format_in_week (monday);
  g_autofree char *text = bar->state == BED_SOAK_DONE
                              ? bed_say (_ ("%u logs soaked in the week of %s"), bar->logs, day)
                              : bed_say (_ ("%u logs to soak in the week of %s"), bar->logs, day);
  gtk_tooltip_set_text (tooltip, text);
  return TRUE;
}

static void
bed_rotation_view_finalize (GObject *object)
{
  g_clear_object (&BED_ROTATION_VIEW (object)->farm);
  G_OBJECT_CLASS (bed_rotation_view_parent_class)->finalize (object);
}

static void
bed_rotation_view_class_init (BedRotationViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = bed_rotation_view_finalize;
  widget_class->snapshot = bed_rotation_view_snapshot;
  widget_class->measure = bed_rotation_view_measure;
  gtk_widget_class_set_css_name (widget_class, "rotation");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
  bed_signal_new (BED_TYPE_ROTATION_VIEW, "opened", 1, G_TYPE_UINT);
}

static void
bed_rotation_view_init (BedRotationView *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();

  self->marked = -1;
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect_swapped (click, "pressed", G_CALLBACK (pressed_cb), self);
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (gtk_widget_queue_draw), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (gtk_widget_queue_draw), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  g_signal_connect (self, "query-tooltip", G_CALLBACK (query_tooltip_cb), NULL);
  bed_named (GTK_WIDGET (self), _ ("Soaks by week"));
  bed_ink_follow (GTK_WIDGET (self));
}

BedRotationView *
bed_rotation_view_new (BedFarm *farm)
{
  BedRotationView *self = g_object_new (BED_TYPE_ROTATION_VIEW, NULL);

  self->farm = g_object_ref (farm);
  return self;
}

void
bed_rotation_view_set_plan (BedRotationView *self, const BedSoakPlan *plan)
{
  g_return_if_fail (BED_IS_ROTATION_VIEW (self));

  self->plan = plan;
  mark (self, MAX (self->marked, 0));
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
