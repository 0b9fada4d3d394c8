#include "app/desk/season_chooser.h"

#include <glib/gi18n.h>

#include "app/widgets/build.h"
#include "model/farm/functions.h"
#include "model/season/season.h"

struct _BedSeasonChooser
{
  BedPart parent_instance;
  BedFarm *farm;
  GtkWidget *year;
  GtkWidget *earlier;
  GtkWidget *later;
  int season, first, last;
};

BED_DEFINE_TYPE (BedSeasonChooser, bed_season_chooser, BED_TYPE_PART)

static void
show (BedSeasonChooser *self)
{
  g_autofree char *name = bed_season_dup_name (self->farm, self->season);

  gtk_label_set_label (GTK_LABEL (self->year), name);
  gtk_widget_set_sensitive (self->earlier, self->season > self->first);
  gtk_widget_set_sensitive (self->later, self->season < self->last);
}

static void
go (BedSeasonChooser *self, int season)
{
  self->season = season;
  show (self);
  g_signal_emit_by_name (self, "changed");
}

static void
earlier_cb (BedSeasonChooser *self)
{
  go (self, self->season - 1);
}

static void
later_cb (BedSeasonChooser *self)
{
  go (self, self->season + 1);
}

static void
bed_season_chooser_class_init (BedSeasonChooserClass *klass)
{
  bed_signal_new (BED_TYPE_SEASON_CHOOSER, "changed", 0);
}

BedSeasonChooser *
bed_season_chooser_new (BedFarm *farm)
{
  BedSeasonChooser *self = g_object_new (BED_TYPE_SEASON_CHOOSER, NULL);

  self->farm = bed_part_hold (BED_PART (self), farm);
  self->season = bed_season_of (farm, bed_farm_get_today (farm));
  self->earlier = bed_icon_button_new ("go-previous-symbolic", _ ("The season before"));
  self->later = bed_icon_button_new ("go-next-symbolic", _ ("The season after"));
  self->year = bed_styled (bed_label_new (NULL, "title-2"), "numeric");
  g_signal_connect_swapped (self->earlier, "clicked", G_CALLBACK (earlier_cb), self);
  g_signal_connect_swapped (self->later, "clicked", G_CALLBACK (later_cb), self);
  bed_part_set_child (BED_PART (self),
                      bed_row_new (6, self->earlier, self->year, self->later, NULL));
  gtk_widget_set_valign (GTK_WIDGET (self), GTK_ALIGN_CENTER);
  return self;
}

gboolean
bed_season_chooser_refresh (BedSeasonChooser *self, GError **error)
{
  g_return_val_if_fail (BED_IS_SEASON_CHOOSER (self), FALSE);
  if (!bed_season_range (self->farm, &self->first, &self->last, error))
    return FALSE;
  show (self);
  return TRUE;
}

int
bed_season_chooser_get (BedSeasonChooser *self)
{
  g_return_val_if_fail (BED_IS_SEASON_CHOOSER (self), 0);
  return self->season;
}
