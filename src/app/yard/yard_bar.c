#include "app/yard/yard_bar.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/desk/settings.h"
#include "app/widgets/build.h"
#include "app/widgets/drop_down.h"
#include "model/farm/value.h"

/* Pixels to a metre of a screen with 96 to the inch, what desktops call scale 1. */
#define PIXELS_PER_METRE (96 / 0.0254)

/* More marks than this on the slider would run together. */
#define MOST_MARKS 60

#define ZOOM_STEP 1.25

struct _BedYardBar
{
  BedPart parent_instance;
  GtkWidget *box;
  GtkWidget *slider;
  GtkWidget *day_label;
  GtkWidget *today_button;
  GtkWidget *colours;
  GtkWidget *scale_label;
  char *first; /* the slider's 0 */
  char *today;
  char *day;
  gboolean setting; /* the slider is being set, not dragged */
};

G_DEFINE_FINAL_TYPE (BedYardBar, bed_yard_bar, BED_TYPE_PART)

/* --- the day -------------------------------------------------------------------- */

static void
show_day (BedYardBar *self)
{
  gboolean today = bed_yard_bar_is_today (self);
  g_autofree char *day = today ? bed_date_format_day (self->day) : bed_date_format (self->day);
  g_autofree char *text = today ? g_strdup_printf (_ ("Today, %s"), day) : g_strdup (day);

  gtk_label_set_label (GTK_LABEL (self->day_label), text);
  gtk_widget_set_sensitive (self->today_button, !today);
}

static void
slid_cb (BedYardBar *self)
{
  if (self->setting || !self->first)
    return;
  int days = (int) round (gtk_range_get_value (GTK_RANGE (self->slider)));
  g_autofree char *day = bed_date_add (self->first, days);
  if (g_strcmp0 (day, self->day) == 0)
    return;
  g_free (self->day);
  self->day = g_steal_pointer (&day);
  show_day (self);
  g_signal_emit_by_name (self, "day");
}

/* --- the rest ------------------------------------------------------------------- */

static void
colour_cb (BedYardBar *self)
{
  bed_settings_set_yard_colours (bed_colour_by_key (bed_yard_bar_get_colour_by (self)));
  g_signal_emit_by_name (self, "colour-by");
}

static void
zoom_cb (GtkWidget *widget, const char *name, GVariant *factor)
{
  g_signal_emit_by_name (widget, "zoom", g_variant_get_double (factor));
}

static void
add_zoom_button (BedYardBar *self, const char *icon, const char *name, double factor)
{
  GtkWidget *button = bed_icon_button_new (icon, name);

  gtk_actionable_set_action_name (GTK_ACTIONABLE (button), "yard.zoom");
  gtk_actionable_set_action_target (GTK_ACTIONABLE (button), "d", factor);
  gtk_box_append (GTK_BOX (self->box), button);
}

static void
add_day (BedYardBar *self)
{
  self->day_label = bed_label_new (NULL, "numeric");
  bed_styled (self->day_label, "yard-day");
  gtk_box_append (GTK_BOX (self->box), self->day_label);
  self->slider = gtk_scale_new_with_range (GTK_ORIENTATION_HORIZONTAL, 0, 1, 1);
  gtk_scale_set_draw_value (GTK_SCALE (self->slider), FALSE);
  gtk_widget_set_hexpand (self->slider, TRUE);
  bed_named (self->slider, _ ("Day"));
  g_signal_connect_object (self->slider, "value-changed", G_CALLBACK (slid_cb), self,
                           G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), self->slider);
  self->today_button = bed_styled (gtk_button_new_with_label (_ ("Today")), "flat");
  g_signal_connect_object (self->today_button, "clicked", G_CALLBACK (bed_yard_bar_show_today),
                           self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), self->today_button);
}

static void
add_colours (BedYardBar *self)
{
  g_autofree char *last = bed_settings_dup_yard_colours ();
  BedColourBy by = bed_colour_by_from_key (last);
  GtkStringList *words = gtk_string_list_new (NULL);
  GtkWidget *label = bed_line_new (_ ("Colours"), "dim-label");

  for (BedColourBy each = 0; each < BED_N_COLOUR_BYS; each++)
    gtk_string_list_append (words, bed_colour_by_word (each));
  gtk_widget_set_margin_start (label, 12);
  gtk_box_append (GTK_BOX (self->box), label);
  self->colours = bed_drop_down_new (words, _ ("Colours"));
  if (by < BED_N_COLOUR_BYS)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->colours), by);
  g_signal_connect_object (self->colours, "notify::selected", G_CALLBACK (colour_cb), self,
                           G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->box), self->colours);
}

static void
bed_yard_bar_finalize (GObject *object)
{
  BedYardBar *self = BED_YARD_BAR (object);

  g_free (self->first);
  g_free (self->today);
  g_free (self->day);
  G_OBJECT_CLASS (bed_yard_bar_parent_class)->finalize (object);
}

static void
bed_yard_bar_class_init (BedYardBarClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = bed_yard_bar_finalize;
  bed_signal_new (BED_TYPE_YARD_BAR, "day", 0);
  bed_signal_new (BED_TYPE_YARD_BAR, "colour-by", 0);
  bed_signal_new (BED_TYPE_YARD_BAR, "zoom", 1, G_TYPE_DOUBLE);
  gtk_widget_class_install_action (GTK_WIDGET_CLASS (klass), "yard.zoom", "d", zoom_cb);
}

static void
bed_yard_bar_init (BedYardBar *self)
{
  self->box = bed_styled (gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), "yard-bar");
  bed_part_set_child (BED_PART (self), self->box);
  add_day (self);
  add_colours (self);
  add_zoom_button (self, "zoom-out-symbolic", _ ("Smaller"), 1 / ZOOM_STEP);
  self->scale_label = bed_styled (gtk_label_new (NULL), "numeric");
  bed_styled (self->scale_label, "yard-scale");
  gtk_box_append (GTK_BOX (self->box), self->scale_label);
  add_zoom_button (self, "zoom-in-symbolic", _ ("Larger"), ZOOM_STEP);
  add_zoom_button (self, "zoom-fit-best-symbolic", _ ("See it all"), 0);
}

/* --- public --------------------------------------------------------------------- */

void
bed_yard_bar_show_today (BedYardBar *self)
{
  g_return_if_fail (BED_IS_YARD_BAR (self));
  gtk_range_set_value (GTK_RANGE (self->slider), bed_date_days (self->first, self->today));
}

GtkWidget *
bed_yard_bar_new (void)
{
  return g_object_new (BED_TYPE_YARD_BAR, NULL);
}

void
bed_yard_bar_set_days (BedYardBar *self, const GPtrArray *days, const char *today)
{
  g_return_if_fail (BED_IS_YARD_BAR (self));
  const char *first = days->len > 0 && g_strcmp0 (days->pdata[0], today) < 0 ? days->pdata[0]
                                                                             : today;
  int n = bed_date_days (first, today);

  self->setting = TRUE;
  if (!self->day || bed_yard_bar_is_today (self) || g_strcmp0 (self->day, first) < 0)
    {
      g_free (self->day);
      self->day = g_strdup (today);
    }
  g_free (self->first);
  self->first = g_strdup (first);
  g_free (self->today);
  self->today = g_strdup (today);
  gtk_range_set_range (GTK_RANGE (self->slider), 0, MAX (n, 1));
  gtk_range_set_increments (GTK_RANGE (self->slider), 1, 30);
  gtk_scale_clear_marks (GTK_SCALE (self->slider));
  for (guint i = 0; i < days->len && days->len <= MOST_MARKS; i++)
    if (g_strcmp0 (days->pdata[i], today) <= 0)
      gtk_scale_add_mark (GTK_SCALE (self->slider), bed_date_days (first, days->pdata[i]),
                          GTK_POS_BOTTOM, NULL);
  gtk_range_set_value (GTK_RANGE (self->slider), n == 0 ? 1 : bed_date_days (first, self->day));
  gtk_widget_set_sensitive (self->slider, n > 0);
  self->setting = FALSE;
  show_day (self);
}

const char *
bed_yard_bar_get_day (BedYardBar *self)
{
  g_return_val_if_fail (BED_IS_YARD_BAR (self), NULL);
  return self->day;
}

gboolean
bed_yard_bar_is_today (BedYardBar *self)
{
  g_return_val_if_fail (BED_IS_YARD_BAR (self), FALSE);
  return g_strcmp0 (self->day, self->today) == 0;
}

BedColourBy
bed_yard_bar_get_colour_by (BedYardBar *self)
{
  g_return_val_if_fail (BED_IS_YARD_BAR (self), BED_COLOUR_BY_BATCH);
  return (BedColourBy) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->colours));
}

void
bed_yard_bar_set_scale (BedYardBar *self, double scale)
{
  g_return_if_fail (BED_IS_YARD_BAR (self));
  g_autofree char *text = g_strdup_printf ("1:%.0f", PIXELS_PER_METRE / MAX (scale, 1e-3));
  gtk_label_set_label (GTK_LABEL (self->scale_label), text);
}
